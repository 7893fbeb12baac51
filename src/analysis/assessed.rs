//! A judged programme in memory.

use std::sync::OnceLock;

use super::SharedOut;
use super::by_technician::ByTechnician;
use crate::model::time::Tz;
use crate::model::{Judged, Point, Technician, Training};
use crate::rules::Rulebook;

/// All that screens and commands ask questions of.
pub struct Assessed {
    /// Every point.
    pub points: Vec<Point>,
    /// Every technician.
    pub technicians: Vec<Technician>,
    /// Every training held.
    pub trainings: Vec<Training>,
    /// The judged draws; `point` and `technician` are places in the lists above.
    pub judged: Judged,
    /// The rulebook they were judged by.
    pub rulebook: Rulebook,
    /// For each point, the place in [`Rulebook::all_in_force`] of the rules that hold there.
    pub in_force: Vec<usize>,
    /// The programme's zone, in which months are counted.
    pub zone: Tz,
    /// What was worked out of it so far; nothing at first.
    pub worked_out: WorkedOut,
}

/// What does not hang on what is selected: worked out when it is first asked for, and kept.
/// That is done by all threads, so none of them may be the first to ask from within work they
/// share.
#[derive(Default)]
pub struct WorkedOut {
    shared_out: OnceLock<SharedOut>,
    by_technician: OnceLock<ByTechnician>,
}

impl Assessed {
    /// What each draw costs, shared out among the rules broken on it.
    pub fn shared_out(&self) -> &SharedOut {
        self.worked_out
            .shared_out
            .get_or_init(|| SharedOut::of(self))
    }

    /// The draws, one technician after the other.
    pub(super) fn by_technician(&self) -> &ByTechnician {
        let costs = self.shared_out();
        let laid = &self.worked_out.by_technician;
        laid.get_or_init(|| ByTechnician::of(self, costs))
    }
}
