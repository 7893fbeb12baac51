//! The time before a programme is open, in lines of text: what to begin with where there is
//! none yet, and what keeps one from being opened. The state is that of the screens.

use std::collections::VecDeque;
use std::path::PathBuf;
use std::sync::Arc;

use super::reader::{Asked, Scene, read};
use super::rows::Rows;
use super::told::Told;
use super::voice::Voice;
use super::work::{Say, Stop, watched};
use super::{import, session, words};
use crate::model::trail::Who;
use crate::programme::{Beginning, Error as Undone, Programme, Unopened, folder};
use crate::tui::action::{Action, Command};
use crate::tui::error::Error;
use crate::tui::keymap::Zone;
use crate::tui::screens::import::order::cant;
use crate::tui::start::choices::command_lines;
use crate::tui::start::run::{Begun, no_folder};
use crate::tui::start::view::ABOUT;
use crate::tui::start::{Effect, Happened, Stage, Start, update};
use crate::tui::text;
use crate::tui::theme::Theme;

/// What a line has led to.
pub(super) enum Came {
    /// Another line is waited for.
    Waits,
    /// A programme is open. What was said besides is the first line to it.
    Begun(Box<Begun>, Option<String>),
    /// The user leaves.
    Left,
}

/// Before a programme is open.
pub(super) struct Door {
    beginning: Beginning,
    start: Start,
    voice: Voice,
    stop: Stop,
    told: Told,
    /// Why the file could not be opened, as the command line says it.
    unopened: Option<String>,
    /// Something was said since the last line.
    has_said: bool,
}

impl Door {
    /// Before the programme of this beginning is open.
    pub(super) fn new(beginning: Beginning, voice: Voice) -> Self {
        let start = Start::new(&beginning.file, Theme::new(false, false), session::SIZE);
        Door {
            beginning,
            start,
            voice,
            stop: Stop::default(),
            told: Told::default(),
            unopened: None,
            has_said: false,
        }
    }

    /// The same with means to stop what is under way that are known elsewhere already.
    pub(super) fn with_stop(mut self, stop: Stop) -> Self {
        self.stop = stop;
        self
    }

    /// Why no programme is open, as the command line says it; none where one was made or opened.
    pub(super) fn unopened(&self) -> Option<&str> {
        self.unopened.as_deref()
    }

    /// Opens the file, or makes the invented programme where that is all that was asked for;
    /// else says what to begin with.
    ///
    /// # Errors
    /// The invented programme could not be made, or a mistake of this program.
    pub(super) fn begin(&mut self, say: &mut dyn FnMut(&str)) -> Result<Came, Error> {
        let effects = match self.beginning.is_demo {
            true => self.start.make_demo(),
            false => self.start.open(),
        };
        let came = self.carry_out(effects, say)?;
        if matches!(came, Came::Waits) {
            self.say(say, "fairdraw, no programme is open.");
            self.tell(say);
        }
        Ok(came)
    }

    /// Does what a line asks for and says what there is to begin with now.
    ///
    /// # Errors
    /// A mistake of this program, or the user leaves what could not be opened.
    pub(super) fn hear(&mut self, line: &str, say: &mut dyn FnMut(&str)) -> Result<Came, Error> {
        self.has_said = false;
        let came = self.obey(line, say)?;
        if matches!(came, Came::Waits) {
            self.tell(say);
            if !self.has_said {
                self.say(say, &format!("Nothing changed; {}.", self.told.title));
            }
        }
        Ok(came)
    }

