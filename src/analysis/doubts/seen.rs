//! What signals look at: every draw in order, and what is next to what.

use rustc_hash::FxHashMap;

use crate::analysis::Assessed;
use crate::model::{Draw, Kind, Number};

/// The draws of a programme as they were written, in the order of its
/// [`Judged`](crate::model::Judged).
#[derive(Clone, Debug, Default)]
pub struct Written {
    /// What judging looks at. `point` and `technician` are places in the lists of the programme.
    pub draws: Vec<Draw>,
    /// The grade on each label: a place in `fluids`, 0 for a blank.
    pub fluid: Vec<u32>,
    /// The distinct grades, the blank first.
    pub fluids: Vec<String>,
}

/// No row.
pub const NONE: u32 = u32::MAX;

/// All that signals look at, made ready once.
pub struct Ground<'a> {
    /// The judged programme.
    pub assessed: &'a Assessed,
    /// The draws.
    pub written: &'a Written,
    /// The rows of each technician, in the order of time, one technician after the other.
    by_technician: Vec<u32>,
    ends: Vec<usize>,
    /// For each row the first fill before it, drawn strictly earlier, on the compartment (on
    /// tanks and grease at the point); `NONE` if there is none.
    pub previous: Vec<u32>,
    /// The number of each point's compartment, machine and site.
    pub compartment: Vec<u32>,
    /// See `compartment`. A blank machine is one of its own for each compartment.
    pub machine: Vec<u32>,
    /// See `compartment`. Points without a site share one.
    pub site: Vec<u32>,
    /// How many of each there are.
    pub compartments: usize,
    /// The names of the sites; `None` is blank.
    pub sites: Vec<Option<&'a str>>,
}

impl<'a> Ground<'a> {
    /// Makes ready; `written` holds one draw for each row of `assessed`.
    pub fn of(assessed: &'a Assessed, written: &'a Written) -> Self {
        let mut compartments = Numbers::default();
        let mut machines = Numbers::default();
        let mut sites = Numbers::default();
        let mut compartment = Vec::new();
        let mut machine = Vec::new();
        let mut site = Vec::new();
        for point in &assessed.points {
            let at = point.site.as_deref();
            compartment.push(compartments.of((None, Some(point.compartment.as_str()))));
            machine.push(machines.of(match &point.machine {
                Some(machine) => (Some(at.unwrap_or_default()), Some(machine.as_str())),
                None => (None, Some(point.compartment.as_str())),
            }));
            site.push(sites.of((None, at)));
        }
        let (by_technician, ends) = by_technician(assessed);
        Ground {
            previous: previous(assessed, written, &compartment, compartments.all.len()),
            assessed,
            written,
            by_technician,
            ends,
            compartments: compartments.all.len(),
            sites: sites.all.iter().map(|(_, site)| *site).collect(),
            compartment,
            machine,
            site,
        }
    }

    /// The draw in this row.
    pub fn draw(&self, row: u32) -> &Draw {
        &self.written.draws[row as usize]
    }

    /// The site of this row, by number.
    pub fn site_of(&self, row: u32) -> u32 {
        self.site[self.draw(row).point as usize]
    }

    /// The compartment of this row, by number.
    pub fn compartment_of(&self, row: u32) -> u32 {
        self.compartment[self.draw(row).point as usize]
    }

    /// The machine of this row, by number.
    pub fn machine_of(&self, row: u32) -> u32 {
        self.machine[self.draw(row).point as usize]
    }

    /// How many technicians there are.
    pub fn technicians(&self) -> usize {
        self.ends.len()
    }

    /// How many rows there are.
    pub fn rows(&self) -> u32 {
        u32::try_from(self.written.draws.len()).expect("draws are counted in 32 bits")
    }

