//! Findings: raised, answered, closed, withdrawn.
//!
//! Words are those of ISO 19011:2018 (audit finding, nonconformity, opportunity for
//! improvement) and of ISO 9001:2015, 10.2 (cause, correction, corrective action,
//! effectiveness). "Observation" is common practice, no source.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::DrawSeen;
use crate::model::trail::Decided;

/// How much weight a finding has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Grade {
    /// A requirement is not fulfilled.
    #[serde(rename = "nonconformity")]
    Nonconformity,
    /// Nothing is broken yet, but it should be looked at.
    #[serde(rename = "observation")]
    Observation,
    /// It could be done better.
    #[serde(rename = "opportunity for improvement")]
    Opportunity,
}

impl Grade {
    /// Every grade, the heaviest first.
    pub const ALL: [Grade; 3] = [Grade::Nonconformity, Grade::Observation, Grade::Opportunity];

    /// The words used on screens and in files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Grade::Nonconformity => "nonconformity",
            Grade::Observation => "observation",
            Grade::Opportunity => "opportunity for improvement",
        }
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

/// What a finding is about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum Subject {
    /// Single draws, by identity.
    Draws {
        /// Their identities.
        ids: Vec<String>,
    },
    /// A technician, by id.
    Technician {
        /// The id.
        id: String,
    },
    /// A point, by id.
    Point {
        /// The id.
        id: String,
    },
    /// A pick, by number.
    Pick {
        /// The number.
        number: u32,
    },
}

impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Subject::Draws { ids } if ids.len() == 1 => write!(f, "draw {}", ids[0]),
            Subject::Draws { ids } => write!(f, "draws {}", ids.join(", ")),
            Subject::Technician { id } => write!(f, "technician {id}"),
            Subject::Point { id } => write!(f, "point {id}"),
            Subject::Pick { number } => write!(f, "pick {number}"),
        }
    }
}

/// A finding was raised.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FindingRaised {
    /// Its number, counting from 1.
    pub finding: u32,
    /// How much weight it has.
    pub grade: Grade,
    /// What it is about.
    pub subject: Subject,
    /// The rule in question (the criterion), by id; empty where there is none.
    pub rule: String,
    /// What was found, in the auditor's words.
    pub text: String,
    /// Who is to answer.
    pub owner: String,
    /// The day by which it is to be answered, `YYYY-MM-DD`.
    pub due: String,
    /// Fingerprint of the rulebook the draws were judged by.
    pub rulebook: String,
    /// The filter that narrowed the draws; empty for none.
    pub filter: String,
    /// How many draws speak for it; more than `evidence` holds where they are many.
    pub draws: u64,
    /// The draws that speak for it, as they stood, the latest first.
    pub evidence: Vec<DrawSeen>,
}

impl Decided for FindingRaised {
    const KIND: &'static str = "finding raised";

    fn says(&self) -> String {
        format!(
            "F-{}, {} on {}, to {} by {}: {}",
            self.finding, self.grade, self.subject, self.owner, self.due, self.text
        )
    }
}

/// Its owner answered a finding.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FindingAnswered {
    /// The number of the finding.
    pub finding: u32,
    /// Why it came about.
    pub cause: String,
    /// What was done about what was found.
    pub correction: String,
    /// The corrective action: what is done so that it does not come back.
    pub action: String,
    /// The day by which the action is done, `YYYY-MM-DD`; empty where it is done already.
    pub by: String,
}

impl Decided for FindingAnswered {
    const KIND: &'static str = "finding answered";

    fn says(&self) -> String {
        let by = match self.by.as_str() {
            "" => String::new(),
            day => format!(" by {day}"),
        };
        format!(
            "F-{}: cause: {}; correction: {}; action: {}{by}",
            self.finding, self.cause, self.correction, self.action
        )
    }
}

/// How often the rule of a finding was broken in a stretch of time.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Broken {
    /// Draws on which the rule was recorded, one way or the other.
    pub recorded: u64,
    /// Draws on which it was broken.
    pub broken: u64,
}

/// What the draws before and after an answer say about its effect.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Effect {
    /// Which draws were looked at, as a filter.
    pub filter: String,
    /// The instant that parts before from after, in seconds since 1970 UTC.
    pub from: i64,
    /// Before it.
    pub before: Broken,
    /// From it on.
    pub after: Broken,
}

/// A finding was closed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FindingClosed {
    /// The number of the finding.
    pub finding: u32,
    /// How it was seen that the action was effective, in words.
    pub effect: String,
    /// What the draws say about it, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured: Option<Effect>,
}

impl Decided for FindingClosed {
    const KIND: &'static str = "finding closed";

    fn says(&self) -> String {
        let measured = match &self.measured {
            None => String::new(),
            Some(effect) => format!(
                "; broken on {} of {} draws before, {} of {} after",
                effect.before.broken,
                effect.before.recorded,
                effect.after.broken,
                effect.after.recorded
            ),
        };
        format!("F-{}: effect: {}{measured}", self.finding, self.effect)
    }
}

/// A finding was withdrawn.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FindingWithdrawn {
    /// The number of the finding.
    pub finding: u32,
    /// Why.
    pub because: String,
}

impl Decided for FindingWithdrawn {
    const KIND: &'static str = "finding withdrawn";

    fn says(&self) -> String {
        format!("F-{}: because {}", self.finding, self.because)
    }
}
