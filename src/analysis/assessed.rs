//! A judged programme in memory.

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
}
