//! What was found: kinds of things, the best of each with the letters they were found by.

use std::collections::{BTreeMap, BTreeSet};

use super::best::Best;
use super::codes;
use super::goal::Goal;
use super::pattern::{Fit, Names, Pattern, Tier};
use crate::analysis::{Assessed, FilterKey};
use crate::model::{Point, Progress, time};
use crate::programme::DrawNames;
use crate::rules;
use crate::tui::subject::Subject;

/// A kind of thing that can be found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    Technician,
    Crew,
    Point,
    Compartment,
    Machine,
    Area,
    Site,
    Bottle,
    Draw,
    Rule,
    Screen,
    /// What was found before.
    Lately,
    /// Where one has been.
    Step,
}

impl Kind {
    /// What several of it are called.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Kind::Technician => "technicians",
            Kind::Crew => "crews",
            Kind::Point => "points",
            Kind::Compartment => "compartments",
            Kind::Machine => "machines",
            Kind::Area => "areas",
            Kind::Site => "sites",
            Kind::Bottle => "bottles",
            Kind::Draw => "draws",
            Kind::Rule => "rules",
            Kind::Screen => "screens",
            Kind::Lately => "found lately",
            Kind::Step => "where you were",
        }
    }
}

/// A text and the graphemes in it that it was found by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Part {
    pub(super) text: String,
    pub(super) marks: Vec<u32>,
}

impl Part {
    pub(super) fn plain(text: &str) -> Self {
        Part {
            text: text.to_owned(),
            marks: Vec::new(),
        }
    }
}

/// One thing that was found: its name, then what else is said of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Find {
    pub(super) goal: Goal,
    pub(super) parts: Vec<Part>,
}

impl Find {
    /// With nothing said but its name.
    pub(super) fn named(goal: Goal, name: &str) -> Self {
        Find {
            goal,
            parts: vec![Part::plain(name)],
        }
    }

    /// What it is called.
    pub(super) fn name(&self) -> &str {
        self.parts.first().map_or("", |part| part.text.as_str())
    }
}

/// So many of a kind are shown even where that fills more than the screen.
pub(super) const FEW: usize = 8;

/// Finds of one kind.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub(super) kind: Kind,
    /// How many there are; more may be than are shown.
    pub(super) count: usize,
    pub(super) finds: Vec<Find>,
}

/// All that was found.
#[derive(Clone, Debug, Default)]
pub struct Finds {
    /// What was sought.
    pub(super) query: String,
    /// Whether draws and bottles were looked through too.
    pub(super) with_names: bool,
    /// The kind with the best find first.
    pub(super) groups: Vec<Group>,
}

impl Finds {
    /// Looks through everything that has a name; `None` if it was stopped.
    pub(crate) fn of(
        assessed: &Assessed,
        names: Option<&DrawNames>,
        query: &str,
        progress: &Progress,
    ) -> Option<Self> {
        let mut ranked: Vec<(Rank, Group)> = listed(assessed, query);
        if let Some(names) = names {
            ranked.extend(coded(assessed, names, query, progress)?);
        }
        // A stable sort: kinds that fit equally well keep their order.
        ranked.sort_by_key(|(rank, _)| *rank);
        Some(Finds {
            query: query.to_owned(),
            with_names: names.is_some(),
            groups: ranked.into_iter().map(|(_, group)| group).collect(),
        })
    }

    /// The same with so many of a kind as there is room for in these lines, a heading for each
    /// kind among them; of each kind the first few in any case.
    pub(super) fn fitted(mut self, lines: usize) -> Self {
        let few = |group: &Group| group.finds.len().min(FEW);
        let used: usize = self.groups.iter().map(|group| 1 + few(group)).sum();
        let mut spare = lines.saturating_sub(used);
        for group in &mut self.groups {
            let more = (group.finds.len() - few(group)).min(spare);
            spare -= more;
            group.finds.truncate(few(group) + more);
        }
        self
    }

    /// How many can be chosen.
    pub(super) fn len(&self) -> usize {
        self.groups.iter().map(|group| group.finds.len()).sum()
    }

    /// The find at this place, counted over all groups.
    pub(super) fn get(&self, place: usize) -> Option<&Find> {
        let all = self.groups.iter().flat_map(|group| &group.finds);
        all.into_iter().nth(place)
    }
}

/// A thing with the names that it can be found by.
struct Named<'a> {
    goal: Goal,
    names: Vec<&'a str>,
    /// So many of them are its own.
    own: usize,
}

impl Named<'_> {
    fn names(&self) -> Names<'_> {
        Names {
            all: &self.names,
            own: self.own,
        }
    }
}

/// How well the best of a kind fits: how it lies, and whether only in what is said of it.
type Rank = (Tier, bool);

/// Technicians, crews, points, compartments, rules and screens: some thousands.
fn listed(assessed: &Assessed, query: &str) -> Vec<(Rank, Group)> {
    let mut pattern = Pattern::new(query);
    let kinds = [
        (Kind::Technician, technicians(assessed)),
        (Kind::Crew, crews(assessed)),
        (Kind::Point, points(assessed)),
        (Kind::Compartment, compartments(assessed)),
        (
            Kind::Machine,
            values(assessed, FilterKey::Machine, |point| &point.machine),
        ),
        (
            Kind::Area,
            values(assessed, FilterKey::Area, |point| &point.area),
        ),
        (
            Kind::Site,
            values(assessed, FilterKey::Site, |point| &point.site),
        ),
        (Kind::Rule, rules()),
        (Kind::Screen, screens()),
    ];
    let mut ranked = Vec::new();
    for (kind, things) in kinds {
        let mut best: Best<Fit> = Best::default();
        for (place, thing) in things.iter().enumerate() {
            if let Some(fit) = pattern.fit(thing.names()) {
                best.add(fit, place);
            }
        }
        let Some(((tier, aside, _), _)) = best.list.first() else {
            continue;
        };
        let finds = best.list.iter().map(|(_, place)| {
            let thing = &things[*place];
            let marks = pattern.marks(thing.names());
            let parts = thing.names.iter().zip(marks);
            Find {
                goal: thing.goal.clone(),
                parts: parts
                    .map(|(name, marks)| Part {
                        text: (*name).to_owned(),
                        marks,
                    })
                    .collect(),
            }
        });
        let group = Group {
            kind,
            count: best.count,
            finds: finds.collect(),
        };
        ranked.push(((*tier, *aside), group));
    }
    ranked
}

