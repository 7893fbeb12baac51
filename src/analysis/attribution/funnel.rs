//! A funnel: each unit's share against exact limits of chance around the common share.
//!
//! It needs no model and so does not know who serves which point: the limits around what
//! the model expects of a unit are [`Unit::limits_around_expected`](super::Unit::limits_around_expected).

use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};

use super::Side;
use crate::analysis::breakdown::count;
use crate::analysis::{Assessed, Selection};
use crate::model::Verdict;
use crate::stats::funnel::{Limits, phi};

/// Units with judged draws against the common share.
#[derive(Clone, Debug, PartialEq)]
pub struct Funnel {
    /// The share of unrepresentative draws over all judged ones.
    pub centre: f64,
    /// How much wider the units spread than chance: the mean of z², 1 if by chance alone.
    /// None where the centre is 0 or 1.
    pub phi: Option<f64>,
    /// The same with the outermost tenth on each side drawn in, so that a few units don't
    /// excuse each other.
    pub phi_winsorised: Option<f64>,
    /// The units, in the order of the programme's list.
    pub dots: Vec<Dot>,
}

/// One unit of a funnel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dot {
    /// Place in the programme's list.
    pub place: u32,
    /// Judged draws.
    pub draws: u64,
    /// Unrepresentative ones.
    pub unrepresentative: u64,
    /// Limits at 95 % and 99.8 % for so many draws; none where the centre is 0 or 1.
    pub limits: Option<Limits>,
}

impl Dot {
    /// Its share of unrepresentative draws.
    #[must_use]
    pub fn share(&self) -> f64 {
        self.unrepresentative as f64 / self.draws as f64
    }
}

impl Funnel {
    /// The funnel of technicians or points; none without judged draws.
    #[must_use]
    pub fn of(assessed: &Assessed, selection: &Selection, side: Side) -> Option<Funnel> {
        let judged = &assessed.judged;
        let (unit, units) = match side {
            Side::Technicians => (&judged.technician, assessed.technicians.len()),
            Side::Points => (&judged.point, assessed.points.len()),
        };
        let counts = count(selection, 2 * units, |row, counts| {
            let verdict = judged.verdict[row];
            let first = 2 * unit[row] as usize;
            counts[first] += u64::from(verdict == Verdict::Unrepresentative);
            counts[first + 1] += u64::from(verdict != Verdict::Unproven);
        });
        let (pairs, _) = counts.as_chunks::<2>();
        let counts: Vec<(u64, u64)> = pairs.iter().map(|it| (it[0], it[1])).collect();
        let total = counts
            .iter()
            .fold((0, 0), |sum, it| (sum.0 + it.0, sum.1 + it.1));
        if total.1 == 0 {
            return None;
        }
        let centre = total.0 as f64 / total.1 as f64;
        // Limits hang on the number of draws alone, which many units share.
        let sizes: FxHashSet<u64> = counts.iter().map(|it| it.1).filter(|it| *it > 0).collect();
        let limits: FxHashMap<u64, Option<Limits>> = (sizes.into_par_iter())
            .map(|draws| (draws, Limits::at(centre, draws)))
            .collect();
        let dots = (0..).zip(&counts).filter(|(_, (_, draws))| *draws > 0);
        Some(Funnel {
            centre,
            phi: phi(centre, &counts, false),
            phi_winsorised: phi(centre, &counts, true),
            dots: dots
                .map(|(place, &(unrepresentative, draws))| Dot {
                    place,
                    draws,
                    unrepresentative,
                    limits: limits.get(&draws).copied().flatten(),
                })
                .collect(),
        })
    }

    /// Limits at other numbers of draws, to draw the funnel's lines.
    #[must_use]
    pub fn limits_at(&self, draws: u64) -> Option<Limits> {
        Limits::at(self.centre, draws)
    }
}
