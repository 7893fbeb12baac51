//! The keys, a file for each screen, in the order in which help lists them.

mod builder;
mod draws;
mod everywhere;
mod finding;
mod findings;
mod help;
mod import;
mod lines;
mod lists;
mod people;
mod pictures;
mod points;
mod records;
mod resample;
mod share;
mod start;
mod topics;

use super::key::Binding;

/// Every table.
pub(super) const TABLES: &[&[Binding]] = &[
    everywhere::KEYS,
    finding::KEYS,
    start::KEYS,
    share::KEYS,
    draws::KEYS,
    people::KEYS,
    points::KEYS,
    pictures::KEYS,
    topics::KEYS,
    findings::KEYS,
    resample::KEYS,
    records::KEYS,
    import::KEYS,
    lists::KEYS,
    help::KEYS,
    builder::KEYS,
    lines::KEYS,
];
