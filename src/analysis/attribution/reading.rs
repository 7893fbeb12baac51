//! What the numbers say, in plain sentences that blame nobody.

use super::{Attribution, Part, Side, Unit};
use crate::analysis::Assessed;

impl Attribution {
    /// The answer in a few sentences: which differ more, by how much, and what goes with
    /// neither.
    #[must_use]
    pub fn reading(&self) -> String {
        let (people, points) = (&self.technicians, &self.points);
        let first = match (people.differs(), points.differs()) {
            (false, false) => {
                "Neither people nor points differ by more than chance explains.".to_owned()
            }
            (true, false) => format!(
                "People differ, points don't beyond chance: {}.",
                typical(Side::Technicians, people)
            ),
            (false, true) => format!(
                "Points differ, people don't beyond chance: {}.",
                typical(Side::Points, points)
            ),
            (true, true) => format!(
                "{}: {}, a typical pair of technicians {:.1}-fold.",
                which_more(people, points),
                typical(Side::Points, points),
                people.median_odds_ratio
            ),
        };
        let percent = |part: f64| (part * 100.0).round();
        format!(
            "{first} Of the variation in the odds, {} % goes with points, {} % with people, {} % \
             with neither.",
            percent(points.variance_share),
            percent(people.variance_share),
            percent(self.neither())
        )
    }

    /// One line about a technician or a point: what was seen, what was to be expected there,
    /// and how far that carries.
    #[must_use]
    pub fn reading_of(&self, assessed: &Assessed, side: Side, unit: &Unit) -> String {
        let place = unit.place as usize;
        let id = match side {
            Side::Technicians => &assessed.technicians[place].id,
            Side::Points => &assessed.points[place].id,
        };
        let like = match side {
            Side::Technicians => "an average technician at the same points",
            Side::Points => "an average point with the same technicians",
        };
        format!(
            "{id}: {} of {} judged draws unrepresentative, {:.1} expected of {like}; {}.",
            unit.unrepresentative,
            unit.draws,
            unit.expected,
            self.carries(side, unit)
        )
    }

    /// How far the difference carries.
    fn carries(&self, side: Side, unit: &Unit) -> &'static str {
        if unit.is_few() {
            "too few draws to say more"
        } else if unit.shared == 0 {
            match side {
                Side::Technicians => {
                    "nobody else draws at these points, so person and point can't be told apart"
                }
                Side::Points => {
                    "whoever draws here draws nowhere else, so point and person can't be told apart"
                }
            }
        } else if unit.island > 0 {
            "compared only within the part of the programme it meets"
        } else if unit.low <= 1.0 && unit.high >= 1.0 {
            "the difference is within chance"
        } else if !unit.stands_out() {
            "a difference, but among so many compared it may be chance"
        } else if unit.effect > 0.0 {
            match side {
                Side::Technicians => "more than chance explains: see how these draws are made",
                Side::Points => "more than chance explains: see what makes this point hard",
            }
        } else {
            match side {
                Side::Technicians => "fewer than chance explains: others may learn from it",
                Side::Points => "fewer than chance explains",
            }
        }
    }
}

fn typical(side: Side, part: &Part) -> String {
    format!(
        "a typical pair of {side} differs {:.1}-fold in the odds of an unrepresentative draw",
        part.median_odds_ratio
    )
}

/// Which differ more, if the difference of both spreads is more than its standard error.
fn which_more(people: &Part, points: &Part) -> &'static str {
    let square = |part: &Part| part.sigma_se.map_or(0.0, |se| se * se);
    let error = (square(people) + square(points)).sqrt();
    let gap = points.sigma - people.sigma;
    if gap.abs() <= error {
        "People and points differ about equally"
    } else if gap > 0.0 {
        "Points differ more than people"
    } else {
        "People differ more than points"
    }
}
