//! What stands there before a programme is open.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use fairdraw::programme::folder::{Entry, What};
use fairdraw::programme::{Programme, Unopened};
use fairdraw::tui::start::{Effect, Happened, Start, update, view};
use fairdraw::tui::{Action, Theme};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::layout::Size;

use crate::support::assert_snapshot;

const SIZES: [(u16, u16); 4] = [(60, 20), (80, 24), (120, 40), (200, 60)];

/// The state before a programme is open, at this size.
struct Doorstep {
    start: Start,
    size: (u16, u16),
    asked: Vec<Effect>,
}

impl Doorstep {
    fn with(file: &str, (width, height): (u16, u16), theme: Theme) -> Self {
        let mut start = Start::new(Path::new(file), theme, Size { width, height });
        let asked = start.open();
        Doorstep {
            start,
            size: (width, height),
            asked,
        }
    }

    fn new(file: &str, size: (u16, u16)) -> Self {
        Doorstep::with(file, size, Theme::new(true, true))
    }

    /// Where there is no such file.
    fn missing(file: &str, size: (u16, u16)) -> Self {
        let mut doorstep = Doorstep::new(file, size);
        doorstep.unopened(Path::new("none/at/all.db"), file);
        doorstep
    }

    /// Answers the latest wish as opening `real` is answered, under another name.
    fn unopened(&mut self, real: &Path, shown: &str) {
        let error = Programme::open(real).expect_err("it can't be opened");
        let unopened = Unopened::of(Path::new(shown), &error);
        let wish = (self.asked.iter().rev())
            .find_map(|effect| match effect {
                Effect::Open(wish, _) => Some(*wish),
                _ => None,
            })
            .expect("a file is being opened");
        self.happens(Happened::Unopened(wish, unopened));
    }

    fn happens(&mut self, happened: Happened) {
        self.asked.extend(update(&mut self.start, happened));
    }

    fn key(&mut self, code: KeyCode) {
        if let Some(action) = self
            .start
            .action_of(KeyEvent::new(code, KeyModifiers::NONE))
        {
            self.happens(Happened::Action(action));
        }
    }

    fn letters(&mut self, letters: &str) {
        for sign in letters.chars() {
            self.key(KeyCode::Char(sign));
        }
    }

    fn last(&self) -> &Effect {
        self.asked.last().expect("something was asked for")
    }

    fn text(&self) -> String {
        let (width, height) = self.size;
        let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
        terminal.draw(|frame| view(&self.start, frame)).unwrap();
        let buffer = terminal.backend().buffer();
        let line = |y| -> String { (0..width).map(|x| buffer[(x, y)].symbol()).collect() };
        let lines = (0..height).map(|y| line(y).trim_end().to_owned());
        lines.collect::<Vec<_>>().join("\n") + "\n"
    }

    fn snapshot(&self, name: &str) {
        let (width, height) = self.size;
        let name = format!("{name}@{width}x{height}");
        assert_snapshot("screens", &name, &self.text());
    }
}

fn listing() -> Vec<Entry> {
    let entry = |name: &str, what, bytes| Entry {
        name: name.to_owned(),
        what,
        bytes,
    };
    vec![
        entry("last year", What::Folder, 0),
        entry("north.db", What::Programme, 3_400_000),
        entry("south.db", What::Programme, 812_000),
    ]
}

/// A file of each kind that can't be opened, by what is then said of it.
fn hopeless(folder: &Path) -> Vec<(&'static str, PathBuf)> {
    let file = |name: &str, bytes: &[u8]| {
        let file = folder.join(name);
        std::fs::write(&file, bytes).unwrap();
        file
    };
    let newer = folder.join("newer.db");
    drop(Programme::open_or_create(&newer).unwrap());
    // SQLite file format, "The Database Header": the user version at 60.
    let mut bytes = std::fs::read(&newer).unwrap();
    bytes[60..64].copy_from_slice(&99_u32.to_be_bytes());
    let mut cut = bytes.clone();
    cut.truncate(9000);
    vec![
        (
            "other-kind",
            file("notes.db", b"Notes of the morning round"),
        ),
        ("newer", file("newer.db", &bytes)),
        ("damaged", file("cut.db", &cut)),
        ("folder", folder.to_owned()),
    ]
}

