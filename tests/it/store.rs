//! The programme file: opened, shared, refused, judged in parts as in whole.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use fairdraw::demo;
use fairdraw::model::trail::Who;
use fairdraw::model::{Judged, Progress};
use fairdraw::programme::{Error, ImportReport, ImportRequest, Programme};
use fairdraw::rules::Rulebook;
use fairdraw::store::{self, Store};
use proptest::prelude::*;
use tempfile::TempDir;

use crate::support::assert_snapshot;

const POINTS: &str = "point_id,compartment_id,kind\nP-1,C-1,circulating\n";
const TECHNICIANS: &str = "technician_id\nT-1\n";
const DRAWS: &str = "draw_id,point_id,technician_id,drawn_at\nD-1,P-1,T-1,2026-03-04T09:30Z\n";

fn take(file: &Path, sheets: &Path, progress: &Progress) -> Result<ImportReport, Error> {
    let request = ImportRequest {
        sheets: vec![sheets.to_owned()],
        ..ImportRequest::default()
    };
    Programme::open_or_create(file)?.import(&request, progress)
}

/// A folder with a programme of one draw.
fn small() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("p.db");
    for (name, text) in [
        ("points", POINTS),
        ("technicians", TECHNICIANS),
        ("draws", DRAWS),
    ] {
        let sheet = folder.path().join(format!("{name}.csv"));
        fs::write(&sheet, text).unwrap();
        take(&file, &sheet, &Progress::default()).unwrap();
    }
    (folder, file)
}

fn judged(file: &Path) -> Judged {
    let mut programme = Programme::open(file).unwrap();
    programme.assess(&Progress::default()).unwrap().judged
}

/// The sheets of an invented programme and what it becomes.
fn invented(draws: u64) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let sheets = folder.path().join("sheets");
    let size = demo::Size {
        draws,
        points: 40,
        technicians: 8,
        ..demo::Size::default()
    };
    demo::write(&sheets, &size, &Progress::default()).unwrap();
    let file = folder.path().join("p.db");
    take(&file, &sheets, &Progress::default()).unwrap();
    (folder, file)
}

#[test]
fn a_programme_is_judged_when_it_is_made_and_only_read_when_it_is_opened() {
    let (folder, file) = invented(600);
    let again = take(&file, &folder.path().join("sheets"), &Progress::default()).unwrap();
    assert_eq!((again.judged, again.sheets[3].changed), (0, 0));
    assert_eq!(again.verdicts.total(), judged(&file).len() as u64);
    let programme = Programme::open(&file).unwrap();
    assert_eq!(programme.check().unwrap(), Vec::<String>::new());
    assert_eq!(programme.zone().unwrap().name(), "UTC");
}

#[test]
fn an_opened_draw_says_what_its_verdict_says() {
    let (_folder, file) = invented(600);
    let mut programme = Programme::open(&file).unwrap();
    let assessed = programme.assess(&Progress::default()).unwrap();
    let all: Vec<u32> = (0..assessed.judged.len() as u32).collect();
    let mut rows = 0;
    programme
        .explain_each(&assessed, &all, &Progress::default(), &mut |piece| {
            for (named, explained) in piece {
                assert_eq!(named.row, rows);
                assert_eq!(explained.verdict, assessed.judged.verdict[rows]);
                rows += 1;
            }
            Ok(())
        })
        .unwrap();
    assert_eq!(rows, all.len());
    for row in (0..all.len()).step_by(17) {
        let opened = programme.open_draw(&assessed, row).unwrap();
        for (rule, answer) in opened.explained.answers.iter().enumerate() {
            assert_eq!(
                answer.outcome,
                assessed.judged.outcome(row, rule),
                "row {row}, rule {rule}"
            );
        }
        assert!(opened.strip.len() <= 12);
        assert!(opened.strip.iter().any(|(shown, _)| *shown as usize == row));
        assert!(opened.strip.is_sorted_by_key(|(shown, _)| *shown));
        let part = [row as u32];
        programme
            .explain_each(
                &assessed,
                &part.to_vec(),
                &Progress::default(),
                &mut |piece| {
                    assert_eq!(piece.len(), 1);
                    let (named, explained) = &piece[0];
                    assert_eq!(explained.verdict, opened.explained.verdict);
                    assert_eq!(explained.answers, opened.explained.answers);
                    assert_eq!(named.identity(&assessed), opened.record.identity());
                    Ok(())
                },
            )
            .unwrap();
    }
}

