//! Single rows: what they become, what is refused and how it is told.

use std::fs;
use std::sync::Arc;

use fairdraw::model::time::utc_text;
use fairdraw::model::{DrawRecord, Progress};
use fairdraw::programme::maps::ColumnMap;
use fairdraw::programme::{ImportReport, ImportRequest, Programme};
use tempfile::TempDir;

const POINTS: &str = "point_id,compartment_id,kind\nP-1,C-1,sump\nP-2,C-1,circulating\n";
const TECHNICIANS: &str = "technician_id\nT-1\nT-2\n";

/// Takes a log in by a map of these lines (those of a sheet of draws).
fn take(map: &str, log: impl AsRef<[u8]>) -> (ImportReport, Vec<DrawRecord>) {
    let folder = TempDir::new().unwrap();
    let text = format!(
        "fairdraw_columns: 1\nname: T\nrevision: A\nsheets:\n  - kind: draws\n    files: [log.csv]\n{map}"
    );
    let map =
        ColumnMap::from_yaml(&text, "map.yaml").unwrap_or_else(|all| panic!("{all:#?}\n{text}"));
    for (name, bytes) in [
        ("points.csv", POINTS.as_bytes()),
        ("technicians.csv", TECHNICIANS.as_bytes()),
        ("log.csv", log.as_ref()),
    ] {
        fs::write(folder.path().join(name), bytes).unwrap();
    }
    let request = ImportRequest {
        sheets: vec![folder.path().to_owned()],
        map: Some(Arc::new(map)),
        ..ImportRequest::default()
    };
    let mut programme = Programme::in_memory().unwrap();
    let progress = Progress::default();
    let report = programme.import(&request, &progress).unwrap();
    let assessed = programme.assess(&progress).unwrap();
    let records = programme.records(&assessed.judged.record).unwrap();
    (report, records)
}

/// The refusals as `line column value reason`.
fn refusals(report: &ImportReport) -> Vec<String> {
    let told = report.first_refusals.iter().map(|(_, refusal)| {
        format!(
            "{} {} {:?} {}",
            refusal.line, refusal.column, refusal.value, refusal.reason
        )
    });
    told.collect()
}

const USUAL: &str =
    "    columns:\n      point_id: Where\n      technician_id: Who\n      drawn_at: When\n";

#[test]
fn a_refusal_names_their_column_and_their_value() {
    let map = format!(
        "    decimal: comma\n    dates: [DD.MM.YYYY HH:mm]\n    blank: [k. A.]\n{USUAL}      oil_temp_c: {{from: Temp °F, unit: °F}}\n      \
         flushed_ml: {{from: Spülen, unit_in_cell: true}}\n      method: {{from: Art, words: {{Pumpe: tube-pump}}, otherwise: refuse}}\n      tube_new: Neu\n"
    );
    let log = "Where,Who,When,Temp °F,Spülen,Art,Neu\n\
               P-1,T-1,04.03.2026 09:30,\"176\",\"0,5 l\",pumpe,ja\n\
               P-2,T-9,31.02.2026 09:30,999,3 oz,Eimer,k. A.\n\
               P-1,T-1,2026-03-05,\"1.5\",12 kg,,\n";
    let (report, records) = take(&map, log);
    assert_eq!(records.len(), 1);
    assert_eq!(records[0].facts.oil_temp_c.get(), Some(80.0));
    assert_eq!(records[0].facts.flushed_ml.get(), Some(500.0));
    assert_eq!(
        refusals(&report),
        [
            "2 Neu \"ja\" neither yes nor no: yes no y n true false 1 0 are expected (for tube_new); left blank",
            "3 When \"31.02.2026 09:30\" there is no such day in the calendar (for drawn_at); the row is refused",
            "3 Who \"T-9\" no such technician is known (for technician_id); the row is refused",
            "3 Temp °F \"999\" out of range: -60 to 250 is expected (read as 537.222222222 °C) (for oil_temp_c); the row is refused",
            "3 Spülen \"3 oz\" oz may be fl oz (US) or fl oz (imperial); say so in the map with unit (for flushed_ml); the row is refused",
            "3 Art \"Eimer\" none of the words that the map lists (for method); the row is refused",
            "4 When \"2026-03-05\" a date alone is not a time: hours and minutes are missing (for drawn_at); the row is refused",
            "4 Temp °F \"1.5\" not a number: a decimal comma and no thousands mark is expected (for oil_temp_c); the row is refused",
            "4 Spülen \"12 kg\" \"kg\" is no unit that is known (for flushed_ml); the row is refused",
        ]
    );
}

