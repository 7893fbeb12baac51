//! A checked column map: for each of our columns, how it is made from theirs.

use chrono_tz::Tz;
use serde::{Serialize, Serializer};

use super::dates::DateForm;
use super::number::NumberForm;
use super::unit::Unit;
use crate::intake::SheetKind;

/// How the sheets of one kind, or some of them, are read.
#[derive(Clone, Debug, Serialize)]
pub struct SheetMap {
    /// What the sheets hold.
    #[serde(serialize_with = "kind_word")]
    pub kind: SheetKind,
    /// The names of files it is for, `*` standing for anything; empty for all.
    pub files: Vec<String>,
    /// The sheet of a workbook it is for.
    pub sheet: Option<String>,
    /// The row in which the header stands, from 1, where it is not to be found.
    pub header_row: Option<u32>,
    /// Whether columns of our names are left alone unless the map names them.
    pub only_named: bool,
    /// The zone of times that name none.
    #[serde(serialize_with = "zone_name")]
    pub zone: Option<Tz>,
    /// The zone by what a column says.
    pub zones: Option<Zones>,
    /// Rows that are passed over.
    pub skip: Vec<Skip>,
    /// How cells are read where a column says nothing else.
    pub usual: Manner,
    /// Our columns, each by its place in the columns of the kind.
    pub columns: Vec<Recipe>,
}

fn kind_word<S: Serializer>(kind: &SheetKind, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(kind.as_str())
}

fn zone_name<S: Serializer>(zone: &Option<Tz>, serializer: S) -> Result<S::Ok, S::Error> {
    zone.map(Tz::name).serialize(serializer)
}

/// The zone of a row, by what stands in one of its columns.
#[derive(Clone, Debug, Serialize)]
pub struct Zones {
    /// The column.
    pub column: Theirs,
    /// What stands there and the zone it means, as the map writes them.
    #[serde(serialize_with = "zone_names")]
    pub of: Vec<(String, Tz)>,
}

fn zone_names<S: Serializer>(of: &[(String, Tz)], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_seq(of.iter().map(|(text, zone)| (text, zone.name())))
}

/// Rows to pass over.
#[derive(Clone, Debug, Serialize)]
pub struct Skip {
    /// The column looked at.
    pub column: Theirs,
    /// What must stand there.
    pub when: When,
}

/// What a cell must be for its row to be passed over.
#[derive(Clone, Debug, Serialize)]
pub enum When {
    /// Blank.
    Blank,
    /// One of these texts, in any case.
    Is(Vec<String>),
    /// Any text that begins so, in any case.
    Begins(Vec<String>),
    /// Any text that holds one of these, in any case.
    Holds(Vec<String>),
}

/// One of their columns.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum Theirs {
    /// By its header; case and blanks do not count.
    Name(String),
    /// By its place, counted from 0.
    Place(usize),
}

/// How one of our columns is made.
#[derive(Clone, Debug, Serialize)]
pub struct Recipe {
    /// Its place in the columns of the kind.
    pub column: usize,
    /// What it is made of; none or more of their columns and fixed texts.
    pub from: Vec<Piece>,
    /// What stands between pieces that are put together.
    pub join: String,
    /// Where a text is cut.
    pub split: Option<String>,
    /// Which of the parts that were cut is meant, from 1; all of them otherwise.
    pub part: Option<usize>,
    /// How its cells are read.
    pub manner: Manner,
    /// The unit that its numbers are in; ours if none.
    pub unit: Option<&'static Unit>,
    /// Whether a cell may bear a unit of its own.
    pub unit_in_cell: bool,
    /// Their words and ours; matched in any case.
    pub words: Vec<(String, String)>,
    /// What becomes of a text that is none of `words`.
    pub otherwise: Otherwise,
    /// What a blank becomes.
    pub if_blank: Option<String>,
}

/// What a column is made of.
#[derive(Clone, Debug, Serialize)]
pub struct Piece {
    /// Where it comes from.
    pub source: Source,
    /// Their words and ours, in this piece alone.
    pub words: Vec<(String, String)>,
    /// What a blank becomes, in this piece alone.
    pub if_blank: Option<String>,
}

/// Where a piece comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum Source {
    /// One of their columns.
    Column(Theirs),
    /// The map itself.
    Always(String),
}

