//! The four canonical sheets, written row by row.

use std::fs::File;
use std::io::{self, BufWriter, Write as _};
use std::path::Path;

use csv::{ByteRecord, Writer};

use super::clock::Clock;
use crate::model::{DrawRecord, Moment, Number, Point, Technician, Training};

const DRAW_COLUMNS: [&str; 31] = [
    "draw_id",
    "bottle_id",
    "point_id",
    "technician_id",
    "drawn_at",
    "recorded_at",
    "method",
    "machine_state",
    "stopped_min",
    "oil_temp_c",
    "machine_hours",
    "oil_hours",
    "topped_up_l",
    "fluid",
    "point_cleaned",
    "tube_new",
    "bottle_ok",
    "capped_at_once",
    "flushed_ml",
    "tube_mark_cm",
    "fill_pct",
    "looks",
    "fill_no",
    "pair_of",
    "set_id",
    "purge_stage",
    "registered_at",
    "dispatched_at",
    "received_at",
    "safety_confirmed",
    "remarks",
];

/// Writes `points.csv`.
pub fn points(file: &Path, points: &[Point]) -> io::Result<()> {
    let mut sheet = Sheet::create(file, &Point::COLUMNS)?;
    for point in points {
        sheet.text(&point.id);
        sheet.text(&point.compartment);
        for text in [&point.machine, &point.site, &point.area] {
            sheet.text(text.as_deref().unwrap_or(""));
        }
        sheet.text(point.machine_class.map_or("", |word| word.as_str()));
        sheet.text(point.kind.as_str());
        sheet.text(point.place.map_or("", |word| word.as_str()));
        sheet.yes_no(point.at_bend);
        sheet.yes_no(point.agreed);
        sheet.text(point.method.map_or("", |word| word.as_str()));
        sheet.text(point.fluid.as_deref().unwrap_or(""));
        for number in [
            point.iso_vg,
            point.viscosity_40_cst,
            point.viscosity_100_cst,
            point.normal_temp_c,
            point.line_flow_l_min,
            point.line_bore_mm,
            point.line_pressure_bar,
            point.tube_bore_mm,
            point.tube_length_cm,
            point.dead_extra_ml,
            point.tube_mark_cm,
            point.oil_depth_cm,
            point.bottle_ml,
            point.interval_h,
            point.interval_days,
        ] {
            sheet.number(number.into())?;
        }
        sheet.end_row()?;
    }
    sheet.finish()
}

/// Writes `technicians.csv`.
pub fn technicians(file: &Path, technicians: &[Technician]) -> io::Result<()> {
    let mut sheet = Sheet::create(file, &["technician_id", "name", "crew", "active_from"])?;
    for technician in technicians {
        sheet.text(&technician.id);
        sheet.text(technician.name.as_deref().unwrap_or(""));
        sheet.text(technician.crew.as_deref().unwrap_or(""));
        sheet.text(
            &technician
                .active_from
                .map_or_else(String::new, |day| day.to_string()),
        );
        sheet.end_row()?;
    }
    sheet.finish()
}

/// Writes `trainings.csv`.
pub fn trainings(file: &Path, trainings: &[Training]) -> io::Result<()> {
    let mut sheet = Sheet::create(file, &["technician_id", "topic", "held_on"])?;
    for training in trainings {
        sheet.text(&training.technician_id);
        sheet.text(&training.topic);
        sheet.text(&training.held_on.to_string());
        sheet.end_row()?;
    }
    sheet.finish()
}

/// `draws.csv`, taking one draw after the other.
pub struct Draws<'a> {
    sheet: Sheet,
    clock: &'a Clock,
}

impl<'a> Draws<'a> {
    /// Begins the sheet with its header.
    pub fn create(file: &Path, clock: &'a Clock) -> io::Result<Self> {
        Ok(Draws {
            sheet: Sheet::create(file, &DRAW_COLUMNS)?,
            clock,
        })
    }

