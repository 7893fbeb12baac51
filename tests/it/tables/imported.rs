//! Tables of all formats taken into a programme.

use std::path::Path;

use fairdraw::intake::SheetKind;
use fairdraw::model::Progress;
use fairdraw::programme::{Error, ImportReport, ImportRequest, Programme};

use crate::support::{self, assert_snapshot};

fn import(request: ImportRequest) -> Result<ImportReport, Error> {
    Programme::in_memory()
        .unwrap()
        .import(&request, &Progress::default())
}

fn sheets(paths: &[&Path]) -> ImportRequest {
    ImportRequest {
        sheets: paths.iter().map(|path| path.to_path_buf()).collect(),
        ..ImportRequest::default()
    }
}

#[test]
fn one_workbook_is_a_whole_programme() {
    for name in ["openpyxl.xlsx", "office.ods", "office.xls"] {
        let path = support::fixture("sheets/others").join(name);
        let report = import(sheets(&[&path])).unwrap();
        let kinds: Vec<SheetKind> = report.sheets.iter().map(|sheet| sheet.kind).collect();
        assert_eq!(
            kinds,
            [SheetKind::Points, SheetKind::Technicians, SheetKind::Draws],
            "{name}"
        );
        let taken: Vec<u64> = report.sheets.iter().map(|sheet| sheet.taken).collect();
        assert_eq!(taken, [2, 2, 5], "{name}");
        assert_eq!(report.first_refusals, [], "{name}");
        assert!(
            report.sheets[2]
                .sheet
                .ends_with(&format!("{name}, sheet draws"))
        );
        let notes = "other sheets of the workbook, whose names say nothing, were not taken: Notes";
        assert!(
            report
                .sheets
                .iter()
                .any(|sheet| sheet.remarks.iter().any(|remark| remark == notes)),
            "{name}"
        );
    }
}

#[test]
fn of_a_folder_tables_of_every_format_are_found() {
    let folder = tempfile::tempdir().unwrap();
    let copy = |from: &str, to: &str| {
        std::fs::copy(
            support::fixture("sheets/others").join(from),
            folder.path().join(to),
        )
        .unwrap();
    };
    copy("office.ods", "programme.ods");
    copy("sqlite-quote.txt", "draws quoted.txt");
    copy("duckdb.csv.gz", "draws 2026.csv.gz");
    copy("pandas-utf-16.tsv", "draws.tsv");
    copy("pandas.xlsx", "Draws March.xlsx");
    // Neither their names nor their sheets say anything, or they say it of rejects.
    copy("openpyxl-grown.xlsx", "bottles.xlsx");
    copy("locked.xlsx", "wages.xlsx");
    copy("sqlite.csv", "draws.rejects.csv");
    copy("sqlite.csv", "history.csv");
    let report = import(sheets(&[folder.path()])).unwrap();
    let lines: Vec<String> = report
        .sheets
        .iter()
        .map(|sheet| {
            format!(
                "{} taken {} unchanged {} changed {} refused {}\n{}",
                sheet.sheet,
                sheet.taken,
                sheet.unchanged,
                sheet.changed,
                sheet.refused_rows,
                sheet.remarks.join("\n")
            )
        })
        .collect();
    let folder = folder.path().to_str().unwrap();
    assert_snapshot(
        "tables",
        "folder",
        &lines.join("\n\n").replace(folder, "[folder]"),
    );
}

#[test]
fn an_error_of_a_workbook_is_refused_by_name_in_a_column_of_texts_too() {
    let folder = tempfile::tempdir().unwrap();
    let points = folder.path().join("points.csv");
    std::fs::write(
        &points,
        "point_id,compartment_id,kind\nP-1,C-1,sump\nP-2,C-1,sump\n",
    )
    .unwrap();
    let people = folder.path().join("technicians.csv");
    std::fs::write(&people, "technician_id\nT-1\nT-2\n").unwrap();
    let draws = folder.path().join("draws.xlsx");
    std::fs::copy(
        support::fixture("sheets/others/xlsxwriter-1904.xlsx"),
        &draws,
    )
    .unwrap();
    let report = import(sheets(&[&points, &people, &draws])).unwrap();
    assert_eq!(report.sheets[2].taken, 6);
    let refusal = &report.first_refusals[0].1;
    assert_eq!(
        (
            refusal.line,
            refusal.column.as_str(),
            refusal.value.as_str()
        ),
        (7, "oil_temp_c", "#N/A")
    );
    assert_eq!(
        refusal.reason,
        "the workbook has the error #N/A here instead of a value; left blank"
    );
}
