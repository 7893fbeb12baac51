//! A sheet of any bytes, of every kind, taken into a programme that knows a point and a
//! technician: it may be refused, but nothing may panic and nothing half taken may stand.
#![no_main]

use std::cell::RefCell;
use std::fs;
use std::path::PathBuf;

use fairdraw::model::Progress;
use fairdraw::programme::{ImportRequest, Programme, SheetKind};
use libfuzzer_sys::fuzz_target;

struct Desk {
    folder: tempfile::TempDir,
    programme: Programme,
}

thread_local! {
    static DESK: RefCell<Desk> = RefCell::new(desk());
}

fn desk() -> Desk {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut programme = Programme::in_memory().expect("memory");
    let sheets: Vec<PathBuf> = [
        ("points.csv", "point_id,compartment_id,kind\nP-1,C-1,circulating\n"),
        ("technicians.csv", "technician_id\nT-1\n"),
    ]
    .iter()
    .map(|(name, text)| {
        let path = folder.path().join(name);
        fs::write(&path, text).expect("room for a sheet");
        path
    })
    .collect();
    let request = ImportRequest {
        sheets,
        ..ImportRequest::default()
    };
    programme
        .import(&request, &Progress::default())
        .expect("sound sheets");
    Desk { folder, programme }
}

const KINDS: [SheetKind; 4] = [
    SheetKind::Points,
    SheetKind::Technicians,
    SheetKind::Trainings,
    SheetKind::Draws,
];

fuzz_target!(|data: &[u8]| {
    let Some((first, bytes)) = data.split_first() else {
        return;
    };
    DESK.with_borrow_mut(|desk| {
        let path = desk.folder.path().join("sheet.csv");
        fs::write(&path, bytes).expect("room for a sheet");
        let request = ImportRequest {
            sheets: vec![path],
            kind: Some(KINDS[usize::from(*first) % KINDS.len()]),
            dry_run: true,
            ..ImportRequest::default()
        };
        // What can't be read is an error with a message.
        if let Err(error) = desk.programme.import(&request, &Progress::default()) {
            assert!(!error.to_string().is_empty());
        }
        assert_eq!(desk.programme.imports().expect("the ledger").len(), 1);
    });
});
