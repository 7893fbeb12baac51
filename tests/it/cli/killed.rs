//! The process killed at random moments of an import or a taking back: the programme is as
//! before or as after, never in between, and what was cut off can be done again.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Stdio;
use std::sync::atomic::{AtomicU32, AtomicU64, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use fairdraw::model::Progress;
use fairdraw::programme::{Error, Programme};

use super::runner::Room;
use crate::ledger::said;

/// How often each piece of work is killed; three of them are.
const KILLS: u32 = 70;

/// How many are killed at a time.
const AT_A_TIME: u32 = 2;

/// What the program is doing when it is killed.
struct Deed<'r> {
    room: &'r Room,
    name: &'static str,
    /// What follows `fairdraw -p FILE`.
    arguments: &'static [&'static str],
    /// The file that it begins with; `None` for a first import.
    from: Option<PathBuf>,
    before: Vec<String>,
    after: Vec<String>,
    /// About how long it takes, in microseconds; what kills meet puts it right.
    whole: AtomicU64,
}

/// How often kills met what.
#[derive(Default)]
struct Met {
    before: AtomicU32,
    after: AtomicU32,
    /// A rollback journal or a write-ahead log with changes stood beside the file.
    with_log: AtomicU32,
}

fn invent(room: &Room, folder: &str, draws: &str, seed: &str) {
    let points = ["--points", "15", "--technicians", "5"];
    let arguments = ["demo", "--write", folder, "--draws", draws, "--seed", seed];
    let run = room.run(&[&arguments[..], &points].concat());
    assert_eq!(run.status, 0, "{}", run.told());
}

/// Puts a row without point, technician and time in front, so that there are rejects from the
/// first moment on.
fn refuse_a_row(room: &Room, sheet: &str) {
    let text = fs::read_to_string(room.path(sheet)).unwrap();
    let (head, rows) = text.split_once('\n').unwrap();
    fs::write(room.path(sheet), format!("{head}\nD-0\n{rows}")).unwrap();
}

/// All that stands in a programme: its rows, its verdicts, its ledger.
fn stands(file: &Path) -> Vec<String> {
    let mut programme = Programme::open(file).unwrap();
    assert_eq!(programme.check().unwrap(), Vec::<String>::new());
    let mut all = said(&mut programme);
    let batches = programme.batches().unwrap();
    all.extend(batches.iter().map(|batch| {
        let sheets: Vec<_> = (batch.sheets.iter())
            .map(|sheet| (&sheet.kind, sheet.taken, sheet.refused_rows, &sheet.sha256))
            .collect();
        format!(
            "{} {:?} {sheets:?}",
            batch.import.number, batch.import.takes_back
        )
    }));
    all
}

/// Files beside a programme that a killed process may have left.
fn beside(file: &Path, end: &str) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push(end);
    name.into()
}

