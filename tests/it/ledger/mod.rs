//! The ledger: what is kept of batches, what taking one back leaves, refused rows mended.

mod round_trip;
mod taken_back;
mod version_1;

use std::fs;
use std::path::{Path, PathBuf};

use fairdraw::model::Progress;
use fairdraw::model::trail::Who;
use fairdraw::programme::{Error, ImportReport, ImportRequest, Programme, TakenBack};
use tempfile::TempDir;

/// A programme that is kept nowhere, and a folder for its sheets.
pub struct Desk {
    pub folder: TempDir,
    pub programme: Programme,
}

impl Desk {
    pub fn new() -> Self {
        Desk {
            folder: tempfile::tempdir().unwrap(),
            programme: Programme::in_memory().unwrap(),
        }
    }

    /// Writes a sheet and gives its path.
    pub fn write(&self, name: &str, text: &str) -> PathBuf {
        let path = self.folder.path().join(name);
        fs::write(&path, text).unwrap();
        path
    }

    /// Takes these sheets in, each a name and its text, as one batch.
    pub fn take(&mut self, sheets: &[(&str, &str)]) -> ImportReport {
        let sheets = sheets.iter().map(|(name, text)| self.write(name, text));
        let sheets: Vec<PathBuf> = sheets.collect();
        take(&mut self.programme, &sheets).unwrap()
    }

    pub fn take_back(&mut self, batch: i64) -> Result<TakenBack, Error> {
        take_back(&mut self.programme, batch)
    }
}

pub fn take(programme: &mut Programme, sheets: &[PathBuf]) -> Result<ImportReport, Error> {
    let request = ImportRequest {
        sheets: sheets.to_vec(),
        who: Who::named("Ada"),
        ..ImportRequest::default()
    };
    programme.import(&request, &Progress::default())
}

pub fn take_back(programme: &mut Programme, batch: i64) -> Result<TakenBack, Error> {
    let who = Who::named("Ada").unwrap();
    programme.take_back(batch, &who, "a test", &Progress::default())
}

/// All that a programme says, whatever the numbers under which it keeps it: points,
/// technicians, trainings and draws with their verdicts.
pub fn said(programme: &mut Programme) -> Vec<String> {
    let assessed = programme.assess(&Progress::default()).unwrap();
    let judged = &assessed.judged;
    let records = programme.records(&judged.record).unwrap();
    let draws = records.into_iter().enumerate().map(|(row, mut draw)| {
        draw.facts.record = 0;
        draw.facts.point = 0;
        draw.facts.technician = 0;
        let (point, technician) = (judged.point[row] as usize, judged.technician[row] as usize);
        assert_eq!(assessed.points[point].id, draw.point_id);
        assert_eq!(assessed.technicians[technician].id, draw.technician_id);
        format!(
            "{draw:?} {:?} {:?} {:?} {:?}",
            judged.verdict[row], judged.applicable[row], judged.broken[row], judged.unrecorded[row]
        )
    });
    let mut said: Vec<String> = draws.collect();
    said.extend(assessed.points.iter().map(|point| format!("{point:?}")));
    said.extend(assessed.technicians.iter().map(|it| format!("{it:?}")));
    said.extend(assessed.trainings.iter().map(|it| format!("{it:?}")));
    said.sort();
    said
}

/// Asserts that the file has no fault.
pub fn assert_sound(programme: &Programme) {
    assert_eq!(programme.check().unwrap(), Vec::<String>::new());
}

/// A copy of a fixture in a folder of its own.
pub fn copied(fixture: &Path) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join(fixture.file_name().unwrap());
    fs::copy(fixture, &file).unwrap();
    (folder, file)
}
