//! What to sample again, and sheets of it to print.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use rustc_hash::FxHashMap;

use super::set_aside::SetAside;
use super::{Error, Programme};
use crate::analysis::resample::{Asked, Resample, Resamples, find, rank};
use crate::analysis::{Assessed, Selection};
use crate::model::progress::Stage;
use crate::model::{DrawRecord, Progress};
use crate::report::resample_sheet::{self, Last};
use crate::store::draws;

/// What to sample again, with the results set aside.
#[derive(Clone, Debug, Default)]
pub struct ToResample {
    /// The present that time was counted to, in seconds since 1970 UTC.
    pub now: i64,
    /// The compartments, most urgent first.
    pub found: Resamples,
    /// Rows whose results are set aside, each with who, when and why.
    pub set_aside: BTreeMap<u32, SetAside>,
    /// The identity of each draw named in the list.
    pub identities: BTreeMap<u32, String>,
}

impl ToResample {
    /// The identity of the latest draw of a compartment in the list.
    #[must_use]
    pub fn latest(&self, found: &Resample) -> &str {
        self.identities.get(&found.row).map_or("", String::as_str)
    }
}

/// Why no sheet, or not every sheet, was written.
#[derive(Debug, thiserror::Error)]
pub enum SheetsError {
    /// A file of that name is there; nothing was written.
    #[error(
        "{} is there already and is left as it is; no sheet was written; choose another folder",
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
    /// A sheet can't be written.
    #[error("could not write {}: {source}", file.display())]
    Sheet {
        /// The file.
        file: PathBuf,
        /// What the operating system says.
        source: io::Error,
    },
    /// The draws can't be read.
    #[error(transparent)]
    Programme(#[from] Error),
}

/// A sheet that was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrittenSheet {
    /// The site; none for compartments without one.
    pub site: Option<String>,
    /// How many compartments stand on it.
    pub compartments: usize,
    /// The file.
    pub file: PathBuf,
}

impl Programme {
    /// What to sample again, most urgent first, of those whose latest draw is in the
    /// selection. Time is counted up to `now`, in seconds since 1970 UTC, and later draws are
    /// left out; `strict` takes a doubtful sample as one that can't be trusted.
    ///
    /// # Errors
    /// A store that can't be read, or a stop.
    pub fn resamples(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        now: i64,
        strict: bool,
        progress: &Progress,
    ) -> Result<ToResample, Error> {
        let set_aside = self.set_aside_rows(assessed)?;
        let asked = Asked {
            now,
            strict,
            set_aside: set_aside.keys().copied().collect(),
        };
        let mut found = find(assessed, &asked);
        found.narrow(selection);
        let counters = self.counters(assessed, &found.list, progress)?;
        let hours = |row: u32| counters.get(&row).copied().flatten();
        rank(assessed, now, &mut found.list, &hours);
        let mut named = list_rows(&found.list);
        named.extend(found.list.iter().filter_map(|found| found.last_trusted));
        let named: Selection = named.into_iter().collect();
        let mut identities = BTreeMap::new();
        self.name_each(assessed, &named, progress, &mut |named| {
            for draw in named {
                let row = u32::try_from(draw.row).expect("rows are counted in 32 bits");
                identities.insert(row, draw.identity(assessed));
            }
            Ok(())
        })?;
        Ok(ToResample {
            now,
            found,
            set_aside,
            identities,
        })
    }

    /// The machine's counter on the draws that ranking looks at.
    fn counters(
        &self,
        assessed: &Assessed,
        list: &[Resample],
        progress: &Progress,
    ) -> Result<FxHashMap<u32, Option<f64>>, Error> {
        let rows: BTreeSet<u32> = list.iter().flat_map(Resample::counter_rows).collect();
        progress.begin(Stage::Loading, rows.len() as u64);
        let mut reader = self.sql(draws::Reader::new(self.store.connection()))?;
        let mut counters = FxHashMap::default();
        for row in rows {
            if progress.is_stopped() {
                return Err(Error::Stopped);
            }
            let record = assessed.judged.record[row as usize];
            let hours = self.sql(reader.facts(record, |draw, _| draw.machine_hours.get()))?;
            counters.insert(row, hours);
            progress.advance(1);
        }
        Ok(counters)
    }

