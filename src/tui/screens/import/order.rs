//! What is asked of the thread that takes tables in, and what it answers.

use std::io;
use std::path::Path;
use std::sync::Arc;

use super::picker::Listing;
use crate::model::Progress;
use crate::programme::{Error, ImportReport, ImportRequest, Programme, folder};

/// What is asked. It opens the programme file for itself, so that whoever reads in it
/// meanwhile need not wait.
#[derive(Clone, Debug)]
pub enum IntakeOrder {
    /// What lies in this folder.
    List(String),
    /// Read, check and judge all of it, and store nothing.
    Try(ImportRequest),
    /// Take it in.
    Take(ImportRequest),
}

/// What came of it.
#[derive(Clone)]
pub enum IntakeAnswer {
    /// To [`IntakeOrder::List`].
    Listed(String, Listing),
    /// To [`IntakeOrder::Try`].
    Tried(Outcome),
    /// To [`IntakeOrder::Take`].
    Taken(Outcome),
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
        IntakeOrder::List(text) => {
            let path = folder::path_of(text);
            let listed = folder::listing(&path).map_err(|error| cant(&path, &error));
            IntakeAnswer::Listed(text.clone(), Arc::new(listed))
        }
        IntakeOrder::Try(request) => {
            let request = ImportRequest {
                dry_run: true,
                ..request.clone()
            };
            IntakeAnswer::Tried(taken_in(file, &request, progress))
        }
        IntakeOrder::Take(request) => IntakeAnswer::Taken(taken_in(file, request, progress)),
    }
}

fn cant(path: &Path, error: &io::Error) -> String {
    let path = path.display();
    match error.kind() {
        io::ErrorKind::NotFound => format!("There is no folder {path}."),
        io::ErrorKind::NotADirectory => format!("{path} is no folder."),
        io::ErrorKind::PermissionDenied => format!("You may not look into {path}."),
        _ => format!("{path} can't be looked into: {error}."),
    }
}

fn taken_in(file: &Path, request: &ImportRequest, progress: &Progress) -> Outcome {
    let report =
        Programme::open(file).and_then(|mut programme| programme.import(request, progress));
    match report {
        Ok(report) => Outcome::Done(Arc::new(report)),
        Err(Error::Stopped) => Outcome::Stopped,
        Err(error) => Outcome::Failed(error.to_string()),
    }
}
