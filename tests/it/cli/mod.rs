//! The command line by its output and exit status.

mod attribute;
mod audit;
mod calc;
mod commands;
mod demo;
mod filters;
mod import;
mod killed;
mod ledger;
mod maps;
mod pipes;
mod read_as;
mod records;
mod rules;
pub mod runner;
mod terminal;
mod topics;
mod verdicts;
mod wrong_use;
