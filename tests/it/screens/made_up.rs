//! A small made-up programme with a bit of everything: all kinds of points, crews and a
//! technician without one, a hostile name, a point that is not suited, a change of point
//! and method within a compartment, months with few draws.

use std::collections::BTreeMap;

use fairdraw::analysis::doubts::{self, About, Doubt, Evidence as Seen, Written};
use fairdraw::analysis::{Assessed, Doubts, Filter, Key, Selection, WorkedOut, coverage, resample};
use fairdraw::model::{
    Draw, DrawRecord, History, Kind, Look, Looks, MachineClass, MachineState, Method, Moment,
    Number, Place, Point, Progress, PurgeStage, Technician, Texts, Training, time,
};
use fairdraw::programme::resamples::ToResample;
use fairdraw::programme::{Batch, DrawNames, Error, Import, ImportedSheet, OpenedDraw, Refused};
use fairdraw::report::plan::Shown;
use fairdraw::rules::Rulebook;
use fairdraw::scoring;
use fairdraw::tui::decide::{Docket, Evidence};
use fairdraw::tui::effect::Shelf;
use fairdraw::tui::screens::records::coverage::Coverages;

/// 2026-01-05T07:00:00Z, a Monday.
const FIRST: i64 = 1_767_596_400;
const DAY: i64 = 86_400;

/// The programme in memory with the records behind it.
pub struct MadeUp {
    history: History,
    records: Vec<DrawRecord>,
    /// Whether three doubts are said about it.
    pub doubtful: bool,
}

impl MadeUp {
    /// Always the same.
    pub fn new() -> Self {
        let mut made = MadeUp {
            history: History {
                points: points(),
                technicians: technicians(),
                ..History::default()
            },
            records: Vec::new(),
            doubtful: true,
        };
        let mut texts = Texts::default();
        for round in 0..18 {
            for point in 0..made.history.points.len() {
                made.draw(&mut texts, round, point);
            }
        }
        made
    }

    /// Judged by the default rulebook.
    pub fn assess(&self) -> Assessed {
        let rulebook = Rulebook::standard();
        let judged = scoring::judge_all(&self.history, &rulebook, &Progress::default()).unwrap();
        let in_force = self
            .history
            .points
            .iter()
            .map(|point| rulebook.in_force_at(point.machine_class, point.site.as_deref()))
            .collect();
        Assessed {
            points: self.history.points.clone(),
            technicians: self.history.technicians.clone(),
            trainings: trainings(),
            judged,
            rulebook,
            in_force,
            zone: time::zone("Europe/Lisbon").unwrap(),
            worked_out: WorkedOut::default(),
        }
    }

