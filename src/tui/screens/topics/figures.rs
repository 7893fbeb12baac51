//! What the Topics screen shows, worked out at once for all its views.

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

/// The figures of the screen.
#[derive(Clone, Debug, Default)]
pub struct TopicsFigures {
    pub(crate) technicians: Heat,
    pub(crate) crews: Heat,
    pub(crate) asks: Vec<Ask>,
    pub(crate) trainings: Vec<Trained>,
}

impl TopicsFigures {
    pub(crate) fn of(assessed: &Assessed, selection: &Selection, filter: &Filter) -> Self {
        let peers = peers_of(filter);
        let peers = if peers == *filter {
            selection.clone()
        } else {
            peers.select(assessed)
        };
        let found = |unit| topics::topics(assessed, selection, &peers, unit);
        let crew_of = |place: usize| {
            let crew = assessed.technicians[place].crew.as_deref();
            crew.unwrap_or(BLANK).to_owned()
        };
        let technicians: Vec<UnitTopics> = found(Unit::Technician)
            .into_iter()
            .filter_map(|topics| {
                let place = topics.technician?;
                let name = assessed.technicians[place].name.clone();
                Some(UnitTopics {
                    name: name.unwrap_or_else(|| topics.key.clone()),
                    crew: crew_of(place),
                    members: u32::try_from(place).into_iter().collect(),
                    topics,
                })
            })
            .collect();
        let members_of = |crew: &str| {
            let own = technicians.iter().filter(|unit| unit.crew == crew);
            own.flat_map(|unit| unit.members.clone()).collect()
        };
        let crews = found(Unit::Crew).into_iter().map(|topics| UnitTopics {
            name: topics.key.clone(),
            crew: String::new(),
            members: members_of(&topics.key),
            topics,
        });
        TopicsFigures {
            crews: Heat::of(crews.collect()),
            technicians: Heat::of(technicians),
            asks: topics::asks(assessed, selection),
            trainings: analysis::trainings(assessed, selection, &peers, WINDOW_DAYS),
        }
    }
}