    /// The latest draws of these compartments as they were recorded, by row.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn latest_records(
        &self,
        assessed: &Assessed,
        list: &[&Resample],
    ) -> Result<BTreeMap<u32, DrawRecord>, Error> {
        let record = |found: &&Resample| assessed.judged.record[found.row as usize];
        let records: Vec<u32> = list.iter().map(record).collect();
        let read = self.records(&records)?;
        Ok(list.iter().map(|found| found.row).zip(read).collect())
    }

    /// Writes a sheet to print for each site into a folder or, if a file of one's name is there
    /// already, none. `filter` is the line that chose the draws, empty for all.
    ///
    /// # Errors
    /// See [`SheetsError`].
    pub fn write_resample_sheets(
        &self,
        folder: &Path,
        assessed: &Assessed,
        to_resample: &ToResample,
        filter: &str,
        progress: &Progress,
    ) -> Result<Vec<WrittenSheet>, SheetsError> {
        let mut sites: BTreeMap<Option<&str>, Vec<&Resample>> = BTreeMap::new();
        for found in &to_resample.found.list {
            let site = assessed.points[found.point].site.as_deref();
            sites.entry(site).or_default().push(found);
        }
        let mut names = FileNames::default();
        let sheets: Vec<(PathBuf, Option<&str>, Vec<&Resample>)> = sites
            .into_iter()
            .map(|(site, list)| (folder.join(names.of(site)), site, list))
            .collect();
        if let Some((file, ..)) = sheets.iter().find(|(file, ..)| file.exists()) {
            return Err(SheetsError::IsThere { file: file.clone() });
        }
        if sheets.is_empty() {
            return Ok(Vec::new());
        }
        fs::create_dir_all(folder).map_err(|source| SheetsError::Folder {
            folder: folder.to_path_buf(),
            source,
        })?;
        let rows: BTreeSet<u32> = list_rows(&to_resample.found.list);
        let mut answers = BTreeMap::new();
        self.explain_each(
            assessed,
            &rows.into_iter().collect(),
            progress,
            &mut |each| {
                for (named, explained) in each {
                    let row = u32::try_from(named.row).expect("rows are counted in 32 bits");
                    answers.insert(row, explained.answers);
                }
                Ok(())
            },
        )?;
        let mut written = Vec::new();
        for (file, site, list) in sheets {
            let records = self.latest_records(assessed, &list)?;
            let lasts: Vec<Last<'_>> = list
                .iter()
                .map(|found| Last {
                    found,
                    identity: to_resample.latest(found),
                    record: &records[&found.row],
                    answers: &answers[&found.row],
                    set_aside: (to_resample.set_aside.get(&found.row))
                        .map(|set| (set.decided.who.as_str(), set.decided.because.as_str())),
                })
                .collect();
            let page = resample_sheet::page(assessed, site, &lasts, to_resample.now, filter);
            OpenOptions::new()
                .write(true)
                .create_new(true)
                .open(&file)
                .and_then(|mut open| open.write_all(page.as_bytes()))
                .map_err(|source| SheetsError::Sheet {
                    file: file.clone(),
                    source,
                })?;
            written.push(WrittenSheet {
                site: site.map(str::to_owned),
                compartments: list.len(),
                file,
            });
        }
        Ok(written)
    }
}

/// The rows of the latest draws.
fn list_rows(list: &[Resample]) -> BTreeSet<u32> {
    list.iter().map(|found| found.row).collect()
}

/// Names for sheets that are safe on any file system: letters, digits, `-` and `_` of the
/// site, a number behind it where two come out alike in any case.
#[derive(Default)]
struct FileNames {
    taken: BTreeSet<String>,
}

impl FileNames {
    fn of(&mut self, site: Option<&str>) -> String {
        const LONGEST: usize = 60;
        let is_safe = |sign: char| sign.is_ascii_alphanumeric() || sign == '-' || sign == '_';
        let safe: String = site
            .unwrap_or("no-site")
            .chars()
            .map(|sign| if is_safe(sign) { sign } else { '_' })
            .take(LONGEST)
            .collect();
        let mut names = (1..).map(|number| match number {
            1 => format!("resample-{safe}.html"),
            number => format!("resample-{safe}-{number}.html"),
        });
        names
            .find(|name: &String| self.taken.insert(name.to_lowercase()))
            .expect("numbers go on and on")
    }
}