#[test]
fn listed_draws_bear_their_own_names_in_whatever_order_they_are_asked_for() {
    let (_folder, file) = invented(600);
    let mut programme = Programme::open(&file).unwrap();
    let assessed = programme.assess(&Progress::default()).unwrap();
    let count = assessed.judged.len() as u32;
    // All of them, few that lie far apart, backwards, none.
    let selections: [Vec<u32>; 4] = [
        (0..count).collect(),
        (0..count).step_by(97).collect(),
        (0..count).rev().step_by(3).collect(),
        Vec::new(),
    ];
    for selection in selections {
        let mut listed = Vec::new();
        programme
            .name_each(&assessed, &selection, &Progress::default(), &mut |piece| {
                listed.extend(piece.iter().map(|named| {
                    let bottle_id = named.bottle_id.to_owned();
                    (named.row as u32, named.identity(&assessed), bottle_id)
                }));
                Ok(())
            })
            .unwrap();
        let record = |row: &u32| assessed.judged.record[*row as usize];
        let records: Vec<u32> = selection.iter().map(record).collect();
        let records = programme.records(&records).unwrap();
        let expected: Vec<_> = selection
            .iter()
            .zip(records)
            .map(|(row, draw)| (*row, draw.identity(), draw.bottle_id))
            .collect();
        assert_eq!(listed, expected);
    }
}

#[test]
fn a_stopped_import_leaves_the_programme_as_it_was() {
    let (folder, file) = small();
    let before = fs::read(&file).unwrap();
    let sheet = folder.path().join("draws.csv");
    fs::write(&sheet, DRAWS.replace("D-1", "D-2")).unwrap();
    let progress = Progress::default();
    progress.stop();
    let stopped = take(&file, &sheet, &progress);
    assert!(matches!(stopped, Err(Error::Stopped)));
    assert_eq!(judged(&file).len(), 1);
    assert_eq!(fs::read(&file).unwrap(), before);
    let left: Vec<_> = fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.contains("rejects") || name.starts_with(".tmp"))
        .collect();
    assert_eq!(left, Vec::<String>::new());
}

#[test]
fn an_import_that_was_cut_off_leaves_the_programme_as_it_was() {
    let (folder, file) = small();
    // What a killed process leaves behind: the file and its log, with half an import.
    let cut = folder.path().join("cut.db");
    {
        let store = Store::open(&file).unwrap();
        let transaction = store.begin().unwrap();
        transaction.pragma_update(None, "cache_size", 1).unwrap();
        for number in 0..2000 {
            transaction
                .execute(
                    "INSERT INTO imports (taken_at, program, zone) VALUES (?, 'x', ?)",
                    (number, "x".repeat(100)),
                )
                .unwrap();
        }
        for end in ["", "-wal"] {
            let name = |path: &Path| PathBuf::from(format!("{}{end}", path.display()));
            fs::copy(name(&file), name(&cut)).unwrap();
        }
        assert!(
            fs::metadata(folder.path().join("cut.db-wal"))
                .unwrap()
                .len()
                > 100_000
        );
    }
    let programme = Programme::open(&cut).unwrap();
    assert_eq!(programme.check().unwrap(), Vec::<String>::new());
    assert_eq!(programme.imports().unwrap().len(), 3);
}

