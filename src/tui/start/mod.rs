//! Before a programme is open: what to begin with where there is none yet, and what keeps one
//! from being opened.
//!
//! ```text
//! opening → the programme
//!    ↓ there is none yet          ↓ it can't be opened
//! what to begin with           what is the matter
//!    ↓ demo   ↓ tables   ↓ another file
//! making    importing   naming it → opening
//! ```
//!
//! It has a state of its own, changed by [`update`] and drawn by [`view`], since all other
//! screens need a programme. `run.rs` of this folder carries out what it asks for.

pub mod choices;
mod naming;
pub(crate) mod run;
mod update;
pub(crate) mod view;

use std::path::{Path, PathBuf};

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use ratatui::layout::Size;

use super::action::{Action, Command};
use super::app::Loading;
use super::keymap::{self, Zone};
use super::screens::import::picker::{Listing, Picker};
use super::theme::Theme;
use crate::programme::Unopened;

pub use update::update;
pub use view::view;

/// How far the user has come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Stage {
    /// The file is being opened; whether that takes long enough to be said.
    Opening { long: bool },
    /// There is no programme yet: what to begin with.
    Welcome,
    /// Another file is being named.
    Naming,
    /// The invented programme is being made; whether it was asked to stop.
    Making { stopping: bool },
    /// The file could not be opened.
    Failed(Unopened),
}

/// Something to be done outside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Open this programme file; the number tells its answer from that of a former wish.
    Open(u64, PathBuf),
    /// Go on without a programme file, to take tables into a new one of this name.
    Fill(PathBuf),
    /// Make the invented programme.
    MakeDemo,
    /// Stop making it.
    StopDemo,
    /// Look which programme files lie in this folder, as the line writes it.
    List(String),
    /// Hand the terminal back and sleep until woken.
    Suspend,
    /// Leave; with what could not be done, in words.
    Quit(Option<String>),
}

/// What can happen.
#[derive(Clone)]
pub enum Happened {
    /// Something at the terminal, or a look at how far things have come.
    Action(Action),
    /// The wish of this number ended so: the file can't be opened.
    Unopened(u64, Unopened),
    /// The invented programme could not be made, in words; without words, it was stopped.
    NoDemo(Option<String>),
    /// No new programme file can be made there; in words.
    CantFill(String),
    /// What lies in this folder.
    Listed(String, Listing),
}

/// The state before a programme is open.
pub struct Start {
    pub(crate) theme: Theme,
    pub(crate) size: Size,
    /// The file that is opened, or that would be made.
    pub(crate) file: PathBuf,
    /// The command asked for the invented programme, not for a file.
    pub(crate) wants_demo: bool,
    pub(crate) stage: Stage,
    /// The chosen line of what is on offer.
    pub(crate) chosen: usize,
    pub(crate) picker: Picker,
    /// What lies in the folder is being looked up.
    pub(crate) looking: bool,
    /// The number of the latest wish to open a file.
    pub(crate) wish: u64,
    pub(crate) progress: Loading,
    pub(crate) message: Option<String>,
    /// The help page over it: how far it is scrolled, and for which place.
    pub(crate) help: Option<(usize, Zone)>,
}

impl Start {
    /// The state before anything is tried with this file.
    #[must_use]
    pub fn new(file: &Path, theme: Theme, size: Size) -> Self {
        Start {
            theme,
            size,
            file: file.to_owned(),
            wants_demo: false,
            stage: Stage::Welcome,
            chosen: 0,
            picker: Picker::of_programmes(""),
            looking: false,
            wish: 0,
            progress: Loading::default(),
            message: None,
            help: None,
        }
    }

    /// Begins by opening the file.
    pub fn open(&mut self) -> Vec<Effect> {
        self.wish += 1;
        self.stage = Stage::Opening { long: false };
        vec![Effect::Open(self.wish, self.file.clone())]
    }

    /// Begins by making the invented programme, which is all that was asked for.
    pub fn make_demo(&mut self) -> Vec<Effect> {
        self.wants_demo = true;
        self.begin_demo()
    }

    /// Begins by asking for another file.
    pub fn name_another(&mut self) -> Vec<Effect> {
        naming::begin(self);
        naming::ask(self).into_iter().collect()
    }

    fn begin_demo(&mut self) -> Vec<Effect> {
        self.progress = Loading::default();
        self.stage = Stage::Making { stopping: false };
        vec![Effect::MakeDemo]
    }

    /// Whether nothing is to be drawn: what is done in a moment needs no screen of its own.
    #[must_use]
    pub const fn is_quiet(&self) -> bool {
        matches!(self.stage, Stage::Opening { long: false })
    }

    /// Whether the file is being opened, with nothing over it that takes keys.
    pub(crate) const fn is_opening(&self) -> bool {
        matches!(self.stage, Stage::Opening { .. }) && self.help.is_none()
    }

    /// Whether something is under way that is worth a look now and then.
    #[must_use]
    pub const fn is_busy(&self) -> bool {
        matches!(self.stage, Stage::Opening { .. } | Stage::Making { .. })
    }

    /// Whether the answer to this wish is still wanted.
    #[must_use]
    pub const fn awaits(&self, wish: u64) -> bool {
        matches!(self.stage, Stage::Opening { .. }) && self.wish == wish
    }

    /// The zone of the keymap that holds at present.
    #[must_use]
    pub fn zone(&self) -> Zone {
        match (&self.help, &self.stage) {
            (Some(_), _) => Zone::Help,
            (None, Stage::Opening { .. } | Stage::Making { .. }) => Zone::StartBusy,
            (None, Stage::Welcome) => Zone::Start,
            (None, Stage::Naming) => Zone::StartFile,
            (None, Stage::Failed(_)) => Zone::StartFailed,
        }
    }

    /// What a key asks for here.
    #[must_use]
    pub fn action_of(&self, event: KeyEvent) -> Option<Action> {
        let zone = self.zone();
        if let Some(command) = keymap::command(zone, event) {
            return Some(Action::Command(command));
        }
        let held = KeyModifiers::CONTROL | KeyModifiers::ALT | KeyModifiers::SUPER;
        match event.code {
            KeyCode::Char(sign) if zone.is_text() && !event.modifiers.intersects(held) => {
                Some(Action::Type(sign))
            }
            _ => None,
        }
    }

    /// The commands that are worth a hint, most useful first.
    pub(crate) const fn hinted(&self) -> &'static [Command] {
        match self.stage {
            Stage::Naming => &[
                Command::Open,
                Command::Complete,
                Command::Back,
                Command::DeletePart,
            ],
            Stage::Opening { .. } | Stage::Making { .. } => &[Command::Back],
            Stage::Welcome | Stage::Failed(_) => &[Command::Open, Command::Down],
        }
    }

    /// The words of a hint, where they differ from those of the command.
    pub(crate) const fn hint(&self, command: Command) -> &'static str {
        match (&self.stage, command) {
            (Stage::Making { .. } | Stage::Opening { .. }, Command::Back) => "stop",
            (Stage::Welcome | Stage::Failed(_), Command::Open) => "do what is chosen",
            (Stage::Welcome | Stage::Failed(_), Command::Down) => "choose",
            _ => command.hint(),
        }
    }
}
