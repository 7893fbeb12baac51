//! A table looked at: how it is read, which map is proposed for it, what would be stored. Done
//! on the thread that takes tables in.

use std::fs::OpenOptions;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::model::Progress;
use crate::programme::maps::{ColumnMap, Proposal};
use crate::programme::{
    Error, How, ImportRequest, Programme, SheetPreview, folder, how_read, left_aside,
};
use crate::tui::text;

/// Which map a table is looked at through.
#[derive(Clone, Debug)]
pub enum Through {
    /// None where its columns are ours; else one is proposed.
    WhatItNeeds,
    /// This one, as it stands after the user's changes.
    Map(Arc<Proposal>),
}

/// What is seen.
#[derive(Clone, Debug, Default)]
pub struct Looked {
    /// The map; none where the columns of the table are ours.
    pub proposal: Option<Arc<Proposal>>,
    /// The same, checked; none while questions are open or something is wrong with it.
    pub map: Option<Arc<ColumnMap>>,
    /// How each file is read, as far as that was found out.
    pub how: Vec<How>,
    /// What is wrong with the map, in sentences.
    pub problems: Vec<String>,
    /// The sheets as they would be stored; none without a sound map.
    pub previews: Vec<SheetPreview>,
    /// Tables of the folder that are left aside, because their names do not say what they hold.
    pub left_aside: Vec<PathBuf>,
}

/// Looks at the tables of a request.
///
/// # Errors
/// The programme or a table can't be read, or a stop.
pub(super) fn look(
    file: &Path,
    request: &ImportRequest,
    through: &Through,
    progress: &Progress,
) -> Result<Looked, Error> {
    let programme = Programme::open_or_blank(file)?;
    let how: Vec<How> = how_read(request)?.into_iter().map(|(_, how)| how).collect();
    let proposal = match through {
        Through::Map(proposal) => Arc::clone(proposal),
        Through::WhatItNeeds => {
            let previews = programme.preview(request, progress);
            match previews {
                Ok(previews) if previews.iter().all(has_our_columns) => {
                    return Ok(Looked {
                        previews,
                        how,
                        left_aside: left_aside(request)?,
                        ..Looked::default()
                    });
                }
                Err(error) if !is_about_names(&error) => return Err(error),
                Ok(_) | Err(_) => Arc::new(programme.propose(request, progress)?),
            }
        }
    };
    let mut looked = Looked {
        how,
        ..Looked::default()
    };
    if proposal.questions().is_empty() {
        match ColumnMap::from_yaml(&proposal.yaml(), "map") {
            Ok(map) => {
                let map = Arc::new(map);
                let request = ImportRequest {
                    map: Some(Arc::clone(&map)),
                    ..request.clone()
                };
                looked.previews = programme.preview(&request, progress)?;
                looked.left_aside = left_aside(&request)?;
                looked.map = Some(map);
            }
            Err(problems) => {
                let words = problems.iter().map(|problem| problem.message.as_str());
                looked.problems = words.map(text::sentence).collect();
            }
        }
    }
    looked.proposal = Some(proposal);
    Ok(looked)
}

/// Whether the header was one of ours.
fn has_our_columns(preview: &SheetPreview) -> bool {
    !preview.header.is_empty()
}

/// Whether the names of files do not say what they hold; their headers may.
fn is_about_names(error: &Error) -> bool {
    matches!(error, Error::Intake(inner) if inner.is_about_names())
}

/// Writes a map to a file of this name that is not there yet.
pub(super) fn save(yaml: &str, to: &str) -> Result<String, String> {
    let path = folder::path_of(to);
    let shown = path.display();
    let written = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(&path)
        .and_then(|mut file| {
            file.write_all(yaml.as_bytes())
                .and_then(|()| file.sync_all())
        });
    match written {
        Ok(()) => Ok(format!("The map is in {shown}.")),
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => Err(format!(
            "{shown} is there already and is not overwritten; name another file."
        )),
        Err(error) => Err(format!("{shown} could not be written: {error}.")),
    }
}
