//! Values that several commands let one choose from.

use std::fmt::Write as _;

use clap::ValueEnum;
use clap::builder::{PossibleValuesParser, TypedValueParser};

use crate::analysis::{Every, FilterKey, Key};
use crate::programme::SheetKind;
use crate::report;

/// How a report is written.
#[derive(Clone, Copy, ValueEnum)]
pub enum Format {
    /// Aligned text
    Table,
    /// Comma-separated values
    Csv,
    /// JSON, described in docs/json.md
    Json,
}

impl Format {
    /// Whether it is for people.
    pub fn is_table(self) -> bool {
        matches!(self, Format::Table)
    }
}

impl From<Format> for report::Format {
    fn from(format: Format) -> Self {
        match format {
            Format::Table => report::Format::Table,
            Format::Csv => report::Format::Csv,
            Format::Json => report::Format::Json,
        }
    }
}

/// The kinds of sheet.
#[derive(Clone, Copy, ValueEnum)]
pub enum Kind {
    Points,
    Technicians,
    Trainings,
    Draws,
}

impl From<Kind> for SheetKind {
    fn from(kind: Kind) -> Self {
        match kind {
            Kind::Points => SheetKind::Points,
            Kind::Technicians => SheetKind::Technicians,
            Kind::Trainings => SheetKind::Trainings,
            Kind::Draws => SheetKind::Draws,
        }
    }
}

/// The keys draws can be grouped by, as clap offers them.
pub(in crate::cli) fn keys() -> impl TypedValueParser<Value = Key> {
    PossibleValuesParser::new(Key::ALL.map(Key::as_str))
        .map(|word| Key::parse(&word).expect("only words of keys are offered"))
}

/// The lengths of periods, as clap offers them.
pub(super) fn periods() -> impl TypedValueParser<Value = Every> {
    PossibleValuesParser::new(Every::ALL.map(Every::as_str)).map(|word| {
        let every = Every::ALL.into_iter().find(|every| every.as_str() == word);
        every.expect("only words of periods are offered")
    })
}

/// The help of `--where`: every key of the filter language.
pub(super) fn filter_help() -> String {
    let mut help = String::from(
        "Only the draws that pass. A filter is a line of terms `key:value`, all of which must \
         hold; commas join values of which any will do; a minus in front excludes; values with \
         blanks stand in double quotes; `(blank)` asks for what is not recorded. `@NAME` alone is \
         the filter saved under that name (`fairdraw filters`). Keys:\n",
    );
    for key in FilterKey::ALL {
        // Writing to a text cannot fail.
        let _ = write!(help, "\n  {:12} {}", key.as_str(), key.about());
    }
    help
}

/// The order of groups.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Sort {
    /// By the key; months and rules in their own order
    Key,
    /// Largest share first
    Share,
    /// Most draws first
    Draws,
}