/// How cells are read.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Manner {
    /// Numbers.
    pub numbers: NumberForm,
    /// Dates and times, in order of trial.
    pub dates: Vec<DateForm>,
    /// Two-digit years from this one on are of the 20th century.
    pub pivot: u32,
    /// Texts that mean blank, in any case.
    pub blank: Vec<String>,
    /// Texts that mean yes, in any case.
    pub yes: Vec<String>,
    /// Texts that mean no, in any case.
    pub no: Vec<String>,
}

/// What becomes of a text that the words of a map do not list.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub enum Otherwise {
    /// It stays as it is; a column with a list of its own refuses what it does not know.
    #[default]
    Keep,
    /// It is refused.
    Refuse,
    /// It counts as blank.
    Blank,
}

impl Recipe {
    /// One of their columns taken as it is, read in the usual manner of the sheet.
    #[must_use]
    pub fn plain(column: usize, theirs: Theirs, usual: &Manner) -> Self {
        Recipe {
            column,
            from: vec![Piece::of(Source::Column(theirs))],
            join: " ".to_owned(),
            split: None,
            part: None,
            manner: usual.clone(),
            unit: None,
            unit_in_cell: false,
            words: Vec::new(),
            otherwise: Otherwise::Keep,
            if_blank: None,
        }
    }
}

impl Piece {
    /// A piece taken as it is.
    #[must_use]
    pub fn of(source: Source) -> Self {
        Piece {
            source,
            words: Vec::new(),
            if_blank: None,
        }
    }
}

/// A header or a cell as it is compared: case and blanks do not count.
#[must_use]
pub fn folded(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_whitespace())
        .flat_map(char::to_lowercase)
        .collect()
}

/// Whether a name is of this pattern, in which `*` stands for anything; case does not count.
#[must_use]
pub fn fits(pattern: &str, name: &str) -> bool {
    let (pattern, name) = (pattern.to_lowercase(), name.to_lowercase());
    let mut pieces = pattern.split('*');
    let first = pieces.next().unwrap_or_default();
    let Some(mut rest) = name.strip_prefix(first) else {
        return false;
    };
    let mut pieces: Vec<&str> = pieces.collect();
    let Some(last) = pieces.pop() else {
        return rest.is_empty();
    };
    for piece in pieces {
        let Some(at) = rest.find(piece) else {
            return false;
        };
        rest = &rest[at + piece.len()..];
    }
    rest.ends_with(last)
}

/// The place of a column by its letter, as spreadsheets count: `A` is 0, `AA` is 26.
#[must_use]
pub fn place_of_letter(text: &str) -> Option<usize> {
    if text.is_empty() || text.len() > 3 || !text.bytes().all(|b| b.is_ascii_alphabetic()) {
        return None;
    }
    let count = text.bytes().fold(0, |count, letter| {
        count * 26 + usize::from(letter.to_ascii_uppercase() - b'A') + 1
    });
    Some(count - 1)
}

/// The letter of a column.
#[must_use]
pub fn letter_of_place(place: usize) -> String {
    let (mut count, mut letters) = (place + 1, Vec::new());
    while count > 0 {
        let digit = u8::try_from((count - 1) % 26).unwrap_or(0);
        letters.push(char::from(b'A' + digit));
        count = (count - 1) / 26;
    }
    letters.iter().rev().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_count_as_in_spreadsheets() {
        for (letter, place) in [("A", 0), ("z", 25), ("AA", 26), ("AZ", 51), ("BA", 52)] {
            assert_eq!(place_of_letter(letter), Some(place));
            assert_eq!(letter_of_place(place), letter.to_uppercase());
        }
        assert_eq!(place_of_letter("A1"), None);
        assert_eq!(place_of_letter(""), None);
    }

    #[test]
    fn a_star_stands_for_anything() {
        for (pattern, name, fit) in [
            ("*", "anything", true),
            ("Log*.csv", "log 2026.CSV", true),
            ("Log*.csv", "log.xlsx", false),
            ("*a*b*", "xxaxxbxx", true),
            ("*a*b*", "xxbxxaxx", false),
            ("a*a", "a", false),
            ("exact", "Exact", true),
            ("exact", "exactly", false),
        ] {
            assert_eq!(fits(pattern, name), fit, "{pattern} {name}");
        }
    }
}
