//! Sheets looked at before anything is stored: ten rows as they would be kept, the first
//! refusals, how each was read.

use std::path::PathBuf;

use rustc_hash::FxHashSet;

use super::import::size_of_file;
use super::lists::Lists;
use super::report::ImportRequest;
use super::{Error, Programme};
use crate::intake::as_text::{self, NextInTexts};
use crate::intake::columns::Column;
use crate::intake::{self, ColumnMap, Found, Opened, Refusal, Sheet, SheetKind};
use crate::model::Progress;
use crate::model::progress::Stage;
use crate::model::time::Tz;
use crate::rules::place_of;

/// How many rows are shown as they would be stored.
const SHOWN: usize = 10;

/// How many refusals are shown.
const REFUSALS: usize = 20;

/// How many rows of a sheet are looked at. A dry import reads all of them.
const LOOKED_AT: u64 = 5000;

/// A sheet as it would be taken in, as far as it was looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetPreview {
    /// The file as it was named.
    pub sheet: String,
    /// What kind of sheet it is.
    pub kind: SheetKind,
    /// How it was read, and what else is to be told of it as a whole.
    pub remarks: Vec<String>,
    /// Its own header; empty where the sheet is refused whole.
    pub header: Vec<String>,
    /// Our columns that it fills, in their order.
    pub columns: Vec<PreviewColumn>,
    /// The first rows that would be taken.
    pub rows: Vec<PreviewRow>,
    /// The first refusals.
    pub refusals: Vec<Refusal>,
    /// How many rows were looked at.
    pub looked_at: u64,
    /// How many of them would be taken. Rows whose identity stands further up are among
    /// them; an import refuses those.
    pub taken: u64,
    /// How many of them would be refused whole; a sheet refused because of its header is one.
    pub refused_rows: u64,
    /// How many values alone would be refused, on rows that would be taken.
    pub refused_values: u64,
    /// Whether that was the whole sheet.
    pub is_whole: bool,
    /// Its rows refer to points, and none is known yet.
    pub lacks_points: bool,
}

/// One of our columns and what it is made of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PreviewColumn {
    /// Our column.
    pub ours: &'static str,
    /// Their columns, joined with `+`; our name where a map puts the text in.
    pub theirs: String,
    /// The unit of its numbers; empty if there is none.
    pub unit: &'static str,
}

/// A row as it would be stored.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PreviewRow {
    /// The line on which it begins.
    pub line: u64,
    /// One text for each of the preview's columns; empty where it is blank.
    pub cells: Vec<String>,
}

/// What rows may refer to.
#[derive(Default)]
struct Known {
    points: FxHashSet<String>,
    technicians: FxHashSet<String>,
}

impl Programme {
    /// Looks at the sheets of an import without writing or locking anything. Points and
    /// technicians that stand in the sheets themselves count as known. Quick for sheets of
    /// any size: of each, some thousand rows are read.
    ///
    /// # Errors
    /// A file that can't be read, a name that says nothing, or a stop.
    pub fn preview(
        &self,
        request: &ImportRequest,
        progress: &Progress,
    ) -> Result<Vec<SheetPreview>, Error> {
        let map = request.map.as_deref();
        let found = intake::find(&request.sheets, request.kind, &request.read_as, map)?;
        let bytes = found.iter().map(|sheet| size_of_file(&sheet.path)).sum();
        progress.begin(Stage::Reading, bytes);
        let lists = Lists::load(self)?;
        let mut known = Known {
            points: lists.points.places.keys().cloned().collect(),
            technicians: lists.technicians.places.keys().cloned().collect(),
        };
        let mut previews = Vec::new();
        for sheet in &found {
            previews.push(preview(sheet, request, &mut known, progress)?);
            progress.advance(size_of_file(&sheet.path));
        }
        Ok(previews)
    }
}

/// The tables of its folders that a request leaves aside: their names do not say what they hold.
///
/// # Errors
/// A file or folder that can't be read, a name that says nothing.
pub fn left_aside(request: &ImportRequest) -> Result<Vec<PathBuf>, Error> {
    let map = request.map.as_deref();
    let found = intake::find(&request.sheets, request.kind, &request.read_as, map)?;
    Ok(intake::left_aside(&request.sheets, &found)?)
}

