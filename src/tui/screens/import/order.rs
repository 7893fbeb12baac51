//! What is asked of the thread that takes tables in, and what it answers.

use std::io;
use std::path::Path;
use std::sync::Arc;

use super::look::{self, Looked, Through};
use super::picker::Listing;
use crate::model::Progress;
use crate::model::trail::Who;
use crate::programme::{Error, ImportReport, ImportRequest, Programme, VerificationSheet, folder};
use crate::tui::text;

/// What is asked. It opens the programme file for itself, so that whoever reads in it
/// meanwhile need not wait.
#[derive(Clone, Debug)]
pub enum IntakeOrder {
    /// What lies in this folder.
    List(String),
    /// Look at the beginning of it, through a map where it needs one.
    Look(ImportRequest, Through),
    /// What lies in this folder, for choosing a sheet of results.
    ListSheets(String),
    /// Read this sheet of results for the pick of this number.
    ReadSheet(u32, String),
    /// Write a map, as YAML, to a file of this name.
    SaveMap(String, String),
    /// Read, check and judge all of it, and store nothing.
    Try(ImportRequest),
    /// Take it in.
    Take(ImportRequest),
    /// Take a batch back.
    TakeBack(TakeBack),
    /// Write the refused rows of a batch to this file.
    Export(i64, String),
}

/// A batch to take back.
#[derive(Clone, Debug)]
pub struct TakeBack {
    /// Its number.
    pub batch: i64,
    /// Who takes it back.
    pub who: Who,
    /// Why.
    pub because: String,
}

/// How something ended, in words.
#[derive(Clone, Debug)]
pub enum Told {
    /// It was done.
    Done(String),
    /// It was stopped; nothing was changed.
    Stopped,
    /// It could not be done; nothing was changed.
    Failed(String),
}

/// What came of it.
#[derive(Clone)]
pub enum IntakeAnswer {
    /// To [`IntakeOrder::List`].
    Listed(String, Listing),
    /// To [`IntakeOrder::ListSheets`].
    SheetsListed(String, Listing),
    /// To [`IntakeOrder::ReadSheet`]: the path, and what was read or why it was not, in words.
    SheetRead(String, Result<Arc<VerificationSheet>, String>),
    /// To [`IntakeOrder::Look`].
    Looked(Seen),
    /// To [`IntakeOrder::SaveMap`].
    Saved(Told),
    /// To [`IntakeOrder::Try`].
    Tried(Outcome),
    /// To [`IntakeOrder::Take`].
    Taken(Outcome),
    /// To [`IntakeOrder::TakeBack`]: the batch, and what came of it.
    TakenBack(i64, Told),
    /// To [`IntakeOrder::Export`]: the batch, and what came of it.
    Exported(i64, Told),
}

/// What came of looking.
#[derive(Clone)]
pub enum Seen {
    /// It was looked at.
    Looked(Box<Looked>),
    /// It was stopped.
    Stopped,
    /// It could not be read, in words.
    Failed(String),
}

/// How an import ended.
#[derive(Clone, Debug)]
pub enum Outcome {
    /// It went through.
    Done(Arc<ImportReport>),
    /// It was stopped; nothing was changed.
    Stopped,
    /// It could not be done, in words; nothing was changed.
    Failed(String),
}

/// Carries out what was asked of the programme in this file.
#[must_use]
pub fn carry_out(file: &Path, order: &IntakeOrder, progress: &Progress) -> IntakeAnswer {
    match order {
        IntakeOrder::List(of) => IntakeAnswer::Listed(of.clone(), listed(of)),
        IntakeOrder::ListSheets(of) => IntakeAnswer::SheetsListed(of.clone(), listed(of)),
        IntakeOrder::ReadSheet(pick, named) => {
            let path = folder::path_of(named);
            let read = Programme::open(file)
                .and_then(|programme| programme.read_verification(*pick, &path))
                .map_err(|error| text::sentence(&error.to_string()));
            IntakeAnswer::SheetRead(named.clone(), read.map(Arc::new))
        }
        IntakeOrder::Look(request, through) => {
            IntakeAnswer::Looked(match look::look(file, request, through, progress) {
                Ok(looked) => Seen::Looked(Box::new(looked)),
                Err(Error::Stopped) => Seen::Stopped,
                Err(error) => Seen::Failed(text::sentence(&error.to_string())),
            })
        }
        IntakeOrder::SaveMap(yaml, to) => IntakeAnswer::Saved(match look::save(yaml, to) {
            Ok(words) => Told::Done(words),
            Err(words) => Told::Failed(words),
        }),
        IntakeOrder::Try(request) => {
            let request = ImportRequest {
                dry_run: true,
                ..request.clone()
            };
            IntakeAnswer::Tried(taken_in(file, &request, progress))
        }
        IntakeOrder::Take(request) => IntakeAnswer::Taken(taken_in(file, request, progress)),
        IntakeOrder::TakeBack(order) => {
            IntakeAnswer::TakenBack(order.batch, taken_back(file, order, progress))
        }
        IntakeOrder::Export(batch, to) => {
            IntakeAnswer::Exported(*batch, exported(file, *batch, to))
        }
    }
}

