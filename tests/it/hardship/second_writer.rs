//! Others who write to the programme file while it is open.

use std::path::PathBuf;
use std::thread::sleep;
use std::time::Duration;

use fairdraw::programme::Programme;

use super::{meanwhile, open};
use crate::support::fixture;
use crate::terminal::{programme, told};

#[test]
fn what_another_process_takes_in_is_noticed_and_read_on_demand() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    let mut journey = open(&file);
    let count = |folder: &tempfile::TempDir| told(folder, &["score"]).as_array().unwrap().len();
    let before = count(&folder);
    let one = told(&folder, &["score"])[0].clone();
    let text = |field: &str| one[field].as_str().unwrap().to_owned();
    let row = format!(
        "draw_id,point_id,technician_id,drawn_at\nD-77,{},{},2026-10-20T08:00Z\n",
        text("point_id"),
        text("technician_id")
    );
    let sheet = folder.path().join("draws.csv");
    std::fs::write(&sheet, row).unwrap();
    meanwhile(&file, &["import", sheet.to_str().unwrap()]);
    let after = count(&folder);
    assert_eq!(after, before + 1);
    journey.until("changed elsewhere");
    journey.press("r").until("was read again");
    journey.until(&format!("{} draws", in_thousands(after)));
    journey.press("q");
    assert_eq!(journey.end(), 0);
}

/// A number as screens show it.
fn in_thousands(number: usize) -> String {
    match number {
        0..1000 => number.to_string(),
        _ => format!("{},{:03}", number / 1000, number % 1000),
    }
}

#[test]
fn a_decision_waits_for_another_writer_and_then_says_who_is_in_the_way() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    let mut journey = open(&file);
    let holder = rusqlite::Connection::open(&file).unwrap();
    journey.press("8").until("to sample again");
    // Let go in time: the decision is kept.
    holder.execute_batch("BEGIN IMMEDIATE").unwrap();
    journey.press("a").until("Nobody is to act on");
    journey.press("waits a while\r").until("Under way");
    sleep(Duration::from_millis(1500));
    assert!(journey.text().contains("Under way"), "{}", journey.text());
    holder.execute_batch("COMMIT").unwrap();
    journey.until("is set aside.").until("⊘ set aside");
    // Held on: who holds it is said, and what was written stays in the form.
    holder.execute_batch("BEGIN IMMEDIATE").unwrap();
    journey.press("\x1b[B");
    journey.press("a").until("Nobody is to act on");
    journey.press("waits in vain\r").until_said("is in use by");
    if cfg!(target_os = "linux") {
        let number = format!("number {})", std::process::id());
        journey.until_said(&number);
    }
    journey.until("waits in vain");
    holder.execute_batch("COMMIT").unwrap();
    journey.press("\r").until("is set aside.");
    journey.press("q");
    assert_eq!(journey.end(), 0);
    let set = told(&folder, &["set-aside", "--list"]);
    assert_eq!(set.as_array().unwrap().len(), 2, "{set}");
}

#[test]
fn the_log_stays_while_one_of_several_connections_is_open() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    let mut kept = Programme::open(&file).unwrap();
    kept.assess(&fairdraw::model::Progress::default()).unwrap();
    // Another connection of this process comes and goes, then another process writes, thinks
    // itself the last one and goes.
    drop(Programme::open(&file).unwrap());
    let table = fixture("to-take-in").join("points.csv");
    meanwhile(&file, &["import", table.to_str().unwrap()]);
    let log = PathBuf::from(format!("{}-wal", file.display()));
    assert!(
        log.exists(),
        "the log was taken away under an open connection"
    );
    assert!(kept.changed_elsewhere().unwrap());
    assert_eq!(kept.batches().unwrap().len(), 2);
}
