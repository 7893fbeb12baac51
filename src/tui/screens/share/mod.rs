//! Share: how many samples can't be trusted, when, and why.

pub(crate) mod chart;
pub(crate) mod periods;
pub(crate) mod view;

use ratatui::layout::Rect;

use crate::analysis::trend::Trend;
use crate::analysis::{self, Assessed, Cost, Every, FilterKey, Selection, Tally};
use crate::model::Verdict;
use crate::tui::app::App;
use crate::tui::layout;
use crate::tui::list::ListPlace;
use crate::tui::narrower::Narrower;

/// The figures of the screen.
#[derive(Clone, Debug, Default)]
pub struct ShareFigures {
    pub(crate) tally: Tally,
    /// Week by week, month by month, quarter by quarter, year by year, as in [`Every::ALL`]; the newest
    /// period first.
    pub(crate) trends: Vec<Trend>,
    /// Rules broken at least once, most often broken first.
    pub(crate) broken_most: Vec<Cost>,
    /// The same rules, those first that regain most.
    pub(crate) regain_most: Vec<Cost>,
    /// How many draws each line of [`Wait::ALL`] stands for; 0 for what is no draw.
    pub(crate) waiting: [u64; Wait::ALL.len()],
}

impl ShareFigures {
    pub(crate) fn of(assessed: &Assessed, selection: &Selection) -> Self {
        let newest_first = |every| {
            let mut trend = analysis::trend(assessed, selection, every);
            trend.periods.reverse();
            trend
        };
        let mut rules = analysis::cost(assessed, selection);
        let waiting = Wait::ALL.map(|wait| wait.count(&rules));
        rules.retain(|cost| cost.broken > 0);
        rules.sort_by_key(|cost| (std::cmp::Reverse(cost.broken), cost.rule));
        let mut regain_most = rules.clone();
        regain_most.sort_by_key(|cost| std::cmp::Reverse(cost.regained));
        ShareFigures {
            tally: analysis::tally(assessed, selection),
            trends: Every::ALL.into_iter().map(newest_first).collect(),
            broken_most: rules,
            regain_most,
            waiting,
        }
    }

    /// Rules broken at least once, in the order asked for.
    pub(crate) fn rules(&self, by: RulesBy) -> &[Cost] {
        match by {
            RulesBy::Broken => &self.broken_most,
            RulesBy::Regains => &self.regain_most,
        }
    }

    /// The trend over periods of this length.
    pub(crate) fn trend(&self, every: Every) -> Option<&Trend> {
        let place = Every::ALL.iter().position(|other| *other == every)?;
        self.trends.get(place)
    }
}

/// What a programme waits for, as far as the records tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wait {
    ResamplesDue,
    SecondFillMissing,
    SecondFillNotSent,
    SendingNotOnRecord,
    ArrivalNotOnRecord,
}

impl Wait {
    pub(crate) const ALL: [Wait; 5] = [
        Wait::ResamplesDue,
        Wait::SecondFillMissing,
        Wait::SecondFillNotSent,
        Wait::SendingNotOnRecord,
        Wait::ArrivalNotOnRecord,
    ];

    pub(crate) const fn text(self) -> &'static str {
        match self {
            Wait::ResamplesDue => "resamples due",
            Wait::SecondFillMissing => "second fill missing",
            Wait::SecondFillNotSent => "second fill unclear",
            Wait::SendingNotOnRecord => "sending not shown",
            Wait::ArrivalNotOnRecord => "arrival not shown",
        }
    }

    pub(crate) const fn about(self) -> &'static str {
        match self {
            Wait::ResamplesDue => {
                "Compartments whose latest sample can't be trusted, whatever the period in view; Enter shows which, most urgent first."
            }
            Wait::SecondFillMissing => {
                "The bottle did not look clear, and no second fill of it is on record."
            }
            Wait::SecondFillNotSent => {
                "The bottle did not look clear, and the record does not show that a second fill was taken and, where metal was seen, both were sent."
            }
            Wait::SendingNotOnRecord => {
                "Neither a sending in time nor an early arrival is on record: the bottle may still stand in the plant."
            }
            Wait::ArrivalNotOnRecord => {
                "No arrival at the laboratory is on record that follows the draw."
            }
        }
    }

    /// The same in fewer words.
    pub(crate) const fn short(self) -> &'static str {
        match self {
            Wait::ResamplesDue => "The latest sample can't be trusted; Enter shows which.",
            Wait::SecondFillMissing => "Not clear, and no second fill is on record.",
            Wait::SecondFillNotSent => {
                "Not clear, and the record does not show both fills taken and sent."
            }
            Wait::SendingNotOnRecord => "The bottle may still stand in the plant.",
            Wait::ArrivalNotOnRecord => "No arrival that follows the draw is on record.",
        }
    }

    /// What draws of it have in common; none for what is counted in compartments.
    const fn rule(self) -> Option<(FilterKey, &'static str)> {
        match self {
            Wait::ResamplesDue => None,
            Wait::SecondFillMissing => Some((FilterKey::Broken, "second-fill")),
            Wait::SecondFillNotSent => Some((FilterKey::Unrecorded, "second-fill")),
            Wait::SendingNotOnRecord => Some((FilterKey::Unrecorded, "age-at-dispatch")),
            Wait::ArrivalNotOnRecord => Some((FilterKey::Unrecorded, "age-at-receipt")),
        }
    }

    /// How many draws it is, by what every rule costs; none for what is counted in compartments.
    fn count(self, costs: &[Cost]) -> u64 {
        let Some((outcome, id)) = self.rule() else {
            return 0;
        };
        let of_rule = costs.iter().find(|cost| cost.id() == id);
        of_rule.map_or(0, |cost| match outcome {
            FilterKey::Broken => cost.broken,
            _ => cost.unrecorded,
        })
    }

    pub(crate) fn narrower(self) -> Option<Narrower> {
        let (outcome, id) = self.rule()?;
        Some(Narrower::one(outcome, id))
    }
}