#[test]
fn without_a_programme_it_says_what_to_begin_with() {
    for size in SIZES {
        let mut doorstep = Doorstep::missing("north.db", size);
        doorstep.snapshot("first-run");
        doorstep.key(KeyCode::Down);
        doorstep.snapshot("first-run-tables");
        doorstep.letters("?");
        doorstep.snapshot("first-run-help");
    }
}

#[test]
fn each_choice_asks_for_what_it_says_by_its_key_and_by_enter() {
    let new = || Doorstep::missing("north.db", (80, 24));
    for (key, steps, expected) in [
        ('d', 0, Effect::MakeDemo),
        ('i', 1, Effect::Fill(PathBuf::from("north.db"))),
        ('o', 2, Effect::List(String::new())),
    ] {
        let mut by_key = new();
        by_key.letters(&key.to_string());
        assert_eq!(by_key.last(), &expected);
        let mut by_enter = new();
        for _ in 0..steps {
            by_enter.key(KeyCode::Down);
        }
        by_enter.key(KeyCode::Enter);
        assert_eq!(by_enter.last(), &expected);
    }
    let mut leaving = new();
    leaving.letters("q");
    assert_eq!(leaving.last(), &Effect::Quit(None));
    let mut back = new();
    back.key(KeyCode::Esc);
    assert!(back.text().contains("q leaves"), "{}", back.text());
}

#[test]
fn a_click_chooses_and_a_second_one_does_it() {
    let mut doorstep = Doorstep::missing("north.db", (80, 24));
    let text = doorstep.text();
    let row = text
        .lines()
        .position(|line| line.contains("Take your tables"));
    let row = u16::try_from(row.unwrap()).unwrap();
    let before = doorstep.asked.len();
    doorstep.happens(Happened::Action(Action::Click(10, row)));
    assert_eq!(doorstep.asked.len(), before);
    doorstep.happens(Happened::Action(Action::Click(10, row)));
    assert_eq!(doorstep.last(), &Effect::Fill(PathBuf::from("north.db")));
}

#[test]
fn the_demo_shows_how_far_it_is_and_esc_stops_it() {
    for size in SIZES {
        let mut doorstep = Doorstep::missing("north.db", size);
        doorstep.letters("d");
        doorstep.happens(Happened::Action(Action::Progress("judging", 1_200, 5_000)));
        doorstep.snapshot("first-run-making");
        doorstep.key(KeyCode::Esc);
        assert_eq!(doorstep.last(), &Effect::StopDemo);
        assert!(doorstep.text().contains("Stopping"));
        // Once more changes nothing.
        let before = doorstep.asked.len();
        doorstep.key(KeyCode::Esc);
        assert_eq!(doorstep.asked.len(), before);
        doorstep.happens(Happened::NoDemo(None));
        doorstep.unopened(Path::new("none.db"), "north.db");
        assert!(doorstep.text().contains("Stopped; nothing is kept of it."));
    }
}

#[test]
fn a_demo_that_was_all_that_was_wanted_leaves_when_it_is_stopped() {
    let size = Size {
        width: 80,
        height: 24,
    };
    let mut start = Start::new(Path::new("p.db"), Theme::new(true, true), size);
    assert_eq!(start.make_demo(), [Effect::MakeDemo]);
    let left = update(&mut start, Happened::NoDemo(None));
    let words = "stopped; the demo was not made".to_owned();
    assert_eq!(left, [Effect::Quit(Some(words))]);
}