    /// Each technician with the rows, in the order of time.
    pub fn each_technician(&self) -> impl Iterator<Item = (u32, &[u32])> {
        let mut start = 0;
        (0..).zip(&self.ends).map(move |(technician, &end)| {
            let rows = &self.by_technician[start..end];
            start = end;
            (technician, rows)
        })
    }
}

/// Names by number, as they come.
#[derive(Default)]
struct Numbers<'a> {
    known: FxHashMap<(Option<&'a str>, Option<&'a str>), u32>,
    all: Vec<(Option<&'a str>, Option<&'a str>)>,
}

impl<'a> Numbers<'a> {
    fn of(&mut self, name: (Option<&'a str>, Option<&'a str>)) -> u32 {
        *self.known.entry(name).or_insert_with(|| {
            self.all.push(name);
            u32::try_from(self.all.len() - 1).expect("fewer names than u32 can count")
        })
    }
}

fn by_technician(assessed: &Assessed) -> (Vec<u32>, Vec<usize>) {
    let technician = &assessed.judged.technician;
    let mut ends = vec![0; assessed.technicians.len()];
    for &one in technician {
        ends[one as usize] += 1;
    }
    let mut filled = 0;
    for end in &mut ends {
        filled += std::mem::replace(end, filled);
    }
    let mut rows = vec![0; filled];
    for (row, &one) in (0..).zip(technician) {
        rows[ends[one as usize]] = row;
        ends[one as usize] += 1;
    }
    (rows, ends)
}

/// The latest first fill strictly before each draw; of several at one instant the last.
fn previous(
    assessed: &Assessed,
    written: &Written,
    compartment: &[u32],
    compartments: usize,
) -> Vec<u32> {
    // Of each compartment and each point: the latest first fill, and the latest at an
    // earlier instant than that one.
    let mut of_compartment = vec![[NONE; 2]; compartments];
    let mut of_point = vec![[NONE; 2]; assessed.points.len()];
    let at = |row: u32| written.draws[row as usize].drawn_at;
    let mut found = Vec::with_capacity(written.draws.len());
    for (row, draw) in (0..).zip(&written.draws) {
        let point = draw.point as usize;
        let slots = [
            &mut of_compartment[compartment[point] as usize],
            &mut of_point[point],
        ];
        let by_point = matches!(assessed.points[point].kind, Kind::Tank | Kind::Grease);
        let slot = &slots[usize::from(by_point)];
        let earlier = |row: u32| row != NONE && at(row) < draw.drawn_at;
        found.push(match **slot {
            [latest, _] if earlier(latest) => latest,
            [_, before] if earlier(before) => before,
            _ => NONE,
        });
        if !draw.second_fill {
            for slot in slots {
                if slot[0] != NONE && at(slot[0]) < draw.drawn_at {
                    slot[1] = slot[0];
                }
                slot[0] = row;
            }
        }
    }
    found
}

/// A measured column of draws.
#[derive(Clone, Copy)]
pub struct Measure {
    /// Its name in sheets.
    pub name: &'static str,
    /// Its value.
    pub of: fn(&Draw) -> Number,
}

/// Machine counter.
pub const MACHINE_HOURS: Measure = Measure {
    name: "machine_hours",
    of: |draw| draw.machine_hours,
};
/// Hours on the oil.
pub const OIL_HOURS: Measure = Measure {
    name: "oil_hours",
    of: |draw| draw.oil_hours,
};
/// Oil temperature.
pub const OIL_TEMP_C: Measure = Measure {
    name: "oil_temp_c",
    of: |draw| draw.oil_temp_c,
};
/// Volume run off.
pub const FLUSHED_ML: Measure = Measure {
    name: "flushed_ml",
    of: |draw| draw.flushed_ml,
};
/// Minutes after the stop.
pub const STOPPED_MIN: Measure = Measure {
    name: "stopped_min",
    of: |draw| draw.stopped_min,
};
/// Filled share.
pub const FILL_PCT: Measure = Measure {
    name: "fill_pct",
    of: |draw| draw.fill_pct,
};
