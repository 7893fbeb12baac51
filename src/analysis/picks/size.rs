//! How many draws a plan asks for.

use crate::model::decisions::pick::Plan;
use crate::stats::hypergeometric::Sampling;
use crate::stats::{discovery, estimation};

/// Room for rounding where a share of a population is a whole number of draws.
const SLACK: f64 = 1e-9;

/// The size of a pick with what it achieves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// How many draws.
    pub size: u64,
    /// Of a discovery plan: how many bad records would be met. Of an estimation: how many
    /// draws the expected share is.
    pub marked: Option<u64>,
    /// The exact chance of meeting one of them; of an estimation, of finding a share within
    /// what was asked.
    pub chance: Option<f64>,
}

/// The size of this plan over so many draws, 1 or more and no more than there are.
///
/// # Errors
/// A number outside its range, or nothing to pick from: what is wrong and what to do.
pub fn size(plan: &Plan, population: u64) -> Result<Size, String> {
    if population == 0 {
        return Err("there is no draw to pick from; take another filter".to_owned());
    }
    match plan {
        Plan::Fixed { draws: 0 } => Err("a pick has 1 draw or more".to_owned()),
        Plan::Fixed { draws } => Ok(Size {
            size: (*draws).min(population),
            marked: None,
            chance: None,
        }),
        Plan::Discovery { share, confidence } => {
            let (share, confidence) = (part(share, "the share")?, part(confidence, CONFIDENCE)?);
            let marked = ((share * population as f64 - SLACK).ceil() as u64).max(1);
            let size = discovery::sample_size(population, marked, 0, confidence)
                .ok_or_else(|| "no pick can show so small a share".to_owned())?;
            let unseen = Sampling {
                all: population,
                marked,
                sampled: size,
            };
            Ok(Size {
                size,
                marked: Some(marked),
                chance: Some(1.0 - unseen.at_most(0)),
            })
        }
        Plan::Estimation {
            within,
            confidence,
            expected,
        } => {
            let expected = part(expected, "the share expected")?;
            let within = part(within, "the distance")?;
            let confidence = part(confidence, CONFIDENCE)?;
            let planned = estimation::sample_size(population, expected, within, confidence)
                .ok_or_else(|| "no pick can tell a share so closely".to_owned())?;
            Ok(Size {
                size: planned.size,
                marked: Some((expected * population as f64).round() as u64),
                chance: Some(planned.chance),
            })
        }
    }
}

const CONFIDENCE: &str = "the confidence";

/// A part of one, strictly inside.
fn part(text: &str, what: &str) -> Result<f64, String> {
    text.parse()
        .ok()
        .filter(|part: &f64| *part > 0.0 && *part < 1.0)
        .ok_or_else(|| format!("{what} must lie above 0 % and below 100 %"))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn discovery(share: &str, confidence: &str) -> Plan {
        Plan::Discovery {
            share: share.to_owned(),
            confidence: confidence.to_owned(),
        }
    }

    /// The sizes of the table in docs/statistics.md, which tests/it/reference checks.
    #[test]
    fn a_discovery_plan_has_the_size_of_the_table() {
        for (population, share, confidence, expected) in [
            (200, "0.05", "0.9", 41),
            (500, "0.05", "0.95", 56),
            (5_000, "0.01", "0.95", 290),
            (60_000, "0.01", "0.99", 457),
        ] {
            let found = size(&discovery(share, confidence), population).unwrap();
            assert_eq!(found.size, expected);
            assert!(found.chance.unwrap() >= confidence.parse().unwrap());
        }
    }

    #[test]
    fn a_share_between_two_whole_numbers_counts_as_the_larger() {
        let found = size(&discovery("0.05", "0.95"), 97).unwrap();
        assert_eq!(found.marked, Some(5));
        let found = size(&discovery("0.05", "0.95"), 3).unwrap();
        assert_eq!((found.marked, found.size), (Some(1), 3));
    }

    #[test]
    fn no_pick_is_larger_than_the_population() {
        let fixed = size(&Plan::Fixed { draws: 60 }, 12).unwrap();
        assert_eq!(fixed.size, 12);
        let close = Plan::Estimation {
            within: "0.001".to_owned(),
            confidence: "0.95".to_owned(),
            expected: "0.5".to_owned(),
        };
        assert_eq!(size(&close, 40).unwrap().size, 40);
    }

    #[test]
    fn what_can_not_be_planned_says_why() {
        for (plan, population) in [
            (Plan::Fixed { draws: 0 }, 5),
            (Plan::Fixed { draws: 5 }, 0),
            (discovery("0", "0.95"), 5),
            (discovery("0.05", "1"), 5),
            (discovery("five", "0.95"), 5),
        ] {
            assert!(size(&plan, population).is_err(), "{plan}");
        }
    }
}