    fn draw(&mut self, texts: &mut Texts, round: usize, point: usize) {
        let place = &self.history.points[point];
        // A number that looks random and is always the same.
        let dice = |sides: usize| {
            let mixed = (round * 2_654_435_761 + point * 40_503 + sides * 97) % 65_521;
            (mixed * 31_337 % 65_521) % sides
        };
        if round % 6 == 5 && dice(3) == 0 {
            return;
        }
        let technician = (point + round * 3 + dice(2)) % self.history.technicians.len();
        let drawn_at = FIRST + (round as i64 * 13 + point as i64) * DAY + dice(300) as i64 * 60;
        let bottle = format!("B{:03}", self.records.len() + 1);
        let yes = |sides: usize| match dice(sides) {
            0 => Some(false),
            1 => None,
            _ => Some(true),
        };
        let mut facts = Draw {
            record: self.records.len() as u32 + 1,
            bottle: texts.intern(&bottle),
            method: if dice(9) == 4 {
                Some(Method::Drain)
            } else {
                place.method
            },
            machine_state: (dice(5) > 0).then_some(MachineState::Running),
            oil_temp_c: Number::new(70.0 - dice(4) as f64 * 6.5),
            machine_hours: Number::new(1000.0 + round as f64 * 250.0),
            oil_hours: Number::new(20.0 + dice(7) as f64 * 50.0),
            flushed_ml: [Number::BLANK, Number::new(20.0), Number::new(400.0)][dice(7) % 3],
            tube_mark_cm: place.tube_mark_cm.into(),
            fill_pct: Number::new(45.0 + dice(8) as f64 * 5.0),
            point_cleaned: yes(8),
            tube_new: yes(11),
            bottle_ok: yes(16),
            capped_at_once: yes(9),
            safety_confirmed: yes(7),
            looks: [
                Looks::NONE,
                Looks::NONE.with(Look::Clear),
                Looks::NONE.with(Look::Water),
            ][dice(13) % 3],
            fluid_written: true,
            purge_stage: [Some(PurgeStage::Middle), Some(PurgeStage::Start)][dice(4) / 3],
            ..Draw::bare(point as u32, technician as u32, drawn_at)
        };
        facts.recorded_at = Moment::new(drawn_at + 3600);
        if dice(6) > 0 {
            facts.dispatched_at = Moment::new(drawn_at + (10 + dice(50) as i64) * 3600);
            facts.received_at = Moment::new(drawn_at + (80 + dice(50) as i64) * 3600);
            facts.registered_at = Moment::new(drawn_at + 4 * 3600);
        }
        let record = DrawRecord {
            facts,
            draw_id: format!("D-{:04}", self.records.len() + 1),
            bottle_id: bottle,
            point_id: place.id.clone(),
            technician_id: self.history.technicians[technician].id.clone(),
            fluid: place.fluid.clone().unwrap_or_default(),
            pair_of: String::new(),
            set_id: String::new(),
            topped_up_l: Number::BLANK,
            remarks: match dice(10) {
                0 => "Hatch was jammed; took it from the\u{1b}[31m other side.".to_owned(),
                _ => String::new(),
            },
            kept_aside: String::new(),
        };
        self.history.identities.push(&record.identity());
        self.history.draws.push(facts);
        self.records.push(record);
    }
}

impl Shelf for MadeUp {
    fn records(&self, stored: &[u32]) -> Result<Vec<DrawRecord>, Error> {
        Ok(stored
            .iter()
            .map(|record| self.records[*record as usize - 1].clone())
            .collect())
    }

    fn open_draw(&self, assessed: &Assessed, row: usize) -> Result<OpenedDraw, Error> {
        let judged = &assessed.judged;
        let place = |row: usize| judged.record[row] as usize - 1;
        let explained = scoring::explain(&self.history, &[place(row)], &assessed.rulebook)
            .pop()
            .unwrap();
        let compartment = |row: usize| &assessed.points[judged.point[row] as usize].compartment;
        let all: Vec<usize> = (0..judged.len())
            .filter(|other| compartment(*other) == compartment(row))
            .collect();
        let own = all.iter().position(|other| *other == row).unwrap();
        let from = own.saturating_sub(8);
        let strip = all[from..(from + 12).min(all.len())]
            .iter()
            .map(|row| (*row as u32, self.records[place(*row)].clone()))
            .collect();
        let previous = explained.previous.map(|place| {
            let same = |record: &&u32| **record as usize == place + 1;
            judged
                .record
                .iter()
                .position(|record| same(&record))
                .unwrap() as u32
        });
        Ok(OpenedDraw {
            set_aside: None,
            record: self.records[place(row)].clone(),
            explained,
            compartment: all.iter().map(|row| *row as u32).collect(),
            strip,
            previous,
        })
    }

    fn shown_in_plans(
        &self,
        assessed: &Assessed,
        rows: &Selection,
        _progress: &Progress,
    ) -> Result<BTreeMap<u32, Shown>, Error> {
        let place = |row: &u32| assessed.judged.record[*row as usize] as usize - 1;
        let places: Vec<usize> = rows.iter().map(place).collect();
        let explained = scoring::explain(&self.history, &places, &assessed.rulebook);
        Ok((rows.iter().zip(&explained))
            .map(|(row, explained)| (*row, Shown::of(assessed, *row as usize, explained)))
            .collect())
    }

    fn ledger(&self) -> Result<Vec<Batch>, Error> {
        Ok(batches())
    }

    fn refused(&self, batch: i64, at_most: u32) -> Result<Vec<Refused>, Error> {
        let mut refused = refused(batch);
        refused.truncate(at_most as usize);
        Ok(refused)
    }

