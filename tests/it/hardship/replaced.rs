//! The programme file replaced, deleted, cut off or written over while it is open.

use std::fs;

use super::{meanwhile, open};
use crate::terminal::{programme, told};

#[test]
fn another_file_in_its_place_is_noticed_read_on_demand_and_never_mixed_up() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    let other = folder.path().join("other.db");
    fs::copy(&file, &other).unwrap();
    // What is written to the file that is open stands in the log beside it.
    let mut journey = open(&file);
    let reason = ["--because", "to tell them apart", "--as", "Bo Tarn"];
    let set = |at: &std::path::Path, draw: &str| {
        meanwhile(at, &[&["set-aside", draw][..], &reason].concat());
    };
    let draws = told(&folder, &["score"]);
    let id = |at: usize| draws[at]["draw_id"].as_str().unwrap().to_owned();
    set(&other, &id(0));
    set(&file, &id(1));
    journey.until("changed elsewhere");
    // A decision under way when the file is replaced is refused, and the form stays.
    journey.press("8").until("to sample again");
    journey.press("a").until("Nobody is to act on");
    fs::rename(&other, &file).unwrap();
    journey.press("tap was dirty\r").until_said("was replaced");
    journey.press("\x1b").until("Esc again leaves it");
    journey.press("\x1b");
    journey.until_said("Another file stands in its place");
    journey.press("a").until_said("No decisions until then");
    assert!(!journey.text().contains("Nobody is to act on"));
    journey.press("r").until("was read again");
    journey.until("compartments to sample again");
    journey.press("a").until("Nobody is to act on");
    journey.press("tap was dirty\r").until("is set aside.");
    journey.press("q");
    assert_eq!(journey.end(), 0);
    // In the new file stand its own decisions and the last one, and it is sound.
    let set = told(&folder, &["set-aside", "--list"]);
    let reasons: Vec<_> = set
        .as_array()
        .unwrap()
        .iter()
        .map(|it| it["because"].clone())
        .collect();
    assert_eq!(reasons, ["to tell them apart", "tap was dirty"], "{set}");
    assert!(set.to_string().contains(&id(0)) && !set.to_string().contains(&id(1)));
    meanwhile(&file, &["check"]);
}

#[test]
fn a_file_that_is_deleted_and_put_back_is_told_and_read_again() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    let copy = folder.path().join("copy.db");
    fs::copy(&file, &copy).unwrap();
    let mut journey = open(&file);
    fs::remove_file(&file).unwrap();
    journey.until_said("moved or deleted");
    journey.press("r").until_said("no programme file");
    journey.press("2").until("drawn▼");
    fs::rename(&copy, &file).unwrap();
    journey.press("r").until("was read again");
    journey.press("q");
    assert_eq!(journey.end(), 0);
}

#[test]
fn a_file_cut_off_or_of_another_kind_is_told_and_never_opened() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    let (copy, again) = (
        folder.path().join("copy.db"),
        folder.path().join("again.db"),
    );
    fs::copy(&file, &copy).unwrap();
    fs::copy(&file, &again).unwrap();
    let mut journey = open(&file);
    fs::OpenOptions::new()
        .write(true)
        .open(&file)
        .unwrap()
        .set_len(4096)
        .unwrap();
    journey.until_said("cut off or written over");
    journey.press("r").until_said("is damaged");
    fs::rename(&copy, &file).unwrap();
    journey.press("r").until("was read again");
    let note = folder.path().join("note");
    fs::write(&note, "no programme\n").unwrap();
    fs::rename(&note, &file).unwrap();
    journey.until_said("Another file stands in its place");
    journey.press("r").until_said("is not a programme file");
    journey.press("3").until("no verdict on a person");
    fs::rename(&again, &file).unwrap();
    journey.press("r").until("was read again");
    journey.press("q");
    assert_eq!(journey.end(), 0);
}
