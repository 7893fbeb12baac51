//! Drives the interface without a terminal: keys in, screens out, effects carried out at
//! once.

use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use fairdraw::analysis::Assessed;
use fairdraw::demo;
use fairdraw::model::trail::Who;
use fairdraw::model::{Progress, time};
use fairdraw::programme::remembered::{Keeper, NotKept};
use fairdraw::programme::{ImportRequest, Programme};
use fairdraw::tui::decide::{decide, write_out};
use fairdraw::tui::effect::{Answer, Effect, fetch, reckon, write_plans};
use fairdraw::tui::screens::import::order::{IntakeAnswer, IntakeOrder, Told, carry_out};
use fairdraw::tui::screens::records::exam::examine;
use fairdraw::tui::{Action, App, Theme, update, view};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::layout::Size;
use ratatui::style::{Color, Modifier};

use super::made_up::MadeUp;
use crate::support::fixture;

/// An interface on the made-up programme.
pub struct Desk {
    pub app: App,
    pub assessed: Arc<Assessed>,
    made: MadeUp,
    /// A programme file of its own, made when something is first taken in.
    file: Option<(tempfile::TempDir, PathBuf)>,
    /// Orders to take a table in are left undone, as if they were under way.
    pub holds: bool,
    /// Leaves what is asked of the programme file unanswered, decisions apart.
    pub holds_files: bool,
    /// A pack under way was asked to stop.
    pub stopped_pack: bool,
    /// The programme that is decided in, where there is one.
    programme: Option<Programme>,
    who: Option<Who>,
    pub left: bool,
    pub reloads: usize,
    /// What was handed to the terminal's clipboard, the latest last.
    pub copied: Vec<String>,
    /// What is remembered, for as long as the desk stands.
    pub keeper: Keeper,
}

/// 2026-11-28T09:30:00Z
const CLOCK: i64 = 1_795_858_200;

/// The bytes of a small invented programme, taken in and judged once for all tests.
fn invented() -> &'static [u8] {
    static FILE: OnceLock<Vec<u8>> = OnceLock::new();
    FILE.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let sheets = folder.path().join("sheets");
        let size = demo::Size {
            draws: 240,
            points: 24,
            technicians: 5,
            ..demo::Size::default()
        };
        demo::write(&sheets, &size, &Progress::default()).unwrap();
        let file = folder.path().join("invented.db");
        let mut programme = Programme::open_or_create(&file).unwrap();
        programme.set_clock(CLOCK);
        let request = ImportRequest {
            sheets: vec![sheets],
            zone: time::zone("Europe/Lisbon"),
            ..ImportRequest::default()
        };
        programme.import(&request, &Progress::default()).unwrap();
        // Closing it brings all of it into the file.
        drop(programme);
        std::fs::read(&file).unwrap()
    })
}

impl Desk {
    /// The same where nothing is hard to believe.
    pub fn believable(width: u16, height: u16) -> Self {
        let mut desk = Desk::new(width, height);
        desk.made.doubtful = false;
        desk
    }

    pub fn new(width: u16, height: u16) -> Self {
        Desk::with(width, height, Theme::new(true, true))
    }

    pub fn with(width: u16, height: u16, theme: Theme) -> Self {
        Desk::changed(width, height, theme, |_| {})
    }

    /// The same after a change to the judged programme.
    pub fn changed(
        width: u16,
        height: u16,
        theme: Theme,
        change: impl FnOnce(&mut Assessed),
    ) -> Self {
        let made = MadeUp::new();
        let mut assessed = made.assess();
        change(&mut assessed);
        let assessed = Arc::new(assessed);
        let mut desk = Desk {
            app: App::new("made-up.db", theme, Size { width, height })
                .with_import_folder("tests/fixtures/to-take-in/")
                .with_who(Who::named("Ines Falk")),
            assessed: Arc::clone(&assessed),
            made,
            file: None,
            holds: false,
            holds_files: false,
            stopped_pack: false,
            programme: None,
            who: None,
            left: false,
            reloads: 0,
            copied: Vec::new(),
            keeper: Keeper::nowhere(NotKept::Off),
        };
        desk.act(Action::Loaded(assessed));
        desk
    }

