//! Maps proposed from sheets: what is found, what is asked, and that a proposal that is answered
//! can be used.

use std::fs;
use std::path::{Path, PathBuf};

use fairdraw::model::Progress;
use fairdraw::model::time::zone;
use fairdraw::programme::maps::{ColumnMap, Proposal};
use fairdraw::programme::{ImportRequest, Programme};
use proptest::prelude::*;
use tempfile::TempDir;

use super::sheets::{assert_same_by, sheets};
use crate::support::assert_snapshot;

fn propose(sheets: Vec<PathBuf>, zone_name: Option<&str>) -> Proposal {
    let request = ImportRequest {
        sheets,
        zone: zone_name.map(|name| zone(name).unwrap()),
        ..ImportRequest::default()
    };
    let programme = Programme::in_memory().unwrap();
    programme.propose(&request, &Progress::default()).unwrap()
}

/// The proposal for one sheet of this text.
fn of_text(name: &str, text: &str) -> Proposal {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join(name);
    fs::write(&path, text).unwrap();
    propose(vec![path], Some("UTC"))
}

fn map_of(proposal: &Proposal) -> ColumnMap {
    let yaml = proposal.yaml();
    ColumnMap::from_yaml(&yaml, "proposed.yaml")
        .unwrap_or_else(|problems| panic!("{problems:#?}\n{yaml}"))
}

/// What is asked, one line a question with its answers.
fn asked(proposal: &Proposal) -> Vec<String> {
    let questions = proposal.questions();
    questions
        .iter()
        .map(|(place, question)| {
            let labels: Vec<&str> = question.choices.iter().map(|c| c.label.as_str()).collect();
            format!("{place}: {} [{}]", question.text, labels.join(" | "))
        })
        .collect()
}

#[test]
fn a_proposal_for_a_german_export_gives_the_same_programme() {
    let proposal = propose(sheets(&["german"]), Some("Europe/Berlin"));
    assert_eq!(asked(&proposal), Vec::<String>::new());
    assert_same_by(&["german"], map_of(&proposal));
}

#[test]
fn a_proposal_for_an_american_log_gives_the_same_programme() {
    let proposal = propose(sheets(&["american"]), Some("America/Chicago"));
    assert_eq!(asked(&proposal), Vec::<String>::new());
    let people = ["canonical/technicians.csv", "canonical/trainings.csv"];
    assert_same_by(&["american", people[0], people[1]], map_of(&proposal));
}

#[test]
fn a_proposal_for_a_french_table_gives_the_same_programme() {
    let proposal = propose(sheets(&["french"]), Some("Europe/Paris"));
    assert_eq!(asked(&proposal), Vec::<String>::new());
    let lists = [
        "canonical/points.csv",
        "canonical/technicians.csv",
        "canonical/trainings.csv",
        "french/prelevements.tsv",
    ];
    assert_same_by(&lists, map_of(&proposal));
}

#[test]
fn a_proposal_for_canonical_sheets_changes_nothing() {
    let proposal = propose(sheets(&["canonical"]), None);
    assert_eq!(asked(&proposal), Vec::<String>::new());
    assert_same_by(&["canonical"], map_of(&proposal));
}

/// Every site has a clock of its own, so one zone is asked for; the dashes may mean no.
#[test]
fn ticks_are_found_and_dashes_are_asked() {
    let mut proposal = propose(sheets(&["ticks"]), None);
    let questions = asked(&proposal);
    assert!(
        questions[0].contains("zone: no time says its zone"),
        "{questions:?}"
    );
    assert!(
        questions[1..]
            .iter()
            .all(|one| one.contains("what does \"-\" mean?")),
        "{questions:?}"
    );
    assert_eq!(questions.len(), 6);
    proposal.answer(0, "UTC");
    for _ in 1..6 {
        proposal.answer(0, "no");
    }
    assert_eq!(asked(&proposal), Vec::<String>::new());
    let map = map_of(&proposal);
    let yaml = proposal.yaml();
    assert!(
        yaml.contains("from: [{name: clear, words: {\"✓\": clear}}"),
        "{yaml}"
    );
    assert!(yaml.contains("drawn_at: [Day, Time]"), "{yaml}");
    assert_eq!(map.sheets.len(), 1);
}

#[test]
fn a_proposal_is_read_by_people() {
    let text = "Nr;Datum;Uhrzeit;Messstelle;Techniker;Öltemp;Spülmenge;Aussehen;Wetter\n\
                1;03.04.2026;09:30;P-1;T-1;61,5;100;klar;Regen\n\
                2;13.04.2026;10:05;P-2;T-2;70;1.200;rosa;\n\
                3;14.04.2026;7:00;P-1;T-2;k. A.;80;klar/Wasser;Sonne\n\
                Summe;;;;;;1.380;;\n";
    let proposal = of_text("Proben.csv", text);
    assert_snapshot("maps", "proposed", &proposal.yaml());
}