/// The panes of the screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Section {
    #[default]
    Verdicts,
    Rules,
    Months,
    Waiting,
}

impl Section {
    pub(crate) const ALL: [Section; 4] = [
        Section::Verdicts,
        Section::Rules,
        Section::Months,
        Section::Waiting,
    ];
}

/// What the rules are sorted by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum RulesBy {
    /// On how many draws they are broken.
    #[default]
    Broken,
    /// How many draws would not be unrepresentative, had they alone been met.
    Regains,
}

/// Where the user stands.
#[derive(Clone, Debug)]
pub(crate) struct ShareState {
    pub(crate) section: Section,
    pub(crate) lists: [ListPlace; 4],
    pub(crate) every: Every,
    pub(crate) rules_by: RulesBy,
    /// The control chart takes all of the body.
    pub(crate) picture: bool,
}

impl Default for ShareState {
    fn default() -> Self {
        ShareState {
            section: Section::default(),
            lists: <[ListPlace; 4]>::default(),
            every: Every::Month,
            rules_by: RulesBy::default(),
            picture: false,
        }
    }
}

impl ShareState {
    /// Turns to periods of another length: months, quarters, years, weeks.
    pub(crate) fn other_periods(&mut self) {
        self.every = match self.every {
            Every::Month => Every::Quarter,
            Every::Quarter => Every::Year,
            Every::Year => Every::Week,
            Every::Week => Every::Month,
        };
        self.section = Section::Months;
        self.lists[Section::Months as usize] = ListPlace::default();
    }

    /// Turns to the other order of the rules.
    pub(crate) fn sort_rules(&mut self) {
        self.rules_by = match self.rules_by {
            RulesBy::Broken => RulesBy::Regains,
            RulesBy::Regains => RulesBy::Broken,
        };
        self.section = Section::Rules;
        self.lists[Section::Rules as usize] = ListPlace::default();
    }

    pub(crate) fn list(&self, section: Section) -> ListPlace {
        self.lists[section as usize]
    }
}

/// How many lines a section has.
pub(crate) fn len(app: &App, section: Section) -> usize {
    let figures = app.figures.share.as_ref().map(|(_, figures)| figures);
    match section {
        Section::Verdicts => Verdict::ALL.len(),
        Section::Waiting => Wait::ALL.len(),
        Section::Rules => figures.map_or(0, |figures| figures.broken_most.len()),
        Section::Months => figures
            .and_then(|figures| figures.trend(app.screens.share.every))
            .map_or(0, |trend| trend.periods.len()),
    }
}

/// What leads from the chosen line to the draws behind it.
pub(crate) fn chosen(app: &App) -> Option<Narrower> {
    let state = &app.screens.share;
    let cursor = state.list(state.section).cursor;
    let (_, figures) = app.figures.share.as_ref()?;
    match state.section {
        Section::Verdicts => {
            let verdict = Verdict::ALL.get(cursor)?;
            Some(Narrower::one(FilterKey::Verdict, verdict.as_str()))
        }
        Section::Rules => {
            let cost = figures.rules(state.rules_by).get(cursor)?;
            Some(Narrower::one(FilterKey::Broken, cost.id()))
        }
        Section::Months => {
            let period = figures.trend(state.every)?.periods.get(cursor)?;
            Narrower::period(&period.key)
        }
        Section::Waiting => Wait::ALL.get(cursor)?.narrower(),
    }
}

