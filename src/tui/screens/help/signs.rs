//! What signs, bars and words of the screens mean.

use crate::model::Outcome;
use crate::tui::theme::Theme;

/// A sign and what it means.
type Meaning = (String, &'static str);

/// Signs that stand in lists.
pub(super) fn signs(theme: Theme) -> Vec<Meaning> {
    let outcome = |outcome: Outcome| theme.outcome_glyph(outcome).to_owned();
    vec![
        (outcome(Outcome::Broken), "rule broken, or point not suited"),
        (
            outcome(Outcome::Unrecorded),
            "unrecorded: neither pass nor fail",
        ),
        (outcome(Outcome::Met), "rule met"),
        (outcome(Outcome::NotApplicable), "rule does not apply"),
        (
            theme.pick("◆", "#").to_owned(),
            "point or method differs from the draw before",
        ),
        (
            theme.pick("⊘", "/").to_owned(),
            "a laboratory result that someone set aside",
        ),
        (
            theme.pick("○ ◐ ✓ -  !", "o a + -  !").to_owned(),
            "a finding open, answered, closed, withdrawn; overdue",
        ),
        (
            "*  ?".to_owned(),
            "more than peers lose; few draws or no peers to compare with",
        ),
        (
            theme.pick("▲ high ▼ low", "^ high v low").to_owned(),
            "a period outside its control limits: look for a cause",
        ),
        (
            theme.pick("△ run  ▽ run", "' run  , run").to_owned(),
            "the eighth or later period in a row above, or below, the share of all",
        ),
        (
            "few".to_owned(),
            "fewer than 20 judged draws: read the interval, not the share",
        ),
    ]
}

/// Bars, lines and the words over columns.
pub(super) fn charts(theme: Theme) -> Vec<Meaning> {
    vec![
        (
            theme.pick("├──●──┤", "[--o--]").to_owned(),
            "a share and its 95 % interval on a line from 0 to 100 %",
        ),
        (
            theme.pick("┊", ":").to_owned(),
            "the share of all draws in view, for comparison",
        ),
        (
            theme.pick("(··┊·●·)", "(..:.o.)").to_owned(),
            "a period's share between its control limits; the mark is all periods' share",
        ),
        (
            theme.pick("··├┼●─┤··", "..[+o-]..").to_owned(),
            "odds ratio with its 95 % interval, 1 in the middle: beyond it means more",
        ),
        (
            theme.pick("◂ ▸", "< >").to_owned(),
            "the interval, or the ratio too, goes on beyond an eighth or eightfold",
        ),
        (
            theme.pick("░ ▒ ▓ █", ". - = #").to_owned(),
            "draws to regain: up to a quarter, half, three quarters, all of the most",
        ),
        (
            "expected".to_owned(),
            "unrepresentative draws that an average one would have at the same points",
        ),
        (
            "regains".to_owned(),
            "unrepresentative draws that keeping this rule alone would have saved",
        ),
        (
            "least-most".to_owned(),
            "the share if every unproven draw were good, or were bad",
        ),
        (
            "intervals".to_owned(),
            "time since the last trusted sample as a multiple of the agreed interval",
        ),
    ]
}