    /// The second batch brought the first half of the draws.
    fn draws_of_batch(&self, assessed: &Assessed, batch: i64) -> Result<Selection, Error> {
        let half = assessed.judged.len() as u32 / 2;
        Ok(match batch {
            2 => (0..half).collect(),
            _ => Selection::default(),
        })
    }

    fn coverage(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        progress: &Progress,
    ) -> Result<Coverages, Error> {
        let by = |key| coverage(&self.history, assessed, selection, key, progress).unwrap();
        Ok(Coverages {
            all: by(None),
            sites: by(Some(Key::Site)),
            months: by(Some(Key::Month)),
        })
    }

    fn doubts(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        progress: &Progress,
    ) -> Result<Doubts, Error> {
        let written = Written {
            draws: (assessed.judged.record.iter())
                .map(|record| self.records[*record as usize - 1].facts)
                .collect(),
            fluid: vec![0; assessed.judged.len()],
            fluids: vec![String::new()],
        };
        let mut found = doubts::doubts(assessed, &written, selection, progress).unwrap();
        if self.doubtful && !assessed.judged.is_empty() {
            found.list.extend(made_up_doubts());
        }
        Ok(found)
    }

    fn draw_names(&self, assessed: &Assessed) -> Result<DrawNames, Error> {
        let mut names = DrawNames::default();
        for (row, stored) in (0..).zip(&assessed.judged.record) {
            let record = &self.records[*stored as usize - 1];
            names.push(row, &record.draw_id, &record.bottle_id);
        }
        Ok(names)
    }

    fn docket(&self, _assessed: &Assessed) -> Result<Docket, Error> {
        Ok(Docket::default())
    }

    fn evidence(&self, _assessed: &Assessed, _finding: u32) -> Result<Evidence, Error> {
        Ok(Evidence::default())
    }

    fn to_resample(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        strict: bool,
    ) -> Result<ToResample, Error> {
        let now = FIRST + 240 * DAY;
        let asked = resample::Asked {
            now,
            strict,
            ..resample::Asked::default()
        };
        let mut found = resample::find(assessed, &asked);
        found.narrow(selection);
        let record = |row: u32| &self.records[assessed.judged.record[row as usize] as usize - 1];
        let hours = |row: u32| record(row).facts.machine_hours.get();
        resample::rank(assessed, now, &mut found.list, &hours);
        let rows = found.list.iter().map(|found| found.row);
        Ok(ToResample {
            now,
            identities: rows.map(|row| (row, record(row).identity())).collect(),
            found,
            ..ToResample::default()
        })
    }
}

/// Five batches: a clean one of four sheets, one with a hostile name and refusals, one that
/// was taken back, the taking back, and one that mended a refused row; the latest first.
fn batches() -> Vec<Batch> {
    let sheet = |name: &str, kind: &str, counts: [u64; 5], remarks: &[&str]| ImportedSheet {
        sheet: name.to_owned(),
        kind: kind.to_owned(),
        taken: counts[0],
        unchanged: counts[1],
        changed: counts[2],
        refused_rows: counts[3],
        refused_values: counts[4],
        remarks: remarks.iter().map(|remark| (*remark).to_owned()).collect(),
        bytes: Some(counts.iter().sum::<u64>() * 113),
        sha256: Some(format!(
            "{:064x}",
            name.len() as u128 * 0x0123_4567_89ab_cdef
        )),
        ..ImportedSheet::default()
    };
    let batch = |number, day, sheets: Vec<ImportedSheet>| Batch {
        import: Import {
            number,
            taken_at: FIRST + day * DAY,
            program: "1.0.0".to_owned(),
            zone: "Europe/Lisbon".to_owned(),
            who: Some("Ines Falk".to_owned()),
            rulebook: Some("5f2a".repeat(16)),
            link: Some(number),
            ..Import::default()
        },
        open: vec![0; sheets.len()],
        sheets,
        mended: Vec::new(),
    };
    let mut taking_back = batch(4, 231, Vec::new());
    taking_back.import.takes_back = Some(3);
    taking_back.import.because = Some("the sheet of another plant".to_owned());
    let mut taken_back = batch(
        3,
        230,
        vec![sheet(
            "other plant/draws.csv",
            "draws",
            [3, 0, 41, 0, 0],
            &[],
        )],
    );
    taken_back.import.taken_back_in = Some(4);
    let mut german = sheet(
        "from the harbour/Proben 2026 é\u{1b}[2J 油.csv",
        "draws",
        [61, 12, 0, 3, 2],
        &["columns that are not known were kept aside: lot, weather"],
    );
    german.how_read = Some("text with semicolons between fields, windows-1252".to_owned());
    german.map = Some("9c1e".repeat(16));
    let mut harbour = batch(2, 229, vec![german]);
    harbour.mended = vec![(5, 1)];
    harbour.open = vec![2];
    let mut mending = batch(
        5,
        232,
        vec![sheet("batch-2-refused.csv", "draws", [1, 0, 0, 0, 0], &[])],
    );
    mending.import.who = None;
    let first = batch(
        1,
        4,
        vec![
            sheet("points.csv", "points", [6, 0, 0, 0, 0], &[]),
            sheet("technicians.csv", "technicians", [6, 0, 0, 0, 0], &[]),
            sheet("trainings.csv", "trainings", [3, 0, 0, 0, 0], &[]),
            sheet("draws.csv", "draws", [44, 0, 0, 0, 0], &[]),
        ],
    );
    vec![mending, taking_back, taken_back, harbour, first]
}