#[test]
fn columns_of_our_names_are_taken_as_well_unless_only_named_ones_are_wanted() {
    let log =
        "Where,Who,When,fluid,FILL_PCT,Weather\nP-1,T-1,2026-03-04 09:30,Oil 46,\"80,5\",rain\n";
    let map = format!("    decimal: comma\n{USUAL}");
    let (report, records) = take(&map, log);
    assert_eq!(refusals(&report), Vec::<String>::new());
    assert_eq!(records[0].fluid, "Oil 46");
    assert_eq!(records[0].facts.fill_pct.get(), Some(80.5));
    assert_eq!(records[0].kept_aside, "{\"Weather\":\"rain\"}");
    let (_, records) = take(&format!("    only_named: true\n{map}"), log);
    assert_eq!(records[0].fluid, "");
    assert_eq!(
        records[0].kept_aside,
        "{\"FILL_PCT\":\"80,5\",\"Weather\":\"rain\",\"fluid\":\"Oil 46\"}"
    );
}

#[test]
fn a_row_without_its_time_of_day_is_refused_unless_the_map_says_one() {
    let map = "    dates: [DD.MM.YYYY HH:mm]\n    columns:\n      point_id: Where\n      technician_id: Who\n      drawn_at: {from: [Day, Clock]}\n";
    let log = "Where,Who,Day,Clock\nP-1,T-1,04.03.2026,09:30\nP-2,T-1,05.03.2026,\nP-2,T-1,,09:30\nP-2,T-1,,\n";
    let (report, records) = take(map, log);
    assert_eq!(records.len(), 1);
    assert_eq!(
        refusals(&report),
        [
            "3 Day + Clock \"05.03.2026\" one half of date and time is blank (for drawn_at); the row is refused",
            "4 Day + Clock \"09:30\" one half of date and time is blank (for drawn_at); the row is refused",
            "5 Day + Clock \"\" required, but blank (for drawn_at); the row is refused",
        ]
    );
    let noon = map.replace("Clock]", "{name: Clock, if_blank: \"12:00\"}]");
    let (report, records) = take(&noon, log);
    assert_eq!(records.len(), 2);
    assert_eq!(utc_text(records[1].facts.drawn_at), "2026-03-05T12:00:00Z");
    assert_eq!(report.sheets[2].refused_rows, 2);
}

#[test]
fn each_site_has_its_clock_and_a_site_without_one_is_refused() {
    let map = format!(
        "    zones: {{column: Site, of: {{North: Europe/Paris, South: Asia/Tokyo}}}}\n{USUAL}"
    );
    let log = "Where,Who,When,Site\n\
               P-1,T-1,2026-03-04 09:30,North\nP-1,T-1,2026-03-05 09:30,SOUTH\n\
               P-1,T-1,2026-03-06 09:30,East\nP-1,T-1,2026-03-07T09:30Z,East\nP-1,T-1,2026-03-29 02:30,North\n";
    let (report, records) = take(&map, log);
    let times: Vec<String> = records
        .iter()
        .map(|one| utc_text(one.facts.drawn_at))
        .collect();
    assert_eq!(
        times,
        [
            "2026-03-04T08:30:00Z",
            "2026-03-05T00:30:00Z",
            "2026-03-07T09:30:00Z",
            "2026-03-29T01:30:00Z"
        ]
    );
    assert_eq!(
        refusals(&report),
        [
            "4 When \"2026-03-06 09:30\" the map says no zone for \"East\" (for drawn_at); the row is refused"
        ]
    );
    let told = report.sheets[2].remarks.join("\n");
    assert!(told.contains("do not exist (clocks go forward) were shifted forward by the gap in Europe/Paris: 1 in all"), "{told}");
}

