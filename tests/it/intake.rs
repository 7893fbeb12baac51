//! Sheets taken in: what is taken, refused, remarked, and what the rejects sheet says.
//! What is right stands in the scoring contract, section 1.

use std::fs;
use std::path::PathBuf;

use fairdraw::intake::SheetKind;
use fairdraw::model::time::{utc_text, zone};
use fairdraw::model::{DrawRecord, Progress};
use fairdraw::programme::{Error, ImportReport, ImportRequest, Programme};
use proptest::prelude::*;
use tempfile::TempDir;

use crate::support::assert_snapshot;

const POINTS: &str = "point_id,compartment_id,kind\nP-1,C-1,circulating\nP-2,C-1,sump\n";
const TECHNICIANS: &str = "technician_id,crew\nT-1,North\nT-2,South\n";
const HEAD: &str = "draw_id,point_id,technician_id,drawn_at";

/// A folder with sheets and a programme.
struct Bench {
    folder: TempDir,
    zone: Option<&'static str>,
}

impl Bench {
    fn new() -> Self {
        Bench {
            folder: tempfile::tempdir().unwrap(),
            zone: None,
        }
    }

    /// With points and technicians to draw at.
    fn with_lists() -> Self {
        let bench = Bench::new();
        bench.take("points.csv", POINTS);
        bench.take("technicians.csv", TECHNICIANS);
        bench
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn programme(&self) -> Programme {
        Programme::open_or_create(&self.path("p.db")).unwrap()
    }

    fn write(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, bytes).unwrap();
        path
    }

    fn request(&self, sheets: Vec<PathBuf>) -> ImportRequest {
        ImportRequest {
            sheets,
            zone: self.zone.map(|name| zone(name).unwrap()),
            ..ImportRequest::default()
        }
    }

    fn try_take(&self, name: &str, bytes: impl AsRef<[u8]>) -> Result<ImportReport, Error> {
        let request = self.request(vec![self.write(name, bytes)]);
        self.programme().import(&request, &Progress::default())
    }

    fn take(&self, name: &str, bytes: impl AsRef<[u8]>) -> ImportReport {
        self.try_take(name, bytes).unwrap()
    }

    fn records(&self) -> Vec<DrawRecord> {
        let mut programme = self.programme();
        let assessed = programme.assess(&Progress::default()).unwrap();
        programme.records(&assessed.judged.record).unwrap()
    }

    fn rejects(&self) -> String {
        fs::read_to_string(self.path("p.rejects.csv"))
            .unwrap()
            .replace(self.folder.path().to_str().unwrap(), "[folder]")
    }
}

/// Taken, unchanged, changed, refused rows, refused values of the only sheet.
fn counts(report: &ImportReport) -> [u64; 5] {
    let sheet = &report.sheets[0];
    [
        sheet.taken,
        sheet.unchanged,
        sheet.changed,
        sheet.refused_rows,
        sheet.refused_values,
    ]
}

/// The first refusal as `line column reason`.
fn first(report: &ImportReport) -> String {
    let (_, refusal) = &report.first_refusals[0];
    format!("{} {} {}", refusal.line, refusal.column, refusal.reason)
}

#[test]
fn tables_of_a_folder_whose_names_say_nothing_are_named() {
    let bench = Bench::new();
    for (name, rows) in [
        ("in/points.csv", POINTS),
        ("in/technicians.csv", TECHNICIANS),
        ("in/harbour log 2026.csv", "Sample,Place\nS-1,P-1\n"),
        ("in/p.rejects.csv", "draw_id\n"),
        ("in/read me.pdf", "nothing"),
    ] {
        bench.write(name, rows);
    }
    let request = bench.request(vec![bench.path("in")]);
    let mut programme = bench.programme();
    let report = programme.import(&request, &Progress::default()).unwrap();
    assert_eq!(report.sheets.len(), 2);
    assert_eq!(report.left_aside, [bench.path("in/harbour log 2026.csv")]);
    let alone = bench.request(vec![bench.path("in/points.csv")]);
    let report = programme.import(&alone, &Progress::default()).unwrap();
    assert!(report.left_aside.is_empty());
}

