//! What is remembered of a programme: found again where the file was moved, never mixed up with
//! another, never an error, and whole however many programs write it.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use fairdraw::model::Progress;
use fairdraw::programme::remembered::memory::{FILE_LIMIT, MOST_LATELY};
use fairdraw::programme::remembered::{Change, Keeper, Layout, NotKept};
use fairdraw::programme::{ImportRequest, Programme};

use crate::cli::runner::command;
use crate::support::fixture;

/// A programme file of this name in a folder, with the small programme taken in.
fn programme(folder: &Path, name: &str) -> PathBuf {
    let file = folder.join(name);
    let mut programme = Programme::open_or_create(&file).unwrap();
    let sheets = ["points.csv", "technicians.csv", "draws.csv"];
    let request = ImportRequest {
        sheets: sheets
            .map(|sheet| fixture("programmes/small").join(sheet))
            .to_vec(),
        ..ImportRequest::default()
    };
    programme.import(&request, &Progress::default()).unwrap();
    file
}

/// The keeper of this file, with memories in this folder.
fn keeper(file: &Path, state: &Path) -> Keeper {
    let programme = Programme::open(file).unwrap();
    let state = state.to_str().unwrap().to_owned();
    Keeper::of(&programme, &|name| {
        (name == "FAIRDRAW_STATE").then(|| state.clone())
    })
}

fn save(name: &str, filter: &str) -> Change {
    Change::Save {
        name: name.to_owned(),
        filter: filter.to_owned(),
        replace: false,
    }
}

/// The one memory in a folder.
fn memory_file(state: &Path) -> PathBuf {
    let files = fs::read_dir(state).unwrap();
    let files = files.map(|entry| entry.unwrap().path());
    let mut files = files.filter(|path| path.extension().is_some_and(|it| it == "json"));
    let file = files.next().unwrap();
    assert_eq!(files.next(), None);
    file
}

fn layout(words: &[(&str, &str)]) -> Layout {
    let words = words.iter();
    words
        .map(|(name, word)| ((*name).to_owned(), (*word).to_owned()))
        .collect()
}

#[test]
fn a_moved_file_is_known_and_another_under_its_path_is_not() {
    let folder = tempfile::tempdir().unwrap();
    let state = folder.path().join("state");
    let file = programme(folder.path(), "north.db");
    let mut first = keeper(&file, &state);
    assert_eq!(first.not_kept(), None);
    first.change(&save("south", "site:South")).unwrap();
    first.leave(
        &layout(&[("screen", "people")]),
        &["crew:A".to_owned(), "crew:B".to_owned()],
    );
    let left = first.memory().clone();
    assert_eq!(left.lately, ["crew:A", "crew:B"]);
    assert!(left.programme.ends_with("north.db"));

    let moved = folder.path().join("moved.db");
    fs::rename(&file, &moved).unwrap();
    assert_eq!(keeper(&moved, &state).memory(), &left);

    // Another programme under the old path; the sheets are others, so is the programme.
    let mut other = Programme::open_or_create(&file).unwrap();
    let request = ImportRequest {
        sheets: vec![fixture("programmes/small").join("points.csv")],
        ..ImportRequest::default()
    };
    other.import(&request, &Progress::default()).unwrap();
    drop(other);
    assert!(keeper(&file, &state).memory().filters.is_empty());
}

#[test]
fn nothing_is_written_beside_or_into_the_programme() {
    let folder = tempfile::tempdir().unwrap();
    let state = tempfile::tempdir().unwrap();
    let file = programme(folder.path(), "north.db");
    let before = fs::read(&file).unwrap();
    let names = || -> BTreeSet<_> {
        let entries = fs::read_dir(folder.path()).unwrap();
        entries.map(|entry| entry.unwrap().file_name()).collect()
    };
    let there = names();
    let mut keeper = keeper(&file, state.path());
    keeper.change(&save("south", "site:South")).unwrap();
    keeper.leave(&layout(&[("screen", "draws")]), &[]);
    assert_eq!(fs::read(&file).unwrap(), before);
    assert_eq!(names(), there);
}

#[test]
fn some_programmes_are_not_remembered_and_it_is_said_why() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(folder.path(), "north.db");
    let not_kept = |programme: &Programme, state: Option<&str>| {
        let state = state.map(str::to_owned);
        let variable = |name: &str| (name == "FAIRDRAW_STATE").then(|| state.clone()).flatten();
        Keeper::of(programme, &variable).not_kept()
    };
    let opened = Programme::open(&file).unwrap();
    assert_eq!(not_kept(&opened, Some("off")), Some(NotKept::Off));
    // Tests and demos lie among temporary files.
    assert_eq!(not_kept(&opened, None), Some(NotKept::Temporary));
    assert_eq!(not_kept(&opened, Some("")), Some(NotKept::Temporary));
    let state = folder.path().to_str().unwrap();
    assert_eq!(not_kept(&opened, Some(state)), None);
    opened.set_clock(1_700_000_000);
    assert_eq!(not_kept(&opened, Some(state)), Some(NotKept::Invented));
    let empty = Programme::open_or_create(&folder.path().join("empty.db")).unwrap();
    assert_eq!(not_kept(&empty, Some(state)), Some(NotKept::Empty));
    // What is saved then lasts as long as the keeper.
    let mut nowhere = Keeper::of(&empty, &|_| Some("off".to_owned()));
    nowhere.change(&save("a", "crew:A")).unwrap();
    assert_eq!(nowhere.memory().filters.len(), 1);
}

