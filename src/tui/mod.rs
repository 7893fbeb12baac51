//! The terminal interface: state, update, view, and effects.
//!
//! An event becomes an [`Action`]; [`update`] changes the [`App`] and hands back
//! [`Effect`]s; `run/` carries them out and their results come back as actions;
//! [`view`] draws what is there. Nothing else changes the state, and drawing changes
//! nothing.

pub mod action;
mod answers;
pub mod app;
mod background;
mod choose;
pub mod clipboard;
mod command_line;
pub mod decide;
pub mod effect;
mod empty;
pub mod error;
mod filter_line;
mod filter_words;
mod folder_line;
mod form;
mod form_command;
mod form_view;
mod forms;
mod frame;
mod hints;
mod idle;
pub mod keymap;
mod layout;
mod line_edit;
mod list;
mod loading;
mod mouse;
mod moves;
mod narrower;
mod outlet;
mod panel;
mod panels;
mod pick_form;
pub mod plain;
mod remember;
mod run;
pub mod screens;
mod shelf;
mod sorted;
mod sparing;
pub mod start;
mod steps;
pub mod subject;
pub mod terminal;
mod text;
pub mod theme;
pub mod undo;
mod update;
mod view;
mod wants;
mod widgets;
mod works;

pub use action::{Action, Command};
pub use app::App;
pub use effect::Effect;
pub use error::Error;
pub use run::run;
pub use theme::Theme;
pub use update::update;
pub use view::view;
