//! Share: how many samples can't be trusted, when, and why.

pub(crate) mod view;

use ratatui::layout::Rect;

use crate::analysis::{self, Assessed, Cost, FilterKey, Month, Selection, Tally};
use crate::model::Verdict;
use crate::rules;
use crate::tui::app::App;
use crate::tui::layout;
use crate::tui::list::ListPlace;
use crate::tui::narrower::Narrower;

/// The figures of the screen.
#[derive(Clone, Debug, Default)]
pub struct ShareFigures {
    pub(crate) tally: Tally,
    /// Newest first.
    pub(crate) months: Vec<Month>,
    /// Rules broken at least once, most often broken first.
    pub(crate) rules: Vec<Cost>,
    /// How many draws each line of [`Wait::ALL`] stands for.
    pub(crate) waiting: [u64; Wait::ALL.len()],
}

impl ShareFigures {
    pub(crate) fn of(assessed: &Assessed, selection: &Selection) -> Self {
        let mut months = analysis::months(assessed, selection);
        months.reverse();
        let mut rules = analysis::cost(assessed, selection);
        rules.retain(|cost| cost.broken > 0);
        rules.sort_by_key(|cost| (std::cmp::Reverse(cost.broken), cost.rule));
        ShareFigures {
            tally: analysis::tally(assessed, selection),
            months,
            rules,
            waiting: Wait::ALL.map(|wait| wait.count(assessed, selection)),
        }
    }
}

/// What a programme waits for, as far as the records tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wait {
    SecondFillMissing,
    SecondFillNotSent,
    SendingNotOnRecord,
    ArrivalNotOnRecord,
}

impl Wait {
    pub(crate) const ALL: [Wait; 4] = [
        Wait::SecondFillMissing,
        Wait::SecondFillNotSent,
        Wait::SendingNotOnRecord,
        Wait::ArrivalNotOnRecord,
    ];

    pub(crate) const fn text(self) -> &'static str {
        match self {
            Wait::SecondFillMissing => "second fill missing",
            Wait::SecondFillNotSent => "second fill unclear",
            Wait::SendingNotOnRecord => "sending not shown",
            Wait::ArrivalNotOnRecord => "arrival not shown",
        }
    }

    pub(crate) const fn about(self) -> &'static str {
        match self {
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

    const fn rule(self) -> (FilterKey, &'static str) {
        match self {
            Wait::SecondFillMissing => (FilterKey::Broken, "second-fill"),
            Wait::SecondFillNotSent => (FilterKey::Unrecorded, "second-fill"),
            Wait::SendingNotOnRecord => (FilterKey::Unrecorded, "age-at-dispatch"),
            Wait::ArrivalNotOnRecord => (FilterKey::Unrecorded, "age-at-receipt"),
        }
    }

    fn count(self, assessed: &Assessed, selection: &Selection) -> u64 {
        let (outcome, id) = self.rule();
        let Some(place) = rules::place_of(id) else {
            return 0;
        };
        let judged = &assessed.judged;
        let sets = if outcome == FilterKey::Broken {
            &judged.broken
        } else {
            &judged.unrecorded
        };
        let holds = |row: &&u32| sets[**row as usize].has(place);
        selection.iter().filter(holds).count() as u64
    }

    pub(crate) fn narrower(self) -> Narrower {
        let (outcome, id) = self.rule();
        Narrower::one(outcome, id)
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

/// Where the user stands.
#[derive(Clone, Debug, Default)]
pub(crate) struct ShareState {
    pub(crate) section: Section,
    pub(crate) lists: [ListPlace; 4],
}

impl ShareState {
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
        Section::Rules => figures.map_or(0, |figures| figures.rules.len()),
        Section::Months => figures.map_or(0, |figures| figures.months.len()),
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
            let cost = figures.rules.get(cursor)?;
            Some(Narrower::one(FilterKey::Broken, cost.id()))
        }
        Section::Months => Some(Narrower::month(&figures.months.get(cursor)?.key)),
        Section::Waiting => Some(Wait::ALL.get(cursor)?.narrower()),
    }
}

/// Where the sections stand.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Panes {
    pub(crate) head: Rect,
    pub(crate) sections: [Rect; 4],
    /// Where there is room to say what the chosen line means.
    pub(crate) about: Option<Rect>,
}

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
    let sections = if rest.width >= 150 {
        let third = rest.width.saturating_sub(4) / 3;
        let column = |at: u16| Rect {
            x: rest.x + at * (third + 2),
            width: third,
            ..rest
        };
        let (verdicts, waiting) = stack(column(0), 5);
        let waiting = Rect {
            height: waiting.height.min(5),
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
        let (months, waiting) = stack(column(1), rest.height.saturating_sub(6));
        [verdicts, rules, months, waiting]
    };
    Panes {
        head,
        sections,
        about,
    }
}
