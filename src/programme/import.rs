//! Sheets into the programme: one transaction, all or nothing.

use std::path::Path;
use std::sync::Arc;
use std::time::{SystemTime, UNIX_EPOCH};

use rustc_hash::FxHashSet;

use super::judging::{self, Judgement};
use super::ledger::Ledger;
use super::lists::{Lists, training_identity};
use super::part::Gathering;
use super::refused::{Refused, write_rejects};
use super::report::{ImportReport, ImportRequest, SheetReport, VerdictCounts};
use super::small_sheet::Small;
use super::{Error, PROGRAM, Programme, pipeline, rulebook, verdicts};
use crate::intake::{self, ColumnMap, Draws, Found, Opened, ReadAs, Sheet, SheetKind};
use crate::model::progress::Stage;
use crate::model::time::Tz;
use crate::model::{Judged, Point, Progress};
use crate::rules::place_of;
use crate::store::imports::{self, ImportedSheet};
use crate::store::{columns, people, points};

/// How many unknown columns of a sheet a remark names; a broken header can have thousands.
const UNKNOWN_TOLD: usize = 20;

impl Programme {
    /// Takes sheets in: one transaction, all or nothing, and judges what they touch.
    ///
    /// # Errors
    /// A sheet that can't be read, a store that can't be written, or a stop.
    pub fn import(
        &mut self,
        request: &ImportRequest,
        progress: &Progress,
    ) -> Result<ImportReport, Error> {
        let map = request.map.as_deref();
        let found = intake::find(&request.sheets, request.kind, &request.read_as, map)?;
        let bytes = found.iter().map(|sheet| size_of_file(&sheet.path)).sum();
        progress.begin(Stage::Reading, bytes);
        let zone = request.zone.or(map.and_then(ColumnMap::zone_of_draws));
        let zone = zone.unwrap_or(Tz::UTC);
        self.bottles.replace(None);

        let transaction = self.store.begin()?;
        let import = self.sql(imports::begin(
            &transaction,
            self.now(),
            PROGRAM,
            zone.name(),
        ))?;
        let mut work = Work::begin(self, import, zone, request, progress)?;
        for (place, sheet) in found.iter().enumerate() {
            work.take(place, sheet)?;
        }
        let mut report = work.finish()?;
        if progress.is_stopped() {
            return Err(Error::Stopped);
        }
        if request.dry_run {
            return Ok(report);
        }
        self.sql(transaction.commit())?;
        self.store.settle();
        if !report.first_refusals.is_empty() {
            match write_rejects(self, import) {
                Ok(file) => report.rejects_file = file,
                Err(remark) => {
                    if let Some(sheet) = report.sheets.last_mut() {
                        sheet.remarks.push(remark);
                    }
                }
            }
        }
        Ok(report)
    }
}

/// An import under way.
struct Work<'p> {
    programme: &'p Programme,
    import: i64,
    zone: Tz,
    read_as: ReadAs,
    map: Option<Arc<ColumnMap>>,
    dry_run: bool,
    progress: &'p Progress,
    lists: Lists,
    /// Compartments that gained, lost or changed a point.
    changed_compartments: FxHashSet<String>,
    /// The live draws; read when the first sheet of draws comes.
    ledger: Ledger,
    stored: Option<(columns::Head, Judged)>,
    /// Every draw, where the programme had none before.
    gathering: Option<Gathering>,
    refused: Refused<'p>,
    sheets: Vec<SheetReport>,
}

impl<'p> Work<'p> {
    fn begin(
        programme: &'p Programme,
        import: i64,
        zone: Tz,
        request: &ImportRequest,
        progress: &'p Progress,
    ) -> Result<Self, Error> {
        let lists = Lists::load(programme)?;
        let (ledger, stored) = verdicts::load_ledger(programme, &lists)?;
        Ok(Work {
            programme,
            import,
            zone,
            read_as: request.read_as.clone(),
            map: request.map.clone(),
            dry_run: request.dry_run,
            progress,
            gathering: (ledger.old == 0).then(Gathering::default),
            lists,
            changed_compartments: FxHashSet::default(),
            ledger,
            stored,
            refused: Refused::new(programme, import)?,
            sheets: Vec::new(),
        })
    }