/// How many compartments are to be sampled again, as far as that is known already.
pub(crate) fn resamples_due(app: &App) -> Option<u64> {
    let (of, _, figures) = app.figures.resample.as_ref()?;
    (*of == app.turn).then_some(figures.to_resample.found.list.len() as u64)
}

/// Whether the chosen line leads to what is to be sampled again.
pub(crate) fn is_resample_chosen(app: &App) -> bool {
    let state = &app.screens.share;
    let cursor = state.list(state.section).cursor;
    state.section == Section::Waiting && Wait::ALL.get(cursor) == Some(&Wait::ResamplesDue)
}

/// Where the sections stand.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Panes {
    pub(crate) head: Rect,
    pub(crate) sections: [Rect; 4],
    /// What the chosen period means, below the periods.
    pub(crate) note: Rect,
    /// Where there is room to say what the chosen line means.
    pub(crate) about: Option<Rect>,
    /// The control chart above the periods, where there is room for it.
    pub(crate) chart: Option<Rect>,
}

/// The rows of what is waiting, its title among them.
const WAITING: u16 = Wait::ALL.len() as u16 + 1;

/// Headline above; below it two columns, or three where there is room.
pub(crate) fn panes(app: &App) -> Panes {
    let body = layout::body(app.size);
    let width = usize::from(body.width).saturating_sub(1);
    let head_height = match &app.figures.share {
        Some((_, figures)) => view::head_lines(app, figures, width).len() as u16 + 1,
        None => 4,
    };
    let head = Rect {
        width: body.width.saturating_sub(1),
        height: head_height,
        ..body
    };
    let rest = Rect {
        x: body.x,
        y: body.y + head_height,
        width: body.width.saturating_sub(1),
        height: body.height.saturating_sub(head_height),
    };
    let stack = |column: Rect, upper: u16| {
        let upper = upper.min(column.height);
        let lower = Rect {
            y: column.y + (upper + 1).min(column.height),
            height: column.height.saturating_sub(upper + 1),
            ..column
        };
        let upper = Rect {
            height: upper,
            ..column
        };
        (upper, lower)
    };
    let mut about = None;
    let mut sections = if rest.width >= 150 {
        let third = rest.width.saturating_sub(4) / 3;
        let column = |at: u16| Rect {
            x: rest.x + at * (third + 2),
            width: third,
            ..rest
        };
        let (verdicts, waiting) = stack(column(0), 5);
        let waiting = Rect {
            height: waiting.height.min(WAITING),
            ..waiting
        };
        let said = Rect {
            y: waiting.bottom() + 1,
            height: rest.bottom().saturating_sub(waiting.bottom() + 1),
            ..waiting
        };
        about = (said.height > 3).then_some(said);
        [verdicts, column(1), column(2), waiting]
    } else {
        let half = rest.width.saturating_sub(2) / 2;
        let column = |at: u16| Rect {
            x: rest.x + at * (half + 2),
            width: half,
            ..rest
        };
        let (verdicts, rules) = stack(column(0), 5);
        let (months, waiting) = stack(column(1), rest.height.saturating_sub(WAITING + 1));
        [verdicts, rules, months, waiting]
    };
    let periods = &mut sections[Section::Months as usize];
    let chart = chart_within(periods, len(app, Section::Months) as u16);
    // What is said of a period takes some 110 cells, what is said of the chart two lines;
    // all other rows are the periods'.
    let width = periods.width.max(40);
    let lines = if rest.height < 20 {
        3
    } else {
        110_u16.div_ceil(width) + 2
    };
    // Three rows of periods say more than a note without a list.
    let lines = if periods.height < 8 { 0 } else { lines };
    let len = len(app, Section::Months) as u16;
    let room = periods.height.saturating_sub(lines + 1);
    let (list, note) = stack(*periods, room.min(len + 1));
    *periods = list;
    Panes {
        head,
        sections,
        note,
        about,
        chart,
    }
}

/// The chart takes the rows that the periods leave, and up to half of theirs where they leave
/// few: it shows them all.
fn chart_within(periods: &mut Rect, len: u16) -> Option<Rect> {
    if periods.height < 22 || len < 2 {
        return None;
    }
    let unused = periods.height.saturating_sub(len + 6);
    let height = unused.min(18).max((periods.height * 9 / 20).min(18));
    let chart = Rect { height, ..*periods };
    periods.y += height + 1;
    periods.height -= height + 1;
    Some(chart)
}
