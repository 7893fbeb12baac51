//! The invented programme, from a seed, in any size.
//!
//! Equal sizes and seeds give equal bytes, without a clock. The default size is the demo
//! that ships with the program (`demo-data/`); larger ones, of the same mix, serve the
//! benchmark. Scenario and stories are told in `docs/demo.md`.

pub mod archetypes;
pub mod clock;
mod desk;
pub mod dice;
pub mod people;
pub mod plant;
mod rounds;
pub mod scenario;
mod sheets;
pub mod stories;
mod visit;

use std::fs;
use std::io;
use std::path::Path;

pub use desk::{AUDITOR, PLANNER, PRESENT, SUPERVISOR};
pub use people::People;
pub use plant::Plant;
pub use scenario::ZONE;

use crate::model::progress::Stage;
use crate::model::{DrawRecord, Kind, Progress};
use clock::{Clock, day_number};

/// How large a programme is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// About how many draws; met within a few percent, as far as no compartment is visited
    /// more than once a day.
    pub draws: u64,
    /// How many points; at least 1 is made.
    pub points: usize,
    /// How many technicians; at least 1 is made.
    pub technicians: usize,
    /// The seed of all chance.
    pub seed: u64,
}

impl Default for Size {
    fn default() -> Self {
        Size {
            draws: 5_000,
            points: 220,
            technicians: 30,
            seed: 20_261_031,
        }
    }
}

/// How many rows were written to each sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Written {
    /// Rows of `points.csv`.
    pub points: u64,
    /// Rows of `technicians.csv`.
    pub technicians: u64,
    /// Rows of `trainings.csv`.
    pub trainings: u64,
    /// Rows of `draws.csv`.
    pub draws: u64,
}

/// Days that the default size covers, and most days that any size covers.
const SPAN_DAYS: (f64, f64) = (730.0, 3652.0);

/// An invented programme: plant and people; its draws are made one after the other.
pub struct Invented {
    /// The size asked for.
    pub size: Size,
    /// Points and compartments.
    pub plant: Plant,
    /// Technicians and trainings.
    pub people: People,
    /// First day of the programme, counted from 1970-01-01.
    pub first_day: i64,
    /// Last day of the programme, 2026-10-31.
    pub last_day: i64,
}

impl Invented {
    /// Invents plant and people.
    #[must_use]
    pub fn new(size: &Size) -> Self {
        let default = Size::default();
        let mut plant = Plant::invent(size.points.max(1), size.seed);
        // More draws a point than in the default size make the programme older first, up to
        // ten years, and only then denser.
        let density = size.draws as f64 / plant.points.len() as f64;
        let usual = default.draws as f64 / default.points as f64;
        let span = (SPAN_DAYS.0 * (density / usual)).clamp(SPAN_DAYS.0, SPAN_DAYS.1);
        let expected = expected_draws(&plant, span);
        plant.set_intervals(expected / (size.draws.max(1) as f64));
        let last_day = day_number(2026, 10, 31);
        let first_day = last_day - span as i64 + 1;
        Invented {
            size: *size,
            people: People::invent(size.technicians.max(1), first_day, size.seed),
            plant,
            first_day,
            last_day,
        }
    }

    /// Hands over every draw, day after day. `point` and `technician` of its facts are
    /// places in [`Plant::points`] and [`People::technicians`].
    ///
    /// # Errors
    /// Only what `each` returns; the walk ends there.
    pub fn each_draw(&self, each: &mut dyn FnMut(&DrawRecord) -> io::Result<()>) -> io::Result<()> {
        rounds::walk(self, each)
    }
}

/// How many draws the archetypes' own intervals would give over a span of days.
fn expected_draws(plant: &Plant, span_days: f64) -> f64 {
    // Bottles a visit with an abnormal look gains by second fills, by the usual habits.
    let with_second_fills = 1.07;
    let visits = |interval: f64| span_days / (interval * (1.0 + rounds::MEAN_LATENESS));
    plant
        .compartments
        .iter()
        .map(|compartment| {
            let bottles = match compartment.archetype.kind {
                Kind::Grease => 1.0,
                _ => compartment.points as f64 * with_second_fills,
            };
            visits(compartment.archetype.interval_days) * bottles
        })
        .sum()
}

/// Writes `points.csv`, `technicians.csv`, `trainings.csv` and `draws.csv` of an invented
/// programme into a folder, making the folder where it is missing. Draws are written as
/// they are made, so memory does not grow with their number.
///
/// # Errors
/// A folder or file that can't be made or written; [`io::ErrorKind::Interrupted`] when
/// `progress` asked to stop, with the sheets left incomplete.
pub fn write(folder: &Path, size: &Size, progress: &Progress) -> io::Result<Written> {
    let invented = Invented::new(size);
    fs::create_dir_all(folder)?;
    progress.begin(Stage::Saving, size.draws);
    sheets::points(&folder.join("points.csv"), &invented.plant.points)?;
    sheets::technicians(
        &folder.join("technicians.csv"),
        &invented.people.technicians,
    )?;
    sheets::trainings(&folder.join("trainings.csv"), &invented.people.trainings)?;
    let clock = Clock::over(invented.first_day, invented.last_day);
    let mut sheet = sheets::Draws::create(&folder.join("draws.csv"), &clock)?;
    let mut draws = 0;
    invented.each_draw(&mut |record| {
        if progress.is_stopped() {
            return Err(io::Error::new(
                io::ErrorKind::Interrupted,
                "stopped while writing draws",
            ));
        }
        progress.advance(1);
        draws += 1;
        sheet.write(record)
    })?;
    sheet.finish()?;
    Ok(Written {
        points: invented.plant.points.len() as u64,
        technicians: invented.people.technicians.len() as u64,
        trainings: invented.people.trainings.len() as u64,
        draws,
    })
}
