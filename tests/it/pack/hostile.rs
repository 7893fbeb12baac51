//! Texts that want to be more than texts, in every field.

use std::collections::BTreeMap;
use std::fs;

use fairdraw::model::Progress;
use fairdraw::model::decisions::finding::{Grade, Subject};
use fairdraw::model::formula::is_formula;
use fairdraw::model::trail::Who;
use fairdraw::programme::FindingRequest;
use tempfile::TempDir;

use super::made::{Desk, json, text, unzipped};

/// What each field begins with, and what a careless writer would do with it.
const HOSTILE: [&str; 9] = [
    "=HYPERLINK(\"http://x\")",
    "+cmd|' /C calc'!A0",
    "<script>alert(1)</script>",
    "\"><img src=x onerror=alert(1)>",
    "a&b<!--",
    "]]>{{7*7}}",
    "油\u{1f6e2}\u{202e}evil",
    "שמן سائل",
    "LongWordWithoutAnyBlank",
];

/// A programme of which every text is hostile; long words are very long.
fn hostile() -> Desk {
    let folder = TempDir::new().unwrap();
    let sheets = folder.path().join("sheets");
    fs::create_dir(&sheets).unwrap();
    let field = |place: usize, what: &str| {
        let text = HOSTILE[place % HOSTILE.len()];
        let long = if text.starts_with("Long") {
            "x".repeat(400)
        } else {
            String::new()
        };
        format!("{text}{long} {what}{place}")
    };
    let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
    let mut points = String::from("point_id,compartment_id,machine,site,area,kind\n");
    let mut people = String::from("technician_id,name,crew\n");
    for place in 0..9 {
        let texts =
            ["point", "compartment", "machine", "site", "area"].map(|it| quoted(&field(place, it)));
        points.push_str(&format!("{},sump\n", texts.join(",")));
        let texts = ["technician", "name", "crew"].map(|it| quoted(&field(place, it)));
        people.push_str(&format!("{}\n", texts.join(",")));
    }
    let mut draws = String::from(
        "draw_id,bottle_id,point_id,technician_id,drawn_at,method,machine_state,flushed_ml,remarks\n",
    );
    for place in 0..270 {
        let texts = [
            format!("{} draw{place}", HOSTILE[place % 6]),
            field(place, "bottle"),
            field(place % 9, "point"),
            field((place + place / 9) % 9, "technician"),
        ];
        let texts = texts.map(|it| quoted(&it)).join(",");
        let day = 1 + place % 28;
        let month = 1 + place / 28;
        let state = if place % 3 == 0 { "stopped" } else { "running" };
        draws.push_str(&format!(
            "{texts},2026-{month:02}-{day:02}T10:00Z,sump-valve,{state},{},{}\n",
            place % 5 * 10,
            quoted(&field(place, "remark"))
        ));
    }
    fs::write(sheets.join("points.csv"), points).unwrap();
    fs::write(sheets.join("technicians.csv"), people).unwrap();
    fs::write(sheets.join("draws.csv"), draws).unwrap();
    let desk = Desk::of_sheets(folder, &sheets);
    let mut programme = desk.programme();
    let assessed = programme.assess(&Progress::default()).unwrap();
    assert_eq!(assessed.judged.len(), 270);
    let id = assessed.points[assessed.judged.point[0] as usize]
        .id
        .clone();
    let request = FindingRequest {
        grade: Grade::Observation,
        subject: Subject::Point { id },
        rule: Some("registered".to_owned()),
        text: HOSTILE.join(" "),
        owner: HOSTILE[2].to_owned(),
        due: "2026-12-01".parse().unwrap(),
        filter: fairdraw::analysis::Filter::default(),
    };
    let who = Who::named("=1+1 <b>").unwrap();
    let raised = programme.raise_finding(&who, &request, &assessed, &Progress::default());
    if raised.is_err() {
        // No draw breaks the rule here: any draw will do.
        let subject = Subject::Draws {
            ids: vec![format!("{} draw0", HOSTILE[0])],
        };
        let request = FindingRequest {
            subject,
            rule: None,
            ..request
        };
        programme
            .raise_finding(&who, &request, &assessed, &Progress::default())
            .unwrap();
    }
    desk
}