fn technicians(assessed: &Assessed) -> Vec<Named<'_>> {
    let all = (0..).zip(&assessed.technicians);
    all.map(|(place, one)| {
        let more = [&one.name, &one.crew].into_iter().flatten();
        Named {
            goal: Goal::Subject(Subject::Technician(place)),
            names: std::iter::once(&one.id)
                .chain(more)
                .map(String::as_str)
                .collect(),
            own: 1 + usize::from(one.name.is_some()),
        }
    })
    .collect()
}

fn crews(assessed: &Assessed) -> Vec<Named<'_>> {
    let mut crews: Vec<&str> = (assessed.technicians.iter())
        .filter_map(|one| one.crew.as_deref())
        .collect();
    crews.sort_unstable();
    crews.dedup();
    crews
        .into_iter()
        .map(|name| Named {
            goal: Goal::Subject(Subject::Crew(name.to_owned())),
            names: vec![name],
            own: 1,
        })
        .collect()
}

/// Machine, area and site of a point, as far as they are given.
fn where_it_is(point: &Point) -> impl Iterator<Item = &str> {
    let parts = [&point.machine, &point.area, &point.site];
    parts.into_iter().flatten().map(String::as_str)
}

fn points(assessed: &Assessed) -> Vec<Named<'_>> {
    let all = (0..).zip(&assessed.points);
    all.map(|(place, point)| Named {
        goal: Goal::Subject(Subject::Point(place)),
        names: std::iter::once(point.id.as_str())
            .chain(where_it_is(point))
            .collect(),
        own: 1,
    })
    .collect()
}

fn compartments(assessed: &Assessed) -> Vec<Named<'_>> {
    let mut first: BTreeMap<&str, &Point> = BTreeMap::new();
    for point in &assessed.points {
        first.entry(&point.compartment).or_insert(point);
    }
    first
        .into_iter()
        .map(|(name, point)| Named {
            goal: Goal::Compartment(name.to_owned()),
            names: std::iter::once(name).chain(where_it_is(point)).collect(),
            own: 1,
        })
        .collect()
}

/// What points are at, by this key of a filter, each once.
fn values(
    assessed: &Assessed,
    key: FilterKey,
    of: fn(&Point) -> &Option<String>,
) -> Vec<Named<'_>> {
    let names: BTreeSet<&str> = assessed
        .points
        .iter()
        .filter_map(|point| of(point).as_deref())
        .collect();
    names
        .into_iter()
        .map(|name| Named {
            goal: Goal::Value(key, name.to_owned()),
            names: vec![name],
            own: 1,
        })
        .collect()
}

fn rules() -> Vec<Named<'static>> {
    let all = rules::cards().iter().enumerate();
    all.map(|(place, card)| Named {
        goal: Goal::Rule(place),
        names: vec![card.id, card.asks],
        own: 1,
    })
    .collect()
}

fn screens() -> Vec<Named<'static>> {
    Goal::screens()
        .map(|(place, name, about)| Named {
            goal: Goal::Screen(place),
            names: vec![name, about],
            own: 1,
        })
        .collect()
}

/// Bottles and draws by their codes: up to millions.
fn coded(
    assessed: &Assessed,
    names: &DrawNames,
    query: &str,
    progress: &Progress,
) -> Option<Vec<(Rank, Group)>> {
    let mut ranked = Vec::new();
    for (kind, codes) in [(Kind::Bottle, &names.bottles), (Kind::Draw, &names.draws)] {
        let best = codes::search(codes, &names.rows, query, progress)?;
        let Some(((tier, ..), _)) = best.list.first() else {
            continue;
        };
        let finds = best.list.iter().map(|(_, place)| {
            let code = codes.get(*place);
            let mut parts = vec![Part {
                text: code.to_owned(),
                marks: codes::marks(query, code),
            }];
            if kind == Kind::Bottle && !names.draws.get(*place).is_empty() {
                parts.push(Part::plain(&format!("draw {}", names.draws.get(*place))));
            }
            let row = names.rows[*place];
            parts.extend(of_draw(assessed, row as usize));
            Find {
                goal: Goal::Draw(row),
                parts,
            }
        });
        let group = Group {
            kind,
            count: best.count,
            finds: finds.collect(),
        };
        ranked.push(((*tier, false), group));
    }
    Some(ranked)
}

/// When, where and by whom a draw was drawn, and its verdict.
fn of_draw(assessed: &Assessed, row: usize) -> [Part; 4] {
    let judged = &assessed.judged;
    let point = &assessed.points[judged.point[row] as usize];
    let technician = &assessed.technicians[judged.technician[row] as usize];
    [
        Part::plain(&time::local_text(judged.drawn_at[row], assessed.zone)),
        Part::plain(&point.id),
        Part::plain(technician.name.as_ref().unwrap_or(&technician.id)),
        Part::plain(judged.verdict[row].as_str()),
    ]
}