const HEAD: &str = "draw_id,point_id,technician_id,drawn_at";

#[test]
fn what_the_sheet_can_not_answer_is_asked() {
    let rows = |head: &str, values: [&str; 3]| {
        let rows: Vec<String> = (values.iter().enumerate())
            .map(|(place, value)| format!("D-{place},P-1,T-1,2026-03-04 09:30,{value}\n"))
            .collect();
        format!("{HEAD},{head}\n{}", rows.concat())
    };
    let cases = [
        (
            rows("Added (gal)", ["1", "2.5", "3"]),
            "topped_up_l / unit: gal: which of the two is it? [gal (US) | gal (imperial)]",
        ),
        (
            rows("Flush", ["3 oz", "4 oz", "5 oz"]),
            "flushed_ml / unit: oz: which of the two is it? [fl oz (US) | fl oz (imperial)]",
        ),
        (
            rows("Oil temp", ["80", "90", "110"]),
            "oil_temp_c / unit: no unit is said, and the values (about 90) may be in [°C | °F]",
        ),
        (
            rows("Tube new", ["y", "n", "so so"]),
            "tube_new / words / so so: what does \"so so\" mean? [yes | no | blank]",
        ),
        (
            rows("Method", ["thief", "bucket", "drain"]),
            "method / words / bucket: which word of method is \"bucket\"? [tube-pump | line-valve | sump-valve | drain | thief | grease-needle | grease-purge | blank]",
        ),
        (
            rows("Hour meter", ["\"1,234\"", "\"2,345\"", "\"3,456\""]),
            "decimal: in 1,234 the mark may stand for the decimal or between thousands. Which mark stands for the decimal? [point, with a second line thousands: comma | comma]",
        ),
        (
            rows(
                "Entered",
                ["03/04/2026 10:00", "05/06/2026 11:00", "07/08/2026 12:00"],
            ),
            "dates: 03/04/2026 10:00: is the day first, or the month? [day first | month first]",
        ),
    ];
    for (text, expected) in cases {
        let mut proposal = of_text("draws.csv", &text);
        assert_eq!(asked(&proposal), [format!("draws.csv: {expected}")]);
        let open = ColumnMap::from_yaml(&proposal.yaml(), "map.yaml").unwrap_err();
        assert!(
            open.iter()
                .all(|one| one.message.contains("waits for your answer")),
            "{open:?}"
        );
        let choice = proposal.questions()[0].1.choices[0].yaml.clone();
        proposal.answer(0, &choice);
        map_of(&proposal);
    }
    let days = "Sample no,Point,Sampler,Sample date\n1,P-1,T-1,13/04/2026\n2,P-1,T-1,14/04/2026\n";
    let mut proposal = of_text("draws.csv", days);
    assert!(asked(&proposal)[0].contains("drawn_at / from: only days are written here"));
    proposal.answer(0, "\"12:00\"");
    map_of(&proposal);
    let nothing = of_text(
        "draws.csv",
        "Sample no,Sampler,Sample date,Blurb\n1,T-1,2026-03-04 09:30,x\n",
    );
    assert!(
        asked(&nothing)[0].starts_with("draws.csv: point_id: which of their columns says point_id")
    );
}

#[test]
fn one_column_proves_the_order_of_the_others() {
    let text = "Sample no,Point,Sampler,Sample date,Shipped\n\
                1,P-1,T-1,03/04/2026 09:30,03/14/2026 10:00\n\
                2,P-1,T-1,03/05/2026 09:30,03/06/2026 10:00\n";
    let proposal = of_text("draws.csv", text);
    assert_eq!(asked(&proposal), Vec::<String>::new());
    assert!(
        proposal.yaml().contains("dates: [\"MM/DD/YYYY HH:mm\"]"),
        "{}",
        proposal.yaml()
    );
}

#[test]
fn ids_that_the_programme_knows_tell_their_columns() {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::write(&path, text).unwrap();
        path
    };
    let points = write(
        "points.csv",
        "point_id,compartment_id,kind\nP-1,C-1,sump\nP-2,C-1,sump\n",
    );
    let people = write("technicians.csv", "technician_id\nT-1\nT-2\n");
    let log = write(
        "log.csv",
        "A,B,When\nP-1,T-2,2026-03-04 09:30\nP-2,T-1,2026-03-05 09:30\n",
    );
    let mut programme = Programme::in_memory().unwrap();
    let request = |sheets| ImportRequest {
        sheets,
        zone: Some(zone("UTC").unwrap()),
        ..ImportRequest::default()
    };
    let progress = Progress::default();
    programme
        .import(&request(vec![points, people]), &progress)
        .unwrap();
    let yaml = programme
        .propose(&request(vec![log]), &progress)
        .unwrap()
        .yaml();
    assert!(yaml.contains("point_id: A  # high"), "{yaml}");
    assert!(yaml.contains("technician_id: B  # high"), "{yaml}");
}

