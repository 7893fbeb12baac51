//! People: technicians and crews, with intervals; never a ranking by raw share.

pub(crate) mod view;

use std::cmp::Ordering;

use rustc_hash::FxHashMap;

use crate::analysis::attribution::{Funnel, Side};
use crate::analysis::{self, Assessed, BLANK, Key, Selection, Share, Tally};
use crate::tui::app::App;
use crate::tui::layout::{self, Pair};
use crate::tui::list::ListPlace;
use crate::tui::screens::against;
use crate::tui::screens::compared_list;
use crate::tui::screens::funnel::FunnelFigures;
use crate::tui::sorted;
use crate::tui::subject::Subject;

/// One line of the list.
#[derive(Clone, Debug)]
pub struct Person {
    pub(crate) subject: Subject,
    /// The id of a technician; empty for a crew.
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) crew: String,
    pub(crate) tally: Tally,
    pub(crate) share: Share,
}

/// The figures of the screen.
#[derive(Clone, Debug, Default)]
pub struct PeopleFigures {
    pub(crate) all: Option<f64>,
    pub(crate) technicians: Vec<Person>,
    pub(crate) crews: Vec<Person>,
    pub(crate) funnel_of_technicians: FunnelFigures,
    pub(crate) funnel_of_crews: FunnelFigures,
}

impl PeopleFigures {
    pub(crate) fn of(assessed: &Assessed, selection: &Selection) -> Self {
        let places: FxHashMap<&str, u32> = (0..)
            .zip(&assessed.technicians)
            .map(|(place, technician)| (technician.id.as_str(), place))
            .collect();
        let technicians: Vec<Person> = analysis::by(assessed, selection, Key::Technician)
            .into_iter()
            .filter_map(|group| {
                let place = *places.get(group.key.as_str())?;
                let technician = &assessed.technicians[place as usize];
                let name = technician.name.clone().unwrap_or_else(|| group.key.clone());
                Some(Person {
                    subject: Subject::Technician(place),
                    id: group.key,
                    name,
                    crew: technician.crew.clone().unwrap_or_else(|| BLANK.to_owned()),
                    tally: group.tally,
                    share: group.tally.share(),
                })
            })
            .collect();
        let crews: Vec<Person> = analysis::by(assessed, selection, Key::Crew)
            .into_iter()
            .map(|group| Person {
                subject: Subject::Crew(group.key.clone()),
                id: String::new(),
                name: group.key,
                crew: String::new(),
                tally: group.tally,
                share: group.tally.share(),
            })
            .collect();
        let limits = Funnel::of(assessed, selection, Side::Technicians);
        let tallies = |people: &[Person]| people.iter().map(|it| it.tally).collect::<Vec<_>>();
        PeopleFigures {
            funnel_of_technicians: FunnelFigures::of(
                limits.clone(),
                tallies(&technicians).into_iter(),
            ),
            funnel_of_crews: FunnelFigures::of(limits, tallies(&crews).into_iter()),
            all: analysis::tally(assessed, selection).share().share,
            technicians,
            crews,
        }
    }
}

/// What people can be sorted by. The raw share is not among them: small numbers and hard
/// points would be shown up as people's faults.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum By {
    #[default]
    Name,
    Crew,
    Draws,
    Unrepresentative,
    /// Observed less expected at the same points.
    Difference,
}

impl By {
    pub(crate) const ALL: [By; 5] = [
        By::Name,
        By::Crew,
        By::Draws,
        By::Unrepresentative,
        By::Difference,
    ];

    /// Whether the list begins with the highest value when it is first sorted this way.
    const fn begins_high(self) -> bool {
        matches!(self, By::Draws | By::Unrepresentative | By::Difference)
    }

    const fn next(self) -> Self {
        match self {
            By::Name => By::Crew,
            By::Crew => By::Draws,
            By::Draws => By::Unrepresentative,
            By::Unrepresentative => By::Difference,
            By::Difference => By::Name,
        }
    }
}

/// Where the user stands.
#[derive(Clone, Debug, Default)]
pub(crate) struct PeopleState {
    pub(crate) crews: bool,
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

impl PeopleState {
    pub(crate) fn sort_next(&mut self) {
        self.by = self.by.next();
        if self.crews && self.by == By::Crew {
            self.by = By::Draws;
        }
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

/// What the order of the list follows from: the figures, whether of crews, by what and how they
/// are sorted, and the model's answer where it matters.
pub(crate) type OrderKey = (u64, bool, By, bool, Option<usize>);

fn order_key(app: &App) -> Option<OrderKey> {
    let (turn, _) = app.figures.people.as_ref()?;
    let state = &app.screens.people;
    let fit = (state.by == By::Difference).then(|| against::fit_key(app));
    Some((*turn, state.crews, state.by, state.descending, fit))
}

/// Technicians or crews, whichever are in view, in the order of the figures.
fn people(app: &App) -> &[Person] {
    match &app.figures.people {
        None => &[],
        Some((_, figures)) if app.screens.people.crews => &figures.crews,
        Some((_, figures)) => &figures.technicians,
    }
}

/// The lines in the order of the list.
pub(crate) fn lines(app: &App) -> Vec<&Person> {
    let Some(key) = order_key(app) else {
        return Vec::new();
    };
    let people = people(app);
    let order = app.sorted_people.order(&key, || order(app));
    order.iter().map(|place| &people[*place as usize]).collect()
}

/// Keeps the order in view at hand.
pub(crate) fn keep_order(app: &mut App) {
    let Some(key) = order_key(app) else {
        return;
    };
    if !app.sorted_people.is_of(&key) {
        let order = std::sync::Arc::new(order(app));
        app.sorted_people.keep(key, order);
    }
}

/// The places of the lines in the order of the list.
fn order(app: &App) -> Vec<u32> {
    let state = &app.screens.people;
    let people = people(app);
    let person = |place: &u32| &people[*place as usize];
    let compare = |a: &Person, b: &Person| -> Ordering {
        match state.by {
            By::Name => Ordering::Equal,
            By::Crew => a.crew.to_lowercase().cmp(&b.crew.to_lowercase()),
            By::Draws => a.tally.draws.cmp(&b.tally.draws),
            By::Unrepresentative => a.tally.unrepresentative.cmp(&b.tally.unrepresentative),
            By::Difference => Ordering::Equal,
        }
    };
    let mut places = sorted::places(people.len());
    places.sort_by_cached_key(|place| {
        let person = person(place);
        (person.name.to_lowercase(), person.id.clone())
    });
    if state.by == By::Name && state.descending {
        places.reverse();
    } else if state.by == By::Difference {
        let subject = |place: &u32| &person(place).subject;
        against::sort_by_difference(app, &mut places, state.descending, subject);
    } else if state.descending {
        places.sort_by(|a, b| compare(person(b), person(a)));
    } else {
        places.sort_by(|a, b| compare(person(a), person(b)));
    }
    places
}

/// The chosen line.
pub(crate) fn chosen(app: &App) -> Option<&Person> {
    lines(app).get(app.screens.people.list.cursor).copied()
}

/// Where list and what stands beside it are drawn; some lines at the bottom of the list are
/// the footnote's.
pub(crate) fn panes(app: &App) -> Pair {
    layout::pair_of(layout::body(app.size), 60, 76)
}

/// Rows of the list on screen.
pub(crate) fn height(app: &App) -> usize {
    layout::rows_of(compared_list::table_area(panes(app).list))
}
