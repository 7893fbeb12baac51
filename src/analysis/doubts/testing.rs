//! Hand-made histories for the tests of signals.

use super::seen::{Ground, Written};
use super::{Comparison, Looked, Signal};
use crate::analysis::{Assessed, WorkedOut};
use crate::model::{Draw, Judged, Kind, Point, RuleSet, Technician, Verdict, time::Tz};
use crate::rules::Rulebook;

/// 2026-01-05T06:00:00Z, a Monday.
pub const BEGIN: i64 = 1_767_592_800;
pub const HOUR: i64 = 3600;
pub const DAY: i64 = 24 * HOUR;

/// A programme of sumps and technicians, empty at first.
pub struct Made {
    pub points: Vec<Point>,
    pub draws: Vec<(Draw, String)>,
    pub technicians: u32,
}

impl Made {
    /// So many points, each on a machine of its own, at site 0 if not told otherwise.
    pub fn new(points: usize, technicians: u32) -> Self {
        let point = |number| {
            let mut point = Point::bare(&format!("P-{number}"), &format!("C-{number}"), Kind::Sump);
            point.machine = Some(format!("M-{number}"));
            point.site = Some("S-0".to_owned());
            point.fluid = Some("Halmyr 46".to_owned());
            point
        };
        Made {
            points: (0..points).map(point).collect(),
            draws: Vec::new(),
            technicians,
        }
    }

    /// A draw by a technician at a point, so many seconds after the beginning.
    pub fn draw(&mut self, technician: u32, point: u32, after: i64) -> &mut Draw {
        self.draws
            .push((Draw::bare(point, technician, BEGIN + after), String::new()));
        &mut self.draws.last_mut().expect("one was just added").0
    }

    /// The programme with its draws in order.
    pub fn assessed(&self) -> (Assessed, Written) {
        let mut draws = self.draws.clone();
        draws.sort_by(|(one, text), (other, label)| {
            (one.drawn_at, one.technician, one.point, text).cmp(&(
                other.drawn_at,
                other.technician,
                other.point,
                label,
            ))
        });
        let mut judged = Judged::default();
        let mut written = Written {
            fluids: vec![String::new()],
            ..Written::default()
        };
        for (record, (draw, fluid)) in (1..).zip(draws) {
            judged.record.push(record);
            judged.point.push(draw.point);
            judged.technician.push(draw.technician);
            judged.drawn_at.push(draw.drawn_at);
            judged.method.push(255);
            judged.verdict.push(Verdict::Unproven);
            judged.applicable.push(RuleSet::NONE);
            judged.broken.push(RuleSet::NONE);
            judged.unrecorded.push(RuleSet::NONE);
            written.draws.push(draw);
            let known = written.fluids.iter().position(|it| *it == fluid);
            let place = known.unwrap_or_else(|| {
                written.fluids.push(fluid);
                written.fluids.len() - 1
            });
            written
                .fluid
                .push(u32::try_from(place).expect("few grades"));
        }
        let technician = |number| Technician {
            id: format!("T-{number}"),
            name: None,
            crew: None,
            active_from: None,
        };
        let rulebook = Rulebook::standard();
        let assessed = Assessed {
            in_force: vec![0; self.points.len()],
            points: self.points.clone(),
            technicians: (0..self.technicians).map(technician).collect(),
            trainings: Vec::new(),
            judged,
            rulebook,
            zone: Tz::UTC,
            worked_out: WorkedOut::default(),
        };
        (assessed, written)
    }

    /// What a signal says of it.
    pub fn look(&self, signal: &dyn Signal) -> Looked {
        let (assessed, written) = self.assessed();
        signal.look(&Ground::of(&assessed, &written))
    }
}

/// The comparison about this technician.
pub fn of(looked: &Looked, technician: u32) -> Option<&Comparison> {
    let about = super::About::Technician(technician);
    looked.comparisons.iter().find(|it| it.about == about)
}
