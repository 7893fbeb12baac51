//! Retraining plans as pages in a folder.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use super::{Error, Programme};
use crate::analysis::topics::Plan;
use crate::analysis::{Assessed, Selection};
use crate::model::Progress;
use crate::report::plan::{Shown, page};

/// Why no plan, or not every plan, was written.
#[derive(Debug, thiserror::Error)]
pub enum PlansError {
    /// A file of that name is there; nothing was written.
    #[error(
        "{} is there already and is left as it is; no plan was written; choose another folder",
        file.display()
    )]
    IsThere {
        /// The file.
        file: PathBuf,
    },
    /// The folder can't be made.
    #[error("could not make the folder {}: {source}", folder.display())]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// What the operating system says.
        source: io::Error,
    },
    /// A page can't be written.
    #[error("could not write {}: {source}", file.display())]
    Page {
        /// The file.
        file: PathBuf,
        /// What the operating system says.
        source: io::Error,
    },
}

/// The draws that the plans show, by row.
#[must_use]
pub fn examples(plans: &[Plan]) -> Selection {
    let topics = plans.iter().flat_map(|plan| &plan.topics);
    let rows: BTreeSet<u32> = topics
        .flat_map(|topic| topic.examples.iter().copied())
        .collect();
    rows.into_iter().collect()
}

impl Programme {
    /// The draws in these rows as plans show them.
    ///
    /// # Errors
    /// They can't be read, or someone asked to stop.
    pub fn shown_in_plans(
        &self,
        assessed: &Assessed,
        rows: &Selection,
        progress: &Progress,
    ) -> Result<BTreeMap<u32, Shown>, Error> {
        let mut shown = BTreeMap::new();
        self.explain_each(assessed, rows, progress, &mut |answered| {
            for (named, explained) in answered {
                let row = u32::try_from(named.row).expect("rows are counted in 32 bits");
                shown.insert(row, Shown::of(assessed, named.row, explained));
            }
            Ok(())
        })?;
        Ok(shown)
    }
}

/// Writes a page for each plan, or, if a file of one's name is there already, none. `filter`
/// is the line that chose the draws. The files stand in the order of the plans.
///
/// # Errors
/// See [`PlansError`].
pub fn write(
    folder: &Path,
    assessed: &Assessed,
    plans: &[Plan],
    shown: &BTreeMap<u32, Shown>,
    filter: &str,
) -> Result<Vec<PathBuf>, PlansError> {
    let names = file_names(assessed, plans).into_iter();
    let files: Vec<PathBuf> = names.map(|name| folder.join(name)).collect();
    if let Some(file) = files.iter().find(|file| file.exists()) {
        return Err(PlansError::IsThere { file: file.clone() });
    }
    if files.is_empty() {
        return Ok(files);
    }
    fs::create_dir_all(folder).map_err(|source| PlansError::Folder {
        folder: folder.to_path_buf(),
        source,
    })?;
    for (file, plan) in files.iter().zip(plans) {
        let page = page(assessed, plan, shown, filter);
        OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(file)
            .and_then(|mut file| file.write_all(page.as_bytes()))
            .map_err(|source| PlansError::Page {
                file: file.clone(),
                source,
            })?;
    }
    Ok(files)
}

/// A name for each plan that is safe on any file system: letters, digits, `-` and `_` of the
/// id, a number behind it where two come out alike in any case.
fn file_names(assessed: &Assessed, plans: &[Plan]) -> Vec<String> {
    const LONGEST: usize = 60;
    let mut taken = BTreeSet::new();
    let name = |plan: &Plan| {
        let id = &assessed.technicians[plan.technician].id;
        let is_safe = |sign: char| sign.is_ascii_alphanumeric() || sign == '-' || sign == '_';
        let safe: String = id
            .chars()
            .map(|sign| if is_safe(sign) { sign } else { '_' })
            .take(LONGEST)
            .collect();
        let mut names = (1..).map(|number| match number {
            1 => format!("plan-{safe}.md"),
            number => format!("plan-{safe}-{number}.md"),
        });
        names
            .find(|name: &String| taken.insert(name.to_lowercase()))
            .expect("numbers go on and on")
    };
    plans.iter().map(name).collect()
}
