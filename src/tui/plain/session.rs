//! One sitting: lines in, sentences out.

use std::collections::VecDeque;
use std::path::{Path, PathBuf};

use ratatui::layout::Size;

use super::reader::{Asked, Scene, read};
use super::told::{self, Told};
use super::voice::{Voice, stopped};
use super::work::{Came, Say, Stop, Work};
use super::{draws, forms, sorted, views, words};
use crate::analysis::Filter;
use crate::model::trail::Who;
use crate::programme::Programme;
use crate::programme::remembered::Keeper;
use crate::tui::action::{Action, Command};
use crate::tui::app::{App, Over, Place};
use crate::tui::clipboard::Clipboard;
use crate::tui::effect::Effect;
use crate::tui::error::Error;
use crate::tui::form::Value;
use crate::tui::frame;
use crate::tui::keymap::Zone;
use crate::tui::run::{folder_beside, import_folder};
use crate::tui::screens::import::Stage;
use crate::tui::text;
use crate::tui::theme::Theme;
use crate::tui::update::update;

/// The size that the state is told: nothing is cut, and lists are longer than a page.
const SIZE: Size = Size {
    width: 1000,
    height: 60,
};

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
            .with_clipboard(Clipboard::None)
            .with_memory(&keeper)
            .with_plans_folder(&folder_beside(path, "plans"))
            .with_import_folder(&import_folder(path))
            .with_paper_folders(
                &folder_beside(path, "resample"),
                &folder_beside(path, "pack"),
            )
            .with_read_only(programme.is_read_only())
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
        let mut work = Work {
            programme: &mut self.programme,
            keeper: &mut self.keeper,
            file: &self.file,
            stop: &self.stop,
            say,
        };
        Ok(match work.carry_out(&self.app, effect)? {
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

    /// The rows that are told at present.
    fn rows(&self) -> Option<&super::rows::Rows> {
        let told = self.over.as_ref().unwrap_or(&self.place);
        told.rows.as_ref()
    }

    /// Chooses the row of this number; says so where there is none.
    fn choose(&mut self, number: usize, say: Say<'_>) -> Result<(), Error> {
        let len = self.rows().map_or(0, super::rows::Rows::len);
        let Some(row) = number.checked_sub(1).filter(|row| *row < len) else {
            let words = match len {
                0 => "No rows are numbered here.".to_owned(),
                _ => format!(
                    "There is no row {number}; they go from 1 to {}.",
                    text::count(len as u64)
                ),
            };
            self.say(say, &words);
            return Ok(());
        };
        let panel = match &self.app.over {
            Some(Over::Panel(panel)) => panel.row(),
            _ => None,
        };
        match panel {
            // A panel has its list to itself; its keys lead there.
            Some((now, _)) => {
                let step = if row < now {
                    Command::Up
                } else {
                    Command::Down
                };
                for _ in 0..row.abs_diff(now) {
                    self.command(step, say)?;
                }
                self.command(Command::Open, say)
            }
            None => {
                self.act(Action::Row(row), say)?;
                // What is on offer is taken by its number.
                let is_offered = matches!(self.app.over, Some(Over::Choices(_)));
                if is_offered || self.app.zone() == Zone::ImportFile {
                    self.command(Command::Open, say)?;
                }
                Ok(())
            }
        }
    }

    fn page(&mut self, asked: &Asked, say: Say<'_>) -> Result<(), Error> {
        let Some(rows) = self.rows() else {
            self.say(say, "There are no pages here.");
            return Ok(());
        };
        let to = match asked {
            Asked::Next => rows.next(),
            Asked::Before => rows.before(),
            Asked::Page(number) => rows.page(*number),
            _ => None,
        };
        match (to, asked) {
            (Some(row), _) => self.act(Action::Row(row), say),
            (None, Asked::Next) => {
                self.say(say, "That was the last of them.");
                Ok(())
            }
            (None, Asked::Before) => {
                self.say(say, "These are the first of them.");
                Ok(())
            }
            (None, _) => {
                self.say(say, "There is no such page.");
                Ok(())
            }
        }
    }

    /// Does something that asks for words, and writes them there.
    fn with(&mut self, command: Command, words: &str, say: Say<'_>) -> Result<(), Error> {
        self.command(command, say)?;
        if self.app.zone().is_text() {
            self.settle();
            self.text(words, say)
        } else {
            self.say(say, &format!("\"{words}\" was not needed for that."));
            Ok(())
        }
    }

    /// Puts a text where one is wanted: into the field, the line, or the choice.
    fn text(&mut self, text: &str, say: Say<'_>) -> Result<(), Error> {
        match &self.app.over {
            Some(Over::Form(_)) => self.field(text, say),
            Some(Over::Filter(_)) => self.write(text, Command::Apply, say),
            Some(Over::Folder(_)) => self.write(text, Command::WritePlans, say),
            Some(Over::Asked(_)) => self.write(text, Command::GoOn, say),
            Some(Over::Panel(_)) => self.write(text, Command::Open, say),
            _ if self.app.place == Place::Import => self.table(text, say),
            _ => Ok(()),
        }
    }

    /// Replaces the line unless the text is empty; then goes on.
    fn write(&mut self, text: &str, then: Command, say: Say<'_>) -> Result<(), Error> {
        if !text.is_empty() {
            self.command(Command::DeleteAll, say)?;
            self.act(Action::Paste(text.to_owned()), say)?;
        }
        self.command(then, say)
    }

    /// Fills the field whose turn it is and goes to the next; the last one sends the form, and
    /// so does the last mistake that is put right.
    fn field(&mut self, text: &str, say: Say<'_>) -> Result<(), Error> {
        let Some(Over::Form(form)) = &self.app.over else {
            return Ok(());
        };
        let was_wrong = form.is_wrong();
        if let Some(field) = form.fields.get(form.at) {
            match &field.value {
                Value::Choice(words, at) if !text.is_empty() => {
                    let Some(to) = forms::choice(words, text) else {
                        let words = format!("\"{text}\" is none of them, or could be several.");
                        self.say(say, &words);
                        return Ok(());
                    };
                    let turns = (to + words.len() - at) % words.len();
                    for _ in 0..turns {
                        self.act(Action::Type(' '), say)?;
                    }
                }
                Value::Text(_) if !text.is_empty() => {
                    self.command(Command::DeleteAll, say)?;
                    self.act(Action::Paste(text.to_owned()), say)?;
                }
                _ => {}
            }
        }
        let is_wrong = matches!(&self.app.over, Some(Over::Form(form)) if form.is_wrong());
        if was_wrong && !is_wrong {
            self.command(Command::SendNow, say)
        } else {
            self.command(Command::Send, say)
        }
    }

    /// A number chooses what lies in the folder; anything else narrows the list, and the only
    /// one left is chosen.
    fn table(&mut self, text: &str, say: Say<'_>) -> Result<(), Error> {
        let listed = self.rows().map_or(0, super::rows::Rows::len);
        if let Ok(number) = text.parse::<usize>()
            && (1..=listed).contains(&number)
        {
            return self.choose(number, say);
        }
        if text.is_empty() {
            return self.command(Command::Open, say);
        }
        self.command(Command::DeleteAll, say)?;
        self.act(Action::Paste(text.to_owned()), say)?;
        let is_choosing = matches!(self.app.import.stage, Stage::Choosing);
        if is_choosing && self.app.import.picker.rows().len() == 1 {
            self.command(Command::Open, say)?;
        }
        Ok(())
    }

    fn filter(&mut self, filter: Option<String>, say: Say<'_>) -> Result<(), Error> {
        let Some(text) = filter else {
            let words = told::filter(&self.app);
            self.say(say, &words);
            self.say(say, "filter KEY:VALUE narrows all screens, such as filter site:\"North pit\" broken:flush-met; help tells more.");
            return Ok(());
        };
        match Filter::parse(&text) {
            Ok(filter) => self.act(Action::Filter(filter), say),
            Err(error) => {
                self.say(say, &forms::mistake(&text, &error));
                self.say(say, "The filter stays as it was.");
                Ok(())
            }
        }
    }

    fn sort(&mut self, order: Option<String>, say: Say<'_>) -> Result<(), Error> {
        let Some(orders) = sorted::of(&self.app) else {
            self.say(say, "There is one order only here.");
            return Ok(());
        };
        let names = orders.names.join(", ");
        let Some(word) = order else {
            self.say(
                say,
                &format!("Sorted by {}; sort goes by one of: {names}.", orders.now),
            );
            return Ok(());
        };
        let Some(meant) = sorted::meant(&orders, &word) else {
            self.say(
                say,
                &format!("There is no sorting by {word}; sort goes by one of: {names}."),
            );
            return Ok(());
        };
        let turn = if self.app.place == Place::Topics {
            Command::ByRegained
        } else {
            Command::SortNext
        };
        for _ in 0..orders.names.len() {
            if sorted::of(&self.app).is_some_and(|orders| orders.now == meant) {
                break;
            }
            self.command(turn, say)?;
        }
        Ok(())
    }

    fn view(&mut self, view: Option<String>, say: Say<'_>) -> Result<(), Error> {
        let views = views::of(&self.app);
        if views.names.is_empty() {
            self.say(say, "There is one view only here.");
            return Ok(());
        }
        let word = view.unwrap_or_default().to_lowercase();
        let to = views.names.iter().position(|name| *name == word);
        let to = to.or_else(|| views.names.iter().position(|name| name.starts_with(&word)));
        let Some(to) = to.filter(|_| !word.is_empty()) else {
            let names = views.names.join(", ");
            self.say(say, &format!("Say one of these after view: {names}."));
            return Ok(());
        };
        for _ in 0..views.names.len() {
            if views::of(&self.app).at == to {
                break;
            }
            self.command(views.turn, say)?;
        }
        Ok(())
    }

    /// Chooses the rule of the heat table by the number of a topic or the rule's id.
    fn topic(&mut self, topic: &str, say: Say<'_>) -> Result<(), Error> {
        use crate::tui::screens::topics;
        let ids: Vec<&str> = topics::heat(&self.app).map_or_else(Vec::new, |heat| {
            let ids = heat
                .rules
                .iter()
                .map(|(rule, _)| crate::rules::cards()[*rule].id);
            ids.collect()
        });
        let Some(to) = ids.iter().position(|id| id.eq_ignore_ascii_case(topic)) else {
            let known = match ids.as_slice() {
                [] => "there is none here".to_owned(),
                some => format!("say one of: {}", some.join(", ")),
            };
            self.say(say, &format!("There is no topic {topic}; {known}."));
            return Ok(());
        };
        let now = self.app.screens.topics.rules.cursor;
        let step = if to < now { Command::Up } else { Command::Down };
        for _ in 0..to.abs_diff(now) {
            self.command(step, say)?;
        }
        self.tell(say);
        self.more(say);
        Ok(())
    }

    fn more(&mut self, say: Say<'_>) {
        let more = told::more(&self.app);
        if more.is_empty() {
            return self.say(say, "There is no more to tell here.");
        }
        let more: Vec<String> = more.iter().map(|words| stopped(words)).collect();
        self.say_all(say, &more);
    }

    /// Where one is and what can be done here.
    fn tell_where(&mut self, say: Say<'_>) {
        let zone = self.app.zone();
        let told = self.over.as_ref().unwrap_or(&self.place);
        let mut lines = vec![format!(
            "{}, on the screen {}.",
            told.title,
            told::screen_name(self.app.place)
        )];
        lines.push(told::filter(&self.app));
        lines.extend(told.rows.as_ref().and_then(super::rows::Rows::chosen_row));
        lines.push("What can be done here:".to_owned());
        lines.extend(words::listing(zone));
        let screens: Vec<&str> = frame::SCREENS.iter().map(|tab| tab.name).collect();
        if zone.is_text() {
            lines.push(
                "A line is the text that is wanted; .back leaves, .again says it again.".to_owned(),
            );
        } else {
            lines.push(format!(
                "Screens: {}. help tells the rest.",
                screens.join(", ").to_lowercase()
            ));
        }
        self.say_all(say, &lines);
    }

    /// What is told now is what was told last, without being said.
    fn settle(&mut self) {
        self.place = told::place(&self.app);
        self.over = told::over(&self.app);
    }

    /// Says what has changed since it was told last, and the message.
    fn tell(&mut self, say: Say<'_>) {
        let over = told::over(&self.app);
        let mut lines = Vec::new();
        if let Some(told) = &over {
            let before = self.over.take().unwrap_or_default();
            lines.extend(told.since(&before));
        } else {
            let told = told::place(&self.app);
            let is_uncovered = self.over.is_some();
            // A step back to what was told before, and is as it was, needs no list again.
            let is_known = self.goes_back && self.known.contains(&told);
            let news = if is_known && told.title != self.place.title {
                told.brief()
            } else {
                told.since(&self.place)
            };
            if is_uncovered && news.is_empty() {
                lines.push(format!("{}.", told.title));
            }
            lines.extend(news);
            self.remember(&told);
            self.place = told;
        }
        self.over = over;
        if let Some(message) = self.app.message.take() {
            lines.insert(0, text::sentence(&message));
        }
        self.say_all(say, &lines);
    }

    fn remember(&mut self, told: &Told) {
        self.known.retain(|known| known.title != told.title);
        if self.known.len() == MOST_KNOWN {
            self.known.remove(0);
        }
        self.known.push(told.clone());
    }

    fn say_all(&mut self, say: Say<'_>, lines: &[String]) {
        for line in lines {
            self.say(say, line);
        }
    }

    fn say(&mut self, say: Say<'_>, line: &str) {
        let line = self.voice.line(line);
        if !line.is_empty() {
            self.said += 1;
            say(&line);
        }
    }
}
