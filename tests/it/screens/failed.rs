//! What goes wrong is told to its end, nothing is lost, and the next step is named.

use fairdraw::tui::effect::Answer;
use fairdraw::tui::{Action, App, Theme};
use ratatui::layout::Size;

use super::desk::Desk;
use crate::support::assert_snapshot;

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

/// As the store says it (`src/store/error.rs`).
const DAMAGED: &str = "the programme file plant/north.db is damaged (database disk image is \
    malformed); go back to a copy of it, or import the sheets into a new file";
const FULL: &str = "no room left for the programme file plant/north.db; free some and try again";

fn snapshot(desk: &Desk, name: &str, (width, height): (u16, u16)) {
    let text = desk.text(width, height);
    assert_snapshot("screens", &format!("{name}@{width}x{height}"), &text);
}

/// The screen's words, wherever lines are broken.
fn flat(desk: &Desk, (width, height): (u16, u16)) -> String {
    let text = desk.text(width, height);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// An interface on which nothing is read yet.
fn unread((width, height): (u16, u16)) -> Desk {
    let mut desk = Desk::new(width, height);
    desk.app = App::new("north.db", Theme::new(true, true), Size { width, height });
    desk
}

#[test]
fn reading_shows_nothing_at_first_then_how_far_it_is() {
    for size in SIZES {
        let mut desk = unread(size);
        let text = desk.text(size.0, size.1);
        assert!(
            !text.contains("Opening") && !text.contains("Reading"),
            "{text}"
        );
        desk.act(Action::Progress("waiting", 0, 0));
        assert!(desk.text(size.0, size.1).contains("Opening the programme"));
        desk.act(Action::Progress("judging", 620_000, 1_000_000));
        snapshot(&desk, "loading", size);
    }
}

#[test]
fn a_programme_that_can_t_be_read_offers_another_try_and_another_file() {
    for size in SIZES {
        let mut desk = unread(size);
        desk.act(Action::Failed(DAMAGED.to_owned()));
        snapshot(&desk, "failed-reading", size);
        desk.keys("Esc");
        assert!(!desk.left);
        desk.keys("r");
        assert_eq!(desk.reloads, 1);
        assert!(!desk.text(size.0, size.1).contains("could not be read"));
    }
    let mut desk = unread((80, 24));
    desk.act(Action::Failed(DAMAGED.to_owned()));
    desk.keys("q");
    assert!(desk.left);
}

#[test]
fn a_reload_that_fails_keeps_what_was_there() {
    for size in SIZES {
        let mut desk = Desk::new(size.0, size.1);
        let share = |desk: &Desk| {
            let text = desk.text(size.0, size.1);
            text.lines()
                .find(|line| line.contains("unrepresentative"))
                .map(str::to_owned)
        };
        let before = share(&desk);
        desk.act(Action::Failed(DAMAGED.to_owned()));
        let text = flat(&desk, size);
        assert!(text.contains("r tries again."), "{text}");
        snapshot(&desk, "failed-reload", size);
        assert_eq!(share(&desk), before);
        desk.keys("j");
        assert!(!flat(&desk, size).contains("tries again"));
    }
}

#[test]
fn a_question_that_fails_is_told_with_the_way_out() {
    for size in SIZES {
        let mut desk = Desk::new(size.0, size.1);
        desk.keys("2");
        desk.act(Action::Answered(Answer::Unreadable(DAMAGED.to_owned())));
        let text = flat(&desk, size);
        assert!(text.contains("r reads the programme again."), "{text}");
        snapshot(&desk, "failed-question", size);
    }
}

#[test]
fn a_decision_that_fails_keeps_what_was_written() {
    for size in SIZES {
        let mut desk = Desk::on_file(size.0, size.1);
        desk.keys("2 Enter a type:tap_was_dirty");
        desk.act(Action::Answered(Answer::Done(Err(FULL.to_owned()))));
        let text = desk.text(size.0, size.1);
        assert!(
            text.contains("tap was dirty") && text.contains("free some"),
            "{text}"
        );
        snapshot(&desk, "failed-decision", size);
    }
}

#[test]
fn a_draw_that_is_not_read_yet_is_read_before_it_is_set_aside() {
    let size = (80, 24);
    let mut desk = Desk::on_file(size.0, size.1);
    // In a small window the list stands alone, and no draw is opened beside it.
    desk.keys("2 j a");
    assert!(flat(&desk, size).contains("Nobody is to act on"));
    desk.keys("type:tap_was_dirty Enter");
    assert!(flat(&desk, size).contains("is set aside."));
    desk.keys("a");
    assert!(flat(&desk, size).contains("Say why it counts after all."));
    desk.keys("Esc j");
    // While it is being read, keys meant for the form do nothing else.
    desk.holds_files = true;
    desk.keys("a type:q2x");
    assert!(!desk.left);
    assert!(flat(&desk, size).contains("Reading the draw"));
    desk.keys("Esc q");
    assert!(desk.left);
}
