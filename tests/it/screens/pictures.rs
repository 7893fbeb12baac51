//! The large pictures: how they look, what their crosshair reads, what it opens, and that the
//! limits they show are the published ones.

use fairdraw::analysis::Assessed;
use fairdraw::model::{Technician, Verdict};
use fairdraw::tui::keymap::Zone;
use fairdraw::tui::{Action, Theme};
use ratatui::layout::Size;
use serde_json::Value;

use super::desk::{Desk, styles};
use crate::analysis::{Row, programme, six_draws, utc};
use crate::support::{assert_snapshot, fixture};

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

/// A picture and the keys that lead there.
const PICTURES: &[(&str, &str)] = &[
    ("picture-share", "d Left Left"),
    ("picture-share-weeks", "d t t"),
    ("picture-people-funnel", "3 d Right"),
    ("picture-people-bars", "3 v d Tab j"),
    ("picture-people-odds", "3 d Tab j j"),
    ("picture-points-funnel", "4 d n n"),
    ("picture-points-bars", "4 d v Tab"),
    ("picture-topics", "5 d l j"),
    ("picture-draw", "2 j j Enter d Left Left Left"),
];

#[test]
fn every_picture_at_three_sizes() {
    for (name, keys) in PICTURES {
        for (width, height) in SIZES {
            let mut desk = Desk::new(width, height);
            desk.keys(keys);
            let text = desk.text(width, height);
            assert_snapshot("screens", &format!("{name}@{width}x{height}"), &text);
        }
    }
}

#[test]
fn pictures_in_ascii_and_their_styles() {
    for (name, keys) in PICTURES {
        let mut desk = Desk::with(100, 30, Theme::new(true, false));
        desk.keys(keys);
        let text = desk.text(100, 30);
        assert!(text.is_ascii(), "{text}");
        if ["picture-share", "picture-people-funnel", "picture-draw"].contains(name) {
            assert_snapshot("screens", &format!("{name}-ascii"), &text);
            let mut desk = Desk::new(100, 30);
            desk.keys(keys);
            let runs = styles(&desk.buffer(100, 30)).join("\n");
            assert_snapshot("screens", &format!("{name}-styles"), &runs);
        }
        let mut desk = Desk::with(100, 30, Theme::new(false, true));
        desk.keys(keys);
        for (run, at) in styles(&desk.buffer(100, 30)).iter().zip(1..) {
            let coloured = ["Red", "Green", "Yellow", "Cyan", "Magenta"];
            assert!(
                coloured.iter().all(|name| !run.contains(name)),
                "{at}: {run}"
            );
        }
    }
}

/// The line that is read off: the one that begins so.
fn line(desk: &Desk, beginning: &str) -> String {
    let text = desk.text(160, 50);
    let found = text
        .lines()
        .find(|line| line.trim_start().starts_with(beginning));
    found
        .unwrap_or_else(|| panic!("no {beginning:?} in\n{text}"))
        .trim()
        .to_owned()
}

