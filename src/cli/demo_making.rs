//! Makes the invented programme: its sheets taken in as they came with time, and what was
//! decided in between.

use std::fs::{self, File};
use std::io::{self, BufRead as _, BufReader, BufWriter, Write as _};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use super::demo_decisions::{self, AUDIT, FOLLOW_UP, LATELY};
use super::who::who;
use crate::analysis::Assessed;
use crate::demo::{self, Size};
use crate::model::trail::Who;
use crate::model::{Progress, time};
use crate::programme::{Demo, Error, ImportRequest, MakeDemo, Programme};

/// An hour, in seconds.
const HOUR: i64 = 3600;

/// Makes a programme of this size, kept in this file or, without one, nowhere: what lies among
/// temporary files goes with the last holder of what is handed back.
pub fn maker(size: Size, to: Option<PathBuf>) -> MakeDemo {
    let scratch = Mutex::new(None);
    Arc::new(move |progress| {
        let folder = tempfile::tempdir()?;
        let kept = to.clone().filter(|file| !file.exists());
        let file = kept.unwrap_or_else(|| folder.path().join("demo.db"));
        let made = make(&file, &folder.path().join("sheets"), &size, progress);
        if made.is_err() {
            leave_nothing(&file);
        }
        let demo = Demo {
            programme: made?,
            file,
            who: who(None).ok(),
        };
        if let Ok(mut kept) = scratch.lock() {
            *kept = Some(folder);
        }
        Ok(demo)
    })
}

/// Removes what was begun: a part of a programme is of no use.
fn leave_nothing(file: &Path) {
    for end in ["", "-wal", "-shm", "-journal"] {
        let mut name = file.as_os_str().to_owned();
        name.push(end);
        let _ = fs::remove_file(name);
    }
}

/// The demo programme, taken in from its sheets as any other.
fn make(file: &Path, folder: &Path, size: &Size, progress: &Progress) -> Result<Programme, Error> {
    demo::write(folder, size, progress).map_err(|error| match error.kind() {
        io::ErrorKind::Interrupted => Error::Stopped,
        _ => Error::Output(error),
    })?;
    let mut programme = Programme::open_or_create(file)?;
    let folders = in_parts(folder)?;
    let assessed = take(&mut programme, AUDIT - HOUR, folder, &folders[0], progress)?;
    let pending = demo_decisions::audit(&mut programme, &assessed, progress)?;
    let assessed = take(
        &mut programme,
        FOLLOW_UP - HOUR,
        folder,
        &folders[1],
        progress,
    )?;
    demo_decisions::follow_up(&mut programme, &assessed, pending, progress)?;
    let assessed = take(&mut programme, LATELY, folder, &folders[2], progress)?;
    demo_decisions::lately(&mut programme, &assessed, progress)?;
    Ok(programme)
}

/// Takes a part of the sheets in at this instant, and judges.
fn take(
    programme: &mut Programme,
    at: i64,
    folder: &Path,
    part: &Path,
    progress: &Progress,
) -> Result<Assessed, Error> {
    programme.set_clock(at);
    let request = ImportRequest {
        sheets: vec![part.to_owned()],
        zone: time::zone(demo::ZONE),
        who: Who::named(demo::SUPERVISOR),
        named_from: Some(folder.to_owned()),
        ..ImportRequest::default()
    };
    programme.import(&request, progress)?;
    programme.assess(progress)
}

/// The sheets in three folders, as they came with time: what stood when the audit took
/// place, what came until its follow-up, and what came since.
fn in_parts(folder: &Path) -> io::Result<[PathBuf; 3]> {
    let folders = ["audit", "follow-up", "lately"].map(|name| folder.join(name));
    let days = [AUDIT, FOLLOW_UP].map(|at| time::utc_text(at)[..10].to_owned());
    for into in &folders {
        fs::create_dir_all(into)?;
    }
    for sheet in ["points.csv", "technicians.csv"] {
        fs::rename(folder.join(sheet), folders[0].join(sheet))?;
    }
    for (sheet, column) in [("draws.csv", "drawn_at"), ("trainings.csv", "held_on")] {
        let mut lines = BufReader::new(File::open(folder.join(sheet))?).lines();
        let header = lines.next().transpose()?.unwrap_or_default();
        let place = header.split(',').position(|name| name == column);
        let mut parts = Vec::new();
        for into in &folders {
            let mut part = BufWriter::new(File::create(into.join(sheet))?);
            writeln!(part, "{header}")?;
            parts.push(part);
        }
        for line in lines {
            let line = line?;
            let at = place.and_then(|place| line.split(',').nth(place));
            let part = days.iter().filter(|day| at >= Some(day.as_str())).count();
            writeln!(parts[part], "{line}")?;
        }
        for part in &mut parts {
            part.flush()?;
        }
        fs::remove_file(folder.join(sheet))?;
    }
    Ok(folders)
}
