//! What signs, bars and words of the screens mean, and on which screens they stand.

use crate::model::Outcome;
use crate::tui::keymap::Zone;
use crate::tui::theme::Theme;
use crate::tui::widgets::chart::shades;

/// A sign and what it means.
type Meaning = (String, &'static str);

/// Something that stands on a screen and does not say by itself what it means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    Broken,
    Unrecorded,
    Met,
    NotApplicable,
    Changed,
    SetAside,
    FindingStates,
    PeersLose,
    Outside,
    Runs,
    Few,
    Interval,
    OfAll,
    Limits,
    OddsBar,
    Beyond,
    Shades,
    Expected,
    Regains,
    LeastMost,
    Intervals,
    Blanks,
    Differ,
    OddsRatio,
    Q,
    Score,
    Record,
    Conduct,
    Settles,
    AtBest,
    Together,
    Costs,
    Peers,
    Regain,
    Kappa,
}

use Mark as M;

/// Signs that stand in lists.
pub(super) const SIGNS: &[Mark] = &[
    M::Broken,
    M::Unrecorded,
    M::Met,
    M::NotApplicable,
    M::Changed,
    M::SetAside,
    M::FindingStates,
    M::PeersLose,
    M::Outside,
    M::Runs,
    M::Few,
];

/// Bars, lines and the words over columns.
pub(super) const CHARTS: &[Mark] = &[
    M::Interval,
    M::OfAll,
    M::Limits,
    M::OddsBar,
    M::Beyond,
    M::Shades,
    M::Expected,
    M::Regains,
    M::LeastMost,
    M::Intervals,
];

/// What stands on the screen of a zone.
pub(super) const fn of(zone: Zone) -> &'static [Mark] {
    match zone {
        Zone::Share => &[
            M::Interval,
            M::OfAll,
            M::Limits,
            M::Outside,
            M::Runs,
            M::Few,
            M::LeastMost,
            M::Regains,
        ],
        Zone::ControlChart => &[M::Limits, M::Outside, M::Runs, M::Few],
        Zone::Draws => &[M::Score],
        Zone::Opened => &[
            M::Broken,
            M::Unrecorded,
            M::Met,
            M::NotApplicable,
            M::Changed,
            M::SetAside,
            M::Score,
            M::Record,
            M::Conduct,
        ],
        Zone::Strip => &[M::Broken, M::Unrecorded, M::Changed],
        Zone::People => &[
            M::Expected,
            M::Differ,
            M::OddsBar,
            M::Beyond,
            M::OddsRatio,
            M::Q,
            M::Interval,
            M::OfAll,
            M::Few,
            M::LeastMost,
        ],
        Zone::Points => &[
            M::Broken,
            M::Expected,
            M::Differ,
            M::OddsBar,
            M::Beyond,
            M::OddsRatio,
            M::Q,
            M::Interval,
            M::OfAll,
            M::Few,
            M::LeastMost,
        ],
        Zone::Funnel => &[M::OfAll, M::Few],
        Zone::Bars => &[M::Interval, M::OfAll, M::OddsBar, M::Beyond, M::Few],
        Zone::Topics => &[M::Shades, M::PeersLose, M::Costs, M::Peers, M::Regain],
        Zone::Asks => &[M::Costs],
        Zone::Findings | Zone::Finding => &[M::FindingStates],
        Zone::Picks | Zone::Pick => &[M::Kappa],
        Zone::Resample | Zone::Compartment => &[M::Intervals, M::SetAside],
        Zone::Coverage => &[M::Blanks, M::Settles, M::AtBest, M::Together],
        _ => &[],
    }
}

/// Whether draws stand there with the sign of their verdict.
pub(super) const fn has_verdicts(zone: Zone) -> bool {
    matches!(
        zone,
        Zone::Share
            | Zone::Draws
            | Zone::Opened
            | Zone::Strip
            | Zone::Pick
            | Zone::Finding
            | Zone::Resample
            | Zone::Compartment
    )
}