    fn take(&mut self, place: usize, found: &Found) -> Result<(), Error> {
        let mut report = SheetReport::new(found.name(), found.kind);
        if !found.others.is_empty() {
            report.remarks.push(format!(
                "other sheets of the workbook, whose names say nothing, were not taken: {}",
                found.others.join(", ")
            ));
        }
        let map = self.map.clone();
        let map = map.as_deref();
        if map.is_some() && found.entry.is_none() {
            let remark = "the column map has no entry for it; read by its own header";
            report.remarks.push(remark.to_owned());
        }
        let entry = map.zip(found.entry).map(|(map, entry)| &map.sheets[entry]);
        let read_as = found.read_as(&self.read_as);
        match Sheet::open(&found.path, found.kind, &read_as, entry)? {
            Opened::Refused(refusal, how) => {
                report.remarks.extend(how.told());
                self.progress.advance(size_of_file(&found.path));
                self.refused.take(place, &mut report, &mut vec![refusal])?;
            }
            Opened::Ready(sheet) => {
                report.remarks.extend(sheet.how().told());
                report.remarks.extend(remark_on_unknown(&sheet));
                if let Some(mapping) = sheet.mapping() {
                    report.remarks.extend_from_slice(&mapping.bound.remarks);
                }
                match found.kind {
                    SheetKind::Points => self.take_points(place, *sheet, &mut report)?,
                    SheetKind::Technicians => self.take_technicians(place, *sheet, &mut report)?,
                    SheetKind::Trainings => self.take_trainings(place, *sheet, &mut report)?,
                    SheetKind::Draws => self.take_draws(place, sheet, &mut report)?,
                }
            }
        }
        self.sheets.push(report);
        Ok(())
    }

    fn take_points(
        &mut self,
        place: usize,
        mut sheet: Sheet,
        report: &mut SheetReport,
    ) -> Result<(), Error> {
        let changed = &mut self.changed_compartments;
        let mut on_change = |before: Option<&Point>, now: &Point| {
            changed.extend(before.map(|point| point.compartment.clone()));
            changed.insert(now.compartment.clone());
        };
        let mut small = Small {
            programme: self.programme,
            import: self.import,
            place,
            progress: self.progress,
            table: points::TABLE,
            values: points::values,
            report,
            refused: &mut self.refused,
        };
        small.take(
            &mut self.lists.points,
            |point| point.id.clone(),
            &mut |refusals| {
                Ok((
                    intake::points::next(&mut sheet, refusals)?,
                    sheet.bytes_read(),
                ))
            },
            &mut on_change,
        )?;
        report.remarks.extend(sheet.told_at_end());
        Ok(())
    }

    fn take_technicians(
        &mut self,
        place: usize,
        mut sheet: Sheet,
        report: &mut SheetReport,
    ) -> Result<(), Error> {
        let mut small = Small {
            programme: self.programme,
            import: self.import,
            place,
            progress: self.progress,
            table: people::TECHNICIANS,
            values: people::technician_values,
            report,
            refused: &mut self.refused,
        };
        small.take(
            &mut self.lists.technicians,
            |technician| technician.id.clone(),
            &mut |refusals| {
                let next = intake::people::next_technician(&mut sheet, refusals)?;
                Ok((next, sheet.bytes_read()))
            },
            &mut |_, _| {},
        )?;
        report.remarks.extend(sheet.told_at_end());
        Ok(())
    }

    fn take_trainings(
        &mut self,
        place: usize,
        mut sheet: Sheet,
        report: &mut SheetReport,
    ) -> Result<(), Error> {
        let technicians = &self.lists.technicians.places;
        let mut small = Small {
            programme: self.programme,
            import: self.import,
            place,
            progress: self.progress,
            table: people::TRAININGS,
            values: people::training_values,
            report,
            refused: &mut self.refused,
        };
        small.take(
            &mut self.lists.trainings,
            training_identity,
            &mut |refusals| {
                let next = intake::people::next_training(
                    &mut sheet,
                    &|technician| technicians.contains_key(technician),
                    &|topic| place_of(topic).is_some(),
                    refusals,
                )?;
                Ok((next, sheet.bytes_read()))
            },
            &mut |_, _| {},
        )?;
        report.remarks.extend(sheet.told_at_end());
        Ok(())
    }