    /// An interface on a programme file of its own, for deciding: a small invented programme on
    /// a day when its last draws are four weeks old.
    pub fn on_file(width: u16, height: u16) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("invented.db");
        std::fs::write(&file, invented()).unwrap();
        let mut programme = Programme::open(&file).unwrap();
        programme.set_clock(CLOCK);
        let assessed = Arc::new(programme.assess(&Progress::default()).unwrap());
        let who = Who::named("Ada Morn");
        let size = Size { width, height };
        let mut desk = Desk {
            app: App::new("invented.db", Theme::new(true, true), size).with_who(who.clone()),
            assessed: Arc::clone(&assessed),
            made: MadeUp::new(),
            file: Some((folder, file)),
            holds: false,
            holds_files: false,
            stopped_pack: false,
            programme: Some(programme),
            who,
            left: false,
            reloads: 0,
            copied: Vec::new(),
            keeper: Keeper::nowhere(NotKept::Off),
        };
        desk.act(Action::Loaded(assessed));
        desk
    }

    /// An interface on a copy of this programme file, its clock at the demo's present.
    pub fn of_file(from: &Path, width: u16, height: u16, theme: Theme) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("demo.db");
        std::fs::copy(from, &file).unwrap();
        let mut programme = Programme::open(&file).unwrap();
        programme.set_clock(demo::PRESENT);
        let assessed = Arc::new(programme.assess(&Progress::default()).unwrap());
        let who = Who::named(demo::SUPERVISOR);
        let size = Size { width, height };
        let mut desk = Desk {
            app: App::new("demo.db", theme, size).with_who(who.clone()),
            assessed: Arc::clone(&assessed),
            made: MadeUp::new(),
            file: Some((folder, file)),
            holds: false,
            holds_files: false,
            stopped_pack: false,
            programme: Some(programme),
            who,
            left: false,
            reloads: 0,
            copied: Vec::new(),
            keeper: Keeper::nowhere(NotKept::Off),
        };
        desk.act(Action::Loaded(assessed));
        desk
    }

    /// The same where nobody is named, or where nothing can be written to the file.
    pub fn without_a_name(&mut self, read_only: bool) {
        let size = Size {
            width: 120,
            height: 40,
        };
        let who = self.who.clone().filter(|_| read_only);
        self.app = App::new("invented.db", Theme::new(true, true), size)
            .with_read_only(read_only)
            .with_who(who);
        self.act(Action::Loaded(Arc::clone(&self.assessed)));
    }

    /// The same on a programme file of its own in which nothing is yet.
    pub fn without_points(&mut self) {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("empty.db");
        drop(Programme::open_or_create(&file).unwrap());
        self.file = Some((folder, file));
    }

    /// Where the programme file lies, and what is written beside it.
    pub fn folder(&self) -> &Path {
        self.file.as_ref().unwrap().0.path()
    }

    /// The programme that is decided in.
    pub fn programme(&mut self) -> &mut Programme {
        self.programme.as_mut().unwrap()
    }

    /// One action and all that follows from it.
    pub fn act(&mut self, action: Action) {
        let mut effects = update(&mut self.app, action);
        while let Some(effect) = effects.pop() {
            let answer = match effect {
                Effect::Fetch(_) | Effect::WriteOut(_) if self.holds_files => continue,
                Effect::Reckon(question) => reckon(&self.assessed, question, &Progress::default()),
                // Keys at random must not leave files behind.
                Effect::WritePlans(order) if order.folder.starts_with(std::env::temp_dir()) => {
                    write_plans(&self.made, &self.assessed, &order, &Progress::default())
                }
                Effect::Decide(decision) => {
                    let done = match (&mut self.programme, &self.who) {
                        (Some(programme), Some(who)) => {
                            let progress = Progress::default();
                            decide(programme, &self.assessed, who, &decision, &progress)
                        }
                        _ => Err("Not here.".to_owned()),
                    };
                    Answer::Done(done)
                }
                Effect::WriteOut(paper) => {
                    let done = match &mut self.programme {
                        Some(programme) => {
                            write_out(programme, &self.assessed, &paper, &Progress::default())
                        }
                        None => Err("Not here.".to_owned()),
                    };
                    paper.answered(done)
                }
                Effect::WritePlans(_) => Answer::Plans(Err("Not here.".to_owned())),
                Effect::Fetch(question) => match &self.programme {
                    Some(programme) => fetch(programme, &self.assessed, &question),
                    None => fetch(&self.made, &self.assessed, &question),
                },
                Effect::Quit => {
                    self.left = true;
                    continue;
                }
                Effect::Copy(text) => {
                    self.copied.push(text);
                    continue;
                }
                Effect::Remember(change) => {
                    let changed = self.keeper.change(&change);
                    let memory = changed.map(|_| self.keeper.memory().clone());
                    Answer::Remembered(memory)
                }
                Effect::Reload => {
                    self.reloads += 1;
                    effects.extend(update(
                        &mut self.app,
                        Action::Loaded(Arc::clone(&self.assessed)),
                    ));
                    continue;
                }
                Effect::Intake(_) | Effect::Examine(_) if self.holds => continue,
                Effect::StopPack => {
                    self.stopped_pack = true;
                    continue;
                }
                Effect::Examine(order) => {
                    let progress = Progress::default();
                    let answer = match &self.programme {
                        Some(programme) => examine(programme, &self.assessed, &order, &progress),
                        None => examine(&self.made, &self.assessed, &order, &progress),
                    };
                    effects.extend(update(&mut self.app, Action::Examined(answer)));
                    continue;
                }
                // Keys at random must not leave files behind.
                Effect::Intake(IntakeOrder::Export(_, to))
                    if !Path::new(&to).starts_with(std::env::temp_dir()) =>
                {
                    let answer = IntakeAnswer::Exported(0, Told::Failed("Not here.".to_owned()));
                    effects.extend(update(&mut self.app, Action::Intake(answer)));
                    continue;
                }
                Effect::Intake(IntakeOrder::SaveMap(_, to))
                    if !Path::new(&to).starts_with(std::env::temp_dir()) =>
                {
                    let answer = IntakeAnswer::Saved(Told::Failed("Not here.".to_owned()));
                    effects.extend(update(&mut self.app, Action::Intake(answer)));
                    continue;
                }
                Effect::Intake(order) => {
                    let answer = carry_out(self.file(), &order, &Progress::default());
                    effects.extend(update(&mut self.app, Action::Intake(answer)));
                    continue;
                }
                Effect::StopDeciding
                | Effect::OpenAnother
                | Effect::Suspend
                | Effect::StopLong
                | Effect::StopPlans
                | Effect::StopFind
                | Effect::StopIntake
                | Effect::StopExam => {
                    continue;
                }
            };
            effects.extend(update(&mut self.app, Action::Answered(answer)));
        }
    }

    fn file(&mut self) -> &Path {
        let (_, file) = self.file.get_or_insert_with(|| {
            let folder = tempfile::tempdir().unwrap();
            let file = folder.path().join("own.db");
            let mut own = Programme::open_or_create(&file).unwrap();
            let sheets = ["points.csv", "technicians.csv"];
            let request = ImportRequest {
                sheets: sheets.map(|name| fixture("to-take-in").join(name)).to_vec(),
                ..ImportRequest::default()
            };
            own.import(&request, &Progress::default()).unwrap();
            (folder, file)
        });
        file
    }

    /// Presses keys: `j`, `Enter`, `C-u`, `type:some text`; separated by blanks unless typed.
    pub fn keys(&mut self, keys: &str) -> &mut Self {
        for key in keys.split(' ') {
            if let Some(text) = key.strip_prefix("type:") {
                for sign in text.replace('_', " ").chars() {
                    self.key(KeyCode::Char(sign), KeyModifiers::NONE);
                }
                continue;
            }
            let (code, held) = match key {
                "Enter" => (KeyCode::Enter, KeyModifiers::NONE),
                "Esc" => (KeyCode::Esc, KeyModifiers::NONE),
                "Tab" => (KeyCode::Tab, KeyModifiers::NONE),
                "Up" => (KeyCode::Up, KeyModifiers::NONE),
                "Down" => (KeyCode::Down, KeyModifiers::NONE),
                "Space" => (KeyCode::Char(' '), KeyModifiers::NONE),
                "Left" => (KeyCode::Left, KeyModifiers::NONE),
                "Right" => (KeyCode::Right, KeyModifiers::NONE),
                "Delete" => (KeyCode::Delete, KeyModifiers::NONE),
                "BackTab" => (KeyCode::BackTab, KeyModifiers::SHIFT),
                "Alt-Left" => (KeyCode::Left, KeyModifiers::ALT),
                "Alt-Right" => (KeyCode::Right, KeyModifiers::ALT),
                "PageUp" => (KeyCode::PageUp, KeyModifiers::NONE),
                "PageDown" => (KeyCode::PageDown, KeyModifiers::NONE),
                "Home" => (KeyCode::Home, KeyModifiers::NONE),
                "End" => (KeyCode::End, KeyModifiers::NONE),
                "Backspace" => (KeyCode::Backspace, KeyModifiers::NONE),
                "F1" => (KeyCode::F(1), KeyModifiers::NONE),
                "F2" => (KeyCode::F(2), KeyModifiers::NONE),
                _ => match key.strip_prefix("C-") {
                    Some(letter) => (
                        KeyCode::Char(letter.chars().next().unwrap()),
                        KeyModifiers::CONTROL,
                    ),
                    None => (
                        KeyCode::Char(key.chars().next().unwrap()),
                        KeyModifiers::NONE,
                    ),
                },
            };
            self.key(code, held);
        }
        self
    }

    pub fn key(&mut self, code: KeyCode, held: KeyModifiers) {
        if let Some(action) = self.app.action_of(KeyEvent::new(code, held)) {
            self.act(action);
        }
    }

    pub fn buffer(&self, width: u16, height: u16) -> Buffer {
        let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
        terminal.draw(|frame| view(&self.app, frame)).unwrap();
        terminal.backend().buffer().clone()
    }

    /// The screen as lines of text, blanks at the end cut off.
    pub fn text(&self, width: u16, height: u16) -> String {
        let buffer = self.buffer(width, height);
        let mut text = String::new();
        for y in 0..height {
            let mut line = String::new();
            let mut x = 0;
            while x < width {
                let symbol = buffer[(x, y)].symbol();
                line.push_str(symbol);
                x += unicode_width::UnicodeWidthStr::width(symbol).max(1) as u16;
            }
            text.push_str(line.trim_end());
            text.push('\n');
        }
        text
    }
}

/// Runs of cells that don't look as the terminal's default: `row:from..to colour modifiers`.
pub fn styles(buffer: &Buffer) -> Vec<String> {
    let mut runs = Vec::new();
    for y in 0..buffer.area.height {
        let look = |x: u16| {
            let cell = &buffer[(x, y)];
            (cell.fg, cell.bg, cell.modifier)
        };
        let mut x = 0;
        while x < buffer.area.width {
            let start = x;
            let here = look(x);
            while x < buffer.area.width && look(x) == here {
                x += 1;
            }
            if here != (Color::Reset, Color::Reset, Modifier::empty()) {
                let (fg, bg, modifier) = here;
                let colour = |colour: Color, before: &str| match colour {
                    Color::Reset => String::new(),
                    colour => format!(" {before}{colour}"),
                };
                runs.push(format!(
                    "{y}:{start}..{x}{}{}{}",
                    colour(fg, ""),
                    colour(bg, "on "),
                    if modifier.is_empty() {
                        String::new()
                    } else {
                        format!(" {modifier:?}")
                    }
                ));
            }
        }
    }
    runs
}
