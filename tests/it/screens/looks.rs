//! How every screen looks: text at three sizes, styles at one, and without colours.

use fairdraw::analysis::Assessed;
use fairdraw::model::{Judged, Verdict};
use fairdraw::tui::screens::import::order::{IntakeAnswer, Outcome};
use fairdraw::tui::{Action, Theme};
use ratatui::style::Color;

use super::desk::{Desk, styles};
use crate::support::assert_snapshot;

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

/// A screen and the keys that lead there.
pub(super) const SCREENS: &[(&str, &str)] = &[
    ("share", ""),
    ("share-months", "Tab Tab j"),
    ("share-quarters", "t"),
    ("share-years", "t t"),
    ("share-weeks", "t t t j"),
    ("draws", "2"),
    ("draws-by-score", "2 s s s"),
    ("draw-opened", "2 j j Enter"),
    ("draw-opened-further", "2 j j Enter j j j"),
    ("people", "3"),
    ("people-shares", "3 v j"),
    ("people-by-difference", "3 s s s s"),
    ("people-adjust", "3 a j j Space"),
    ("people-adjusted", "3 a j j j j Enter j"),
    ("crews", "3 c s S"),
    ("points", "4 j j"),
    ("people-whole", "3 o"),
    ("points-whole", "4 o j j"),
    ("points-by-flow", "4 s"),
    ("points-shares", "4 v"),
    ("topics", "5 j l"),
    ("topics-ticked", "5 Space l l Space s"),
    ("topics-of-crews", "5 c l Space"),
    ("topics-asks", "5 Tab j"),
    ("topics-asks-whole", "5 Tab j o"),
    ("topics-trainings", "5 Tab Tab j"),
    ("topics-folder", "5 Space w"),
    ("records", "7"),
    ("records-second", "7 j j j"),
    ("records-batch", "7 j j j Enter j"),
    ("records-batch-sheets", "7 G Enter j"),
    ("records-take-back", "7 G b type:wrong_sheet"),
    ("records-take-back-sure", "7 G b type:wrong_sheet Enter"),
    ("records-export", "7 j j j e"),
    ("records-coverage", "7 Tab j"),
    ("records-coverage-by-fill", "7 Tab s"),
    ("records-doubts", "7 Tab Tab j"),
    ("records-doubt-opened", "7 Tab Tab Enter j j"),
    ("import-choosing", "7 i Down Down"),
    ("import-narrowed", "7 i type:dr"),
    ("import-no-folder", "7 i type:none/"),
    ("import-questions", "7 i type:har Enter"),
    ("import-answering", "7 i type:har Enter Enter"),
    (
        "import-writing",
        "7 i type:har Enter Enter G Enter type:Europe/Lis",
    ),
    ("import-map", "7 i type:har Enter Enter Enter Enter Enter"),
    (
        "import-column",
        "7 i type:har Enter Enter Enter Enter Enter PageDown PageDown Enter",
    ),
    ("import-rows", "7 i type:draws Enter"),
    ("import-refused", "7 i type:draws Enter Tab j"),
    ("import-all-rows", "7 i Up Up Enter n n"),
    ("import-tried", "7 i type:draws Enter d j"),
    ("import-done", "7 i type:draws Enter t"),
    ("narrow", "2 f j"),
    ("find-empty", "/"),
    ("find-typed", "/ type:press Down"),
    ("find-code", "/ type:b04"),
    ("find-long", "/ type:e PageDown"),
    ("find-none", "/ type:quicksilver"),
    ("find-no-term", "/ type:b044 Tab"),
    (
        "find-lately",
        "/ type:joan Enter : type:kind:sump Enter / type:gear-2 Enter 5 /",
    ),
    ("period", "m"),
    (
        "period-within-filter",
        ": type:kind:sump_from:2026-08_to:2026-08 Enter 3 m",
    ),
    ("period-own", "m c"),
    ("period-own-typed", "m c type:2026-03_2026-04-15"),
    ("period-own-wrong", "m c type:2026-04_to_2026-03-05 Enter"),
    ("filter", ": type:broken:fl"),
    ("filter-wrong", ": type:sight:north"),
];