#[test]
fn a_whole_folder_is_taken_in_whatever_the_order_of_its_sheets() {
    let bench = Bench::new();
    bench.write("in/points.csv", POINTS);
    bench.write("in/technicians.csv", TECHNICIANS);
    bench.write(
        "in/trainings.csv",
        "technician_id,topic,held_on\nT-1,flush-met,2026-03-04\n",
    );
    bench.write(
        "in/draws 2026.csv",
        format!("{HEAD}\nD-1,P-1,T-1,2026-03-04T09:30Z\n"),
    );
    bench.write("in/notes.txt", "nothing");
    let draws = bench.path("in/draws 2026.csv");
    let points = bench.path("in/points.csv");
    let people = bench.path("in/technicians.csv");
    let request = bench.request(vec![draws, people, points]);
    let report = bench
        .programme()
        .import(&request, &Progress::default())
        .unwrap();
    let kinds: Vec<SheetKind> = report.sheets.iter().map(|sheet| sheet.kind).collect();
    assert_eq!(
        kinds,
        [SheetKind::Points, SheetKind::Technicians, SheetKind::Draws]
    );
    assert_eq!(report.sheets[2].taken, 1);
    let again = bench
        .programme()
        .import(&bench.request(vec![bench.path("in")]), &Progress::default())
        .unwrap();
    assert_eq!(again.sheets.len(), 4);
    assert_eq!(again.sheets[3].unchanged, 1);
    assert_eq!(again.judged, 0);
}

#[test]
fn the_same_sheet_twice_changes_nothing_but_the_list_of_imports() {
    let bench = Bench::with_lists();
    let sheet =
        format!("{HEAD},remarks\nD-1,P-1,T-1,2026-03-04T09:30Z,a\n,P-2,T-1,2026-03-04T09:31Z,b\n");
    assert_eq!(counts(&bench.take("draws.csv", &sheet)), [2, 0, 0, 0, 0]);
    let before = bench.records();
    assert_eq!(counts(&bench.take("draws.csv", &sheet)), [0, 2, 0, 0, 0]);
    assert_eq!(bench.records(), before);
    assert_eq!(counts(&bench.take("points.csv", POINTS)), [0, 2, 0, 0, 0]);
    assert_eq!(bench.programme().imports().unwrap().len(), 5);
}

#[test]
fn the_order_of_columns_and_the_case_of_words_are_free() {
    let bench = Bench::with_lists();
    bench.take(
        "draws.csv",
        "drawn_at, LOOKS ,technician_id,point_id,tube_new,method,draw_id\n\
         2026-03-04 09:30, Cloudy;WATER ,T-1,P-1,Y,Tube-Pump, D-1 \n",
    );
    let draw = &bench.records()[0];
    assert_eq!(draw.draw_id, "D-1");
    assert_eq!(draw.facts.looks.to_string(), "cloudy;water");
    assert_eq!(draw.facts.tube_new, Some(true));
    assert_eq!(
        draw.facts.method.map(|word| word.as_str()),
        Some("tube-pump")
    );
}

#[test]
fn a_changed_row_supersedes_and_the_old_one_stays_in_the_history() {
    let bench = Bench::with_lists();
    let row = |fill: &str| format!("{HEAD},fill_pct\nD-1,P-1,T-1,2026-03-04T09:30Z,{fill}\n");
    bench.take("draws.csv", row("60"));
    assert_eq!(counts(&bench.take("draws.csv", row("90"))), [0, 0, 1, 0, 0]);
    let records = bench.records();
    assert_eq!(records.len(), 1);
    assert_eq!(records[0].facts.fill_pct.get(), Some(90.0));
    let earlier = bench
        .programme()
        .earlier_states(records[0].facts.record)
        .unwrap();
    assert_eq!(earlier.len(), 1);
    assert_eq!(
        (earlier[0].0, earlier[0].1.facts.fill_pct.get()),
        (4, Some(60.0))
    );
    // Back again is a change like any other.
    assert_eq!(counts(&bench.take("draws.csv", row("60"))), [0, 0, 1, 0, 0]);
    assert_eq!(bench.programme().check().unwrap(), Vec::<String>::new());
}