#[test]
fn files_that_cannot_be_opened_say_what_to_do() {
    let (folder, file) = small();
    let path = |name: &str| folder.path().join(name);
    let mut texts = Vec::new();
    let mut say = |result: Result<Programme, Error>| {
        texts.push(result.map(|_| ()).unwrap_err().to_string());
    };
    say(Programme::open(&path("none.db")));
    say(Programme::open(folder.path()));
    fs::write(path("text.db"), "point_id,compartment_id\n").unwrap();
    say(Programme::open(&path("text.db")));
    fs::write(path("empty.db"), "").unwrap();
    say(Programme::open(&path("empty.db")));
    say(Programme::open_or_create(&path("no/such/folder/p.db")));

    let whole = fs::read(&file).unwrap();
    fs::write(path("half.db"), &whole[..whole.len() / 2]).unwrap();
    say(Programme::open(&path("half.db")));

    let other = rusqlite::Connection::open(path("other.db")).unwrap();
    other.execute_batch("CREATE TABLE t (x)").unwrap();
    say(Programme::open(&path("other.db")));

    fs::copy(&file, path("newer.db")).unwrap();
    let newer = rusqlite::Connection::open(path("newer.db")).unwrap();
    newer.pragma_update(None, "user_version", 99).unwrap();
    drop(newer);
    say(Programme::open(&path("newer.db")));

    fs::copy(&file, path("locked.db")).unwrap();
    let holder = Store::open(&path("locked.db")).unwrap();
    let held = holder.begin().unwrap();
    let second = Store::open_waiting(&path("locked.db"), Duration::from_millis(50)).unwrap();
    texts.push(second.begin().map(|_| ()).unwrap_err().to_string());
    drop(held);

    let text = texts
        .join("\n")
        .replace(folder.path().to_str().unwrap(), "[folder]")
        .replace(&whole.len().to_string(), "[whole]")
        .replace(&(whole.len() / 2).to_string(), "[half]");
    assert_snapshot("errors", "store", &text);
}

#[cfg(unix)]
#[test]
fn a_file_or_folder_that_is_read_only_opens_read_only() {
    use std::os::unix::fs::PermissionsExt;
    let allow = |path: &Path, mode: u32| {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    };
    let (folder, file) = small();
    allow(&file, 0o444);
    let mut programme = Programme::open(&file).unwrap();
    assert!(programme.is_read_only());
    assert_eq!(
        programme.assess(&Progress::default()).unwrap().judged.len(),
        1
    );
    let sheet = folder.path().join("draws.csv");
    let refused = take(&file, &sheet, &Progress::default()).unwrap_err();
    assert!(
        matches!(refused, Error::Store(store::Error::ReadOnly { .. })),
        "{refused}"
    );
    drop(programme);
    allow(&file, 0o644);

    // In a folder that can't be written to, a write-ahead log can't be opened the usual way.
    let inner = folder.path().join("read only?#%");
    fs::create_dir(&inner).unwrap();
    let copy = inner.join("p.db");
    fs::copy(&file, &copy).unwrap();
    allow(&inner, 0o555);
    let mut programme = Programme::open(&copy).unwrap();
    assert!(programme.is_read_only());
    assert_eq!(
        programme.assess(&Progress::default()).unwrap().judged.len(),
        1
    );
    assert_eq!(programme.check().unwrap(), Vec::<String>::new());
    assert_eq!(fs::read_dir(&inner).unwrap().count(), 1);
    allow(&inner, 0o755);
}

#[test]
fn two_may_have_it_open_and_see_what_the_other_did() {
    let (folder, file) = small();
    let mut reader = Programme::open(&file).unwrap();
    reader.assess(&Progress::default()).unwrap();
    assert!(!reader.changed_elsewhere().unwrap());
    let sheet = folder.path().join("draws.csv");
    fs::write(&sheet, DRAWS.replace("D-1", "D-2")).unwrap();
    take(&file, &sheet, &Progress::default()).unwrap();
    assert!(reader.changed_elsewhere().unwrap());
    assert_eq!(reader.assess(&Progress::default()).unwrap().judged.len(), 2);
    assert!(!reader.changed_elsewhere().unwrap());
}

#[test]
fn a_changed_rulebook_judges_anew_what_stands_under_it() {
    let (_folder, file) = invented(600);
    let mut programme = Programme::open(&file).unwrap();
    let standard = programme.assess(&Progress::default()).unwrap();
    let site = standard.points[0].site.clone().unwrap();
    let yaml = format!(
        "fairdraw_rulebook: 1\nname: ours\nrevision: \"2\"\noverrides:\n  \
         - where: {{site: [\"{site}\"]}}\n    rules:\n      fill-level: {{weight: 90}}\n"
    );
    let book = Rulebook::from_yaml(&yaml, "ours.yaml")
        .unwrap_or_else(|problems| panic!("{}", problems[0]));
    let who = Who::named("Ada").unwrap();
    programme.adopt_rulebook(&who, &yaml, &book).unwrap();
    let changed = programme.assess(&Progress::default()).unwrap();
    assert_ne!(changed.judged.verdict, standard.judged.verdict);
    for row in 0..changed.judged.len() {
        let point = &changed.points[changed.judged.point[row] as usize];
        if point.site.as_deref() != Some(&site) {
            assert_eq!(changed.judged.verdict[row], standard.judged.verdict[row]);
        }
    }
    assert_eq!(programme.check().unwrap(), Vec::<String>::new());
}

