//! What all reading commands begin with: the programme judged, the draws that pass.

use std::path::Path;

use super::args::Reading;
use super::exit::Failure;
use super::filters::{self, SIGN};
use super::output::remark;
use super::watch::Watch;
use crate::analysis::{Assessed, Filter, Selection};
use crate::programme::Programme;

/// A programme with the draws asked for.
pub struct Asked {
    pub programme: Programme,
    pub assessed: Assessed,
    pub filter: Filter,
    pub selection: Selection,
    pub watch: Watch,
}

/// Opens and judges the programme and selects the draws.
pub fn ask(file: &Path, reading: &Reading) -> Result<Asked, Failure> {
    let (mut programme, filter) = open_for(file, reading)?;
    let watch = Watch::new()?;
    let assessed = watch.over(true, |progress| programme.assess(progress))?;
    for unknown in filter.unknown_values(&assessed) {
        remark(&format!("--where: {unknown}"));
    }
    let selection = filter.select(&assessed);
    Ok(Asked {
        programme,
        assessed,
        filter,
        selection,
        watch,
    })
}

/// Opens a programme file that should be there.
pub fn open(file: &Path) -> Result<Programme, Failure> {
    if !file.exists() {
        return Err(Failure::CouldNot(format!(
            "there is no programme file {}; name one with --programme, make it with \
             `fairdraw import SHEET…`, or look around in an invented one with `fairdraw demo`",
            file.display()
        )));
    }
    Ok(Programme::open(file)?)
}

/// Opens the programme and reads the filter, which may be one saved for the programme.
pub fn open_for(file: &Path, reading: &Reading) -> Result<(Programme, Filter), Failure> {
    let text = reading.filter.as_deref().unwrap_or_default().trim();
    if text.starts_with(SIGN) {
        let programme = open(file)?;
        let filter = filters::saved(&programme, text)?;
        return Ok((programme, filter));
    }
    // Read first: a slip in the filter should not cost a long wait.
    let filter = filter(reading.filter.as_deref().unwrap_or_default())?;
    Ok((open(file)?, filter))
}

/// Reads a filter.
pub fn filter(text: &str) -> Result<Filter, Failure> {
    Filter::parse(text).map_err(|error| Failure::Filter {
        text: text.to_owned(),
        error,
    })
}