fn preview(
    found: &Found,
    request: &ImportRequest,
    known: &mut Known,
    progress: &Progress,
) -> Result<SheetPreview, Error> {
    let map = request.map.as_deref();
    let entry = map.zip(found.entry).map(|(map, entry)| &map.sheets[entry]);
    let zone = request.zone.or(map.and_then(ColumnMap::zone_of_draws));
    let zone = zone.unwrap_or(Tz::UTC);
    let mut preview = SheetPreview::of(found);
    let mut sheet = match Sheet::open(
        &found.path,
        found.kind,
        &found.read_as(&request.read_as),
        entry,
    )? {
        Opened::Refused(refusal, how) => {
            preview.remarks = how.told();
            preview.refusals.push(refusal);
            preview.refused_rows = 1;
            preview.is_whole = true;
            return Ok(preview);
        }
        Opened::Ready(sheet) => sheet,
    };
    preview.lacks_points = found.kind == SheetKind::Draws && known.points.is_empty();
    preview.open(&sheet);
    let places: Vec<usize> = filled(&sheet);
    let mut refusals = Vec::new();
    loop {
        if progress.is_stopped() {
            return Err(Error::Stopped);
        }
        // Of lists, the ids that stand further down are known to draws all the same.
        if preview.looked_at == LOOKED_AT && refers_to_others(found.kind) {
            return Ok(preview);
        }
        let unknown = |column: &Column, text: &str| known.why_not(found.kind, column, text);
        let next = as_text::next(&mut sheet, zone, &unknown, &mut refusals)?;
        if next == NextInTexts::End {
            break;
        }
        if let NextInTexts::Row(row) = &next {
            known.learn(found.kind, &row.cells);
        }
        if preview.looked_at < LOOKED_AT {
            preview.count(&next, &mut refusals, &places);
        }
        refusals.clear();
    }
    preview.is_whole = preview.looked_at < LOOKED_AT;
    preview.remarks.extend(sheet.told_at_end());
    Ok(preview)
}

/// Lists are read to their end, since other sheets refer to them.
fn refers_to_others(kind: SheetKind) -> bool {
    matches!(kind, SheetKind::Trainings | SheetKind::Draws)
}

/// The places of our columns that a sheet fills.
fn filled(sheet: &Sheet) -> Vec<usize> {
    (0..sheet.kind().columns().len())
        .filter(|place| sheet.source_of(*place).is_some())
        .collect()
}

impl SheetPreview {
    fn of(found: &Found) -> Self {
        SheetPreview {
            sheet: found.name(),
            kind: found.kind,
            remarks: Vec::new(),
            header: Vec::new(),
            columns: Vec::new(),
            rows: Vec::new(),
            refusals: Vec::new(),
            looked_at: 0,
            taken: 0,
            refused_rows: 0,
            refused_values: 0,
            is_whole: false,
            lacks_points: false,
        }
    }

    fn open(&mut self, sheet: &Sheet) {
        self.remarks = sheet.how().told();
        if let Some(mapping) = sheet.mapping() {
            self.remarks.extend_from_slice(&mapping.bound.remarks);
        }
        self.header = sheet.names().to_vec();
        self.columns = (filled(sheet).into_iter())
            .map(|place| PreviewColumn {
                ours: self.kind.columns()[place].name,
                theirs: sheet.source_of(place).unwrap_or_default().to_owned(),
                unit: self.kind.columns()[place].unit,
            })
            .collect();
    }

    fn count(&mut self, next: &NextInTexts, refusals: &mut Vec<Refusal>, places: &[usize]) {
        self.looked_at += 1;
        match next {
            NextInTexts::Row(row) => {
                self.taken += 1;
                self.refused_values += refusals.len() as u64;
                if self.rows.len() < SHOWN {
                    self.rows.push(PreviewRow {
                        line: row.line,
                        cells: places
                            .iter()
                            .map(|place| row.cells[*place].clone())
                            .collect(),
                    });
                }
            }
            NextInTexts::Refused => self.refused_rows += 1,
            NextInTexts::End => {}
        }
        let room = REFUSALS - self.refusals.len();
        self.refusals.extend(refusals.drain(..).take(room));
    }
}

impl Known {
    /// Why a row can't refer to this.
    fn why_not(&self, kind: SheetKind, column: &Column, text: &str) -> Option<&'static str> {
        if !refers_to_others(kind) {
            return None;
        }
        match column.name {
            "point_id" => (!self.points.contains(text)).then_some("no such point is known"),
            "technician_id" => {
                (!self.technicians.contains(text)).then_some("no such technician is known")
            }
            "topic" => {
                let topic = text.to_ascii_lowercase();
                place_of(&topic).is_none().then_some("no rule has this id")
            }
            _ => None,
        }
    }

    /// Points and technicians of a row that would be taken; the first column is their name.
    fn learn(&mut self, kind: SheetKind, cells: &[String]) {
        match kind {
            SheetKind::Points => self.points.insert(cells[0].clone()),
            SheetKind::Technicians => self.technicians.insert(cells[0].clone()),
            SheetKind::Trainings | SheetKind::Draws => false,
        };
    }
}