#[test]
fn every_screen_at_three_sizes() {
    for (name, keys) in SCREENS {
        for (width, height) in SIZES {
            let mut desk = Desk::new(width, height);
            if !keys.is_empty() {
                desk.keys(keys);
            }
            let text = desk.text(width, height);
            assert_snapshot("screens", &format!("{name}@{width}x{height}"), &text);
        }
    }
}

/// All of May is unrepresentative and nothing after it: a sign for each.
#[test]
fn periods_that_signal_carry_a_sign_and_are_put_in_words() {
    let change = |assessed: &mut Assessed| {
        let may = 1_777_593_600..1_780_272_000; // 2026-05-01 to 2026-06-01, UTC
        let judged = &mut assessed.judged;
        for (drawn_at, verdict) in judged.drawn_at.iter().zip(&mut judged.verdict) {
            *verdict = if may.contains(drawn_at) {
                Verdict::Unrepresentative
            } else {
                Verdict::Representative
            };
        }
    };
    for (width, height) in SIZES {
        let mut desk = Desk::changed(width, height, Theme::new(true, true), change);
        desk.keys("Tab Tab j j j");
        let text = desk.text(width, height);
        assert!(
            text.contains("▲ high") && text.contains("above the limit"),
            "{text}"
        );
        assert_snapshot("screens", &format!("share-signals@{width}x{height}"), &text);
        desk.keys("t t t");
        let text = desk.text(width, height);
        assert!(text.contains("▽ run"), "{text}");
        assert_snapshot("screens", &format!("share-runs@{width}x{height}"), &text);
    }
}

#[test]
fn where_nothing_is_hard_to_believe_it_says_what_was_looked_at() {
    for (width, height) in SIZES {
        let mut desk = Desk::believable(width, height);
        desk.keys("7 Tab Tab");
        let text = desk.text(width, height);
        let name = format!("records-no-doubts@{width}x{height}");
        assert_snapshot("screens", &name, &text);
    }
}

#[test]
fn what_is_under_way_shows_how_far_it_is_and_that_it_can_be_stopped() {
    for (width, height) in SIZES {
        let snapshot = |desk: &Desk, name: &str| {
            let text = desk.text(width, height);
            assert_snapshot("screens", &format!("{name}@{width}x{height}"), &text);
        };
        let mut desk = Desk::new(width, height);
        desk.keys("7 i type:draws Enter");
        desk.holds = true;
        desk.keys("t");
        desk.act(Action::IntakeProgress("reading", 41, 100));
        snapshot(&desk, "import-taking");
        desk.keys("Esc");
        assert!(desk.text(width, height).contains("Stopping"));
        desk.act(Action::Intake(IntakeAnswer::Taken(Outcome::Stopped)));
        let text = desk.text(width, height);
        assert!(text.contains("Stopped; nothing was changed."), "{text}");
        desk.keys("t");
        let words = "The programme is in use by another program; close that and try again.";
        desk.act(Action::Intake(IntakeAnswer::Taken(Outcome::Failed(
            words.to_owned(),
        ))));
        snapshot(&desk, "import-failed");
        desk.keys("Esc Esc Esc Tab");
        desk.act(Action::ExamProgress("loading", 3, 4));
        snapshot(&desk, "records-examining");
    }
}

#[test]
fn a_programme_without_draws_offers_to_take_a_table_in() {
    for (width, height) in SIZES {
        let empty = |assessed: &mut Assessed| assessed.judged = Judged::default();
        let mut desk = Desk::changed(width, height, Theme::new(true, true), empty);
        let text = desk.text(width, height);
        assert!(text.contains("holds no draws yet"), "{text}");
        assert_snapshot("screens", &format!("import-empty@{width}x{height}"), &text);
        desk.keys("Esc");
        assert!(!desk.text(width, height).contains("holds no draws yet"));
        for keys in ["2", "3", "4", "5", "6", "7", "Tab", "Tab", "8"] {
            desk.keys(keys);
            desk.text(width, height);
        }
    }
}

