//! What happens in the scenario, so that a supervisor has something to find. Each story is
//! told in `docs/demo.md` and proven on the judged draws by `tests/it/demo.rs`.
//!
//! Sites and technicians repeat in larger sizes: the story of a site belongs to every
//! fifth site, that of a technician to every thirtieth.

use super::clock::day_number;
use crate::model::{Place, Point};

/// How many sites the scenario tells apart.
pub const SITES: usize = 5;
/// How many technicians the scenario tells apart.
pub const TECHNICIANS: usize = 30;
/// How many technicians one crew has.
pub const CREW_SIZE: usize = 6;

/// The site (of five) with most of the hard points.
pub const HARD_SITE: usize = 1;
/// The technician who is sent to the hard points and so looks bad.
pub const SENT_TO_HARD_POINTS: usize = 8;
/// The technician whose easy points hide a real need of training.
pub const NEEDS_TRAINING: usize = 14;
/// The site where that technician draws.
pub const EASY_SITE: usize = 2;
/// The crew (of five) that stops the machine long before it draws.
pub const EARLY_STOP_CREW: usize = 3;
/// The site (of five) whose tank sets miss the lower level.
pub const NO_LOWER_LEVEL_SITE: usize = 4;
/// The site (of five) whose desk does not register.
pub const NOT_REGISTERED_SITE: usize = 0;
/// The technician whom a training in `flush-met` helped.
pub const TRAINING_HELPED: usize = 25;
/// The technician whom a training in `fill-level` did not help.
pub const TRAINING_DID_NOT: usize = 26;
/// The crew (of five) that fills in forms on paper and leaves much blank.
pub const PAPER_CREW: usize = 4;
/// The technician of the paper crew whose sheets are typed by the month.
pub const TYPED_BY_THE_MONTH: usize = 28;
/// Site and compartment position of the point on a laminar straight run.
pub const STRAIGHT_RUN: (usize, usize) = (0, 0);

/// First and last day of the month when bottles waited: February 2026.
#[must_use]
pub fn waiting_month() -> (i64, i64) {
    (day_number(2026, 2, 1), day_number(2026, 2, 28))
}

/// The day of the training that helped.
#[must_use]
pub fn helped_on() -> i64 {
    day_number(2025, 11, 17)
}

/// The day of the training that did not help.
#[must_use]
pub fn did_not_help_on() -> i64 {
    day_number(2025, 11, 24)
}

/// Whether the compartment at this position of this site is hard to draw from.
#[must_use]
pub fn is_hard(site: usize, position: usize) -> bool {
    match site % SITES {
        HARD_SITE => matches!(position, 0 | 4 | 7 | 9 | 12 | 14),
        NOT_REGISTERED_SITE => position == 7,
        EARLY_STOP_CREW => position == 12,
        NO_LOWER_LEVEL_SITE => matches!(position, 4 | 14),
        _ => false,
    }
}

/// What is particular about single points.
pub fn shape(point: &mut Point, site: usize, position: usize) {
    let site = site % SITES;
    if (site, position) == STRAIGHT_RUN {
        // An oversized return line, sampled where it runs straight.
        point.line_bore_mm = Some(80.0);
        point.line_flow_l_min = Some(150.0);
        point.at_bend = Some(false);
    }
    match (site, position) {
        // A valve behind the filter, agreed long ago.
        (3, 18) | (1, 21) | (0, 14) | (4, 28) => point.place = Some(Place::AfterFilter),
        // A sump that is only reached from below.
        (0, 22) | (2, 33) | (4, 5) => point.place = Some(Place::SumpBottom),
        // Nobody measured the tube: its dead volume can't be known.
        (0, 11) | (1, 28) | (3, 10) | (4, 17) => {
            point.tube_bore_mm = None;
            point.dead_extra_ml = None;
        }
        // Compartments for which no point was ever agreed.
        (0, 29) | (1, 26) | (4, 32) => point.agreed = None,
        // No agreed method, no place.
        (1, 13) | (3, 33) => point.method = None,
        (4, 25) => point.place = None,
        _ => {}
    }
}