fn json(name: &str) -> Value {
    let path = fixture("reference").join(name);
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn case(file: &str, id: &str) -> Value {
    let file = json(file);
    let cases = file["cases"].as_array().unwrap();
    let found = cases.iter().find(|case| case["id"] == id);
    found.unwrap()["expected"].clone()
}

fn verdict(is_bad: bool) -> Verdict {
    if is_bad {
        Verdict::Unrepresentative
    } else {
        Verdict::Representative
    }
}

/// D. C. Montgomery, Introduction to Statistical Quality Control, 6th ed. 2009, table 7.4: 25
/// weeks of purchase orders, here as months; limits of each and the one signal, sample 11, as in
/// tests/fixtures/reference/charts.json.
#[test]
fn the_control_chart_reads_the_published_limits() {
    let csv = std::fs::read_to_string(fixture("reference/pchart_variable_n.csv")).unwrap();
    let template = six_draws().swap_remove(5);
    let mut rows = Vec::new();
    for (month, line) in csv.lines().skip(1).enumerate() {
        let cells: Vec<u64> = line.split(',').map(|cell| cell.parse().unwrap()).collect();
        let day = format!("{}-{:02}-15T12:00:00Z", 2020 + month / 12, month % 12 + 1);
        rows.extend((0..cells[2]).map(|draw| Row {
            drawn_at: utc(&day),
            verdict: verdict(draw < cells[1]),
            ..template.clone()
        }));
    }
    let replace = |assessed: &mut Assessed| *assessed = programme(rows);
    let mut desk = Desk::changed(160, 50, Theme::new(true, true), replace);
    desk.keys("d Home");
    let expected = case("charts.json", "pchart_variable_n");
    let number = |name: &str, at: usize| 100.0 * expected[name][at].as_f64().unwrap();
    let names = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    for at in 0..25 {
        let read = line(&desk, &format!("{} {}:", names[at % 12], 2020 + at / 12));
        let (share, low, high) = (number("p", at), number("lcl", at), number("ucl", at));
        assert!(read.contains(&format!(": {share:.1} % of ")), "{read}");
        let said = if at == 10 {
            format!("above the upper limit {high:.1} %")
        } else {
            format!("{low:.1}–{high:.1} %")
        };
        assert!(read.contains(&said), "{at}: {read}, wanted {said}");
        desk.keys("Right");
    }
}

/// Under-one open heart surgery in twelve hospitals 1991-95 (Bristol Royal Infirmary Inquiry;
/// Spiegelhalter, The Art of Statistics, 2019): limits and flags as in
/// tests/fixtures/reference/funnel.json. Hospitals stand here as technicians.
#[test]
fn the_funnel_reads_the_published_limits() {
    let expected = case("funnel.json", "child_heart_1991_95");
    let units = expected["units"].as_array().unwrap();
    let whole = |value: &Value| value.as_u64().unwrap();
    let template = six_draws().swap_remove(5);
    let mut rows = Vec::new();
    for (technician, unit) in (0..).zip(units) {
        rows.extend((0..whole(&unit["n"])).map(|draw| Row {
            technician,
            verdict: verdict(draw < whole(&unit["x"])),
            ..template.clone()
        }));
    }
    let technicians = (0..units.len()).map(|at| Technician {
        id: format!("H{at:02}"),
        name: None,
        crew: None,
        active_from: None,
    });
    let technicians: Vec<Technician> = technicians.collect();
    let replace = |assessed: &mut Assessed| {
        *assessed = programme(rows);
        assessed.technicians = technicians;
    };
    let mut desk = Desk::changed(160, 50, Theme::new(true, true), replace);
    desk.keys("3");
    for (at, unit) in units.iter().enumerate() {
        desk.keys("d");
        let read = line(&desk, &format!("H{at:02}:"));
        let percent = |name: &str| 100.0 * unit[name].as_f64().unwrap().max(0.0);
        let range = format!("{:.1}–{:.1} %", percent("lo95"), percent("hi95"));
        assert!(
            read.contains(&format!("{:.1} % of ", percent("share"))),
            "{read}"
        );
        let inside = unit["flag95"] == "inside";
        let far = unit["flag998"] != "inside";
        assert_eq!(read.contains(&format!("Within {range}")), inside, "{read}");
        assert_eq!(read.contains("Beyond the 99.8 % limits"), far, "{read}");
        assert_eq!(
            read.contains(&format!("Outside {range}")),
            !inside && !far,
            "{read}"
        );
        desk.keys("Esc j");
    }
}

#[test]
fn a_picture_closes_where_the_crosshair_was() {
    let mut desk = Desk::new(120, 40);
    desk.keys("d Left Left");
    assert_eq!(desk.app.zone(), Zone::ControlChart);
    assert!(desk.text(120, 40).contains("June 2026: "));
    desk.keys("Esc");
    assert_eq!(desk.app.zone(), Zone::Share);
    // Enter opens what is chosen there: the month the crosshair stood at.
    desk.keys("Enter");
    assert!(desk.text(120, 40).contains("from:2026-06 to:2026-06"));
}

#[test]
fn enter_opens_the_draws_behind_the_crosshair_and_a_step_back_finds_it_again() {
    for (keys, filter, back) in [
        ("d Left", "from:2026-07 to:2026-07", Zone::ControlChart),
        ("3 d Home", "technician:", Zone::Funnel),
        ("4 d Tab", "point:", Zone::Bars),
    ] {
        let mut desk = Desk::new(120, 40);
        desk.keys(keys);
        let before = desk.text(120, 40);
        desk.keys("Enter");
        assert_eq!(desk.app.zone(), Zone::Draws);
        assert!(
            desk.text(120, 40).contains(filter),
            "{}",
            desk.text(120, 40)
        );
        desk.keys("Esc");
        assert_eq!(desk.app.zone(), back);
        let after = desk.text(120, 40);
        let body = |text: &str| {
            text.lines()
                .skip(3)
                .take(36)
                .map(str::to_owned)
                .collect::<Vec<_>>()
        };
        assert_eq!(body(&before), body(&after));
        // The same with f, which stays in the picture.
        desk.keys("f");
        assert_eq!(desk.app.zone(), back);
        assert!(desk.text(120, 40).contains(filter));
    }
}

#[test]
fn the_draw_under_the_crosshair_opens_if_the_filter_lets_it_through() {
    let mut desk = Desk::new(120, 40);
    desk.keys("2 j j Enter d Left");
    assert_eq!(desk.app.zone(), Zone::Strip);
    let text = desk.text(120, 40);
    assert!(text.contains("2026-08-03 08:34: doubtful"), "{text}");
    assert!(text.contains("method drain after tube-pump"), "{text}");
    desk.keys("Enter");
    assert_eq!(desk.app.zone(), Zone::Opened);
    assert!(desk.text(120, 40).contains("2026-08-03 08:34 by"));
}

#[test]
fn a_click_chooses_a_mark_and_a_second_one_opens_it() {
    for keys in ["d", "3 d", "3 d Tab", "4 d", "2 d"] {
        let mut desk = Desk::new(120, 40);
        desk.keys(keys);
        let zone = desk.app.zone();
        let mut opened = 0;
        for (x, y) in [(40, 14), (60, 10), (90, 20), (30, 8), (110, 25)] {
            for _ in 0..2 {
                desk.act(Action::Click(x, y));
            }
            if desk.app.zone() != zone {
                opened += 1;
                desk = Desk::new(120, 40);
                desk.keys(keys);
            }
            desk.act(Action::Wheel(x, y, 1));
            assert_eq!(desk.app.zone(), zone);
        }
        assert!(opened > 0, "{keys}");
    }
}

#[test]
fn pictures_draw_at_every_size_a_terminal_may_have() {
    let mut desk = Desk::new(60, 20);
    for (_, keys) in PICTURES {
        desk.keys(keys);
        for width in (60..=200).step_by(7) {
            for height in (20..=60).step_by(5) {
                desk.act(Action::Resize(Size { width, height }));
                desk.buffer(width, height);
            }
        }
        desk.keys("Esc 1");
    }
}