    fn take_draws(
        &mut self,
        place: usize,
        sheet: Box<Sheet>,
        report: &mut SheetReport,
    ) -> Result<(), Error> {
        let target = pipeline::Target {
            known: self.lists.known(),
            ledger: &mut self.ledger,
            gathering: self.gathering.as_mut(),
            progress: self.progress,
        };
        pipeline::take(
            self.programme,
            (self.import, place),
            Draws::new(sheet, self.zone),
            target,
            report,
            &mut self.refused,
        )
    }

    fn finish(mut self) -> Result<ImportReport, Error> {
        let connection = self.programme.store.connection();
        for (place, sheet) in self.sheets.iter().enumerate() {
            let sheet = imported(sheet);
            let added = imports::add_sheet(connection, self.import, place, &sheet);
            self.programme.sql(added)?;
        }
        self.ledger.finish_reading();
        let rulebook = rulebook::current(self.programme)?;
        let judgement = self.judge(&rulebook)?;
        let (counts, judged) = match &judgement {
            None => (VerdictCounts::default(), 0),
            Some(Done::Stored(judged)) => (VerdictCounts::of(&judged.verdict), 0),
            Some(Done::Judged(judgement)) => {
                self.progress.begin(Stage::Saving, 0);
                if !self.dry_run {
                    verdicts::save(self.programme, &self.ledger, judgement, &rulebook)?;
                }
                (
                    VerdictCounts::of(&judgement.judged.verdict),
                    judgement.count,
                )
            }
        };
        Ok(ImportReport {
            sheets: self.sheets,
            rejects_file: None,
            first_refusals: self.refused.first,
            verdicts: counts,
            judged,
        })
    }

    /// Judges what the sheets touched; `None` where there are no draws.
    fn judge(&mut self, rulebook: &crate::rules::Rulebook) -> Result<Option<Done>, Error> {
        if self.ledger.record.is_empty() {
            return Ok(None);
        }
        if let Some(mut gathering) = self.gathering.take()
            && !self.ledger.superseded
        {
            gathering.history.points = self.lists.points();
            gathering.history.technicians = self.lists.technicians();
            let history = gathering.finish();
            let judgement =
                judging::judge_history(&history, &self.ledger, rulebook, self.progress)?;
            return Ok(Some(Done::Judged(judgement)));
        }
        let judgement = match self.stored.take() {
            Some((head, judged)) if verdicts::is_current(&head, rulebook) => {
                let points = self.lists.points();
                let redo = judging::touched(&self.ledger, &points, &self.changed_compartments);
                if !self.ledger.is_changed() && !redo.contains(&true) {
                    return Ok(Some(Done::Stored(judged)));
                }
                judging::judge_part(
                    self.programme,
                    &self.lists,
                    &self.ledger,
                    &judged,
                    &redo,
                    rulebook,
                    self.progress,
                )?
            }
            _ => judging::judge_stored(
                self.programme,
                &self.lists,
                &self.ledger,
                rulebook,
                self.progress,
            )?,
        };
        Ok(Some(Done::Judged(judgement)))
    }
}

/// Where the verdicts after an import come from.
enum Done {
    /// Nothing was touched.
    Stored(Judged),
    Judged(Judgement),
}

fn remark_on_unknown(sheet: &Sheet) -> Option<String> {
    let unknown = sheet.unknown_columns();
    let (told, rest) = unknown.split_at(unknown.len().min(UNKNOWN_TOLD));
    let rest = match rest.len() {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    (!unknown.is_empty()).then(|| {
        format!(
            "columns that are not known were kept aside: {}{rest}",
            told.join(", ")
        )
    })
}

fn imported(report: &SheetReport) -> ImportedSheet {
    ImportedSheet {
        sheet: report.sheet.clone(),
        kind: report.kind.as_str().to_owned(),
        taken: report.taken,
        unchanged: report.unchanged,
        changed: report.changed,
        refused_rows: report.refused_rows,
        refused_values: report.refused_values,
        remarks: report.remarks.clone(),
    }
}

pub(super) fn size_of_file(path: &Path) -> u64 {
    std::fs::metadata(path).map_or(0, |found| found.len())
}

/// Seconds since 1970 UTC by the computer's clock.
pub(super) fn now() -> i64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH);
    since.map_or(0, |since| {
        i64::try_from(since.as_secs()).unwrap_or(i64::MAX)
    })
}