    fn obey(&mut self, line: &str, say: Say<'_>) -> Result<Came, Error> {
        let scene = Scene {
            zone: self.start.zone(),
            views: &[],
            is_choosing: true,
        };
        // Nothing is begun by accident: lines from a file may begin with an empty one.
        if line.trim().is_empty() && !scene.zone.is_text() {
            self.say(
                say,
                "Say the number or the word of one of them; help tells the rest.",
            );
            return Ok(Came::Waits);
        }
        match read(line, scene) {
            Asked::Command(command) => self.command(command, say),
            Asked::Choose(number) | Asked::At(number, Command::Open) | Asked::Tell(number) => {
                self.take(number, say)
            }
            // `open`, `import` and the like with a path behind them.
            Asked::With(Command::Import, path) => {
                let came = self.command(Command::Import, say)?;
                Ok(match came {
                    Came::Begun(begun, _) => Came::Begun(begun, Some(path)),
                    other => other,
                })
            }
            Asked::With(Command::Open | Command::OtherFile, path) => {
                self.command(Command::OtherFile, say)?;
                self.path(&path, say)
            }
            Asked::Text(text) => match text.parse::<usize>() {
                Ok(number) if (1..=self.rows()).contains(&number) => self.take(number, say),
                _ => self.path(&text, say),
            },
            Asked::Again => {
                let told = told(&self.start);
                self.say_all(say, &told.whole());
                Ok(Came::Waits)
            }
            Asked::Help | Asked::Where => {
                self.help(say);
                Ok(Came::Waits)
            }
            Asked::Unknown(words) => {
                self.say(say, &words);
                Ok(Came::Waits)
            }
            _ => {
                let words = "That can be done once a programme is open; help tells what can be \
                             done here.";
                self.say(say, words);
                Ok(Came::Waits)
            }
        }
    }

    /// Takes what stands under this number, from 1.
    fn take(&mut self, number: usize, say: Say<'_>) -> Result<Came, Error> {
        let rows = self.rows();
        let Some(at) = number.checked_sub(1).filter(|at| *at < rows) else {
            self.say(
                say,
                &format!("There is no {number}; they go from 1 to {rows}."),
            );
            return Ok(Came::Waits);
        };
        match self.start.stage {
            Stage::Naming => self.start.picker.list.cursor = at,
            _ => self.start.chosen = at,
        }
        self.command(Command::Open, say)
    }

    /// Writes a path into the line; what it alone names is opened.
    fn path(&mut self, text: &str, say: Say<'_>) -> Result<Came, Error> {
        if text.is_empty() {
            return self.command(Command::Open, say);
        }
        self.command(Command::DeleteAll, say)?;
        let pasted = Happened::Action(Action::Paste(text.to_owned()));
        let effects = update(&mut self.start, pasted);
        self.carry_out(effects, say)?;
        match self.rows() {
            // Where nothing there is called so, it is tried all the same.
            0 | 1 => self.command(Command::Open, say),
            _ => Ok(Came::Waits),
        }
    }

    fn command(&mut self, command: Command, say: Say<'_>) -> Result<Came, Error> {
        let action = Happened::Action(Action::Command(command));
        let effects = update(&mut self.start, action);
        self.carry_out(effects, say)
    }

    /// How many rows are numbered at present.
    fn rows(&self) -> usize {
        match self.start.stage {
            Stage::Naming => self.start.picker.rows().len(),
            _ => self.start.choices().len(),
        }
    }

    fn carry_out(&mut self, effects: Vec<Effect>, say: Say<'_>) -> Result<Came, Error> {
        let mut effects = VecDeque::from(effects);
        while let Some(effect) = effects.pop_front() {
            let happened = match effect {
                Effect::Open(wish, file) => {
                    let opened = watched(&self.stop, say, |_| Programme::open(&file))?;
                    match opened {
                        Ok(programme) => {
                            let who = self.beginning.who.clone();
                            return Ok(self.begun(programme, file, who));
                        }
                        Err(error) => {
                            let unopened = Unopened::of(&file, &error);
                            self.unopened = Some(unopened.words.clone());
                            Happened::Unopened(wish, unopened)
                        }
                    }
                }
                Effect::MakeDemo => {
                    self.say(say, "Making the demo: its sheets are written and taken in as any others, then judged. Ctrl-C stops it.");
                    let make = Arc::clone(&self.beginning.demo);
                    match watched(&self.stop, say, move |progress| make(progress))? {
                        Ok(demo) => return Ok(self.begun(demo.programme, demo.file, demo.who)),
                        Err(Undone::Stopped) => Happened::NoDemo(None),
                        Err(error) => Happened::NoDemo(Some(text::sentence(&error.to_string()))),
                    }
                }
                Effect::List(of) => {
                    let path = folder::path_of(&of);
                    let listed = folder::programmes(&path).map_err(|error| cant(&path, &error));
                    Happened::Listed(of, Arc::new(listed))
                }
                Effect::Fill(file) => match no_folder(&file) {
                    Some(words) => Happened::CantFill(words),
                    None => {
                        let blank = Programme::in_memory();
                        let blank = blank.map_err(|error| Error::Unread(error.to_string()))?;
                        let who = self.beginning.who.clone();
                        return Ok(self.begun(blank, file, who));
                    }
                },
                // Nothing is ever under way while a line is read.
                Effect::StopDemo | Effect::Suspend => continue,
                Effect::Quit(None) => return Ok(Came::Left),
                Effect::Quit(Some(words)) => return Err(Error::Unread(words)),
            };
            effects.extend(update(&mut self.start, happened));
        }
        Ok(Came::Waits)
    }

