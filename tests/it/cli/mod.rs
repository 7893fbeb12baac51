//! The command line by its output and exit status.

mod attribute;
mod calc;
mod commands;
mod demo;
mod import;
mod killed;
mod maps;
mod pipes;
mod read_as;
mod rules;
pub mod runner;
mod terminal;
mod topics;
mod verdicts;
mod wrong_use;
