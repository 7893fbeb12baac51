//! The findings pack: what its tables are, and the files made from them.

pub mod analysed;
pub mod decided_rows;
pub mod readme;
pub mod rows;

use super::{
    Column, attribution, finding_rows, ledger_rows, pick_rows, resample_rows, score_rows,
    share_rows, topic_rows, trail_rows, training_rows, trend_rows,
};
use crate::analysis::Key;

/// The version of the layout of a pack.
pub const LAYOUT: u64 = 1;

/// A table of a pack.
#[derive(Clone, Copy, Debug)]
pub struct Sheet {
    /// The name of its files, without their endings.
    pub name: &'static str,
    /// Its heading and the name of its sheet in the workbook, at most 31 characters.
    pub title: &'static str,
    /// What it holds, in one sentence.
    pub about: &'static str,
    /// Its columns.
    pub columns: &'static [Column],
}

/// The share of all draws of the pack.
pub const SHARE: Sheet = Sheet {
    name: "share",
    title: "Share",
    about: "The share of unrepresentative draws, with its interval and its bounds.",
    columns: share_rows::SHARE,
};

/// Shares by a key, in the order in which they stand in a pack.
pub const SHARES_BY: [(Key, Sheet); 7] = [
    (
        Key::Site,
        by("share_by_site", "Share by site", "Shares of the sites."),
    ),
    (
        Key::Crew,
        by(
            "share_by_crew",
            "Share by crew",
            "Shares of the crews; no ranking: look at the intervals.",
        ),
    ),
    (
        Key::Technician,
        by(
            "share_by_technician",
            "Share by technician",
            "Shares of the technicians; no ranking: points differ, see the people told apart.",
        ),
    ),
    (
        Key::Point,
        by("share_by_point", "Share by point", "Shares of the points."),
    ),
    (
        Key::Method,
        by(
            "share_by_method",
            "Share by method",
            "Shares of the methods.",
        ),
    ),
    (
        Key::Month,
        by(
            "share_by_month",
            "Share by month",
            "Shares of the months, in the programme's zone.",
        ),
    ),
    (
        Key::Rule,
        Sheet {
            columns: share_rows::SHARE_BY_RULE,
            ..by(
                "share_by_rule",
                "Share by rule",
                "How often each rule is met, broken and unrecorded.",
            )
        },
    ),
];

const fn by(name: &'static str, title: &'static str, about: &'static str) -> Sheet {
    Sheet {
        name,
        title,
        about,
        columns: share_rows::SHARE,
    }
}

/// The share month by month with control limits.
pub const TREND: Sheet = Sheet {
    name: "trend",
    title: "Trend",
    about: "The share month by month, with the control limits of its chart and what it signals.",
    columns: trend_rows::TREND,
};

/// People told apart from points.
pub const PEOPLE: Sheet = Sheet {
    name: "attribution_people",
    title: "People",
    about: "Technicians against an average one at the same points; no ranking: an interval that holds 1 shows no difference.",
    columns: attribution::TECHNICIANS,
};

/// Points told apart from people.
pub const POINTS: Sheet = Sheet {
    name: "attribution_points",
    title: "Points",
    about: "Points against an average one with the same technicians.",
    columns: attribution::POINTS,
};

/// The model behind both.
pub const MODEL: Sheet = Sheet {
    name: "attribution_model",
    title: "Model",
    about: "The model by which people and points are told apart.",
    columns: attribution::MODEL,
};

/// Retraining topics of technicians.
pub const TOPICS: Sheet = Sheet {
    name: "topics_by_technician",
    title: "Topics by technician",
    about: "Retraining topics of the technicians, most to regain first.",
    columns: topic_rows::TOPICS_OF_TECHNICIANS,
};

/// Retraining topics of crews.
pub const TOPICS_OF_CREWS: Sheet = Sheet {
    name: "topics_by_crew",
    title: "Topics by crew",
    about: "Retraining topics of the crews, most to regain first.",
    columns: topic_rows::TOPICS_OF_CREWS,
};

