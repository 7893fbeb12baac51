//! The four sheets as they ship.

use std::fs;

use fairdraw::demo::{self, Size};
use fairdraw::intake::{Draws, Known, Opened, ReadAs, Sheet, SheetKind, draws, people, points};
use fairdraw::model::{Progress, printable, time};
use fairdraw::rules::place_of;

use super::{records, shipped};

/// The four sheets.
const SHEETS: [&str; 4] = [
    "points.csv",
    "technicians.csv",
    "trainings.csv",
    "draws.csv",
];

/// With `FAIRDRAW_WRITE_DEMO=1` set, the test writes the files anew instead.
#[test]
fn the_shipped_sheets_are_what_the_generator_writes_byte_for_byte() {
    let folder = tempfile::tempdir().unwrap();
    let to = if std::env::var_os("FAIRDRAW_WRITE_DEMO").is_some() {
        shipped()
    } else {
        folder.path().to_owned()
    };
    let written = demo::write(&to, &Size::default(), &Progress::default()).unwrap();
    assert_eq!((written.points, written.technicians), (220, 30));
    for sheet in SHEETS {
        let bytes = fs::read(to.join(sheet)).unwrap();
        assert!(
            bytes == fs::read(shipped().join(sheet)).unwrap(),
            "{sheet} differs; run this test with FAIRDRAW_WRITE_DEMO=1 and read the change"
        );
        let lines = bytes.iter().filter(|byte| **byte == b'\n').count() as u64;
        let rows = match sheet {
            "points.csv" => written.points,
            "technicians.csv" => written.technicians,
            "trainings.csv" => written.trainings,
            _ => written.draws,
        };
        assert_eq!(lines, rows + 1, "{sheet}");
    }
}

fn open(kind: SheetKind, name: &str) -> Box<Sheet> {
    match Sheet::open(&shipped().join(name), kind, &ReadAs::default(), None).unwrap() {
        Opened::Ready(sheet) => {
            assert!(sheet.unknown_columns().is_empty(), "{name}");
            sheet
        }
        Opened::Refused(refusal, _) => panic!("{name}: {refusal:?}"),
    }
}

#[test]
fn the_sheets_are_taken_in_without_a_refusal_and_as_they_were_made() {
    let (invented, made) = records(&Size::default());
    let mut refusals = Vec::new();

    let mut sheet = open(SheetKind::Points, "points.csv");
    let mut known_points = Vec::new();
    while let Some((_, kept)) = points::next(&mut sheet, &mut refusals).unwrap() {
        known_points.push(kept.row);
    }
    assert_eq!(known_points, invented.plant.points);

    let mut sheet = open(SheetKind::Technicians, "technicians.csv");
    let mut technicians = Vec::new();
    while let Some((_, kept)) = people::next_technician(&mut sheet, &mut refusals).unwrap() {
        technicians.push(kept.row);
    }
    assert_eq!(technicians, invented.people.technicians);

    let mut sheet = open(SheetKind::Trainings, "trainings.csv");
    let mut trainings = Vec::new();
    let known = |id: &str| technicians.iter().any(|technician| technician.id == id);
    let topic = |id: &str| place_of(id).is_some();
    while let Some((_, kept)) =
        people::next_training(&mut sheet, &known, &topic, &mut refusals).unwrap()
    {
        trainings.push(kept.row);
    }
    assert_eq!(trainings, invented.people.trainings);

    let points = (0..)
        .zip(&known_points)
        .map(|(n, p)| (p.id.clone(), n))
        .collect();
    let technicians = (0..)
        .zip(&technicians)
        .map(|(n, t)| (t.id.clone(), n))
        .collect();
    let known = Known {
        points: &points,
        technicians: &technicians,
    };
    // Every time carries its offset, so the zone of the import changes nothing.
    let mut sheet = Draws::new(
        open(SheetKind::Draws, "draws.csv"),
        time::zone("Asia/Tokyo").unwrap(),
    );
    let mut record = draws::blank_record();
    for expected in &made {
        let line = sheet.next(known, &mut record, &mut refusals).unwrap();
        assert!(line.is_some());
        assert_eq!(record, *expected, "line {line:?}");
    }
    assert_eq!(sheet.next(known, &mut record, &mut refusals).unwrap(), None);
    assert!(refusals.is_empty(), "{refusals:?}");
    assert!(sheet.notes.remarks().is_empty());
}

#[test]
fn the_sheets_are_modest_and_their_text_is_harmless_and_not_only_ascii() {
    let mut bytes = 0;
    let mut beyond_ascii = 0;
    for sheet in SHEETS {
        let text = fs::read_to_string(shipped().join(sheet)).unwrap();
        bytes += text.len();
        beyond_ascii += text.chars().filter(|c| !c.is_ascii()).count();
        for line in text.lines() {
            assert_eq!(printable::printable(line), line, "{sheet}");
            assert!(
                line.split(',')
                    .all(|cell| !cell.starts_with(['=', '+', '-', '@']))
            );
        }
    }
    assert!(bytes < 1_500_000, "{bytes} bytes");
    assert!(beyond_ascii > 50);
}

#[test]
fn a_stop_is_heeded() {
    let folder = tempfile::tempdir().unwrap();
    let progress = Progress::default();
    progress.stop();
    let error = demo::write(folder.path(), &Size::default(), &progress).unwrap_err();
    assert_eq!(error.kind(), std::io::ErrorKind::Interrupted);
}