/// What lies in the folder that a text names, or why that is not known.
fn listed(text: &str) -> Listing {
    let path = folder::path_of(text);
    Arc::new(folder::listing(&path).map_err(|error| cant(&path, &error)))
}

/// The answer to an order that would read or change the programme, where that can't be, for
/// this reason. What only looks into folders can be done all the same.
#[must_use]
pub fn refused(order: &IntakeOrder, words: String) -> Option<IntakeAnswer> {
    Some(match order {
        IntakeOrder::List(_) | IntakeOrder::ListSheets(_) | IntakeOrder::SaveMap(..) => {
            return None;
        }
        IntakeOrder::ReadSheet(_, named) => IntakeAnswer::SheetRead(named.clone(), Err(words)),
        IntakeOrder::Look(..) => IntakeAnswer::Looked(Seen::Failed(words)),
        IntakeOrder::Try(_) => IntakeAnswer::Tried(Outcome::Failed(words)),
        IntakeOrder::Take(_) => IntakeAnswer::Taken(Outcome::Failed(words)),
        IntakeOrder::TakeBack(order) => IntakeAnswer::TakenBack(order.batch, Told::Failed(words)),
        IntakeOrder::Export(batch, _) => IntakeAnswer::Exported(*batch, Told::Failed(words)),
    })
}

/// Why a folder can't be looked into, in words.
pub(crate) fn cant(path: &Path, error: &io::Error) -> String {
    let path = path.display();
    match error.kind() {
        io::ErrorKind::NotFound => format!("There is no folder {path}."),
        io::ErrorKind::NotADirectory => format!("{path} is no folder."),
        io::ErrorKind::PermissionDenied => format!("You may not look into {path}."),
        _ => format!("{path} can't be looked into: {error}."),
    }
}

fn exported(file: &Path, batch: i64, to: &str) -> Told {
    let done = Programme::open(file)
        .and_then(|programme| programme.write_refused(Some(batch), &folder::path_of(to)));
    match done {
        Ok(done) => {
            let rows: u64 = done.files.iter().map(|(_, rows)| rows).sum();
            let names: Vec<String> = (done.files.iter())
                .map(|(path, _)| path.display().to_string())
                .collect();
            let left: u64 = done.not_kept.iter().map(|(_, rows)| rows).sum();
            let left = match left {
                0 => String::new(),
                some => format!(" ({some} too long to be kept)"),
            };
            let rows = text::plural(rows, "row is", "rows are");
            Told::Done(format!("{rows} in {}{left}.", names.join(", ")))
        }
        Err(error) => Told::Failed(text::sentence(&error.to_string())),
    }
}

fn taken_back(file: &Path, order: &TakeBack, progress: &Progress) -> Told {
    let done = Programme::open(file).and_then(|mut programme| {
        programme.take_back(order.batch, &order.who, &order.because, progress)
    });
    match done {
        Ok(done) => {
            let out = done.draws_out - done.draws_restored;
            let rows: u64 = out + done.rows_out.iter().sum::<u64>();
            Told::Done(format!(
                "Batch {} is taken back, by batch {}: {} out, {} as they were before.",
                order.batch,
                done.batch,
                text::plural(rows, "row", "rows"),
                text::plural(done.draws_restored, "draw", "draws")
            ))
        }
        Err(Error::Stopped) => Told::Stopped,
        Err(error) => Told::Failed(text::sentence(&error.to_string())),
    }
}

/// Takes it in, or tries it out. A file that is not there yet is made only where something is
/// taken in, and is not left behind where that comes to nothing.
fn taken_in(file: &Path, request: &ImportRequest, progress: &Progress) -> Outcome {
    let is_new = !file.exists();
    let programme = if is_new && request.dry_run {
        Programme::in_memory()
    } else {
        Programme::open_or_create(file)
    };
    let report = programme.and_then(|mut programme| {
        let report = programme.import(request, progress);
        if is_new && report.is_err() {
            programme.leave_nothing();
        }
        report
    });
    match report {
        Ok(report) => Outcome::Done(Arc::new(report)),
        Err(Error::Stopped) => Outcome::Stopped,
        Err(error) => Outcome::Failed(text::sentence(&error.to_string())),
    }
}