#[test]
fn a_value_that_cannot_be_read_is_refused_alone_or_with_its_row() {
    let bench = Bench::with_lists();
    let report = bench.take(
        "draws.csv",
        format!(
            "{HEAD},fill_pct,oil_temp_c,looks,tube_new,remarks\n\
             D-1,P-1,T-1,2026-03-04T09:30Z,101,\"1,5\",blue,perhaps,=cmd\n\
             D-2,P-1,T-1,2026-03-04,,,,,\n\
             D-3,P-9,T-1,2026-03-04T09:30Z,,,,,\n\
             D-4,P-1,T-9,2026-03-04T09:30Z,,,,,\n\
             D-5,,T-1,2026-03-04T09:30Z,,,,,\n\
             D-1,P-1,T-2,2026-03-05T09:30Z,,,,,\n\
             D-6,P-1,T-2,2026-03-05T09:30Z,,,,,,more\n\
             +D,@P,T-2,2026-03-05T09:30Z\n\
             D-7,P-1,T-2,2026-03-05T09:30Z\n"
        ),
    );
    assert_eq!(counts(&report), [2, 0, 0, 7, 4]);
    assert_snapshot("intake", "rejects", &bench.rejects());
    let kept = bench.programme().refusals(3, 100).unwrap();
    assert_eq!(kept.len(), 11);
    assert_eq!((kept[0].line, kept[0].column.as_str()), (2, "oil_temp_c"));
}

#[test]
fn a_row_refused_whole_is_told_with_all_its_faults() {
    let bench = Bench::with_lists();
    let report = bench.take(
        "draws.csv",
        format!(
            "{HEAD},fill_pct,looks,extra\n\
             D-1,P-9,,soon,101,;,\n\
             D-2,P-9,T-9,2026-03-04T09:30Z,60,clear;,\n\
             D-3,P-1,T-1,2026-03-04T09:30Z,101,;;,\n\
             D-3,P-1,T-1,2026-03-04T09:30Z,-1,,\n"
        ),
    );
    assert_eq!(counts(&report), [1, 0, 0, 3, 2]);
    let faults = |whole: bool| -> Vec<(u64, &str, &str)> {
        let all = report.first_refusals.iter();
        let these = all.filter(|(_, refusal)| refusal.whole_row == whole);
        these
            .map(|(_, refusal)| {
                let ending = refusal.reason.rsplit("; ").next().unwrap();
                (refusal.line, refusal.column.as_str(), ending)
            })
            .collect()
    };
    let refused = "the row is refused";
    assert_eq!(
        faults(true),
        [
            (2, "technician_id", refused),
            (2, "drawn_at", refused),
            (2, "point_id", refused),
            (2, "fill_pct", refused),
            (2, "looks", refused),
            (3, "point_id", refused),
            (3, "technician_id", refused),
            (5, "fill_pct", refused),
            (5, "", "that one was taken"),
        ]
    );
    assert_eq!(
        faults(false),
        [(4, "fill_pct", "left blank"), (4, "looks", "left blank")]
    );
    assert!(bench.records()[0].facts.looks.is_blank());

    let report = bench.take(
        "points.csv",
        "point_id,compartment_id,kind,iso_vg\n,,barrel,-1\n",
    );
    assert_eq!(counts(&report), [0, 0, 0, 1, 0]);
    assert_eq!(report.first_refusals.len(), 4);
    let report = bench.take(
        "trainings.csv",
        "technician_id,topic,held_on\nT-9,juggling,soon\n",
    );
    assert_eq!(counts(&report), [0, 0, 0, 1, 0]);
    assert_eq!(report.first_refusals.len(), 3);
    let report = bench.take("technicians.csv", "technician_id,active_from\n,soon\n");
    assert_eq!(counts(&report), [0, 0, 0, 1, 0]);
    assert_eq!(report.first_refusals.len(), 2);
}

#[test]
fn points_and_trainings_have_their_own_refusals() {
    let bench = Bench::with_lists();
    let report = bench.take(
        "points.csv",
        "point_id,compartment_id,kind,iso_vg,tube_bore_mm,line_flow_l_min\n\
         P-3,C-3,barrel,46,4,0\nP-4,,tank,46,4,0\nP-5,C-5,tank,0,-4,-1\nP-5,C-6,tank,,,\n",
    );
    assert_eq!(counts(&report), [1, 0, 0, 3, 3]);
    let report = bench.take(
        "trainings.csv",
        "technician_id,topic,held_on\nT-9,flush-met,2026-03-04\nT-1,juggling,2026-03-04\n\
         T-1,flush-met,4.3.2026\nT-1,flush-met,2026-03-04\nT-1,flush-met,2026-03-04\n",
    );
    assert_eq!(counts(&report), [1, 0, 0, 4, 0]);
    // A draw at a refused point is refused.
    let report = bench.take(
        "draws.csv",
        format!("{HEAD}\nD,P-4,T-1,2026-03-04T09:30Z\n"),
    );
    assert_eq!(counts(&report), [0, 0, 0, 1, 0]);
}