fn pack() -> BTreeMap<String, Vec<u8>> {
    let desk = hostile();
    desk.export("pack");
    desk.pack("pack")
}

#[test]
fn no_cell_of_any_table_is_a_formula() {
    let pack = pack();
    let mut met = 0;
    for (path, bytes) in pack.iter().filter(|(path, _)| path.ends_with(".csv")) {
        let mut csv = csv::Reader::from_reader(bytes.as_slice());
        for record in csv.records() {
            for cell in &record.unwrap() {
                // A number below 0 is no formula.
                let is_number = cell.parse::<f64>().is_ok();
                assert!(is_number || !is_formula(cell), "{path}: {cell}");
                met += usize::from(cell.starts_with("'="));
            }
        }
    }
    assert!(met > 100, "{met} formulas met");
}

#[test]
fn no_markup_of_theirs_reaches_the_page() {
    let pack = pack();
    let html = text(&pack, "report.html");
    assert!(html.contains("&#60;script&#62;") || html.contains("&lt;script&gt;"));
    for bad in [
        "<script",
        "<img",
        "onerror=alert(1)>",
        "<b>",
        "<!--",
        "{{7*7}}</t",
    ] {
        assert!(!html.contains(bad), "{bad}");
    }
    let is_hidden = |c: char| c != '\n' && (c.is_control() || c == '\u{202e}');
    assert!(!html.contains(is_hidden));
    // Every tag that is open is closed: what the template writes, no more.
    for tag in [
        "section", "table", "tr", "svg", "figure", "h2", "p", "td", "th",
    ] {
        let open =
            html.matches(&format!("<{tag}>")).count() + html.matches(&format!("<{tag} ")).count();
        assert_eq!(open, html.matches(&format!("</{tag}>")).count(), "{tag}");
    }
}

#[test]
fn the_workbook_holds_words_as_words() {
    let pack = pack();
    let parts = unzipped(&pack["workbook.xlsx"]);
    for (name, bytes) in parts.iter().filter(|(name, _)| name.ends_with(".xml")) {
        let xml = std::str::from_utf8(bytes).unwrap();
        assert!(
            !xml.contains("<f>") && !xml.contains("<f "),
            "{name} has a formula"
        );
        assert!(!xml.contains("<script"), "{name}");
        let is_forbidden = |c: char| c < ' ' && !matches!(c, '\t' | '\n' | '\r');
        assert!(!xml.contains(is_forbidden), "{name}");
    }
    // Marked so that editing the cell does not make it a formula either.
    let styles = std::str::from_utf8(&parts["xl/styles.xml"]).unwrap();
    assert!(styles.contains("quotePrefix=\"1\""));
    let words = parts.values().any(|part| {
        String::from_utf8_lossy(part).contains("=HYPERLINK(&quot;http://x&quot;)")
            || String::from_utf8_lossy(part).contains("=HYPERLINK(\"http://x\")")
    });
    assert!(words, "the words are gone");
}

#[test]
fn json_holds_every_text_as_it_is() {
    let pack = pack();
    let draws = json(&pack, "tables/draws.json");
    let wanted = format!("{} draw0", HOSTILE[0]);
    let is_there = draws
        .as_array()
        .unwrap()
        .iter()
        .any(|row| row["draw_id"] == wanted.as_str());
    assert!(is_there);
    let findings = json(&pack, "tables/findings.json");
    assert_eq!(findings[0]["raised_by"], "=1+1 <b>");
}

#[test]
fn the_pdf_is_whole_and_says_that_some_signs_are_shown_as_boxes() {
    let pack = pack();
    let pdf = &pack["report.pdf"];
    assert!(pdf.starts_with(b"%PDF-1.7") && pdf.ends_with(b"%%EOF"));
    let has = |word: &[u8]| pdf.windows(word.len()).any(|it| it == word);
    assert!(has(b"/StructTreeRoot") && has(b"/Lang") && has(b"/Outlines"));
}
