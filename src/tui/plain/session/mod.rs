//! One sitting: lines in, sentences out.

mod choosing;
mod telling;
mod writing;

use std::collections::VecDeque;
use std::path::{Path, PathBuf};

use ratatui::layout::Size;

use super::reader::{Asked, Scene, read};
use super::told::{self, Told};
use super::voice::Voice;
use super::work::{Came, Say, Stop, Work};
use super::{draws, forms, views};
use crate::model::trail::Who;
use crate::programme::Programme;
use crate::programme::remembered::Keeper;
use crate::tui::action::{Action, Command};
use crate::tui::app::{App, Over, Place};
use crate::tui::clipboard::Clipboard;
use crate::tui::effect::Effect;
use crate::tui::error::Error;
use crate::tui::keymap::Zone;
use crate::tui::run::{folder_beside, import_folder};
use crate::tui::theme::Theme;
use crate::tui::update::update;

/// The size that the state is told: nothing is cut, and lists are longer than a page.
pub(super) const SIZE: Size = Size {
    width: 1000,
    height: 60,
};

/// What a line is where text is wanted.
pub(super) const OF_TEXT: &str =
    "A line is the text that is wanted; .back leaves, .again says it again.";

/// More places than this are not remembered as they were told.
const MOST_KNOWN: usize = 20;

/// One sitting on an open programme.
pub struct Session {
    app: App,
    keeper: Keeper,
    programme: Programme,
    file: PathBuf,
    voice: Voice,
    stop: Stop,
    /// What was told last of the place, and of what lies over it.
    place: Told,
    over: Option<Told>,
    /// Places as they were told, the latest last.
    known: Vec<Told>,
    /// What was said since the last line.
    said: usize,
    /// The last line asked for a step back.
    goes_back: bool,
    leaves: bool,
}

impl Session {
    /// A sitting on this programme file.
    #[must_use]
    pub fn new(programme: Programme, path: &Path, who: Option<Who>, voice: Voice) -> Self {
        let title = path.file_name().map_or_else(
            || path.display().to_string(),
            |name| name.to_string_lossy().into_owned(),
        );
        let keeper = Keeper::of(&programme, &|name| std::env::var(name).ok());
        let app = App::new(&title, Theme::new(false, false), SIZE)
            .with_file(&path.display().to_string())
            // What would be sent there is said instead.
            .with_clipboard(Clipboard::Direct)
            .with_memory(&keeper)
            .with_plans_folder(&folder_beside(path, "plans"))
            .with_import_folder(&import_folder(path))
            .with_paper_folders(
                &folder_beside(path, "resample"),
                &folder_beside(path, "pack"),
            )
            .with_read_only(programme.is_read_only())
            .with_new_file(programme.path().is_none())
            .with_who(who);
        Session {
            app,
            keeper,
            programme,
            file: path.to_owned(),
            voice,
            stop: Stop::default(),
            place: Told::default(),
            over: None,
            known: Vec::new(),
            said: 0,
            goes_back: false,
            leaves: false,
        }
    }

    /// The same with means to stop what is under way that are known elsewhere already.
    #[must_use]
    pub fn with_stop(mut self, stop: Stop) -> Self {
        self.stop = stop;
        self
    }

    /// The means to stop what is under way, from another thread.
    #[must_use]
    pub fn stop(&self) -> Stop {
        self.stop.clone()
    }

    /// The zone of the keymap that holds at present.
    #[must_use]
    pub fn zone(&self) -> Zone {
        self.app.zone()
    }

    /// Reads and judges the programme and says where one begins.
    ///
    /// # Errors
    /// The programme can't be read, or a mistake of this program.
    pub fn begin(&mut self, say: &mut dyn FnMut(&str)) -> Result<(), Error> {
        let title = format!("fairdraw, programme {}.", self.app.title);
        self.say(say, &title);
        self.say(say, "help tells how to speak here, quit leaves.");
        let loaded = self.work(say).assess()?;
        self.act(loaded, say)?;
        match self.app.failed.take() {
            Some(words) => Err(Error::Unread(words)),
            None => {
                self.tell(say);
                Ok(())
            }
        }
    }

    /// Does what a line asks for and says what has changed; whether the sitting goes on.
    ///
    /// # Errors
    /// A mistake of this program.
    pub fn hear(&mut self, line: &str, say: &mut dyn FnMut(&str)) -> Result<bool, Error> {
        self.said = 0;
        self.look_for_changes(say)?;
        let asked = {
            let scene = Scene {
                zone: self.app.zone(),
                views: views::of(&self.app).names,
                is_choosing: matches!(self.app.over, Some(Over::Choices(_) | Over::Panel(_))),
            };
            read(line, scene)
        };
        self.goes_back = asked == Asked::Command(Command::Back);
        self.obey(asked, say)?;
        if !self.leaves {
            self.tell(say);
            if self.said == 0 {
                let title = self
                    .over
                    .as_ref()
                    .map_or(&self.place, |over| over)
                    .title
                    .clone();
                self.say(say, &format!("Nothing changed; {title}."));
            }
        }
        Ok(!self.leaves)
    }

