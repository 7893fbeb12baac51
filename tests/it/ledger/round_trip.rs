//! What is written out as sheets and taken in again is the same programme.

use fairdraw::model::Progress;
use proptest::prelude::*;

use super::{Desk, assert_sound, said, take};

/// Texts that are hard on CSV, spreadsheets and JSON alike.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => "[a-zA-Z0-9 ]{0,8}",
        1 => "[=+\\-@',;\"\\\\|\t\n\r#é{}:]{1,6}",
        1 => prop::sample::select(vec![
            "=cmd()", "'=1", "-5", "+5", "1e5", "draw_id", "refused_in", "a,b", "a;b;c", "\"", "'",
            "null", "ÄÖ ü", "日本", "a\r\nb", "\u{feff}x", "point_id,kind", "{\"a\":1}", "yes",
        ]).prop_map(str::to_owned),
        2 => Just(String::new()),
    ]
}

fn quoted(cell: &str) -> String {
    format!("\"{}\"", cell.replace('"', "\"\""))
}

fn number() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        (0.0..1e6_f64).prop_map(|value| value.to_string()),
        Just("1e-300".to_owned()),
        Just("0.1".to_owned()),
    ]
}

fn points() -> impl Strategy<Value = String> {
    let row = (text(), text(), number(), -60.0..250.0_f64, text());
    prop::collection::vec(row, 1..5).prop_map(|rows| {
        let mut sheet =
            "point_id,compartment_id,kind,site,fluid,line_flow_l_min,normal_temp_c,agreed,=odd name\n"
                .to_owned();
        for (place, (site, fluid, flow, temp, odd)) in rows.into_iter().enumerate() {
            let [site, fluid, odd] = [site, fluid, odd].map(|cell| quoted(&cell));
            sheet += &format!("P-{place},C,sump,{site},{fluid},{flow},{temp},yes,{odd}\n");
        }
        sheet
    })
}

fn draws() -> impl Strategy<Value = String> {
    let row = (
        (0..4_u8, text(), 0..3_u8, text(), 0..2_000_000_000_u64),
        (number(), text(), text(), text()),
        (0..3_usize, prop::option::of(any::<bool>()), 1..3_u8),
    );
    prop::collection::vec(row, 1..12).prop_map(|rows| {
        let mut sheet = "draw_id,bottle_id,point_id,technician_id,drawn_at,machine_hours,remarks,\
                         pair_of,looks,tube_new,fill_no,Note,note,\n"
            .to_owned();
        for ((point, id, technician, bottle, at), (hours, remarks, pair, note), (look, tube, fill)) in
            rows
        {
            let at = fairdraw::model::time::utc_text(at.cast_signed());
            let [id, bottle, remarks, pair, note] =
                [id, bottle, remarks, pair, note].map(|cell| quoted(&cell));
            let look = ["", "clear", "cloudy;metal"][look];
            let tube = tube.map_or("", |tube| if tube { "yes" } else { "no" });
            sheet += &format!(
                "{id},{bottle},P-{point},T-{technician},{at},{hours},{remarks},{pair},{look},{tube},{fill},{note},x,{note}\n"
            );
        }
        sheet
    })
}

fn technicians() -> impl Strategy<Value = String> {
    (text(), text(), text()).prop_map(|(name, crew, extra)| {
        let [name, crew, extra] = [name, crew, extra].map(|cell| quoted(&cell));
        format!(
            "technician_id,name,crew,active_from,extra\nT-0,{name},{crew},2024-01-31,{extra}\n\
             T-1,,,,\nT-2,{crew},{name},,\n"
        )
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn sheets_written_and_taken_in_make_the_same_programme(
        (points, technicians, draws) in (points(), technicians(), draws()),
    ) {
        let mut desk = Desk::new();
        desk.take(&[
            ("points.csv", &points),
            ("technicians.csv", &technicians),
            ("trainings.csv", "technician_id,topic,held_on,by\nT-1,flush-met,2026-01-02,=x\n"),
            ("draws.csv", &draws),
        ]);
        let folder = desk.folder.path().join("out");
        let written = desk.programme.write_sheets(&folder, true, &Progress::default()).unwrap();
        prop_assert_eq!(written.tamed, 0);
        let mut copy = Desk::new();
        let report = take(&mut copy.programme, std::slice::from_ref(&folder)).unwrap();
        for (sheet, (_, rows)) in report.sheets.iter().zip(&written.files) {
            prop_assert_eq!((sheet.taken, sheet.refused_rows, sheet.refused_values), (*rows, 0, 0));
        }
        prop_assert_eq!(said(&mut copy.programme), said(&mut desk.programme));
        prop_assert_eq!(kept_aside(&copy), kept_aside(&desk));
        assert_sound(&copy.programme);
        // A second time nothing is new, and the sheets are the same byte for byte.
        let again = take(&mut desk.programme, std::slice::from_ref(&folder)).unwrap();
        for sheet in &again.sheets {
            prop_assert_eq!((sheet.taken, sheet.changed), (0, 0), "{}", &sheet.sheet);
        }
        let second = desk.folder.path().join("second");
        copy.programme.write_sheets(&second, true, &Progress::default()).unwrap();
        for name in ["points", "technicians", "trainings", "draws"] {
            let read = |folder: &std::path::Path| {
                std::fs::read(folder.join(format!("{name}.csv"))).unwrap()
            };
            prop_assert!(read(&folder) == read(&second), "{name}");
        }
    }
}

/// What was kept aside with points, technicians and trainings.
fn kept_aside(desk: &Desk) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    desk.programme
        .write_sheets(folder.path(), true, &Progress::default())
        .unwrap();
    ["points", "technicians", "trainings"]
        .map(|name| std::fs::read_to_string(folder.path().join(format!("{name}.csv"))).unwrap())
        .into()
}

#[test]
fn what_is_there_is_not_written_over_and_no_formula_reaches_a_spreadsheet() {
    let mut desk = Desk::new();
    desk.take(&[(
        "technicians.csv",
        "technician_id,name,n\nT-1,=1+1,-5\nT-2,@x,+a\n",
    )]);
    let folder = desk.folder.path().join("out");
    let written = desk
        .programme
        .write_sheets(&folder, false, &Progress::default())
        .unwrap();
    assert_eq!(written.tamed, 3);
    let sheet = std::fs::read_to_string(folder.join("technicians.csv")).unwrap();
    assert_eq!(
        sheet,
        "technician_id,name,crew,active_from,n\nT-1,'=1+1,,,-5\nT-2,'@x,,,'+a\n"
    );
    let refused = desk
        .programme
        .write_sheets(&folder, true, &Progress::default())
        .unwrap_err();
    assert!(
        refused.to_string().contains("is there already"),
        "{refused}"
    );
}
