//! The statistics against published data and reference programs.
//!
//! Every expected value stands in `tests/fixtures/reference/`, with its source, the
//! programs it was checked against and its tolerance.

mod crossed;
mod edges;
pub mod files;
mod further;
mod glmer;
mod laws;
mod plain;
