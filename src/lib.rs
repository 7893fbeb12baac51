//! fairdraw judges how oil samples were drawn.
//!
//! It reads a programme's history of draws, judges every draw against a rulebook,
//! and shows which samples can't be trusted, how large their share is, and what is
//! behind it.
//!
//! The crate is built in floors; each looks only down:
//!
//! ```text
//! cli    tui            two faces, no rules of their own
//! programme             what both faces do: open, import, judge what is stale
//! report                tables, CSV and JSON of what analysis found
//! analysis              filter, shares, breakdowns over judged draws
//! scoring               previous draws, sets, pairs; verdict and scores
//! rules                 one file a rule; the rulebook
//! intake   store        sheets in; the programme file
//! demo                  the invented programme, from a seed
//! written               files that people write in YAML, with the places of mistakes
//! stats    physics      pure functions, no domain words
//! model                 plain data and closed vocabularies
//! ```
//!
//! `tests/it/floors.rs` keeps that order.

pub mod analysis;
pub mod cli;
pub mod demo;
pub mod intake;
pub mod model;
pub mod physics;
pub mod programme;
pub mod report;
pub mod rules;
pub mod scoring;
pub mod stats;
pub mod store;
pub mod tui;
pub mod written;
