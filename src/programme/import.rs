//! Sheets into the programme: one transaction, all or nothing.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{SystemTime, UNIX_EPOCH};

use rustc_hash::FxHashSet;

use super::judging::{self, Judgement};
use super::ledger::Ledger;
use super::lists::{Lists, training_identity};
use super::part::Gathering;
use super::refused::{Refused, earlier_rejects, write_rejects};
use super::report::{ImportReport, ImportRequest, MapRead, SheetReport, VerdictCounts};
use super::small_sheet::Small;
use super::{Error, PROGRAM, Programme, batches, digest, pipeline, rulebook, verdicts};
use crate::intake::{self, ColumnMap, Digest, Draws, Found, Opened, ReadAs, Sheet, SheetKind};
use crate::model::progress::Stage;
use crate::model::time::Tz;
use crate::model::{Judged, Point, Progress};
use crate::rules::place_of;
use crate::store::imports::{self, Import};
use crate::store::{columns, people, points, said};

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
        let zone = match request.zone.or(map.and_then(ColumnMap::zone_of_draws)) {
            Some(zone) => zone,
            None => batches::zone_of_mended(self, &found)?.unwrap_or(Tz::UTC),
        };
        self.forget();

        let transaction = self.store.begin()?;
        let batch = Import {
            taken_at: self.now(),
            program: PROGRAM.to_owned(),
            zone: zone.name().to_owned(),
            who: request.who.as_ref().map(ToString::to_string),
            rulebook: Some(rulebook::current(self)?.fingerprint().to_owned()),
            ..Import::default()
        };
        let import = self.sql(imports::begin(&transaction, &batch))?;
        let mut work = Work::begin(self, import, zone, request, progress)?;
        for (place, sheet) in found.iter().enumerate() {
            work.take(place, sheet)?;
        }
        let (mut report, brought) = work.finish()?;
        report.left_aside = intake::left_aside(&request.sheets, &found)?;
        let brought = digest::of_import(self, import, brought)?;
        batches::taken_in(self, &transaction, request.who.as_ref(), import, brought)?;
        if progress.is_stopped() {
            return Err(Error::Stopped);
        }
        if request.dry_run {
            return Ok(report);
        }
        self.sql(transaction.commit())?;
        self.store.settle();
        if report.first_refusals.is_empty() {
            report.earlier_rejects = earlier_rejects(self);
        } else {
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
    named_from: Option<PathBuf>,
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
    /// Numbers of rows that said what the programme held, by kind.
    said_again: [Vec<u32>; SheetKind::ALL.len()],
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
            named_from: request.named_from.clone(),
            map: request.map.clone(),
            dry_run: request.dry_run,
            progress,
            gathering: (ledger.old == 0).then(Gathering::default),
            lists,
            changed_compartments: FxHashSet::default(),
            ledger,
            stored,
            refused: Refused::new(programme, import)?,
            said_again: Default::default(),
            sheets: Vec::new(),
        })
    }

    /// How a sheet is named in the ledger.
    fn name_of(&self, found: &Found) -> String {
        let from = self.named_from.as_deref();
        let inside = from.and_then(|folder| found.path.strip_prefix(folder).ok());
        match inside {
            None => found.name(),
            Some(inside) => Found {
                path: inside.to_owned(),
                ..found.clone()
            }
            .name(),
        }
    }

    fn take(&mut self, place: usize, found: &Found) -> Result<(), Error> {
        let mut report = SheetReport::new(self.name_of(found), found.kind);
        if !found.others.is_empty() {
            report.remarks.push(format!(
                "other sheets of the workbook, whose names say nothing, were not taken: {}",
                found.others.join(", ")
            ));
        }
        let map = self.map.clone();
        let map = map.as_deref();
        if map.is_some() && found.entry.is_none() && found.mends.is_none() {
            let remark = "the column map has no entry for it; read by its own header";
            report.remarks.push(remark.to_owned());
        }
        // Rows that were refused before are read through the map they were read through then,
        // but the file is the ledger's own.
        let own;
        let (map, entry) = match found.mends {
            Some(origin) if map.is_none() => {
                own = batches::map_of_mended(self.programme, origin)?;
                (
                    own.as_ref().map(|(map, _)| map),
                    own.as_ref().map(|(_, entry)| *entry),
                )
            }
            _ => (map, found.entry),
        };
        report.map = map.zip(entry).map(|(map, entry)| MapRead {
            fingerprint: map.fingerprint().to_owned(),
            text: map.text().to_owned(),
            entry,
        });
        let entry = map.zip(entry).map(|(map, entry)| {
            let mut entry = map.sheets[entry].clone();
            if found.mends.is_some() {
                (entry.sheet, entry.header_row) = (None, None);
            }
            entry
        });
        let read_as = found.read_as(&self.read_as);
        match Sheet::open(&found.path, found.kind, &read_as, entry.as_ref())? {
            Opened::Refused(refusal, how) => {
                report.remarks.extend(how.told());
                self.progress.advance(size_of_file(&found.path));
                report.digest = Some(Digest::of_file(&found.path).map_err(|source| {
                    intake::Error::Unreadable {
                        sheet: found.path.clone(),
                        source,
                    }
                })?);
                self.refused
                    .take(place, &mut report, &mut vec![refusal], Vec::new())?;
            }
            Opened::Ready(sheet) => {
                report.remarks.extend(sheet.how().told());
                report.remarks.extend(remark_on_unknown(&sheet));
                if let Some(mapping) = sheet.mapping() {
                    report.remarks.extend_from_slice(&mapping.bound.remarks);
                }
                self.take_rows(place, sheet, &mut report)?;
            }
        }
        self.refused.remark_on_mended(&mut report);
        self.sheets.push(report);
        Ok(())
    }

    fn take_rows(
        &mut self,
        place: usize,
        mut sheet: Box<Sheet>,
        report: &mut SheetReport,
    ) -> Result<(), Error> {
        match report.kind {
            SheetKind::Points => self.take_points(place, &mut sheet, report)?,
            SheetKind::Technicians => self.take_technicians(place, &mut sheet, report)?,
            SheetKind::Trainings => self.take_trainings(place, &mut sheet, report)?,
            SheetKind::Draws => return self.take_draws(place, sheet, report),
        }
        report.about_file(&mut sheet)
    }

    fn take_points(
        &mut self,
        place: usize,
        sheet: &mut Sheet,
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
            said_again: &mut self.said_again[SheetKind::Points as usize],
        };
        small.take(
            sheet,
            &mut self.lists.points,
            |point| point.id.clone(),
            &intake::points::next,
            &mut on_change,
        )?;
        report.remarks.extend(sheet.told_at_end());
        Ok(())
    }

    fn take_technicians(
        &mut self,
        place: usize,
        sheet: &mut Sheet,
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
            said_again: &mut self.said_again[SheetKind::Technicians as usize],
        };
        small.take(
            sheet,
            &mut self.lists.technicians,
            |technician| technician.id.clone(),
            &intake::people::next_technician,
            &mut |_, _| {},
        )?;
        report.remarks.extend(sheet.told_at_end());
        Ok(())
    }

    fn take_trainings(
        &mut self,
        place: usize,
        sheet: &mut Sheet,
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
            said_again: &mut self.said_again[SheetKind::Trainings as usize],
        };
        small.take(
            sheet,
            &mut self.lists.trainings,
            training_identity,
            &|sheet, refusals| {
                intake::people::next_training(
                    sheet,
                    &|technician| technicians.contains_key(technician),
                    &|topic| place_of(topic).is_some(),
                    refusals,
                )
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
        let zone = self.zone;
        let target = pipeline::Target {
            known: self.lists.known(),
            ledger: &mut self.ledger,
            gathering: self.gathering.as_mut(),
            progress: self.progress,
        };
        pipeline::take(
            self.programme,
            (self.import, place),
            Draws::new(sheet, zone),
            target,
            report,
            (
                &mut self.refused,
                &mut self.said_again[SheetKind::Draws as usize],
            ),
        )
    }

    fn finish(mut self) -> Result<(ImportReport, digest::Draws), Error> {
        let connection = self.programme.store.connection();
        for (kind, numbers) in SheetKind::ALL.iter().zip(&mut self.said_again) {
            let numbers = std::mem::take(numbers);
            let added = said::add(connection, self.import, kind.as_str(), numbers);
            self.programme.sql(added)?;
        }
        batches::add_sheets(self.programme, self.import, &mut self.sheets)?;
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
        let report = ImportReport {
            batch: self.import,
            sheets: self.sheets,
            rejects_file: None,
            earlier_rejects: None,
            left_aside: Vec::new(),
            first_refusals: self.refused.first,
            verdicts: counts,
            judged,
        };
        Ok((report, self.ledger.brought))
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