#[test]
fn a_memory_that_cannot_be_read_is_passed_over_and_a_newer_one_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(folder.path(), "north.db");
    let state = folder.path().join("state");
    keeper(&file, &state)
        .change(&save("south", "site:South"))
        .unwrap();
    let memory = memory_file(&state);
    let good = fs::read(&memory).unwrap();
    let cut = &good[..good.len() / 2];
    let huge = vec![b' '; FILE_LIMIT as usize + 1];
    let no_text = [0xff, 0xfe, 0x00];
    for bytes in [&b""[..], b"null", b"{\"version\":1", cut, &huge, &no_text] {
        fs::write(&memory, bytes).unwrap();
        let mut found = keeper(&file, &state);
        assert!(found.memory().filters.is_empty());
        assert!(found.memory().layout.is_empty());
        // It is written anew, whole.
        found.change(&save("again", "site:South")).unwrap();
        assert_eq!(keeper(&file, &state).memory().filters.len(), 1);
    }
    let newer = b"{\"version\": 99, \"filters\": {\"a\": [\"crew:A\"]}}";
    fs::write(&memory, newer).unwrap();
    let mut found = keeper(&file, &state);
    assert!(found.memory().filters.is_empty());
    let told = found.change(&save("south", "site:South")).unwrap_err();
    assert!(told.to_string().contains("newer fairdraw"), "{told}");
    found.leave(&layout(&[("screen", "draws")]), &[]);
    assert_eq!(fs::read(&memory).unwrap(), newer);
    // Something that is no file at all.
    fs::remove_file(&memory).unwrap();
    fs::create_dir(&memory).unwrap();
    let mut found = keeper(&file, &state);
    assert!(found.memory().filters.is_empty());
    assert!(found.change(&save("south", "site:South")).is_err());
    found.leave(&layout(&[("screen", "draws")]), &[]);
}

#[test]
fn where_no_folder_can_be_made_it_is_said_when_saving_and_never_when_leaving() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(folder.path(), "north.db");
    let in_the_way = folder.path().join("state");
    fs::write(&in_the_way, "no folder").unwrap();
    let mut found = keeper(&file, &in_the_way);
    found.leave(&layout(&[("screen", "draws")]), &[]);
    let told = found.change(&save("south", "site:South")).unwrap_err();
    assert!(told.to_string().contains("can't be written"), "{told}");
    assert_eq!(fs::read(&in_the_way).unwrap(), b"no folder");
}

#[test]
fn what_another_sitting_saved_meanwhile_stays() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(folder.path(), "north.db");
    let state = folder.path().join("state");
    let mut one = keeper(&file, &state);
    let mut other = keeper(&file, &state);
    one.change(&save("south", "site:South")).unwrap();
    other.change(&save("north", "site:North")).unwrap();
    let names: Vec<&str> = other
        .memory()
        .filters
        .iter()
        .map(|saved| saved.name.as_str())
        .collect();
    assert_eq!(names, ["north", "south"]);
    // The name was taken meanwhile.
    let told = one.change(&save("north", "site:South")).unwrap_err();
    assert!(told.to_string().contains("site:North"), "{told}");
    one.leave(&layout(&[("screen", "draws")]), &["crew:A".to_owned()]);
    other.leave(&layout(&[("screen", "people")]), &["crew:B".to_owned()]);
    let last = keeper(&file, &state);
    assert_eq!(last.memory().lately, ["crew:A", "crew:B"]);
    assert_eq!(last.memory().layout["screen"], "people");
    assert_eq!(last.memory().filters.len(), 2);
}

#[test]
fn many_processes_at_once_lose_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(folder.path(), "programme.db");
    let state = folder.path().join("state");
    let children: Vec<_> = (0..12)
        .map(|number| {
            let name = format!("filter {number}");
            command(folder.path(), &["filters", "save", &name, "site:South"])
                .env("FAIRDRAW_STATE", &state)
                .stderr(std::process::Stdio::null())
                .spawn()
                .unwrap()
        })
        .collect();
    for mut child in children {
        assert!(child.wait().unwrap().success());
    }
    assert_eq!(keeper(&file, &state).memory().filters.len(), 12);
    let left = fs::read_dir(&state).unwrap().count();
    assert_eq!(left, 2, "the memory and its lock");
}

#[test]
fn filters_of_lately_are_kept_in_bounds() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(folder.path(), "north.db");
    let state = folder.path().join("state");
    let mut found = keeper(&file, &state);
    let used: Vec<String> = (0..MOST_LATELY + 30)
        .map(|at| format!("crew:{at}"))
        .collect();
    found.leave(&Layout::new(), &used);
    let lately = &keeper(&file, &state).memory().lately.clone();
    assert_eq!(lately.as_slice(), &used[30..]);
}
