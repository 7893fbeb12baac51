//! `fairdraw topics`: what rules cost, whom to retrain in what, what to ask of others.

use std::path::Path;

use super::args::{Format, TopicsArgs, TopicsBy};
use super::ask::{Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use super::plans;
use crate::analysis::tally;
use crate::analysis::topics::{Unit, asks_by_cost, peers_of, rule_costs, topics};
use crate::report::topic_rows;

const OF_PEOPLE: &str = "costs: draws the rule is behind; at peers: draws it would have cost \
                         others at the same points; over peers: the difference, with its 95 % \
                         interval (from, to). Where many topics are looked at, up to one in forty \
                         says \"more than peers\" by chance";
const NOTHING: &str = "nothing to regain over what peers lose at the same points";
const OF_OWNERS: &str = "costs: draws the rule is behind there; 0 where it has no part in the \
                         verdict";

/// Runs the command.
pub fn run(file: &Path, args: &TopicsArgs, output: &mut Output) -> Result<Finish, Failure> {
    if let Some(folder) = &args.plans {
        return plans::run(file, args, folder, output);
    }
    let Asked {
        assessed,
        filter,
        selection,
        ..
    } = ask(file, &args.reading)?;
    let format = args.reading.format.format;
    let said = match args.by {
        TopicsBy::Technician | TopicsBy::Crew => {
            let (unit, columns) = match args.by {
                TopicsBy::Crew => (Unit::Crew, topic_rows::TOPICS_OF_CREWS),
                _ => (Unit::Technician, topic_rows::TOPICS_OF_TECHNICIANS),
            };
            let peers = peers_of(&filter).select(&assessed);
            let found = topics(&assessed, &selection, &peers, unit);
            let rows = found.iter().flat_map(|of| {
                let ranked = (1..).zip(&of.topics);
                ranked.map(|(rank, topic)| topic_rows::topic(of, rank, topic))
            });
            output.report(format.into(), columns, rows)?;
            if found.iter().all(|of| of.topics.is_empty()) {
                NOTHING.to_owned()
            } else {
                OF_PEOPLE.to_owned()
            }
        }
        TopicsBy::Rule => {
            let rules = rule_costs(&assessed, &selection);
            let rows = rules.iter().map(topic_rows::rule_cost);
            output.report(format.into(), topic_rows::RULE_COSTS, rows)?;
            format!(
                "costs: each rule's part of the unrepresentative draws, {} in all; alone: draws \
                 regained by this rule without any other",
                tally(&assessed, &selection).unrepresentative
            )
        }
        TopicsBy::Owner => {
            let lists = asks_by_cost(&assessed, &selection);
            let rows = lists.iter().map(|ask| topic_rows::ask(&assessed, ask));
            output.report(format.into(), topic_rows::ASKS, rows)?;
            OF_OWNERS.to_owned()
        }
    };
    if matches!(format, Format::Table) {
        output.flush()?;
        remark(&said);
    }
    Ok(Finish::Done)
}
