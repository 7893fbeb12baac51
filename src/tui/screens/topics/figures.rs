//! What the Topics screen shows, worked out at once for all its views.

use std::borrow::Cow;
use std::sync::Arc;

use crate::analysis::topics::{self, Ask, Topic, Topics, Unit, peers_of};
use crate::analysis::training::{Trained, WINDOW_DAYS};
use crate::analysis::{self, Assessed, BLANK, Filter, Selection};
use crate::tui::text;

/// One person or crew of the heat table.
#[derive(Clone, Debug)]
pub struct UnitTopics {
    pub(crate) topics: Topics,
    pub(crate) name: String,
    pub(crate) crew: String,
    /// The technicians behind it, by their places in the programme's list.
    pub(crate) members: Vec<u32>,
}

impl UnitTopics {
    /// The topic of a rule, if there is anything to regain by it.
    pub(crate) fn topic(&self, rule: usize) -> Option<&Topic> {
        self.topics.topics.iter().find(|topic| topic.rule == rule)
    }

    /// All that could be regained, in draws.
    pub(crate) fn regained(&self) -> f64 {
        self.topics.topics.iter().map(Topic::regained).sum()
    }
}

/// Rules by technicians, or by crews.
#[derive(Clone, Debug, Default)]
pub struct Heat {
    /// By id or name.
    pub(crate) units: Vec<UnitTopics>,
    /// The places of the units, those with most to regain first.
    pub(crate) by_regained: Vec<usize>,
    /// The cells that the longest id or name of a unit takes.
    pub(crate) widest: usize,
    /// Rules by which anything could be regained, most first, with the sum over all.
    pub(crate) rules: Vec<(usize, f64)>,
    /// The most of any cell.
    pub(crate) most: f64,
}

impl Heat {
    pub(crate) fn of(units: Vec<UnitTopics>) -> Self {
        let topics = || units.iter().flat_map(|unit| &unit.topics.topics);
        let mut rules: Vec<(usize, f64)> = Vec::new();
        for topic in topics() {
            match rules.iter_mut().find(|(rule, _)| *rule == topic.rule) {
                Some((_, sum)) => *sum += topic.regained(),
                None => rules.push((topic.rule, topic.regained())),
            }
        }
        rules.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        let sums: Vec<f64> = units.iter().map(UnitTopics::regained).collect();
        let mut by_regained: Vec<usize> = (0..units.len()).collect();
        by_regained.sort_by(|a, b| sums[*b].total_cmp(&sums[*a]));
        let widths = units.iter().map(|unit| text::width(&unit.topics.key));
        Heat {
            by_regained,
            widest: widths.max().unwrap_or(0),
            most: topics().map(Topic::regained).fold(0.0, f64::max),
            units,
            rules,
        }
    }
}

/// What the screen shows one at a time; each is worked out when it is first looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Rules by technicians.
    Technicians,
    /// Rules by crews.
    Crews,
    /// What to ask of others.
    Asks,
    /// What came after trainings.
    Trainings,
}

/// The figures of the screen, as far as they are worked out.
#[derive(Clone, Debug, Default)]
pub struct TopicsFigures {
    pub(crate) technicians: Option<Arc<Heat>>,
    pub(crate) crews: Option<Arc<Heat>>,
    pub(crate) asks: Option<Arc<Vec<Ask>>>,
    pub(crate) trainings: Option<Arc<Vec<Trained>>>,
}

impl TopicsFigures {
    /// One part over the selected draws.
    pub(crate) fn of(
        assessed: &Assessed,
        selection: &Selection,
        filter: &Filter,
        part: Part,
    ) -> Self {
        let mut figures = TopicsFigures::default();
        match part {
            Part::Technicians => {
                let found = topics_of(assessed, selection, filter, Unit::Technician);
                figures.technicians = Some(Arc::new(technicians(assessed, found)));
            }
            Part::Crews => {
                let found = topics_of(assessed, selection, filter, Unit::Crew);
                figures.crews = Some(Arc::new(crews(assessed, selection, found)));
            }
            Part::Asks => {
                let asks = topics::asks_by_cost(assessed, selection);
                figures.asks = Some(Arc::new(asks));
            }
            Part::Trainings => {
                let peers = peers(assessed, selection, filter);
                let found = analysis::trainings(assessed, selection, &peers, WINDOW_DAYS);
                figures.trainings = Some(Arc::new(found));
            }
        }
        figures
    }

    /// Whether a part is worked out.
    pub(crate) const fn has(&self, part: Part) -> bool {
        match part {
            Part::Technicians => self.technicians.is_some(),
            Part::Crews => self.crews.is_some(),
            Part::Asks => self.asks.is_some(),
            Part::Trainings => self.trainings.is_some(),
        }
    }

    /// These, and those of the other that are lacking.
    pub(crate) fn and(&self, other: &TopicsFigures) -> Self {
        TopicsFigures {
            technicians: self.technicians.clone().or(other.technicians.clone()),
            crews: self.crews.clone().or(other.crews.clone()),
            asks: self.asks.clone().or(other.asks.clone()),
            trainings: self.trainings.clone().or(other.trainings.clone()),
        }
    }
}

/// The draws of all who might be compared.
fn peers<'a>(assessed: &Assessed, selection: &'a Selection, filter: &Filter) -> Cow<'a, Selection> {
    let peers = peers_of(filter);
    if peers == *filter {
        Cow::Borrowed(selection)
    } else {
        Cow::Owned(peers.select(assessed))
    }
}

fn topics_of(
    assessed: &Assessed,
    selection: &Selection,
    filter: &Filter,
    unit: Unit,
) -> Vec<Topics> {
    let peers = peers(assessed, selection, filter);
    topics::topics(assessed, selection, &peers, unit)
}

fn crew_of(assessed: &Assessed, technician: usize) -> &str {
    let crew = assessed.technicians[technician].crew.as_deref();
    crew.unwrap_or(BLANK)
}

fn technicians(assessed: &Assessed, found: Vec<Topics>) -> Heat {
    let units = found.into_iter().filter_map(|topics| {
        let place = topics.technician?;
        let name = assessed.technicians[place].name.clone();
        Some(UnitTopics {
            name: name.unwrap_or_else(|| topics.key.clone()),
            crew: crew_of(assessed, place).to_owned(),
            members: u32::try_from(place).into_iter().collect(),
            topics,
        })
    });
    Heat::of(units.collect())
}

fn crews(assessed: &Assessed, selection: &Selection, found: Vec<Topics>) -> Heat {
    let mut drew = vec![false; assessed.technicians.len()];
    for &row in selection {
        drew[assessed.judged.technician[row as usize] as usize] = true;
    }
    let mut by_id: Vec<usize> = (0..drew.len()).filter(|place| drew[*place]).collect();
    by_id.sort_by_key(|place| &assessed.technicians[*place].id);
    let members_of = |crew: &str| {
        let own = by_id
            .iter()
            .filter(|place| crew_of(assessed, **place) == crew);
        own.filter_map(|place| u32::try_from(*place).ok()).collect()
    };
    let units = found.into_iter().map(|topics| UnitTopics {
        name: topics.key.clone(),
        crew: String::new(),
        members: members_of(&topics.key),
        topics,
    });
    Heat::of(units.collect())
}