fn refused(batch: i64) -> Vec<Refused> {
    if batch != 2 {
        return Vec::new();
    }
    [
        (
            14,
            "fill_pct",
            "840",
            "lies outside 0 to 100; left blank",
            false,
        ),
        (
            15,
            "point_id",
            "PRESS-RTE",
            "this point is not known; the nearest is PRESS-RET; the row is refused",
            true,
        ),
        (
            31,
            "drawn_at",
            "yesterday",
            "is not a time such as 2026-03-04 09:30; the row is refused",
            true,
        ),
        (
            58,
            "oil_temp_c",
            "wa\u{1b}[31mrm",
            "is not a number; left blank",
            false,
        ),
        (
            61,
            "",
            "B-0077",
            "a row of this identity stands further up in the sheet; that one was taken",
            true,
        ),
    ]
    .map(|(line, column, value, reason, whole_row)| Refused {
        sheet: "from the harbour/Proben 2026 é\u{1b}[2J 油.csv".to_owned(),
        line,
        column: column.to_owned(),
        value: value.to_owned(),
        reason: reason.to_owned(),
        whole_row,
    })
    .to_vec()
}

/// A doubt about a technician, one about a site and one about two draws; their numbers are made
/// up.
fn made_up_doubts() -> Vec<Doubt> {
    let doubt = |id: &str, about, (events, of, expected), chance, rows: &[(u32, Option<u32>)]| {
        let signal = doubts::cards()[doubts::place_of(id).unwrap()];
        let evidence: Vec<Seen> = (rows.iter())
            .map(|(row, other)| Seen {
                row: *row,
                other: *other,
            })
            .collect();
        let tells = "machine_hours 1250, oil_hours 120 and fill_pct 80 as on the draw before";
        Doubt {
            signal,
            about,
            column: None,
            events,
            of,
            expected,
            chance,
            adjusted: chance * 40.0,
            examples: (evidence.iter())
                .map(|seen| (*seen, tells.to_owned()))
                .collect(),
            evidence,
        }
    };
    vec![
        doubt(
            "carried-forward",
            About::Technician(1),
            (14, 20, 1.3),
            4e-8,
            &[
                (10, Some(4)),
                (22, Some(16)),
                (40, Some(34)),
                (58, Some(52)),
            ],
        ),
        doubt(
            "one-minute",
            About::SiteOf(3),
            (6, 9, 0.02),
            7.5e-6,
            &[(3, None), (9, None), (15, None)],
        ),
        doubt(
            "swapped-bottles",
            About::Technician(0),
            (1, 1, 0.000_1),
            2e-4,
            &[(30, Some(31)), (31, Some(30))],
        ),
    ]
}