impl<'r> Deed<'r> {
    fn new(
        room: &'r Room,
        name: &'static str,
        arguments: &'static [&'static str],
        from: Option<&str>,
    ) -> Self {
        let from = from.map(|name| room.path(name));
        let after = room.path(&format!("{name}-after.db"));
        if let Some(from) = &from {
            fs::copy(from, &after).unwrap();
        }
        let begun = Instant::now();
        let run = room.run(&[&["-p", after.to_str().unwrap()], arguments].concat());
        let whole = begun.elapsed();
        assert!(run.status <= 1, "{}", run.told());
        Deed {
            room,
            name,
            arguments,
            before: from.as_deref().map(stands).unwrap_or_default(),
            from,
            after: stands(&after),
            whole: AtomicU64::new(whole.as_micros() as u64),
        }
    }

    fn stretch(&self, by: f64) {
        let whole = self.whole.load(Ordering::Relaxed) as f64;
        self.whole.store((whole * by) as u64, Ordering::Relaxed);
    }

    fn kill(&self, number: u32, met: &Met) {
        let folder = self.room.path(&format!("{}-{number}", self.name));
        fs::create_dir(&folder).unwrap();
        let file = folder.join("p.db");
        if let Some(from) = &self.from {
            fs::copy(from, &file).unwrap();
        }
        let arguments = [&["-p", file.to_str().unwrap()], self.arguments].concat();
        let mut child = self
            .room
            .command(&arguments)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // Spread over the whole work by the golden ratio, and a little beyond its end; every
        // third from the moment on in which changes reach the file.
        let part = (f64::from(number) * 0.618_034).fract() * 1.15;
        let whole = Duration::from_micros(self.whole.load(Ordering::Relaxed));
        let has_changes = |end: &str| fs::metadata(beside(&file, end)).is_ok_and(|it| it.len() > 0);
        let is_writing = || has_changes("-wal") || has_changes("-journal");
        let late = number.is_multiple_of(3);
        if late {
            while !is_writing() && child.try_wait().unwrap().is_none() {
                thread::sleep(Duration::from_micros(200));
            }
            thread::sleep(whole.mul_f64(part * part * part / 4.0));
        } else {
            thread::sleep(whole.mul_f64(part));
        }
        child.kill().unwrap();
        let ended = child.wait().unwrap().code().is_some();
        let place = format!("{} killed {part:.2} of the way", self.name);
        if !late {
            match ended {
                true if part < 1.0 => self.stretch(0.9),
                false if part > 1.0 => self.stretch(1.1),
                _ => {}
            }
        }

        if !ended && is_writing() {
            met.with_log.fetch_add(1, Ordering::Relaxed);
        }
        let found = if self.from.is_none() && is_not_begun(&file) {
            Vec::new()
        } else {
            stands(&file)
        };
        if found == self.before {
            met.before.fetch_add(1, Ordering::Relaxed);
            // No rejects sheet of an import that never was.
            assert!(!folder.join("p.rejects.csv").exists(), "{place}");
        } else {
            assert!(
                found == self.after,
                "{place}: neither as before nor as after"
            );
            met.after.fetch_add(1, Ordering::Relaxed);
            return;
        }
        // What was cut off can be done again.
        if number.is_multiple_of(10) {
            let again = self.room.run(&arguments);
            assert!(again.status <= 1, "{place}: {}", again.told());
            assert!(stands(&file) == self.after, "{place}, and done again");
        }
    }
}

/// Whether a first import left no programme or one without any batch. Both are as before.
fn is_not_begun(file: &Path) -> bool {
    match Programme::open_or_create(file) {
        Ok(mut programme) => {
            let empty = programme.batches().unwrap().is_empty();
            if empty {
                assert_eq!(programme.check().unwrap(), Vec::<String>::new());
                assert!(
                    programme
                        .assess(&Progress::default())
                        .unwrap()
                        .judged
                        .is_empty()
                );
            }
            empty
        }
        Err(error @ Error::Store(_)) => panic!("{error}"),
        Err(other) => panic!("{other}"),
    }
}

#[test]
fn work_killed_at_any_moment_leaves_the_programme_as_before_or_as_after() {
    let room = Room::with_sheets();
    // The second history brings new draws and changes to the points of the first.
    invent(&room, "first", "120", "1");
    invent(&room, "second", "200", "2");
    refuse_a_row(&room, "first/draws.csv");
    refuse_a_row(&room, "second/draws.csv");
    for (file, folder) in [
        ("one.db", "first"),
        ("two.db", "first"),
        ("two.db", "second"),
    ] {
        let taken = room.run(&["-p", file, "import", folder]);
        assert!(taken.status <= 1, "{}", taken.told());
    }
    let back: &[&str] = &["ledger", "take-back", "2", "--because", "a test"];
    let deeds = [
        Deed::new(&room, "first-import", &["import", "first"], None),
        Deed::new(&room, "import", &["import", "second"], Some("one.db")),
        Deed::new(&room, "taking-back", back, Some("two.db")),
    ];
    for deed in &deeds {
        assert_ne!(deed.before, deed.after);
        let met = Met::default();
        let next = AtomicU32::new(0);
        thread::scope(|scope| {
            for _ in 0..AT_A_TIME {
                scope.spawn(|| {
                    loop {
                        let number = next.fetch_add(1, Ordering::Relaxed);
                        if number >= KILLS {
                            break;
                        }
                        deed.kill(number, &met);
                    }
                });
            }
        });
        let count = |of: &AtomicU32| of.load(Ordering::Relaxed);
        let told = format!(
            "{}: {} µs whole; {} as before, {} as after, {} with changes in a log",
            deed.name,
            deed.whole.load(Ordering::Relaxed),
            count(&met.before),
            count(&met.after),
            count(&met.with_log)
        );
        println!("{told}");
        assert_eq!(count(&met.before) + count(&met.after), KILLS);
        // Killed in the middle, not only before it began or after it was done.
        assert!(count(&met.before) > KILLS / 7, "{told}");
        assert!(count(&met.with_log) > 0, "{told}");
    }
}