    fn begun(&mut self, programme: Programme, file: PathBuf, who: Option<Who>) -> Came {
        self.unopened = None;
        let begun = Begun {
            programme,
            file,
            who,
        };
        Came::Begun(Box::new(begun), None)
    }

    fn help(&mut self, say: Say<'_>) {
        let zone = self.start.zone();
        let mut lines: Vec<String> = HELP.iter().map(|words| (*words).to_owned()).collect();
        lines.push("What can be done here:".to_owned());
        let mut own = words::listing(zone);
        if zone == Zone::StartFailed {
            own.extend(words::listing(zone.common()));
        }
        lines.extend(own);
        if zone.is_text() {
            lines.push(session::OF_TEXT.to_owned());
        }
        self.say_all(say, &lines);
    }

    /// Says what has changed since it was told last, and the message.
    fn tell(&mut self, say: Say<'_>) {
        let told = told(&self.start);
        let mut lines = told.since(&self.told);
        if let Some(message) = self.start.message.take() {
            lines.insert(0, text::sentence(&message));
        }
        self.told = told;
        self.say_all(say, &lines);
    }

    fn say_all(&mut self, say: Say<'_>, lines: &[String]) {
        for line in lines {
            self.say(say, line);
        }
    }

    fn say(&mut self, say: Say<'_>, line: &str) {
        let line = self.voice.line(line);
        if !line.is_empty() {
            self.has_said = true;
            say(&line);
        }
    }
}

/// How to speak here.
const HELP: [&str; 3] = [
    "One command a line: the number of what is on offer, its word, or its key.",
    "open FILE opens another programme file, import FOLDER begins with taking tables in.",
    "again says what is on offer again; quit leaves, and so does the end of the input.",
];

/// What is on offer, or what is the matter.
fn told(start: &Start) -> Told {
    match &start.stage {
        Stage::Naming => naming(start),
        Stage::Failed(unopened) => {
            let mut told = Told::new(unopened.what);
            told.say(&format!("It is {}", unopened.file.display()));
            told.say(&unopened.more);
            told.say(&unopened.advice);
            told.rows = Some(choices(start));
            told
        }
        _ => {
            let mut told = Told::new("What to begin with");
            told.say(ABOUT);
            told.say(&format!(
                "There is no programme file {} yet",
                start.file.display()
            ));
            let same = command_lines(&start.file).join("; ");
            told.say(&format!("The same on the command line: {same}"));
            told.say("Say the number or the word of what to begin with; help tells the rest");
            told.rows = Some(choices(start));
            told
        }
    }
}

fn choices(start: &Start) -> Rows {
    let choices = start.choices();
    let words = words::own(start.zone());
    let common = words::own(start.zone().common());
    Rows::of(
        ("thing to begin with", "things to begin with"),
        choices.len(),
        start.chosen,
        "",
        |at| {
            let choice = &choices[at];
            let word = words.iter().chain(&common);
            let word = word.filter(|word| word.command == choice.command);
            let word = word.map(|word| word.word.as_str()).next();
            format!(
                "{}: {}. {}",
                word.unwrap_or("open"),
                choice.words,
                choice.about.replace("; Tab completes it", "")
            )
        },
    )
}

fn naming(start: &Start) -> Told {
    let mut told = Told::new("Opening another programme file");
    told.say("Say the number of a row, or a name or path; .back leaves");
    let folder = match start.picker.line.text() {
        "" => "the present folder",
        text => text,
    };
    told.say(&format!("In {folder}"));
    if let Some(Err(words)) = start.picker.entries().map(AsRef::as_ref) {
        told.say(&text::sentence(words));
    }
    let rows = start.picker.rows();
    told.rows = Some(Rows::of(
        ("thing", "things"),
        rows.len(),
        start.picker.list.cursor,
        "no programme file here is called that",
        |at| import::row(rows[at]),
    ));
    told
}
