//! What both faces do with a programme file: open it, take sheets in, judge what is
//! stale, answer.

mod batches;
mod beginning;
mod check;
pub mod check_pack;
mod coverage;
mod digest;
mod doubts;
mod draw_names;
mod error;
mod export;
mod findings;
pub mod folder;
mod hashes;
mod how_read;
mod import;
mod judging;
mod ledger;
mod listed;
mod lists;
pub mod maps;
mod merge;
mod opened;
mod part;
mod pick_sheet;
mod picks;
mod pipeline;
pub mod plans;
mod preview;
mod propose;
mod refused;
mod refused_sheets;
pub mod remembered;
mod report;
pub mod resamples;
mod rulebook;
mod sayers;
mod seen;
pub mod set_aside;
mod sheets;
mod small_sheet;
mod standing;
mod take_back;
mod trail;
mod unopened;
mod verdicts;

use std::cell::{Cell, RefCell};
use std::path::Path;
use std::sync::Arc;

use crate::analysis::{Assessed, Selection};
use crate::model::time::Tz;
use crate::model::{DrawRecord, Progress, time};
use crate::store::{self, Store};

pub use crate::intake::table::{WORKBOOK_READER, read_as};
pub use crate::intake::verification::{Problem, Sheet as VerificationSheet};
pub use crate::intake::{Format, How};
pub use crate::intake::{Refusal, SheetKind};
pub use crate::store::held::{Number as FileNumber, number_at};
pub use crate::store::imports::{Import, ImportedSheet};
pub use crate::store::refused::Refused;
pub use batches::{Batch, sheet_row};
pub use beginning::{Beginning, Demo, MakeDemo};
pub use draw_names::DrawNames;
pub use error::Error;
pub use export::{ExportReport, ExportRequest, PackError, PackedFile, SUMS};
pub use findings::{Answer, EVIDENCE_KEPT, FindingRequest};
pub use how_read::how_read;
pub use listed::Answered;
pub use opened::OpenedDraw;
pub use pick_sheet::PickedDraws;
pub use picks::{PickRequest, Population};
pub use preview::{PreviewColumn, PreviewRow, SheetPreview, left_aside};
pub use refused_sheets::RefusedFiles;
pub use report::{ImportReport, ImportRequest, MapRead, SheetReport, VerdictCounts};
pub use seen::DrawNow;
pub use sheets::SheetsWritten;
pub use standing::Standing;
pub use take_back::TakenBack;
pub use unopened::Unopened;

/// The version that stands in what this program writes.
const PROGRAM: &str = env!("CARGO_PKG_VERSION");

/// An open programme file.
#[derive(Debug)]
pub struct Programme {
    store: Store,
    /// State of the file when it was last read, see [`Self::changed_elsewhere`].
    seen: Cell<i64>,
    /// Which rows bear which bottle; read when a draw is first opened.
    bottles: RefCell<Option<opened::Bottles>>,
    /// The names of points and technicians; read when a record is first asked for.
    names: RefCell<Option<Arc<lists::Names>>>,
    /// What the clock says, where it is not the computer's.
    clock: Cell<Option<i64>>,
}

impl Programme {
    /// Opens an existing programme file, read-only where the file is. An older file is
    /// migrated after a backup copy.
    ///
    /// # Errors
    /// No such file, not a programme, damaged, newer than this program, locked.
    pub fn open(path: &Path) -> Result<Self, Error> {
        Self::of(Store::open(path)?)
    }

    /// Opens a programme file, making a new one where there is none.
    ///
    /// # Errors
    /// As [`Self::open`]; or the file can't be made.
    pub fn open_or_create(path: &Path) -> Result<Self, Error> {
        Self::of(Store::open_or_create(path)?)
    }

    /// Opens a programme file, or where there is none yet an empty programme that is kept
    /// nowhere.
    ///
    /// # Errors
    /// As [`Self::open`], save that there is no such file.
    pub fn open_or_blank(path: &Path) -> Result<Self, Error> {
        match Self::open(path) {
            Err(Error::Store(store::Error::Missing { .. } | store::Error::Empty { .. })) => {
                Self::in_memory()
            }
            other => other,
        }
    }

    /// A programme that is kept nowhere, for trying an import out where there is no file yet.
    ///
    /// # Errors
    /// No memory.
    pub fn in_memory() -> Result<Self, Error> {
        Self::of(Store::in_memory()?)
    }

    /// Closes a new programme and removes its file, unless someone has taken something into it
    /// meanwhile.
    pub fn leave_nothing(self) {
        let is_empty = self.imports().is_ok_and(|imports| imports.is_empty());
        let file = self.path().map(Path::to_owned);
        drop(self);
        if let Some(file) = file.filter(|_| is_empty) {
            let _ = std::fs::remove_file(file);
        }
    }

    fn of(store: Store) -> Result<Self, Error> {
        let seen = Cell::new(store.data_version()?);
        Ok(Programme {
            store,
            seen,
            bottles: RefCell::new(None),
            names: RefCell::new(None),
            clock: Cell::new(None),
        })
    }

    /// Lets the clock stand at this instant, in seconds since 1970 UTC: an invented programme
    /// has an invented present.
    pub fn set_clock(&self, at: i64) {
        self.clock.set(Some(at));
    }

