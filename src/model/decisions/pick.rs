//! Picks: a random sample of draws to be verified, and what the verification found.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::DrawSeen;
use crate::model::trail::Decided;

/// How the size of a pick was settled. Parts of one are decimal texts such as `0.05`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum Plan {
    /// Large enough to meet a bad record, with this confidence, if this share is bad.
    Discovery {
        /// The share of bad records that would not go unseen.
        share: String,
        /// The chance of meeting one.
        confidence: String,
    },
    /// Large enough to tell a share to within this much, with this confidence.
    Estimation {
        /// Half the width of the interval.
        within: String,
        /// How often such an interval holds the share.
        confidence: String,
        /// The share expected.
        expected: String,
    },
    /// So many.
    Fixed {
        /// How many.
        draws: u64,
    },
}

impl Plan {
    /// The confidence of what is said about the whole, as a decimal text: that of the plan,
    /// else 0.95.
    #[must_use]
    pub fn confidence(&self) -> &str {
        match self {
            Plan::Discovery { confidence, .. } | Plan::Estimation { confidence, .. } => confidence,
            Plan::Fixed { .. } => "0.95",
        }
    }
}

impl fmt::Display for Plan {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Plan::Discovery { share, confidence } => write!(
                f,
                "discovery (share {}, confidence {})",
                percent(share),
                percent(confidence)
            ),
            Plan::Estimation {
                within,
                confidence,
                expected,
            } => write!(
                f,
                "estimation (within {}, confidence {}, expected {})",
                percent(within),
                percent(confidence),
                percent(expected)
            ),
            Plan::Fixed { draws } => write!(f, "fixed ({draws} draws)"),
        }
    }
}

/// A decimal part of one as a percentage, with the digits it has.
fn percent(part: &str) -> String {
    part.parse::<f64>().map_or_else(
        |_| part.to_owned(),
        |part| {
            let text = format!("{:.6}", part * 100.0);
            let text = text.trim_end_matches('0').trim_end_matches('.');
            format!("{text} %")
        },
    )
}

/// A part of the population that is sampled by itself.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stratum {
    /// The value of the key; `all` where the population is not parted.
    pub name: String,
    /// How many draws it has.
    pub draws: u64,
    /// How many of them were picked.
    pub picked: u64,
}

/// A sample of draws was picked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PickDrawn {
    /// Its number, counting from 1.
    pub pick: u32,
    /// How its size was settled.
    pub plan: Plan,
    /// The seed by which draws are ranked.
    pub seed: String,
    /// The filter that names the population; empty for every draw.
    pub filter: String,
    /// What the population is parted by: `technician`, `crew`, `site` or `point`; empty for
    /// nothing.
    pub by: String,
    /// How many were wanted of each part at least.
    pub at_least: u64,
    /// How many draws the population has.
    pub population: u64,
    /// SHA-256 over the identities of the population, sorted by their bytes, each with a
    /// line feed after it.
    pub population_sha256: String,
    /// Fingerprint of the rulebook the draws were judged by.
    pub rulebook: String,
    /// The parts, by name.
    pub strata: Vec<Stratum>,
    /// The draws picked, part by part in the order of their ranks.
    pub draws: Vec<DrawSeen>,
}

impl Decided for PickDrawn {
    const KIND: &'static str = "pick drawn";

    fn says(&self) -> String {
        let of = match self.filter.as_str() {
            "" => String::new(),
            filter => format!(" of {filter}"),
        };
        let by = match self.by.as_str() {
            "" => String::new(),
            key => format!(" by {key}"),
        };
        format!(
            "pick {}: {} of {} draws{of}{by}, plan {}, seed {}",
            self.pick,
            self.draws.len(),
            self.population,
            self.plan,
            self.seed
        )
    }
}

/// What the verification of a draw found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Outcome {
    /// What the record says is so.
    Agree,
    /// What the record says is not so.
    Disagree,
    /// It could not be verified.
    Unverified,
}

impl Outcome {
    /// Every outcome.
    pub const ALL: [Outcome; 3] = [Outcome::Agree, Outcome::Disagree, Outcome::Unverified];

    /// The word used on screens and in files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Outcome::Agree => "agree",
            Outcome::Disagree => "disagree",
            Outcome::Unverified => "unverified",
        }
    }

    /// Reads the word in any case.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|outcome| outcome.as_str().eq_ignore_ascii_case(text))
    }
}

impl fmt::Display for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

/// The verification of one draw.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Verified {
    /// The identity of the draw.
    pub draw: String,
    /// What was found.
    pub result: Outcome,
    /// Whether the verifier holds the sample for representative; `None` where they don't say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub representative: Option<bool>,
    /// A note; may be empty.
    pub note: String,
}

/// Results of a pick's verification were entered. A draw entered again takes the place of
/// its earlier result.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PickVerified {
    /// The number of the pick.
    pub pick: u32,
    /// The results.
    pub results: Vec<Verified>,
    /// The sheet they came from; empty where they were typed.
    pub sheet: String,
    /// SHA-256 of that sheet, in hexadecimal; empty where there is none.
    pub sheet_sha256: String,
}

impl Decided for PickVerified {
    const KIND: &'static str = "pick verified";

    fn says(&self) -> String {
        let count = |outcome| {
            let of = |verified: &&Verified| verified.result == outcome;
            self.results.iter().filter(of).count()
        };
        let from = match self.sheet.as_str() {
            "" => String::new(),
            sheet => format!(", from {sheet}"),
        };
        format!(
            "pick {}: {} agree, {} disagree, {} could not be verified{from}",
            self.pick,
            count(Outcome::Agree),
            count(Outcome::Disagree),
            count(Outcome::Unverified)
        )
    }
}
