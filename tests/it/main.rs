//! One integration binary: one link instead of many, and helpers without warnings.
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::print_stderr,
    missing_docs
)]

mod analysis;
#[cfg(unix)]
mod background;
mod cli;
mod contract;
mod demo;
mod docs;
mod doubts;
mod findings;
mod floors;
mod hard_use;
mod hardship;
mod intake;
mod ledger;
mod maps;
mod mutated;
mod pack;
mod physics;
mod picks;
mod plain;
mod reference;
mod remembered;
mod resample;
mod rulebook;
mod rules;
mod screens;
mod start;
mod store;
mod support;
mod tables;
mod tampered;
mod terminal;
mod tour;
