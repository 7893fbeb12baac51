//! Points: the share at each point, its physics, and what is wrong with the point itself.

pub(crate) mod view;

use std::cmp::Ordering;

use rustc_hash::FxHashMap;

use crate::analysis::attribution::{Funnel, Side};
use crate::analysis::{self, Assessed, BLANK, Key, PointFacts, Selection, Share, Tally};
use crate::model::Outcome;
use crate::tui::app::App;
use crate::tui::layout::{self, Pair};
use crate::tui::list::ListPlace;
use crate::tui::screens::against;
use crate::tui::screens::compared_list;
use crate::tui::screens::funnel::FunnelFigures;
use crate::tui::sorted;
use crate::tui::subject::Subject;
use crate::tui::text;

/// One line of the list.
#[derive(Clone, Debug)]
pub struct PointLine {
    pub(crate) subject: Subject,
    /// Place in the programme's list.
    pub(crate) place: u32,
    pub(crate) id: String,
    pub(crate) site: String,
    pub(crate) machine: String,
    pub(crate) tally: Tally,
    pub(crate) share: Share,
    pub(crate) facts: PointFacts,
}

impl PointLine {
    /// What `point-suited` says of it.
    pub(crate) fn suited(&self) -> Outcome {
        let answer = self.facts.suited.as_ref();
        answer.map_or(Outcome::NotApplicable, |answer| answer.outcome)
    }
}

/// The figures of the screen.
#[derive(Clone, Debug, Default)]
pub struct PointsFigures {
    pub(crate) all: Option<f64>,
    pub(crate) points: Vec<PointLine>,
    pub(crate) funnel: FunnelFigures,
    /// The cells that the longest id, site and machine take.
    pub(crate) widest: [usize; 3],
}

impl PointsFigures {
    pub(crate) fn of(assessed: &Assessed, selection: &Selection) -> Self {
        let places: FxHashMap<&str, u32> = (0..)
            .zip(&assessed.points)
            .map(|(place, point)| (point.id.as_str(), place))
            .collect();
        let facts = analysis::all_point_facts(assessed);
        let blank = || BLANK.to_owned();
        let points: Vec<PointLine> = analysis::by(assessed, selection, Key::Point)
            .into_iter()
            .filter_map(|group| {
                let place = *places.get(group.key.as_str())?;
                let point = &assessed.points[place as usize];
                Some(PointLine {
                    subject: Subject::Point(place),
                    place,
                    id: group.key,
                    site: point.site.clone().unwrap_or_else(blank),
                    machine: point.machine.clone().unwrap_or_else(blank),
                    tally: group.tally,
                    share: group.tally.share(),
                    facts: facts[place as usize],
                })
            })
            .collect();
        let mut widest = [0; 3];
        for line in &points {
            for (widest, text) in widest.iter_mut().zip([&line.id, &line.site, &line.machine]) {
                *widest = text::width(text).max(*widest);
            }
        }
        let limits = Funnel::of(assessed, selection, Side::Points);
        PointsFigures {
            funnel: FunnelFigures::of(limits, points.iter().map(|line| line.tally)),
            widest,
            all: analysis::tally(assessed, selection).share().share,
            points,
        }
    }
}

/// What points can be sorted by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum By {
    Name,
    Site,
    Machine,
    Draws,
    Unrepresentative,
    /// Observed less expected of the same technicians.
    Difference,
    /// What is wrong with the point itself comes first.
    #[default]
    Suited,
    /// The Reynolds number, laminar flow first.
    Flow,
}

impl By {
    pub(crate) const ALL: [By; 8] = [
        By::Name,
        By::Site,
        By::Machine,
        By::Draws,
        By::Unrepresentative,
        By::Difference,
        By::Suited,
        By::Flow,
    ];

    /// Whether the list begins with the highest value when it is first sorted this way.
    const fn begins_high(self) -> bool {
        matches!(self, By::Draws | By::Unrepresentative | By::Difference)
    }

    const fn next(self) -> Self {
        match self {
            By::Name => By::Site,
            By::Site => By::Machine,
            By::Machine => By::Draws,
            By::Draws => By::Unrepresentative,
            By::Unrepresentative => By::Difference,
            By::Difference => By::Suited,
            By::Suited => By::Flow,
            By::Flow => By::Name,
        }
    }
}