    /// The present, in seconds since 1970 UTC.
    #[must_use]
    pub fn now(&self) -> i64 {
        self.clock.get().unwrap_or_else(import::now)
    }

    /// Whether it is made up, with a present of its own.
    #[must_use]
    pub const fn is_invented(&self) -> bool {
        self.clock.get().is_some()
    }

    /// Where the file is; `None` for one in memory.
    #[must_use]
    pub fn path(&self) -> Option<&Path> {
        self.store.file()
    }

    /// Whether nothing can be written to this file.
    #[must_use]
    pub fn is_read_only(&self) -> bool {
        self.store.is_read_only()
    }

    /// The instant at which the clock was made to stand, if it was.
    #[must_use]
    pub fn clock(&self) -> Option<i64> {
        self.clock.get()
    }

    /// Whether another process has written to the file since it was opened or last assessed.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn changed_elsewhere(&self) -> Result<bool, Error> {
        Ok(self.store.data_version()? != self.seen.get())
    }

    /// The zone in which months are counted: that of the first import, else UTC.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn zone(&self) -> Result<Tz, Error> {
        let zone = self.sql(store::imports::first_zone(self.store.connection()))?;
        match zone {
            None => Ok(Tz::UTC),
            Some(name) => time::zone(&name).ok_or_else(|| {
                let reason = format!("the zone {name:?} of the first import is not known");
                self.store.damaged(&reason).into()
            }),
        }
    }

    /// The judged programme. Judges what is stale and (unless read-only) keeps the result;
    /// a programme judged by its own rulebook is only read.
    ///
    /// # Errors
    /// A store that can't be read, or a stop.
    pub fn assess(&mut self, progress: &Progress) -> Result<Assessed, Error> {
        self.seen.set(self.store.data_version()?);
        self.forget();
        judging::assess(self, progress)
    }

    /// The full records of these stored rows, in the order asked for.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn records(&self, records: &[u32]) -> Result<Vec<DrawRecord>, Error> {
        let names = self.names()?;
        let mut reader = self.sql(store::draws::Reader::new(self.store.connection()))?;
        records
            .iter()
            .map(|record| {
                let mut draw = self.sql(reader.record(*record))?;
                names.fill(self, &mut draw)?;
                Ok(draw)
            })
            .collect()
    }

    /// The states that this stored row superseded, the latest first, each with the number of
    /// the import that put another in its place. What was taken back is left out.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn earlier_states(&self, record: u32) -> Result<Vec<(i64, DrawRecord)>, Error> {
        let connection = self.store.connection();
        let sayers = sayers::Sayers::of_draws(self)?;
        let mut state = self.sql(store::take_back::draw(connection, record))?;
        let first =
            |state: store::take_back::DrawState| sayers.first(state.record, state.imported_in);
        let mut newer = first(state).unwrap_or(state.imported_in);
        let mut states = Vec::new();
        while let Some(older) = state.supersedes {
            // A row only ever supersedes one that was stored before it.
            if older >= state.record {
                return Err(self.store.damaged("a draw supersedes a later one").into());
            }
            state = self.sql(store::take_back::draw(connection, older))?;
            // What was taken back is no earlier state.
            if let Some(import) = first(state) {
                let draws = self.records(&[older])?;
                states.extend(draws.into_iter().map(|draw| (newer, draw)));
                newer = import;
            }
        }
        Ok(states)
    }

    /// All imports, the latest first.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn imports(&self) -> Result<Vec<Import>, Error> {
        self.sql(store::imports::all(self.store.connection()))
    }

    /// The sheets of one import, in the order they were taken in.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn imported_sheets(&self, import: i64) -> Result<Vec<ImportedSheet>, Error> {
        self.sql(store::imports::sheets(self.store.connection(), import))
    }

    /// What one import refused, in order, at most so many.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn refusals(&self, import: i64, at_most: u32) -> Result<Vec<Refused>, Error> {
        self.sql(store::refused::refusals(
            self.store.connection(),
            import,
            at_most,
        ))
    }

    /// The draws that stand as a batch brought them, as rows of the assessed programme.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn draws_of_batch(&self, assessed: &Assessed, batch: i64) -> Result<Selection, Error> {
        let of_import = store::draws::live_of_import(self.store.connection(), batch);
        let records = self.sql(of_import)?;
        let is_of_it = |record: &u32| records.binary_search(record).is_ok();
        let rows = (0_u32..).zip(&assessed.judged.record);
        Ok(rows
            .filter(|(_, record)| is_of_it(record))
            .map(|(row, _)| row)
            .collect())
    }

    /// Lets go of what was read of the file before it changed.
    fn forget(&self) {
        self.bottles.replace(None);
        self.names.replace(None);
    }

    /// The names of points and technicians. Within an import they change under way.
    fn names(&self) -> Result<Arc<lists::Names>, Error> {
        if !self.store.connection().is_autocommit() {
            return Ok(Arc::new(lists::Names::load(self)?));
        }
        if let Some(names) = self.names.borrow().as_ref() {
            return Ok(Arc::clone(names));
        }
        let names = Arc::new(lists::Names::load(self)?);
        self.names.replace(Some(Arc::clone(&names)));
        Ok(names)
    }

    /// An error of SQLite as one of this file.
    fn sql<T>(&self, result: store::SqlResult<T>) -> Result<T, Error> {
        result.map_err(|error| self.store.error(error).into())
    }
}
