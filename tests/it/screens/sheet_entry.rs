//! A filled-in verification sheet is entered as a whole, after it was shown.

use std::fmt::Write as _;

use fairdraw::analysis::picks::Pick;
use fairdraw::model::decisions::pick::Outcome;
use fairdraw::tui::Action;

use super::desk::Desk;
use crate::support::assert_snapshot;

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

/// A desk in an opened pick.
fn in_a_pick((width, height): (u16, u16)) -> Desk {
    let mut desk = Desk::on_file(width, height);
    desk.keys("6 Tab n C-s Enter");
    desk
}

fn pick(desk: &mut Desk) -> Pick {
    desk.programme().picks().unwrap().remove(0)
}

/// Writes a sheet of results for the first draws of the pick, the rest left blank.
fn sheet(desk: &mut Desk, results: &[(&str, &str)]) -> String {
    let mut text = String::from("draw_id;result;note\n");
    let pick = pick(desk);
    for (at, seen) in pick.drawn.draws.iter().enumerate() {
        let (result, note) = results.get(at).copied().unwrap_or_default();
        writeln!(text, "{};{result};{note}", seen.draw).unwrap();
    }
    let file = desk.folder().join("verify.csv");
    std::fs::write(&file, text).unwrap();
    file.display().to_string()
}

/// Chooses the sheet.
fn choose(desk: &mut Desk, file: &str) {
    desk.keys("i C-u");
    desk.act(Action::Paste(file.to_owned()));
    desk.keys("Enter");
}

/// The screen with the sheet's path cut to its name.
fn snapshot(desk: &Desk, name: &str, (width, height): (u16, u16), file: &str) {
    let text = desk.text(width, height).replace(file, "verify.csv");
    assert_snapshot("screens", &format!("{name}@{width}x{height}"), &text);
}

const RESULTS: [(&str, &str); 4] = [
    ("agree", ""),
    ("disagree", "the log has a shorter flush"),
    ("unverified", "the log is lost"),
    ("agree", ""),
];

#[test]
fn a_sheet_is_shown_first_and_entered_on_enter() {
    for size in SIZES {
        let mut desk = in_a_pick(size);
        let file = sheet(&mut desk, &RESULTS);
        choose(&mut desk, &file);
        snapshot(&desk, "pick-sheet", size, &file);
        assert_eq!(pick(&mut desk).entered(), 0);
        desk.keys("Enter");
        let entered = pick(&mut desk);
        let results = entered.results.iter().flatten();
        let found: Vec<_> = results
            .map(|(_, it)| (it.result, it.note.as_str()))
            .collect();
        let expected = [
            (Outcome::Agree, ""),
            (Outcome::Disagree, "the log has a shorter flush"),
            (Outcome::Unverified, "the log is lost"),
            (Outcome::Agree, ""),
        ];
        assert_eq!(found, expected);
        let text = desk.text(size.0, size.1);
        assert!(
            text.contains("Entered: pick 1 has a result for 4 of"),
            "{text}"
        );
        // Once more there is nothing new in it.
        choose(&mut desk, &file);
        assert!(desk.text(size.0, size.1).contains("entered already"));
        desk.keys("Enter Esc");
        assert_eq!(pick(&mut desk), entered);
    }
}

#[test]
fn a_sheet_with_a_mistake_names_it_and_enters_nothing() {
    for size in SIZES {
        let mut desk = in_a_pick(size);
        let file = sheet(&mut desk, &[("agree", ""), ("agreed", ""), ("so so", "")]);
        choose(&mut desk, &file);
        let text = desk.text(size.0, size.1);
        assert!(
            text.contains("must be agree, disagree or unverified"),
            "{text}"
        );
        snapshot(&desk, "pick-sheet-wrong", size, &file);
        desk.keys("Enter Enter");
        assert_eq!(pick(&mut desk).entered(), 0);
    }
}

#[test]
fn what_is_no_sheet_is_said_where_it_is_chosen() {
    let mut desk = in_a_pick((120, 40));
    let file = desk.folder().join("other.csv");
    std::fs::write(&file, "a,b\n1,2\n").unwrap();
    let file = file.display().to_string();
    choose(&mut desk, &file);
    let text = desk.text(120, 40);
    assert!(text.contains("has no column draw_id"), "{text}");
    assert!(text.contains("Choose the filled-in sheet of pick 1."));
    desk.keys("Esc");
    assert!(!desk.text(120, 40).contains("Choose the filled-in sheet"));
    choose(&mut desk, "none/at/all.csv");
    assert!(desk.text(120, 40).contains("none/at/all.csv"));
}
