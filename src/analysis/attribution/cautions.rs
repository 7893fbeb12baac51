//! What to know before believing the numbers.

use std::fmt;

use super::design::MOST_COLUMNS;
use super::{Adjust, Attribution, Side};
use crate::analysis::Assessed;
use crate::stats::crossed;

/// With fewer technicians (points) than this the average they are compared with is itself
/// uncertain. In published sets of six and of twenty-three units, counting that in left one
/// of four and ten of sixteen that stood out; among 316 it changed nothing. Where between
/// them to draw the line is a proposal of ours.
const FEW_UNITS: usize = 10;

/// One thing to know.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Caution {
    /// Parts of the programme never meet.
    Islands {
        /// How many parts.
        count: usize,
        /// Technicians outside the largest part.
        technicians: usize,
        /// Points outside the largest part.
        points: usize,
    },
    /// All draws are at one point.
    OnePoint,
    /// Units differ so widely that the model's approximation is off.
    WideSpread {
        /// People or points.
        side: Side,
    },
    /// The median unit has so few draws that the model's approximation is off.
    FewDraws {
        /// People or points.
        side: Side,
        /// Judged draws of the median unit.
        median: u64,
    },
    /// So few units that the average they are compared with is itself uncertain.
    FewUnits {
        /// People or points.
        side: Side,
        /// How many of them.
        units: usize,
    },
    /// Points of several areas (or sites) are taken as independent.
    NotAdjusted {
        /// Area, or site where no areas are recorded.
        adjust: Adjust,
        /// How many of them.
        count: usize,
    },
}

impl Caution {
    pub(super) fn all(
        assessed: &Assessed,
        attribution: &Attribution,
        of_model: &[crossed::Caution],
    ) -> Vec<Caution> {
        let others = || attribution.islands.iter().skip(1);
        let mut cautions: Vec<Caution> = of_model
            .iter()
            .filter_map(|caution| match *caution {
                crossed::Caution::Islands { count } => Some(Caution::Islands {
                    count,
                    technicians: others().map(|island| island.technicians.len()).sum(),
                    points: others().map(|island| island.points.len()).sum(),
                }),
                // With one technician there is no answer at all.
                crossed::Caution::OneLevel { side } => match side.into() {
                    Side::Points => Some(Caution::OnePoint),
                    Side::Technicians => None,
                },
                crossed::Caution::WideSpread { side } => {
                    Some(Caution::WideSpread { side: side.into() })
                }
                crossed::Caution::FewTrials { side, median } => Some(Caution::FewDraws {
                    side: side.into(),
                    median,
                }),
            })
            .collect();
        cautions.extend(few_units(attribution));
        cautions.extend(not_adjusted(assessed, attribution));
        cautions
    }
}

fn few_units(attribution: &Attribution) -> impl Iterator<Item = Caution> {
    [Side::Technicians, Side::Points]
        .into_iter()
        .map(|side| (side, attribution.part(side).units.len()))
        .filter(|(_, units)| (2..FEW_UNITS).contains(units))
        .map(|(side, units)| Caution::FewUnits { side, units })
}

fn not_adjusted(assessed: &Assessed, attribution: &Attribution) -> Option<Caution> {
    let count = |adjust: Adjust| {
        let units = attribution.points.units.iter();
        adjust.values_at(units.map(|unit| &assessed.points[unit.place as usize]))
    };
    // Where no areas are recorded there are as many "areas" as sites; thousands of areas
    // can't be adjusted for.
    let (areas, sites) = (count(Adjust::Area), count(Adjust::Site));
    let (adjust, count) = if areas > sites && areas <= MOST_COLUMNS {
        (Adjust::Area, areas)
    } else {
        (Adjust::Site, sites)
    };
    let done = [Adjust::Area, adjust].map(|adjust| attribution.is_adjusted_for(adjust));
    (count > 1 && !done.contains(&true)).then_some(Caution::NotAdjusted { adjust, count })
}

impl fmt::Display for Caution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Caution::Islands {
                count,
                technicians,
                points,
            } => write!(
                f,
                "The draws fall into {count} parts that never meet: {} and {} share no draw with the \
                 rest, through any chain. Comparisons across parts are not supported.",
                counted(*technicians, "technician"),
                counted(*points, "point"),
            ),
            Caution::OnePoint => f.write_str(
                "All draws are at one point: the technicians are compared there, and nothing is \
                 said about points.",
            ),
            Caution::WideSpread { side } => write!(
                f,
                "The {side} differ so widely that the model's approximation is off: take the size \
                 of the figures as rough."
            ),
            Caution::FewDraws { side, median } => write!(
                f,
                "Half of the {side} have {}: how far they differ is probably understated.",
                match median {
                    1 => "one judged draw each".to_owned(),
                    _ => format!("{median} judged draws or fewer"),
                },
            ),
            Caution::FewUnits { side, units } => write!(
                f,
                "Only {units} {side}: the average they are compared with is itself uncertain, \
                 which their intervals leave out."
            ),
            Caution::NotAdjusted { adjust, count } => write!(
                f,
                "Points of {count} {adjust}s are taken as independent. Where {adjust}s differ, \
                 intervals are too narrow: in trials on made-up histories 95 % intervals held the \
                 truth in 88 % of cases. Adjust for {adjust} to see whether it matters."
            ),
        }
    }
}

/// One thing, or a number of them.
fn counted(number: usize, thing: &str) -> String {
    match number {
        1 => format!("1 {thing}"),
        _ => format!("{number} {thing}s"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_is_not_several() {
        let islands = |technicians, points| Caution::Islands {
            count: 2,
            technicians,
            points,
        };
        assert_eq!(
            islands(1, 1).to_string(),
            "The draws fall into 2 parts that never meet: 1 technician and 1 point share no draw \
             with the rest, through any chain. Comparisons across parts are not supported."
        );
        assert!(
            islands(3, 2)
                .to_string()
                .contains(": 3 technicians and 2 points share")
        );
        let few = |median| Caution::FewDraws {
            side: Side::Points,
            median,
        };
        assert_eq!(
            few(1).to_string(),
            "Half of the points have one judged draw each: how far they differ is probably \
             understated."
        );
        assert!(few(4).to_string().contains("have 4 judged draws or fewer:"));
    }
}