/// What each rule costs.
pub const RULE_COSTS: Sheet = Sheet {
    name: "rule_costs",
    title: "Cost of rules",
    about: "How many unrepresentative draws each rule is behind.",
    columns: topic_rows::RULE_COSTS,
};

/// What to ask of plant, planner, dispatch and desk.
pub const ASKS: Sheet = Sheet {
    name: "asks",
    title: "To ask of others",
    about: "What to ask of plant, planner, dispatch and desk: rules that no technician can put right.",
    columns: topic_rows::ASKS,
};

/// Trainings before and after.
pub const TRAININGS: Sheet = Sheet {
    name: "trainings",
    title: "Trainings",
    about: "Each training: how often its rule was broken before and after, beside untrained peers.",
    columns: training_rows::TRAININGS,
};

/// The rules as they stand.
pub const RULES: Sheet = Sheet {
    name: "rules_in_force",
    title: "Rules in force",
    about: "The programme's rulebook laid over the standard one: every rule as it is applied.",
    columns: rows::RULES_IN_FORCE,
};

/// The trail of decisions.
pub const TRAIL: Sheet = Sheet {
    name: "trail",
    title: "Trail",
    about: "What people decided, in order, each link holding the hash of the one before.",
    columns: trail_rows::TRAIL,
};

/// The draws with their verdicts.
pub const DRAWS: Sheet = Sheet {
    name: "draws",
    title: "Draws",
    about: "Every draw with its verdict, scores, broken and unrecorded rules.",
    columns: score_rows::SCORE,
};

/// Findings as they stand.
pub const FINDINGS: Sheet = Sheet {
    name: "findings",
    title: "Findings",
    about: "Findings as they stand: what was found, what was answered, how it was closed.",
    columns: finding_rows::FINDINGS,
};

/// The draws that speak for findings.
pub const EVIDENCE: Sheet = Sheet {
    name: "findings_evidence",
    title: "Evidence",
    about: "The draws that speak for each finding, as they stood when it was raised.",
    columns: decided_rows::EVIDENCE,
};

/// Random picks.
pub const PICKS: Sheet = Sheet {
    name: "picks",
    title: "Picks",
    about: "Random samples of draws for verification: the plan, the population, what was found.",
    columns: pick_rows::PICKS,
};

/// What the verification of each pick says.
pub const OUTCOMES: Sheet = Sheet {
    name: "picks_outcome",
    title: "What picks found",
    about: "What the verification of each pick says of all its records, with exact bounds.",
    columns: decided_rows::OUTCOMES,
};

/// The draws picked.
pub const PICKED: Sheet = Sheet {
    name: "picks_draws",
    title: "Picked draws",
    about: "The draws of each pick with the result of their verification.",
    columns: decided_rows::PICKED,
};

/// What to sample again.
pub const RESAMPLES: Sheet = Sheet {
    name: "resamples",
    title: "Resamples",
    about: "Compartments whose latest sample can't be trusted, most urgent first, with what to do differently.",
    columns: resample_rows::RESAMPLES,
};

/// Laboratory results set aside.
pub const SET_ASIDES: Sheet = Sheet {
    name: "set_asides",
    title: "Results set aside",
    about: "Laboratory results that someone set aside, and why.",
    columns: resample_rows::SET_ASIDE,
};

/// The ledger of imports.
pub const LEDGER: Sheet = Sheet {
    name: "imports",
    title: "Imports",
    about: "What was taken in, batch by batch, and what was taken back.",
    columns: ledger_rows::LEDGER,
};

/// The sheets of the ledger.
pub const LEDGER_SHEETS: Sheet = Sheet {
    name: "imports_sheets",
    title: "Sheets of imports",
    about: "The files of each batch with their hashes and what became of their rows.",
    columns: ledger_rows::SHEETS,
};
