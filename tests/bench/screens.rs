//! What a person waits for: the first screen, a key, a changed filter.
//!
//! The same actions, effects and drawing as in a terminal, one after another in this
//! thread and drawn into memory; the terminal's own time is not in it. Questions that take
//! long are left out, since no key waits for them.

use std::hint::black_box;
use std::path::Path;
use std::sync::Arc;
use std::time::Instant;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use fairdraw::analysis::{Assessed, FilterKey};
use fairdraw::model::Progress;
use fairdraw::programme::Programme;
use fairdraw::tui::effect::{Effect, fetch, reckon};
use fairdraw::tui::{Action, App, Theme, update, view};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::layout::Size;

use crate::parts::{REPEATS, middle, report_peak};
use crate::table::{Figure, Line};

const SIZE: Size = Size {
    width: 120,
    height: 40,
};

struct Desk {
    app: App,
    programme: Programme,
    assessed: Arc<Assessed>,
    terminal: Terminal<TestBackend>,
}

impl Desk {
    /// Opens the programme and draws the first screen.
    fn open(file: &Path) -> Self {
        let mut programme = Programme::open(file).unwrap();
        let assessed = Arc::new(programme.assess(&Progress::default()).unwrap());
        let mut desk = Desk {
            app: App::new("programme.db", Theme::new(true, true), SIZE),
            programme,
            assessed: Arc::clone(&assessed),
            terminal: Terminal::new(TestBackend::new(SIZE.width, SIZE.height)).unwrap(),
        };
        desk.act(Action::Loaded(assessed));
        desk.draw();
        desk
    }

    fn act(&mut self, action: Action) {
        let effects = update(&mut self.app, action);
        self.carry_out(effects);
    }

    fn carry_out(&mut self, mut effects: Vec<Effect>) {
        while let Some(effect) = effects.pop() {
            let answer = match effect {
                Effect::Reckon(question) if question.takes_long() => continue,
                Effect::Reckon(question) => reckon(&self.assessed, question, &Progress::default()),
                Effect::Fetch(question) => fetch(&self.programme, &self.assessed, &question),
                _ => continue,
            };
            effects.extend(update(&mut self.app, Action::Answered(answer)));
        }
    }

    fn draw(&mut self) {
        let app = &self.app;
        self.terminal.draw(|frame| view(app, frame)).unwrap();
    }

    fn key(&mut self, code: KeyCode) {
        let pressed = KeyEvent::new(code, KeyModifiers::NONE);
        if let Some(action) = self.app.action_of(pressed) {
            self.act(action);
        }
        self.draw();
    }
}

impl Desk {
    /// How long a key takes until the screen shows it, in seconds. What it asks for beside that
    /// is done by other threads meanwhile; here it is done afterwards.
    fn answer(&mut self, code: KeyCode) -> f64 {
        let start = Instant::now();
        let pressed = KeyEvent::new(code, KeyModifiers::NONE);
        let action = self.app.action_of(pressed);
        let effects = action.map(|action| update(&mut self.app, action));
        self.draw();
        let answered = start.elapsed().as_secs_f64();
        self.carry_out(effects.unwrap_or_default());
        answered
    }
}