#[test]
fn a_header_at_fault_refuses_the_sheet() {
    let bench = Bench::with_lists();
    let cases = [
        (
            "draw_id,point_id,technician_id\nD,P-1,T-1\n",
            "1 drawn_at the header lacks the required column drawn_at of a draws sheet; the sheet is refused",
        ),
        (
            "drawn_at,point_id,technician_id,drawn_at\n",
            "1 drawn_at the column stands twice in the header; the sheet is refused",
        ),
        (
            "",
            "1 point_id the sheet is empty: the header lacks the required column point_id of a draws sheet; the sheet is refused",
        ),
        (
            "draw_id;point_id;technician_id\n",
            "1 drawn_at the header lacks the required column drawn_at of a draws sheet; the sheet is refused",
        ),
    ];
    for (sheet, reason) in cases {
        let report = bench.take("draws.csv", sheet);
        assert_eq!(counts(&report), [0, 0, 0, 1, 0]);
        assert_eq!(first(&report), reason);
    }
}

#[test]
fn of_thousands_of_unknown_columns_the_first_are_named() {
    let bench = Bench::with_lists();
    let names: Vec<String> = (1..=5000).map(|number| format!("x{number}")).collect();
    let report = bench.take("draws.csv", format!("{HEAD},{}\n", names.join(",")));
    assert_eq!(
        report.sheets[0].remarks,
        [format!(
            "columns that are not known were kept aside: {} and 4980 more",
            names[..20].join(", ")
        )]
    );
}

#[test]
fn columns_that_are_not_known_are_kept_aside_and_reported() {
    let bench = Bench::with_lists();
    let report = bench.take(
        "draws.csv",
        format!("{HEAD},shift,weather,shift,\nD-1,P-1,T-1,2026-03-04T09:30Z,night,,late,\n"),
    );
    assert_eq!(
        report.sheets[0].remarks,
        ["columns that are not known were kept aside: shift, weather, shift (column 7), column 8"]
    );
    assert_eq!(
        bench.records()[0].kept_aside,
        r#"{"shift":"night","shift (column 7)":"late"}"#
    );
}

#[test]
fn lines_are_counted_as_a_person_sees_them() {
    let bench = Bench::with_lists();
    for (name, end) in [("unix", "\n"), ("windows", "\r\n"), ("old", "\r")] {
        let lines = [
            HEAD,
            "",
            "   ",
            "D-1,P-1,T-1,2026-03-04T09:30Z",
            "",
            "\"D\nx\",P-1,T-1,2026-03-04T09:31Z",
            "D-3,P-9,T-1,2026-03-04T09:30Z",
        ];
        let report = bench.take("draws.csv", format!("\u{feff}{}", lines.join(end)));
        assert_eq!(report.sheets[0].refused_rows, 1, "{name}");
        assert_eq!(report.first_refusals[0].1.line, 8, "{name}");
    }
}

#[test]
fn a_quote_that_is_never_closed_refuses_the_rest_and_says_where_it_began() {
    let bench = Bench::with_lists();
    let report = bench.take(
        "draws.csv",
        format!(
            "{HEAD},remarks\nD-1,P-1,T-1,2026-03-04T09:30Z,fine\n\
             D-2,P-1,T-1,2026-03-04T09:31Z,\"open\nD-3,P-1,T-1,2026-03-04T09:32Z,x\n"
        ),
    );
    assert_eq!(counts(&report), [1, 0, 0, 1, 0]);
    assert_eq!(
        first(&report),
        "3 remarks the quote that begins on this line is never closed; everything from here on is refused"
    );
    let report = bench.take(
        "draws.csv",
        format!("{HEAD}\n\"D-1\",P-1,T-1,\"2026-03-04T09:30Z"),
    );
    assert_eq!(counts(&report), [0, 0, 0, 1, 0]);
}