#[test]
fn help_names_the_keys_of_the_place() {
    for (name, keys) in [
        ("help-share", "?"),
        ("help-opened", "2 Enter ?"),
        ("help-filter", ": F1"),
        ("help-topics", "5 ?"),
    ] {
        let mut desk = Desk::new(80, 60);
        desk.keys(keys);
        assert_snapshot("screens", name, &desk.text(80, 60));
    }
    for (width, height) in [(80, 24), (120, 40), (200, 60)] {
        for (name, keys) in [("help-people", "3 ?"), ("help-records", "7 ?")] {
            let mut desk = Desk::new(width, height);
            desk.keys(keys);
            let name = format!("{name}@{width}x{height}");
            assert_snapshot("screens", &name, &desk.text(width, height));
        }
    }
}

#[test]
fn help_says_what_the_words_of_its_screen_mean() {
    for (keys, words) in [
        ("3 ?", &["differ ", "odds ratio ", "q "][..]),
        ("2 Enter ?", &["score ", "record ", "conduct "]),
        ("5 ?", &["costs ", "peers ", "regain "]),
        ("6 Tab ?", &["kappa "]),
        ("7 Tab ?", &["settles ", "at best ", "together "]),
    ] {
        for (width, height) in [(80, 40), (120, 40), (200, 60)] {
            let mut desk = Desk::new(width, height);
            desk.keys(keys);
            let shown = desk.text(width, height);
            for word in words {
                let stands = |line: &str| line.contains(&format!("   {word}"));
                let is_told = shown.lines().any(stands);
                assert!(
                    shown.contains("What you see here") && is_told,
                    "{word}: {shown}"
                );
            }
        }
    }
}

#[test]
fn styles_where_they_mean_something() {
    for (name, keys) in [
        ("share", "Tab"),
        ("draw-opened", "2 j j Enter"),
        ("points", "4 j"),
        ("topics", "5 Space j l"),
    ] {
        let mut desk = Desk::new(120, 40);
        desk.keys(keys);
        let runs = styles(&desk.buffer(120, 40));
        assert_snapshot("screens", &format!("{name}-styles"), &runs.join("\n"));
    }
}

#[test]
fn without_colours_every_cell_keeps_the_terminals_own() {
    for (_, keys) in SCREENS {
        let mut desk = Desk::with(120, 40, Theme::new(false, true));
        if !keys.is_empty() {
            desk.keys(keys);
        }
        let buffer = desk.buffer(120, 40);
        for cell in buffer.content() {
            assert_eq!((cell.fg, cell.bg), (Color::Reset, Color::Reset));
        }
    }
}

#[test]
fn without_utf8_everything_is_ascii() {
    for (_, keys) in SCREENS {
        let mut desk = Desk::with(120, 40, Theme::new(true, false));
        if !keys.is_empty() {
            desk.keys(keys);
        }
        let text = desk.text(120, 40);
        assert!(text.is_ascii(), "{keys}\n{text}");
    }
}

#[test]
fn no_control_character_reaches_the_screen() {
    for (_, keys) in SCREENS {
        let mut desk = Desk::new(200, 60);
        if !keys.is_empty() {
            desk.keys(keys);
        }
        let buffer = desk.buffer(200, 60);
        let hostile = |cell: &&ratatui::buffer::Cell| cell.symbol().contains(char::is_control);
        assert_eq!(buffer.content().iter().find(hostile), None);
    }
}

#[test]
fn a_small_window_gets_a_polite_message() {
    for (width, height) in [(59, 20), (60, 19), (20, 5), (1, 1)] {
        let desk = Desk::new(width, height);
        desk.buffer(width, height);
    }
    let desk = Desk::new(40, 10);
    assert_snapshot("screens", "too-small", &desk.text(40, 10));
}