/// Where the user stands.
#[derive(Clone, Debug, Default)]
pub(crate) struct PointsState {
    /// Shares in the columns, not observed against expected.
    pub(crate) shares: bool,
    /// The picture takes all of the body.
    pub(crate) picture: bool,
    /// It is a bar for each, not the funnel.
    pub(crate) bars: bool,
    pub(crate) by: By,
    pub(crate) descending: bool,
    pub(crate) list: ListPlace,
}

impl PointsState {
    pub(crate) fn sort_next(&mut self) {
        self.by = self.by.next();
        self.descending = self.by.begins_high();
    }

    /// Sorts by a column; by the one it is sorted by, the other way round.
    pub(crate) fn sort_or_turn(&mut self, by: By) {
        self.descending = match self.by == by {
            true => !self.descending,
            false => by.begins_high(),
        };
        self.by = by;
    }
}

/// Points that are at fault come first, then those of which nothing is recorded; among equals
/// those that most unrepresentative draws come from.
const fn urgency(outcome: Outcome) -> u8 {
    match outcome {
        Outcome::Broken => 0,
        Outcome::Unrecorded => 1,
        Outcome::Met => 2,
        Outcome::NotApplicable => 3,
    }
}

/// The Reynolds number; points where none is known come last.
fn flow(line: &PointLine) -> f64 {
    line.facts.reynolds.unwrap_or(f64::INFINITY)
}

/// What the order of the list follows from: the figures, by what and how they are sorted, and
/// the model's answer where it matters.
pub(crate) type OrderKey = (u64, By, bool, Option<usize>);

fn order_key(app: &App) -> Option<OrderKey> {
    let (turn, _) = app.figures.points.as_ref()?;
    let state = &app.screens.points;
    let fit = (state.by == By::Difference).then(|| against::fit_key(app));
    Some((*turn, state.by, state.descending, fit))
}

/// The lines in the order of the list.
pub(crate) fn lines(app: &App) -> Vec<&PointLine> {
    let (Some(key), Some((_, figures))) = (order_key(app), &app.figures.points) else {
        return Vec::new();
    };
    let order = app.sorted_points.order(&key, || order(app, figures));
    let line = |place: &u32| &figures.points[*place as usize];
    order.iter().map(line).collect()
}

/// Keeps the order in view at hand.
pub(crate) fn keep_order(app: &mut App) {
    let (Some(key), Some((_, figures))) = (order_key(app), &app.figures.points) else {
        return;
    };
    if !app.sorted_points.is_of(&key) {
        let order = std::sync::Arc::new(order(app, figures));
        app.sorted_points.keep(key, order);
    }
}

/// The places of the lines in the order of the list. The figures come sorted by name.
fn order(app: &App, figures: &PointsFigures) -> Vec<u32> {
    let state = &app.screens.points;
    let compare = |a: &PointLine, b: &PointLine| -> Ordering {
        match state.by {
            By::Name => a.id.cmp(&b.id),
            By::Site => a.site.cmp(&b.site),
            By::Machine => a.machine.cmp(&b.machine),
            By::Draws => a.tally.draws.cmp(&b.tally.draws),
            By::Unrepresentative => a.tally.unrepresentative.cmp(&b.tally.unrepresentative),
            By::Difference => Ordering::Equal,
            By::Flow => flow(a).total_cmp(&flow(b)),
            By::Suited => urgency(a.suited())
                .cmp(&urgency(b.suited()))
                .then(b.tally.unrepresentative.cmp(&a.tally.unrepresentative)),
        }
    };
    let line = |place: &u32| &figures.points[*place as usize];
    let mut places = sorted::places(figures.points.len());
    if state.by == By::Difference {
        let subject = |place: &u32| &line(place).subject;
        against::sort_by_difference(app, &mut places, state.descending, subject);
    } else if state.descending {
        places.sort_by(|a, b| compare(line(b), line(a)));
    } else {
        places.sort_by(|a, b| compare(line(a), line(b)));
    }
    places
}

/// The chosen line.
pub(crate) fn chosen(app: &App) -> Option<&PointLine> {
    lines(app).get(app.screens.points.list.cursor).copied()
}

/// Where list and what stands beside it are drawn.
pub(crate) fn panes(app: &App) -> Pair {
    layout::pair(layout::body(app.size), 56)
}

/// Rows of the list on screen.
pub(crate) fn height(app: &App) -> usize {
    layout::rows_of(compared_list::table_area(panes(app).list))
}
