//! Screens that have nothing to show: what that means, and the key to go on.

use fairdraw::analysis::Assessed;
use fairdraw::model::{Judged, Verdict};
use fairdraw::tui::{Action, App, Theme};
use ratatui::layout::Size;

use super::desk::Desk;
use crate::support::assert_snapshot;

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

/// The screens that show the draws in view, and the key of each.
const OF_DRAWS: [(&str, &str); 6] = [
    ("share", "1"),
    ("draws", "2"),
    ("people", "3"),
    ("points", "4"),
    ("topics", "5"),
    ("resample", "8"),
];

fn snapshot(desk: &Desk, name: &str, (width, height): (u16, u16)) {
    let text = desk.text(width, height);
    assert_snapshot("screens", &format!("{name}@{width}x{height}"), &text);
}

fn desk((width, height): (u16, u16), change: impl FnOnce(&mut Assessed)) -> Desk {
    Desk::changed(width, height, Theme::new(true, true), change)
}

#[test]
fn without_draws_every_screen_leads_to_taking_tables_in() {
    for size in SIZES {
        for (name, key) in OF_DRAWS {
            let mut desk = desk(size, |assessed| assessed.judged = Judged::default());
            desk.keys("Esc").keys(key);
            let text = desk.text(size.0, size.1);
            assert!(text.contains("i takes your tables in"), "{text}");
            snapshot(&desk, &format!("empty-{name}"), size);
            desk.keys("i");
            assert!(desk.text(size.0, size.1).contains("holds no draws yet"));
        }
    }
}

#[test]
fn a_file_that_is_not_there_yet_is_named_where_tables_are_chosen() {
    for size in SIZES {
        let mut desk = desk(size, |assessed| assessed.judged = Judged::default());
        let (width, height) = size;
        let app = App::new("north.db", Theme::new(true, true), Size { width, height });
        desk.app = app
            .with_import_folder("tests/fixtures/to-take-in/")
            .with_new_file(true);
        let assessed = desk.assessed.clone();
        desk.act(Action::Loaded(assessed));
        snapshot(&desk, "empty-new-file", size);
    }
}

#[test]
fn a_filter_that_lets_nothing_pass_is_named_with_the_way_back() {
    for size in SIZES {
        for (name, key) in OF_DRAWS {
            let mut desk = desk(size, |_| {});
            desk.keys(key).keys(": type:kind:tank_from:2031-01 Enter");
            let text = desk.text(size.0, size.1);
            if name == "resample" {
                // What is due does not hang on the period looked at.
                assert!(text.contains("from:2031-01 is left out here"), "{text}");
                continue;
            }
            assert!(text.contains("No draw passes the filter"), "{text}");
            assert!(text.contains("x takes its last term away, of 2"), "{text}");
            if name == "share" || name == "draws" {
                snapshot(&desk, &format!("filtered-{name}"), size);
            }
            desk.keys("x");
            let text = desk.text(size.0, size.1);
            assert!(!text.contains("No draw passes"), "{name}: {text}");
        }
    }
}

#[test]
fn nothing_to_train_to_ask_or_to_resample_is_said() {
    let all_good = |assessed: &mut Assessed| {
        assessed.trainings.clear();
        let judged = &mut assessed.judged;
        for at in 0..judged.len() {
            judged.verdict[at] = Verdict::Representative;
            judged.broken[at] = Default::default();
            judged.unrecorded[at] = Default::default();
        }
    };
    for size in SIZES {
        for (name, keys) in [
            ("good-share", "1"),
            ("good-topics", "5"),
            ("good-asks", "5 Tab"),
            ("empty-trainings", "5 Tab Tab"),
            ("good-resample", "8"),
            ("good-people", "3"),
        ] {
            let mut desk = desk(size, all_good);
            desk.keys(keys);
            snapshot(&desk, name, size);
        }
    }
}

#[test]
fn without_a_judged_draw_or_with_one_person_or_point_it_says_what_can_t_be_told() {
    let unproven = |assessed: &mut Assessed| {
        let verdicts = assessed.judged.verdict.iter_mut();
        verdicts.for_each(|verdict| *verdict = Verdict::Unproven);
    };
    let one_person = |assessed: &mut Assessed| {
        let people = assessed.judged.technician.iter_mut();
        people.for_each(|technician| *technician = 0);
    };
    let one_point = |assessed: &mut Assessed| {
        let points = assessed.judged.point.iter_mut();
        points.for_each(|point| *point = 0);
    };
    for size in SIZES {
        for (name, key) in [("share", "1"), ("people", "3"), ("points", "4")] {
            let mut unjudged = desk(size, unproven);
            unjudged.keys(key);
            snapshot(&unjudged, &format!("unjudged-{name}"), size);
        }
        let mut alone = desk(size, one_person);
        alone.keys("3");
        snapshot(&alone, "one-person", size);
        let mut alone = desk(size, one_point);
        alone.keys("4");
        snapshot(&alone, "one-point", size);
    }
}

#[test]
fn a_file_that_can_t_be_written_to_is_said_once_and_where_it_matters() {
    let size = (120, 40);
    let mut desk = Desk::on_file(size.0, size.1);
    desk.without_a_name(true);
    snapshot(&desk, "read-only", size);
    desk.keys("2");
    assert!(!desk.text(120, 40).contains("written to"));
    desk.keys("a");
    assert!(
        desk.text(120, 40)
            .contains("so nothing can be decided in it")
    );
    desk.without_a_name(false);
    assert!(!desk.text(120, 40).contains("Who decides"));
    desk.keys("2 a");
    assert!(desk.text(120, 40).contains("your name"));
}

#[test]
fn a_value_that_nothing_is_called_stands_below_the_filter_with_what_may_be_meant() {
    let mut desk = Desk::new(120, 40);
    desk.keys(": type:site:Harbor Enter 2 j");
    let shown = desk.text(120, 40);
    let reason = "No site is called \"Harbor\"; the nearest is \"Harbour\".";
    assert!(shown.contains("No draw passes the filter"), "{shown}");
    let above: Vec<&str> = shown.lines().take(39).collect();
    assert!(above.join("\n").contains(reason), "{shown}");
}