#[test]
fn a_draw_more_judges_its_compartment_and_no_other() {
    let (folder, file) = invented(600);
    let mut programme = Programme::open(&file).unwrap();
    let assessed = programme.assess(&Progress::default()).unwrap();
    let total = assessed.judged.len() as u64;
    let record = &programme.records(&assessed.judged.record[..1]).unwrap()[0];
    let sheet = folder.path().join("draws.csv");
    let head = "draw_id,bottle_id,point_id,technician_id,drawn_at\n";
    let (point, technician) = (&record.point_id, &record.technician_id);
    let row = format!(
        "new,{},{point},{technician},2026-03-04T09:30Z\n",
        record.bottle_id
    );
    fs::write(&sheet, format!("{head}{row}")).unwrap();
    let report = take(&file, &sheet, &Progress::default()).unwrap();
    assert_eq!(report.sheets[0].taken, 1);
    assert!(
        (2..total / 4).contains(&report.judged),
        "{} of {total}",
        report.judged
    );
    assert_eq!(report.verdicts.total(), total + 1);
    assert_eq!(programme.check().unwrap(), Vec::<String>::new());
}

/// One row of a small sheet of draws, so small that points, bottles, pairs and times often
/// coincide.
fn row() -> impl Strategy<Value = String> {
    (
        (0..60_u8, 0..8_u8, 0..30_u8, 0..9_u8),
        prop_oneof!["", "cloudy", "metal"],
        (0..3_u8, 0..30_u8, 0..3_u8),
        prop_oneof!["", "2"],
    )
        .prop_map(
            |((draw, point, bottle, hour), looks, (set, pair, hours), fill_no)| {
                let id = |prefix: &str, number: u8| match number {
                    0 => String::new(),
                    number => format!("{prefix}{number}"),
                };
                format!(
                    "{},{},P-{point},T-1,2026-03-04T0{hour}:00Z,{looks},{},{},{fill_no},{}\n",
                    id("D-", draw),
                    id("B-", bottle),
                    id("S-", set),
                    id("B-", pair),
                    id("1", hours),
                )
            },
        )
}

fn points() -> impl Strategy<Value = String> {
    prop::collection::vec((0..6_u8, 0..4_usize, any::<bool>()), 8).prop_map(|points| {
        let kinds = ["circulating", "sump", "tank", "grease"];
        let mut text = "point_id,compartment_id,kind,agreed,place,interval_h\n".to_owned();
        for (number, (compartment, kind, agreed)) in points.into_iter().enumerate() {
            let kind = kinds[kind];
            text += &format!("P-{number},C-{compartment},{kind},{agreed},tank-upper,9\n");
        }
        text
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Sheets taken in one after the other, each judged in part, give what judging the
    /// whole gives.
    #[test]
    fn judging_in_parts_is_judging_the_whole(
        first in (points(), prop::collection::vec(row(), 20..60)),
        then in prop::collection::vec((points(), prop::collection::vec(row(), 1..4), prop::bool::weighted(0.2)), 1..5),
    ) {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("p.db");
        let take_text = |name: &str, text: &str| {
            let sheet = folder.path().join(name);
            fs::write(&sheet, text).unwrap();
            take(&file, &sheet, &Progress::default()).unwrap();
        };
        take_text("technicians.csv", TECHNICIANS);
        take_text("points.csv", &first.0);
        let head = "draw_id,bottle_id,point_id,technician_id,drawn_at,looks,set_id,pair_of,fill_no,machine_hours\n";
        take_text("draws.csv", &format!("{head}{}", first.1.concat()));
        for (points, rows, with_points) in &then {
            if *with_points {
                take_text("points.csv", points);
            }
            take_text("draws.csv", &format!("{head}{}", rows.concat()));
            prop_assert_eq!(Programme::open(&file).unwrap().check().unwrap(), Vec::<String>::new());
        }
    }
}