#[test]
fn bytes_that_are_no_text_are_refused_where_they_stand() {
    let bench = Bench::with_lists();
    let mut sheet = format!("{HEAD},remarks,fluid,extra\n").into_bytes();
    sheet.extend_from_slice(b"D-1,P-1,T-1,2026-03-04T09:30Z,caf\xe9,oil\0,\xff\n");
    sheet.extend_from_slice(b"D-2,P-1,T-\xe9,2026-03-04T09:30Z,,,\n");
    let long = "x".repeat(70_000);
    sheet.extend_from_slice(format!("D-3,P-1,T-1,2026-03-04T09:32Z,{long},,\n").as_bytes());
    let report = bench.take("draws.csv", sheet);
    assert_eq!(counts(&report), [2, 0, 0, 1, 4]);
    let reasons: Vec<String> = report
        .first_refusals
        .iter()
        .map(|(_, refusal)| format!("{} {}", refusal.column, refusal.reason))
        .collect();
    assert_eq!(
        reasons,
        [
            "fluid holds a NUL byte, which no text has; left blank",
            "remarks not in UTF-8; left blank",
            "extra not in UTF-8; not kept",
            "technician_id not in UTF-8; the row is refused",
            "remarks too long: a text may have 65536 bytes; left blank",
        ]
    );
    assert!(report.first_refusals[4].1.value.len() < 300);
}

#[test]
fn a_cell_of_ten_megabytes_is_refused_and_the_rest_is_taken() {
    let bench = Bench::with_lists();
    let long = "y".repeat(10 << 20);
    let report = bench.take(
        "draws.csv",
        format!(
            "{HEAD},remarks\nD-1,P-1,T-1,2026-03-04T09:30Z,{long}\nD-2,P-1,T-1,2026-03-04T09:31Z,\n"
        ),
    );
    assert_eq!(counts(&report), [2, 0, 0, 0, 1]);
}

#[test]
fn files_that_are_no_sheets_say_what_to_do() {
    let bench = Bench::with_lists();
    fs::create_dir(bench.path("empty")).unwrap();
    let cases = [
        bench.try_take("draws.csv", b"PK\x03\x04xl"),
        bench.try_take("history.csv", "a,b\n"),
        bench.programme().import(
            &bench.request(vec![bench.path("none.csv")]),
            &Progress::default(),
        ),
        bench.programme().import(
            &bench.request(vec![bench.path("empty")]),
            &Progress::default(),
        ),
    ];
    let texts: Vec<String> = cases
        .into_iter()
        .map(|result| result.unwrap_err().to_string())
        .collect();
    let texts = texts
        .join("\n")
        .replace(bench.folder.path().to_str().unwrap(), "[folder]");
    assert_snapshot("errors", "intake", &texts);
}

#[cfg(unix)]
#[test]
fn a_sheet_in_a_folder_that_cannot_be_read_is_not_passed_over() {
    use std::os::unix::{fs::symlink, net::UnixListener};
    let bench = Bench::with_lists();
    let folder = bench.path("sheets");
    fs::create_dir_all(folder.join("draws old.csv")).unwrap();
    let take = || {
        let request = bench.request(vec![folder.clone()]);
        let taken = bench.programme().import(&request, &Progress::default());
        taken.map(|report| report.sheets.len())
    };
    let said = || take().unwrap_err().to_string();

    symlink("nowhere.csv", folder.join("draws.csv")).unwrap();
    assert!(said().contains("draws.csv"), "{}", said());
    fs::remove_file(folder.join("draws.csv")).unwrap();

    let listener = UnixListener::bind(folder.join("draws.csv")).unwrap();
    assert!(said().contains("pipe or a device"), "{}", said());
    drop(listener);
    fs::remove_file(folder.join("draws.csv")).unwrap();

    // A folder with a sheet's name is none, a link to a sheet is one.
    symlink(bench.write("h.csv", HEAD), folder.join("draws.csv")).unwrap();
    assert_eq!(take().unwrap(), 1);
}