/// Measures over the programme file that the parts before left.
pub fn measure(folder: &Path) {
    let file = folder.join("programme.db");
    let start = Instant::now();
    let mut desk = Desk::open(&file);
    report("from file to first screen", start.elapsed().as_secs_f64());
    let screens = ['1', '2', '3', '4', '5'];
    let slowest_first = screens.map(|screen| {
        let start = Instant::now();
        desk.key(KeyCode::Char(screen));
        start.elapsed().as_secs_f64()
    });
    let slowest = slowest_first.into_iter().fold(0.0, f64::max);
    report("a screen seen the first time (slowest of five)", slowest);
    let keys = screens.map(|screen| {
        desk.key(KeyCode::Char(screen));
        middle(|| desk.key(KeyCode::Down))
    });
    let slowest = keys.into_iter().fold(0.0, f64::max);
    let screens = ['1', '2', '3', '4', '5', '6', '7', '8'];
    let answered = screens.map(|screen| {
        desk.key(KeyCode::Char(screen));
        middle_of(|| desk.answer(KeyCode::Down))
    });
    let worst = answered.into_iter().fold(0.0, f64::max);
    report(
        "a key, answered and drawn (slowest of eight screens)",
        worst,
    );
    report("the same with all that follows it (of five)", slowest);
    let pictures = screens.map(|screen| {
        desk.key(KeyCode::Char(screen));
        desk.key(KeyCode::Char('d'));
        let drawn = middle(|| desk.draw());
        desk.key(KeyCode::Char('d'));
        drawn
    });
    let slowest = pictures.into_iter().fold(0.0, f64::max);
    report("a large picture drawn (slowest of five)", slowest);
    let filters = ['1', '2', '3', '4', '5', '8'].map(|screen| {
        desk.key(KeyCode::Char(screen));
        changed_filter(&mut desk)
    });
    let slowest = filters.into_iter().fold(0.0, f64::max);
    report(
        "a filter changed and shown (slowest of six screens)",
        slowest,
    );
    report(
        "values of a field counted (slowest of sixteen)",
        counted_values(&mut desk),
    );
    let (first, letter) = finding(&mut desk);
    report("finding: the codes of all draws read", first);
    report(
        "finding: a letter, answered and drawn (slowest of ten)",
        letter,
    );
    black_box(&desk.terminal);
    report_peak("screens: peak memory");
}

/// The middle one of several times.
fn middle_of(mut time: impl FnMut() -> f64) -> f64 {
    let mut times = [0.0; REPEATS].map(|_: f64| time());
    times.sort_unstable_by(f64::total_cmp);
    times[REPEATS / 2]
}

/// The middle time from Enter in the filter line to the new list.
fn changed_filter(desk: &mut Desk) -> f64 {
    let mut times = [0.0; REPEATS];
    for (time, letter) in times
        .iter_mut()
        .zip(["unrepresentative", "doubtful"].iter().cycle())
    {
        desk.key(KeyCode::Char(':'));
        let held = KeyEvent::new(KeyCode::Char('u'), KeyModifiers::CONTROL);
        if let Some(action) = desk.app.action_of(held) {
            desk.act(action);
        }
        for sign in format!("verdict:{letter}").chars() {
            desk.key(KeyCode::Char(sign));
        }
        let start = Instant::now();
        desk.key(KeyCode::Enter);
        *time = start.elapsed().as_secs_f64();
    }
    times.sort_unstable_by(f64::total_cmp);
    times[REPEATS / 2]
}

/// The slowest step from field to field in the filter builder, without a filter.
fn counted_values(desk: &mut Desk) -> f64 {
    desk.key(KeyCode::Char(':'));
    let held = KeyEvent::new(KeyCode::Char('u'), KeyModifiers::CONTROL);
    if let Some(action) = desk.app.action_of(held) {
        desk.act(action);
    }
    desk.key(KeyCode::Enter);
    desk.key(KeyCode::Char('+'));
    let steps = FilterKey::ALL.iter().map(|_| {
        let start = Instant::now();
        desk.key(KeyCode::Tab);
        start.elapsed().as_secs_f64()
    });
    let slowest = steps.fold(0.0, f64::max);
    desk.key(KeyCode::Esc);
    slowest
}

/// The time from the key that begins to the codes of all draws in memory, and the slowest letter.
fn finding(desk: &mut Desk) -> (f64, f64) {
    let start = Instant::now();
    desk.key(KeyCode::Char('/'));
    let first = start.elapsed().as_secs_f64();
    let letters = "b00001 tan".chars().map(|letter| {
        let start = Instant::now();
        desk.key(KeyCode::Char(letter));
        start.elapsed().as_secs_f64()
    });
    let slowest = letters.fold(0.0, f64::max);
    desk.key(KeyCode::Esc);
    (first, slowest)
}

fn report(name: &str, seconds: f64) {
    Line::new(name, Figure::Seconds(seconds)).report();
}
