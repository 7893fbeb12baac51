//! The first rows of a sheet, column by column.

use std::path::Path;

use super::heading::Heading;
use super::marks::Marks;
use super::times::{Dates, is_clock, is_serial};
use super::vocabulary::KNOWN;
use crate::intake::Error;
use crate::intake::columns::SheetKind;
use crate::intake::table::{Next, ReadAs, Table, Wanted};

/// How many rows are looked at.
const LOOKED_AT: usize = 2000;

/// How many texts a column may have to be one of words.
const MOST_WORDS: usize = 60;

/// The first rows of a sheet.
pub struct Sample {
    pub columns: Vec<Sampled>,
    /// The rows, as wide as the header.
    pub rows: Vec<Vec<String>>,
    /// Where rows of totals begin with which word.
    pub totals: Option<(usize, String)>,
}

/// One column of a sheet.
pub struct Sampled {
    /// Its header as it stands.
    pub name: String,
    pub heading: Heading,
    /// What stands in it, without blanks and texts that mean blank.
    pub values: Vec<String>,
    /// The different values with their counts, the commonest first; cut where there are many.
    pub distinct: Vec<(String, usize)>,
    /// Texts that mean blank.
    pub blanks: Vec<String>,
    pub marks: Marks,
    pub dates: Dates,
    /// How many values are times of day alone, or fractions of a day.
    pub clocks: usize,
    /// How many values are days as spreadsheets count them.
    pub serials: usize,
}

impl Sample {
    /// Reads the first rows of a sheet. The names of columns of any kind tell its header.
    pub fn read(path: &Path, read_as: &ReadAs) -> Result<Self, Error> {
        let names = SheetKind::ALL.iter().flat_map(|kind| {
            let columns = kind.columns().iter();
            columns.flat_map(|column| KNOWN.names(*kind, column.name))
        });
        let ours = SheetKind::ALL.iter().flat_map(|kind| kind.columns());
        let ours = ours.map(|column| column.name);
        let wanted = Wanted::new(names.map(String::as_str).chain(ours));
        let mut table = Table::open(path, read_as, &wanted)?;
        let names = table.names().to_vec();
        let mut rows = Vec::new();
        while rows.len() < LOOKED_AT {
            match table.next_row()? {
                Next::End => break,
                Next::Refused(_) => {}
                Next::Row => {
                    let mut row = table.cells().all_as_text();
                    row.resize(names.len(), String::new());
                    rows.push(row);
                }
            }
        }
        Ok(Sample::of(&names, rows))
    }

    /// Looks at rows under a header.
    pub fn of(names: &[String], mut rows: Vec<Vec<String>>) -> Self {
        let mut totals = None;
        rows.retain(|row| {
            let first = row.iter().position(|cell| !cell.is_empty());
            let word = first.and_then(|place| Some((place, KNOWN.total(&row[place])?)));
            match word {
                Some((place, word)) => {
                    totals.get_or_insert((place, word.to_owned()));
                    false
                }
                None => true,
            }
        });
        let columns = names.iter().enumerate();
        let columns = columns.map(|(place, name)| Sampled::of(name, place, &rows));
        Sample {
            columns: columns.collect(),
            rows,
            totals,
        }
    }
}

impl Sampled {
    fn of(name: &str, place: usize, rows: &[Vec<String>]) -> Self {
        let (mut values, mut blanks) = (Vec::new(), Vec::new());
        for row in rows {
            let text = row[place].as_str();
            if text.is_empty() {
            } else if KNOWN.is_blank(text) {
                if !blanks.iter().any(|blank| blank == text) {
                    blanks.push(text.to_owned());
                }
            } else {
                values.push(text.to_owned());
            }
        }
        let texts = || values.iter().map(String::as_str);
        let has_digits = texts().any(|text| text.bytes().any(|byte| byte.is_ascii_digit()));
        let is_part = |text: &str| {
            text.parse::<f64>()
                .is_ok_and(|part| (0.0..1.0).contains(&part))
        };
        let clocks = texts()
            .filter(|text| is_clock(text) || is_part(text))
            .count();
        Sampled {
            name: name.to_owned(),
            heading: Heading::of(name),
            distinct: distinct(&values),
            marks: Marks::of(texts()),
            dates: if has_digits {
                Dates::of(texts())
            } else {
                Dates::default()
            },
            clocks,
            serials: texts().filter(|text| is_serial(text)).count(),
            blanks,
            values,
        }
    }

    /// The share of values for which something holds; `None` where there are none.
    pub fn share(&self, count: usize) -> Option<f64> {
        (!self.values.is_empty()).then(|| count as f64 / self.values.len() as f64)
    }

    /// The share of values that pass, weighed by how often they stand there.
    pub fn share_of(&self, passes: impl Fn(&str) -> bool) -> Option<f64> {
        let counted: usize = self.distinct.iter().map(|(_, count)| count).sum();
        let passing = self.distinct.iter().filter(|(text, _)| passes(text));
        let passing: usize = passing.map(|(_, count)| count).sum();
        (counted > 0).then(|| passing as f64 / counted as f64)
    }
}

fn distinct(values: &[String]) -> Vec<(String, usize)> {
    let mut sorted: Vec<&String> = values.iter().collect();
    sorted.sort_unstable();
    let mut distinct: Vec<(String, usize)> = Vec::new();
    for value in sorted {
        match distinct.last_mut() {
            Some((text, count)) if text == value => *count += 1,
            _ => distinct.push((value.clone(), 1)),
        }
    }
    distinct.sort_by(|(one, count), (other, more)| more.cmp(count).then(one.cmp(other)));
    distinct.truncate(MOST_WORDS);
    distinct
}