#[test]
fn another_file_is_chosen_from_a_list_or_written() {
    for size in SIZES {
        let mut doorstep = Doorstep::missing("plant/new.db", size);
        doorstep.letters("o");
        assert_eq!(doorstep.last(), &Effect::List("plant/".to_owned()));
        let listed = |folder: &str| Happened::Listed(folder.to_owned(), Arc::new(Ok(listing())));
        doorstep.happens(listed("plant/"));
        doorstep.snapshot("first-run-naming");
        // The first programme is chosen, not the way up.
        doorstep.key(KeyCode::Enter);
        let opened = |doorstep: &Doorstep| match doorstep.last() {
            Effect::Open(_, file) => file.clone(),
            other => panic!("{other:?}"),
        };
        assert_eq!(opened(&doorstep), Path::new("plant/north.db"));
        doorstep.unopened(Path::new("none.db"), "plant/north.db");
        doorstep.letters("o");
        doorstep.happens(listed("plant/"));
        doorstep.letters("so");
        doorstep.key(KeyCode::Tab);
        doorstep.key(KeyCode::Enter);
        assert_eq!(opened(&doorstep), Path::new("plant/south.db"));
        doorstep.unopened(Path::new("none.db"), "plant/south.db");
        doorstep.letters("o");
        doorstep.letters("east.db");
        doorstep.key(KeyCode::Enter);
        assert_eq!(opened(&doorstep), Path::new("plant/east.db"));
    }
}

#[test]
fn what_can_t_be_opened_says_what_where_and_what_to_do() {
    for size in SIZES {
        let folder = tempfile::tempdir().unwrap();
        for (name, file) in hopeless(folder.path()) {
            let mut doorstep = Doorstep::new("north.db", size);
            doorstep.unopened(&file, "north.db");
            doorstep.snapshot(&format!("unopened-{name}"));
            doorstep.letters("r");
            assert!(matches!(doorstep.last(), Effect::Open(2, _)));
            doorstep.unopened(&file, "north.db");
            doorstep.letters("q");
            let Effect::Quit(Some(words)) = doorstep.last() else {
                panic!("{:?}", doorstep.last())
            };
            assert!(!words.is_empty());
        }
    }
}

#[test]
fn an_answer_that_came_too_late_is_let_go() {
    let mut doorstep = Doorstep::missing("north.db", (80, 24));
    let error = Programme::open(Path::new("Cargo.toml")).unwrap_err();
    let late = Unopened::of(Path::new("north.db"), &error);
    doorstep.happens(Happened::Unopened(0, late.clone()));
    doorstep.happens(Happened::Unopened(1, late));
    assert!(
        doorstep
            .text()
            .contains("There is no programme file north.db yet.")
    );
}

#[test]
fn a_short_opening_draws_nothing_and_a_long_one_says_so() {
    let mut doorstep = Doorstep::new("north.db", (80, 24));
    assert!(doorstep.start.is_quiet() && doorstep.start.is_busy());
    doorstep.happens(Happened::Action(Action::Progress("waiting", 0, 0)));
    assert!(!doorstep.start.is_quiet());
    assert!(doorstep.text().contains("Opening the programme"));
}

#[test]
fn it_can_be_read_in_ascii_without_colours_and_at_any_size() {
    let folder = tempfile::tempdir().unwrap();
    let hopeless = hopeless(folder.path());
    for (width, height) in [(60, 20), (80, 24), (200, 60), (59, 20), (10, 3), (1, 1)] {
        let plain = Theme::new(false, false);
        let mut doorstep = Doorstep::with("Öl/norden.db", (width, height), plain);
        doorstep.unopened(Path::new("none.db"), "Öl/norden.db");
        assert!(doorstep.text().is_ascii(), "{}", doorstep.text());
        for letters in ["?", "?", "o"] {
            doorstep.letters(letters);
            assert!(doorstep.text().is_ascii(), "{}", doorstep.text());
        }
        for (_, file) in &hopeless {
            let mut doorstep = Doorstep::with("north.db", (width, height), plain);
            doorstep.unopened(file, "a\u{1b}[2Jb.db");
            assert!(doorstep.text().is_ascii(), "{}", doorstep.text());
            assert!(!doorstep.text().contains('\u{1b}'));
        }
    }
}