#[test]
fn rows_that_are_passed_over_are_told() {
    let map = format!(
        "    skip: [{{column: Where, begins: [total]}}, {{column: Who, blank: true}}]\n{USUAL}"
    );
    let log = "Where,Who,When\nP-1,T-1,2026-03-04 09:30\nP-1,,2026-03-04 10:30\nTotals: 2,x,\n";
    let (report, records) = take(&map, log);
    assert_eq!((records.len(), refusals(&report).len()), (1, 0));
    assert_eq!(
        report.sheets[2].remarks,
        ["rows that the map passes over: 2, the first on line 3"]
    );
}

#[test]
fn a_header_that_lacks_what_the_map_names_is_told_or_refused() {
    let with_temp = format!("{USUAL}      oil_temp_c: Tmp\n");
    let (report, records) = take(
        &with_temp,
        "Where,Who,When,Temp\nP-1,T-1,2026-03-04 09:30,60\n",
    );
    assert_eq!(records.len(), 1);
    assert!(report.sheets[2].remarks.contains(
        &"the header lacks the column \"Tmp\" of the map; did you mean Temp?; oil_temp_c stays blank".to_owned()
    ), "{:?}", report.sheets[2].remarks);
    let (report, _) = take(USUAL, "Were,Who,When\nP-1,T-1,2026-03-04 09:30\n");
    assert_eq!(
        refusals(&report),
        [
            "1 point_id \"\" the header lacks the column \"Where\" of the map; did you mean Were?; a draws sheet needs point_id; the sheet is refused"
        ]
    );
    let (report, _) = take(
        USUAL,
        "Where,where ,Who,When\nP-1,P-1,T-1,2026-03-04 09:30\n",
    );
    assert!(
        refusals(&report)[0]
            .contains("stands twice in the header; name it in the map by its letter")
    );
}

#[test]
fn letters_words_parts_constants_and_blanks_do_what_they_say() {
    let map = "    columns:\n      point_id: {letter: A, split: \" / \", part: 1, words: {North pump: P-2}}\n      \
               technician_id: {number: 1, split: \" / \", part: 2}\n      drawn_at: {letter: B}\n      \
               fill_no: {always: \"2\"}\n      tube_new: {letter: C, yes: [x], if_blank: \"no\"}\n      \
               looks: {letter: D, split: /, words: {rusty: blank, oily: clear}}\n      remarks: {from: [{letter: E}, {letter: F}], join: \", \"}\n";
    let log = "a,b,c,d,e,f\nnorth PUMP / T-1,2026-03-04 09:30,X,rusty/metal/oily,one,two\nP-1 / T-2,2026-03-05 09:30,,,,two\n";
    let (report, records) = take(map, log);
    assert_eq!(refusals(&report), Vec::<String>::new());
    assert_eq!(
        (
            records[0].point_id.as_str(),
            records[0].technician_id.as_str()
        ),
        ("P-2", "T-1")
    );
    assert_eq!(records[0].facts.looks.to_string(), "clear;metal");
    assert_eq!(records[0].facts.tube_new, Some(true));
    assert_eq!(records[1].facts.tube_new, Some(false));
    assert!(records[0].facts.second_fill);
    assert_eq!(
        (records[0].remarks.as_str(), records[1].remarks.as_str()),
        ("one, two", "two")
    );
}

#[test]
fn cells_that_are_not_text_are_refused_by_their_name() {
    let (report, _) = take(
        USUAL,
        b"Where,Who,When\nP-\xff1,T-1,2026-03-04 09:30\n\xe2\x82\xac,T-1,2026-03-04 09:30\n",
    );
    assert!(!refusals(&report).is_empty());
    let all = refusals(&report).join("\n");
    assert!(all.contains("Where"), "{all}");
}