impl Mark {
    /// How it looks, and what it means.
    pub(super) fn meaning(self, theme: Theme) -> Meaning {
        let outcome = |outcome: Outcome| theme.outcome_glyph(outcome).to_owned();
        let (sign, words) = match self {
            Mark::Broken => return (outcome(Outcome::Broken), "rule broken, or point not suited"),
            Mark::Unrecorded => {
                return (
                    outcome(Outcome::Unrecorded),
                    "unrecorded: neither pass nor fail",
                );
            }
            Mark::Met => return (outcome(Outcome::Met), "rule met"),
            Mark::NotApplicable => return (outcome(Outcome::NotApplicable), "rule does not apply"),
            Mark::Changed => (
                theme.pick("◆", "#"),
                "point or method differs from the draw before",
            ),
            Mark::SetAside => (
                theme.pick("⊘", "/"),
                "a laboratory result that someone set aside",
            ),
            Mark::FindingStates => (
                theme.pick("○ ◐ ✓ -  !", "o a + -  !"),
                "a finding open, answered, closed, withdrawn; overdue",
            ),
            Mark::PeersLose => (
                "*  ?",
                "more than peers lose; few draws or no peers to compare with",
            ),
            Mark::Outside => (
                theme.pick("▲ high ▼ low", "^ high v low"),
                "a period outside its control limits: look for a cause",
            ),
            Mark::Runs => (
                theme.pick("△ run  ▽ run", "' run  , run"),
                "the eighth or later period in a row above, or below, the share of all",
            ),
            Mark::Few => (
                "few",
                "fewer than 20 judged draws: read the interval, not the share",
            ),
            Mark::Interval => (
                theme.pick("├──●──┤", "[--o--]"),
                "a share and its 95 % interval on a line from 0 to 100 %",
            ),
            Mark::OfAll => (
                theme.pick("┊", ":"),
                "the share of all draws in view, for comparison",
            ),
            Mark::Limits => (
                theme.pick("(··┊·●·)", "(..:.o.)"),
                "a period's share between its control limits; the mark is all periods' share",
            ),
            Mark::OddsBar => (
                theme.pick("··├┼●─┤··", "..[+o-].."),
                "odds ratio with its 95 % interval, 1 in the middle: beyond it means more",
            ),
            Mark::Beyond => (
                theme.pick("◂ ▸", "< >"),
                "the interval, or the ratio too, goes on beyond an eighth or eightfold",
            ),
            Mark::Shades => (
                shades::all(theme),
                "draws to regain: up to a quarter, half, three quarters, all of the most",
            ),
            Mark::Expected => (
                "expected",
                "unrepresentative draws that an average one would have at the same points",
            ),
            Mark::Regains => (
                "regains",
                "unrepresentative draws that keeping this rule alone would have saved",
            ),
            Mark::LeastMost => (
                "least-most",
                "the share if every unproven draw were good, or were bad",
            ),
            Mark::Intervals => (
                "intervals",
                "time since the last trusted sample as a multiple of the agreed interval",
            ),
            Mark::Blanks => (
                theme.pick("· ▃ ▅ █", ". : = #"),
                "blank on none of a month's draws; on up to 5 %, up to 20 %; on nearly all",
            ),
            Mark::Differ => (
                "differ",
                "unrepresentative draws more (+) or fewer than were to be expected",
            ),
            Mark::OddsRatio => (
                "odds ratio",
                "odds of an unrepresentative draw against the average, all else being equal",
            ),
            Mark::Q => (
                "q",
                "of those with q up to 0.05 at most 5 % are expected to be there by luck",
            ),
            Mark::Score => ("score", "the part of the rules' weight that is shown met"),
            Mark::Record => (
                "record",
                "rules about what was written down; they make no verdict",
            ),
            Mark::Conduct => (
                "conduct",
                "rules about personal safety; they make no verdict",
            ),
            Mark::Settles => (
                "settles",
                "unproven draws with a verdict once it is filled, whatever is written",
            ),
            Mark::AtBest => ("at best", "the same where it shows the rules kept"),
            Mark::Together => (
                "together",
                "the same at best, with all columns numbered before it",
            ),
            Mark::Costs => ("costs", "draws lost by breaking the rule"),
            Mark::Peers => ("peers", "what peers would have lost at the same points"),
            Mark::Regain => (
                "regain",
                "costs less what peers lose: what doing as they do would save",
            ),
            Mark::Kappa => (
                "kappa",
                "agreement beyond chance: 1 all of it, 0 none, below 0 worse than chance",
            ),
        };
        (sign.to_owned(), words)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_mark_that_stands_somewhere_has_a_meaning() {
        let theme = Theme::new(true, false);
        let here = Zone::ALL.iter().flat_map(|zone| of(*zone));
        for mark in here.chain(SIGNS).chain(CHARTS) {
            let (sign, words) = mark.meaning(theme);
            assert!(!sign.is_empty() && !words.is_empty(), "{mark:?}");
            assert!(sign.is_ascii(), "{mark:?}");
        }
    }
}