#[test]
fn clock_changes_are_resolved_and_remarked_upon() {
    let mut bench = Bench::with_lists();
    bench.zone = Some("Europe/Paris");
    let report = bench.take(
        "draws.csv",
        format!(
            "{HEAD}\nD-1,P-1,T-1,2026-03-29 02:30\nD-2,P-1,T-1,2026-10-25T02:30:00\n\
             D-3,P-1,T-1,2026-10-25T02:30+01:00\nD-4,P-1,T-1,2026-10-25 02:40:59.9\n"
        ),
    );
    assert_eq!(
        report.sheets[0].remarks,
        [
            "local times that exist twice (clocks go back) were read as the earlier instant in Europe/Paris: 2 in all, the first on line 3, drawn_at 2026-10-25T02:30:00",
            "local times that do not exist (clocks go forward) were shifted forward by the gap in Europe/Paris: 1 in all, the first on line 2, drawn_at 2026-03-29 02:30",
        ]
    );
    let times: Vec<String> = bench
        .records()
        .iter()
        .map(|draw| utc_text(draw.facts.drawn_at))
        .collect();
    assert_eq!(
        times,
        [
            "2026-03-29T01:30:00Z",
            "2026-10-25T00:30:00Z",
            "2026-10-25T00:40:59Z",
            "2026-10-25T01:30:00Z",
        ]
    );
}

#[test]
fn a_trial_run_reports_and_stores_nothing() {
    let bench = Bench::with_lists();
    let sheet = bench.write(
        "draws.csv",
        format!("{HEAD}\nD-1,P-1,T-1,2026-03-04T09:30Z\nD-2,P-9,T-1,2026-03-04T09:30Z\n"),
    );
    let request = ImportRequest {
        dry_run: true,
        ..bench.request(vec![sheet])
    };
    let report = bench
        .programme()
        .import(&request, &Progress::default())
        .unwrap();
    assert_eq!(counts(&report), [1, 0, 0, 1, 0]);
    assert_eq!(report.verdicts.total(), 1);
    assert!(bench.records().is_empty());
    assert!(!bench.path("p.rejects.csv").exists());
    assert_eq!(bench.programme().imports().unwrap().len(), 2);
}

fn cell() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        "[0-9.eE+-]{0,8}",
        "(yes|NO|y|0|1|tube-pump|clear;water|running|middle)",
        "20[0-9]{2}-[01][0-9]-[0-3][0-9]([T ][0-2][0-9]:[0-5][0-9](:[0-5][0-9])?(Z|[+]0[0-9]:00)?)?",
        "\\PC{0,12}",
        any::<String>(),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever stands in the cells, nothing panics, every row is taken or refused, and
    /// what was taken is unchanged when it comes again.
    #[test]
    fn any_cells_are_taken_or_refused(rows in prop::collection::vec(prop::collection::vec(cell(), 31), 1..8)) {
        let bench = Bench::with_lists();
        let mut writer = csv::Writer::from_writer(Vec::new());
        let names = SheetKind::Draws.columns().iter().map(|column| column.name);
        writer.write_record(names).unwrap();
        for (number, mut row) in rows.iter().cloned().enumerate() {
            row[0] = format!("D-{number}");
            row[2] = "P-1".to_owned();
            row[3] = "T-2".to_owned();
            row[4] = "2026-03-04 09:30".to_owned();
            writer.write_record(&row).unwrap();
        }
        let sheet = writer.into_inner().unwrap();
        let report = bench.take("draws.csv", &sheet);
        prop_assert_eq!(report.sheets[0].taken, rows.len() as u64);
        let again = bench.take("draws.csv", &sheet);
        prop_assert_eq!(again.sheets[0].unchanged, rows.len() as u64);
        prop_assert_eq!(bench.programme().check().unwrap(), Vec::<String>::new());
    }

    /// Whatever the bytes of a sheet, nothing panics.
    #[test]
    fn any_bytes_are_read_to_their_end(bytes in prop::collection::vec(any::<u8>(), 0..400), quotes in any::<bool>()) {
        let bench = Bench::with_lists();
        let mut sheet = format!("{HEAD},remarks\n").into_bytes();
        sheet.extend(bytes.iter().map(|byte| match (quotes, byte % 7) {
            (true, 0) => b'"',
            (true, 1) => b',',
            (true, 2) => b'\n',
            (true, 3) => b'\r',
            _ => *byte,
        }));
        bench.take("draws.csv", sheet);
    }
}
