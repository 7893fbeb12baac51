//! What the rules cost, whom to retrain in what, what to ask of others.
//!
//! Every unrepresentative draw is shared out among the rules broken on it
//! ([`SharedOut`](super::SharedOut)). From these parts: what each rule costs the programme
//! ([`rule_costs`]), the retraining topics of technicians and crews against peers at the
//! same points ([`topics`]), the lists of the plant, the planner, dispatch and the desk
//! ([`asks`]), and a technician's plan with the draws that show it ([`plan`](plan())).

mod by_rule;
mod draws;
mod owners;
mod peers;
mod plan;
mod topic;

pub use by_rule::{RuleCost, rule_costs};
pub use owners::{ASKED, Ask, asks, asks_by_cost};
pub use plan::{EXAMPLES, LEAST_REGAINED, Plan, PlannedTopic, TOPICS, plan};
pub use topic::{FEW, Says, Topic, Topics, Unit, peers_of, topics};