fn trainings() -> Vec<Training> {
    [
        ("T1", "flush-met", 70),
        ("T4", "fill-level", 120),
        ("T4", "flush-met", 150),
    ]
    .map(|(id, topic, day)| Training {
        technician_id: id.to_owned(),
        topic: topic.to_owned(),
        held_on: chrono::DateTime::from_timestamp(FIRST + day * DAY, 0)
            .unwrap()
            .date_naive(),
    })
    .to_vec()
}

fn technicians() -> Vec<Technician> {
    [
        ("T1", Some("Ines Falk"), Some("Early")),
        ("T2", Some("Joan Okoro"), Some("Early")),
        ("T3", Some("Tomas Ård"), Some("Late")),
        ("T4", Some("Mirela\u{1b}[2J Voss"), Some("Late")),
        ("T5", None, None),
        ("T6", Some("油井 太郎"), Some("Night shift of the harbour")),
    ]
    .map(|(id, name, crew)| Technician {
        id: id.to_owned(),
        name: name.map(str::to_owned),
        crew: crew.map(str::to_owned),
        active_from: None,
    })
    .to_vec()
}

fn points() -> Vec<Point> {
    let place = |mut point: Point, site: &str, machine: &str, class, place, method| {
        point.site = Some(site.to_owned());
        point.machine = Some(machine.to_owned());
        point.machine_class = Some(class);
        point.place = place;
        point.method = method;
        point.agreed = Some(true);
        point.fluid = Some("Turma 46".to_owned());
        point.normal_temp_c = Some(60.0);
        point.iso_vg = Some(46.0);
        point.interval_days = Some(14.0);
        point
    };
    let mut press = place(
        Point::bare("PRESS-RET", "Press hydraulics", Kind::Circulating),
        "North pit",
        "Press 1",
        MachineClass::Hydraulic,
        Some(Place::ReturnLine),
        Some(Method::LineValve),
    );
    press.line_flow_l_min = Some(180.0);
    press.line_bore_mm = Some(32.0);
    press.tube_bore_mm = Some(8.0);
    press.tube_length_cm = Some(60.0);
    press.oil_depth_cm = Some(80.0);
    let mut filter = place(
        Point::bare("PRESS-FILT", "Press hydraulics", Kind::Circulating),
        "North pit",
        "Press 1",
        MachineClass::Hydraulic,
        Some(Place::AfterFilter),
        Some(Method::LineValve),
    );
    filter.agreed = None;
    filter.line_flow_l_min = Some(20.0);
    filter.line_bore_mm = Some(40.0);
    let mut sump = place(
        Point::bare("GEAR-2", "Conveyor gearbox", Kind::Sump),
        "North pit",
        "Conveyor 2",
        MachineClass::Gearbox,
        Some(Place::SumpMiddle),
        Some(Method::TubePump),
    );
    sump.tube_bore_mm = Some(6.0);
    sump.tube_length_cm = Some(90.0);
    sump.tube_mark_cm = Some(35.0);
    sump.oil_depth_cm = Some(40.0);
    let mut engine = place(
        Point::bare("ENG-A", "Engine A sump", Kind::Sump),
        "Harbour",
        "Tug Aurora",
        MachineClass::DieselEngine,
        None,
        Some(Method::TubePump),
    );
    engine.iso_vg = Some(100.0);
    engine.normal_temp_c = Some(85.0);
    let tank = place(
        Point::bare("TANK-M", "Store tank", Kind::Tank),
        "Harbour",
        "Store",
        MachineClass::Tank,
        Some(Place::TankMiddle),
        Some(Method::Thief),
    );
    let mut bearing = place(
        Point::bare("MILL-DE", "Mill bearing", Kind::Grease),
        "Mill house at the foot of the hill",
        "Mill",
        MachineClass::Bearing,
        Some(Place::BearingHousing),
        Some(Method::GreasePurge),
    );
    bearing.site = None;
    vec![press, filter, sump, engine, tank, bearing]
}

/// The draws that pass a filter, by the filter itself.
pub fn passing(assessed: &Assessed, filter: &str) -> usize {
    Filter::parse(filter).unwrap().select(assessed).len()
}