#[test]
fn two_headers_for_one_column_are_never_silent() {
    let text = "Sample no,Point,Sampler,Sample date,Temp (°C),Temperature (°C)\n\
                1,P-1,T-1,2026-03-04 09:30,60,61\n";
    let yaml = of_text("draws.csv", text).yaml();
    assert!(yaml.contains("fits almost as well"), "{yaml}");
    assert!(yaml.contains("# kept aside: \"Temp"), "{yaml}");
    let low = yaml
        .lines()
        .find(|line| line.contains("oil_temp_c"))
        .unwrap();
    assert!(low.contains("# low 55 %"), "{low}");
}

fn any_sheet() -> impl Strategy<Value = String> {
    let header = prop_oneof![
        prop::sample::select(vec![
            "Datum",
            "Uhrzeit",
            "Messstelle",
            "Technician",
            "date de prélèvement",
            "Temp",
            "Oil temp (°F)",
            "Flush (gal)",
            "Method",
            "Looks",
            "Tube new",
            "Fill [%]",
            "Point / Sampler",
            "Running",
            "Nr",
            "clear",
            "water",
            "draw_id",
            "",
            "=1+1",
            "a: b",
            "Betriebsstunden",
        ])
        .prop_map(str::to_owned),
        "[^\\x00\"]{0,8}",
    ];
    let value = prop_oneof![
        prop::sample::select(vec![
            "",
            "n/a",
            "-",
            "x",
            "ja",
            "03/04/2026",
            "25.12.2025",
            "09:30",
            "1,234",
            "1.234,5",
            "80",
            "500 mL",
            "klar",
            "klar/Wasser",
            "Saugpumpe",
            "P-1 / T-1",
            "2026-03-04 09:30",
            "45000.5",
            "Summe",
            "3 oz",
            "true",
            "ask",
        ])
        .prop_map(str::to_owned),
        "[^\\x00\"]{0,6}",
    ];
    (2usize..9).prop_flat_map(move |width| {
        let row = prop::collection::vec(value.clone(), width);
        (
            prop::collection::vec(header.clone(), width),
            prop::collection::vec(row, 0..8),
        )
            .prop_map(|(header, rows)| {
                let line = |cells: &Vec<String>| {
                    let quoted: Vec<String> =
                        cells.iter().map(|cell| format!("\"{cell}\"")).collect();
                    quoted.join(",") + "\n"
                };
                let rows: String = rows.iter().map(line).collect();
                line(&header) + &rows
            })
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Whatever the sheet, what is proposed is a map once its questions are answered.
    #[test]
    fn a_proposal_is_a_map_but_for_its_questions(text in any_sheet()) {
        let mut proposal = of_text("draws.csv", &text);
        let yaml = proposal.yaml();
        match ColumnMap::from_yaml(&yaml, "map.yaml") {
            Ok(_) => prop_assert!(proposal.questions().is_empty()),
            Err(problems) => {
                prop_assert_eq!(problems.len(), proposal.questions().len(), "{:?}\n{}", problems, yaml);
                for problem in problems {
                    prop_assert!(problem.message.contains("waits for your answer"), "{problem}\n{yaml}");
                }
            }
        }
        while let Some((place, question)) = proposal.questions().first() {
            let answer = match question.choices.first() {
                Some(choice) => choice.yaml.clone(),
                None => "anything".to_owned(),
            };
            prop_assert!(!place.is_empty());
            proposal.answer(0, &answer);
        }
        let yaml = proposal.yaml();
        let map = ColumnMap::from_yaml(&yaml, "map.yaml");
        prop_assert!(map.is_ok(), "{:?}\n{}", map.unwrap_err(), yaml);
    }
}

/// Names of the fixtures' folders that a proposal is made of, for whoever adds one.
#[test]
fn every_fixture_has_a_map_that_can_be_used() {
    let root = crate::support::fixture("mapped");
    let mut seen = 0;
    for entry in fs::read_dir(&root).unwrap() {
        let file = entry.unwrap().path().join("columns.yaml");
        if file.is_file() {
            let name = Path::new(&file).display().to_string();
            ColumnMap::from_bytes(&fs::read(&file).unwrap(), &name).unwrap();
            seen += 1;
        }
    }
    assert_eq!(seen, 4);
}