    fn obey(&mut self, asked: Asked, say: Say<'_>) -> Result<(), Error> {
        match asked {
            Asked::Command(command) => self.command(command, say),
            Asked::Choose(number) => self.choose(number, say),
            Asked::At(number, command) => {
                self.choose(number, say)?;
                if self.said == 0 {
                    self.settle();
                    self.command(command, say)?;
                }
                Ok(())
            }
            Asked::Tell(number) => {
                self.choose(number, say)?;
                if self.said == 0 {
                    self.tell(say);
                    self.more(say);
                }
                Ok(())
            }
            Asked::With(command, words) => self.with(command, &words, say),
            Asked::Text(text) => self.text(&text, say),
            Asked::Next | Asked::Before | Asked::Page(_) => self.page(&asked, say),
            Asked::Again => {
                let told = self.over.clone().unwrap_or_else(|| told::place(&self.app));
                self.say_all(say, &told.whole());
                Ok(())
            }
            Asked::More => {
                self.more(say);
                Ok(())
            }
            Asked::Where => {
                self.tell_where(say);
                Ok(())
            }
            Asked::Help => {
                let help = forms::help(&self.app, self.app.zone());
                self.say_all(say, &help.whole());
                Ok(())
            }
            Asked::Filter(filter) => self.filter(filter, say),
            Asked::Sort(order) => self.sort(order, say),
            Asked::View(view) => self.view(view, say),
            Asked::Topic(topic) => self.topic(&topic, say),
            Asked::Unknown(words) => {
                self.say(say, &words);
                Ok(())
            }
        }
    }

    /// One action and all that follows from it.
    fn act(&mut self, action: Action, say: Say<'_>) -> Result<(), Error> {
        let mut effects = VecDeque::from(update(&mut self.app, action));
        while let Some(effect) = effects.pop_front() {
            effects.extend(self.carry_out(effect, say)?);
        }
        // The rows that are said need their records, wherever the screens would stand.
        if self.app.place == Place::Draws
            && let Some(effect) = draws::lacking(&self.app)
        {
            self.carry_out(effect, say)?;
        }
        Ok(())
    }

    /// One effect; what follows from its answer.
    fn carry_out(&mut self, effect: Effect, say: Say<'_>) -> Result<Vec<Effect>, Error> {
        // What a screen sends to the clipboard is said: it can be taken from there.
        if let Effect::Copy(text) = &effect {
            for line in text.lines() {
                self.say(say, &line.replace('\t', "; "));
            }
            self.app.message = None;
            return Ok(Vec::new());
        }
        let mut work = Work {
            programme: &mut self.programme,
            keeper: &mut self.keeper,
            file: &self.file,
            stop: &self.stop,
            say,
        };
        let came = work.carry_out(&self.app, effect)?;
        if self.app.new_file && self.programme.path().is_some() {
            let reopened = Action::Reopened(self.programme.is_read_only());
            update(&mut self.app, reopened);
        }
        Ok(match came {
            Came::Action(action) => update(&mut self.app, *action),
            Came::Nothing => Vec::new(),
            Came::Leave => {
                self.leaves = true;
                Vec::new()
            }
        })
    }

    fn work<'a>(&'a mut self, say: Say<'a>) -> Work<'a> {
        Work {
            programme: &mut self.programme,
            keeper: &mut self.keeper,
            file: &self.file,
            stop: &self.stop,
            say,
        }
    }

    fn command(&mut self, command: Command, say: Say<'_>) -> Result<(), Error> {
        if command == Command::Picture {
            // The large picture of Share is that of the periods.
            if self.app.place == Place::Share && self.app.over.is_none() {
                return self.view(Some("periods".to_owned()), say);
            }
            self.say(say, "A picture says nothing; its values stand in the rows, and more reads the chosen one.");
            return Ok(());
        }
        self.act(Action::Command(command), say)
    }

    fn look_for_changes(&mut self, say: Say<'_>) -> Result<(), Error> {
        let is_changed = matches!(self.programme.changed_elsewhere(), Ok(true));
        if is_changed && !self.app.changed_elsewhere {
            self.act(Action::ChangedElsewhere, say)?;
            self.say(
                say,
                "The programme was changed elsewhere; r reads it again.",
            );
            self.said = 0;
        }
        Ok(())
    }
}