    /// Writes one draw.
    pub fn write(&mut self, record: &DrawRecord) -> io::Result<()> {
        let facts = &record.facts;
        let sheet = &mut self.sheet;
        let clock = self.clock;
        sheet.text(&record.draw_id);
        sheet.text(&record.bottle_id);
        sheet.text(&record.point_id);
        sheet.text(&record.technician_id);
        sheet.time(Moment::new(facts.drawn_at), clock);
        sheet.time(facts.recorded_at, clock);
        sheet.text(facts.method.map_or("", |word| word.as_str()));
        sheet.text(facts.machine_state.map_or("", |word| word.as_str()));
        sheet.number(facts.stopped_min)?;
        sheet.number(facts.oil_temp_c)?;
        sheet.number(facts.machine_hours)?;
        sheet.number(facts.oil_hours)?;
        sheet.number(record.topped_up_l)?;
        sheet.text(&record.fluid);
        sheet.yes_no(facts.point_cleaned);
        sheet.yes_no(facts.tube_new);
        sheet.yes_no(facts.bottle_ok);
        sheet.yes_no(facts.capped_at_once);
        sheet.number(facts.flushed_ml)?;
        sheet.number(facts.tube_mark_cm)?;
        sheet.number(facts.fill_pct)?;
        sheet.joined(facts.looks.iter().map(|look| look.as_str()));
        sheet.text(if facts.second_fill { "2" } else { "1" });
        sheet.text(&record.pair_of);
        sheet.text(&record.set_id);
        sheet.text(facts.purge_stage.map_or("", |word| word.as_str()));
        sheet.time(facts.registered_at, clock);
        sheet.time(facts.dispatched_at, clock);
        sheet.time(facts.received_at, clock);
        sheet.yes_no(facts.safety_confirmed);
        sheet.text(&record.remarks);
        sheet.end_row()
    }

    /// Writes what is still held back and closes the file.
    pub fn finish(self) -> io::Result<()> {
        self.sheet.finish()
    }
}

/// A sheet being written; one row is put together in memory that is used again.
struct Sheet {
    writer: Writer<BufWriter<File>>,
    row: ByteRecord,
    cell: Vec<u8>,
}

impl Sheet {
    fn create(file: &Path, columns: &[&str]) -> io::Result<Self> {
        let mut writer = Writer::from_writer(BufWriter::new(File::create(file)?));
        writer.write_record(columns)?;
        Ok(Sheet {
            writer,
            row: ByteRecord::new(),
            cell: Vec::new(),
        })
    }

    fn text(&mut self, text: &str) {
        self.row.push_field(text.as_bytes());
    }

    fn yes_no(&mut self, answer: Option<bool>) {
        self.text(match answer {
            Some(true) => "yes",
            Some(false) => "no",
            None => "",
        });
    }

    fn number(&mut self, number: Number) -> io::Result<()> {
        self.cell.clear();
        if let Some(number) = number.get() {
            write!(self.cell, "{number}")?;
        }
        self.row.push_field(&self.cell);
        Ok(())
    }

    fn time(&mut self, moment: Moment, clock: &Clock) {
        self.cell.clear();
        if let Some(instant) = moment.get() {
            clock.write(instant, &mut self.cell);
        }
        self.row.push_field(&self.cell);
    }

    fn joined<'w>(&mut self, words: impl Iterator<Item = &'w str>) {
        self.cell.clear();
        for word in words {
            if !self.cell.is_empty() {
                self.cell.push(b';');
            }
            self.cell.extend_from_slice(word.as_bytes());
        }
        self.row.push_field(&self.cell);
    }

    fn end_row(&mut self) -> io::Result<()> {
        self.writer.write_byte_record(&self.row)?;
        self.row.clear();
        Ok(())
    }

    fn finish(mut self) -> io::Result<()> {
        self.writer.flush()
    }
}
