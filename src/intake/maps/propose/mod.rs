//! A column map proposed from the headers and values of sheets themselves.
//!
//! Headers and values are compared with names and words in several languages
//! (`synonyms.txt`), and headers go to our columns so that the whole fits best, one to one. Every
//! line has a confidence and a reason. What the sheet can't answer is a question: the order
//! of day and month where no day is above 12, a word that nobody knows, a gallon of two kinds.
//! It is written as `ask`, which the checker refuses until it is answered.

mod assign;
mod days;
mod entry;
mod fit;
mod heading;
mod lines;
mod marks;
mod measure;
mod sample;
mod settings;
mod ticks;
mod times;
mod vocabulary;
mod words;

use std::fmt::Write as _;
use std::path::Path;

pub use fit::KnownIds;
pub use lines::{Choice, Line, Question, Value, confidence_word, list, scalar};

use super::recipe::letter_of_place;
use crate::intake::Error;
use crate::intake::columns::{Column, Reading, SheetKind};
use crate::intake::table::{ReadAs, SheetChoice};
use crate::model::time::Tz;
use fit::{Fit, LEAST, fit};
use sample::Sample;
use vocabulary::KNOWN;

/// A proposed map.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// One entry a sheet.
    pub sheets: Vec<ProposedSheet>,
}

/// The proposed entry of one sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct ProposedSheet {
    /// The name of its file.
    pub file: String,
    /// The sheet of a workbook, where it has several.
    pub sheet: Option<String>,
    /// What it seems to hold.
    pub kind: SheetKind,
    /// How sure that is, and why.
    pub kind_reason: (f64, String),
    /// How cells are read: marks, dates, zone, yes and no.
    pub settings: Vec<Line>,
    /// Our columns.
    pub columns: Vec<Line>,
    /// Their columns that go nowhere, each with a reason.
    pub aside: Vec<(String, String)>,
}

/// What is said about a sheet beforehand.
#[derive(Debug)]
pub struct Said<'a> {
    /// What kind it is.
    pub kind: Option<SheetKind>,
    /// How its file is to be read.
    pub read_as: &'a ReadAs,
    /// The zone of its clocks.
    pub zone: Option<Tz>,
    /// What the programme knows.
    pub known: &'a KnownIds,
}

/// Proposes the entry of a sheet.
///
/// # Errors
/// The file can't be read.
pub fn propose(path: &Path, said: &Said<'_>) -> Result<ProposedSheet, Error> {
    let sample = Sample::read(path, said.read_as)?;
    let file = path.file_name().unwrap_or_default().to_string_lossy();
    let mut proposed = of_sample(&file, &sample, said);
    if let Some(SheetChoice::Name(name)) = &said.read_as.sheet {
        proposed.sheet = Some(name.clone());
    }
    Ok(proposed)
}

/// One header that goes to one of our columns.
struct Pair {
    theirs: usize,
    ours: usize,
    fit: Fit,
}

/// The pairs of a kind, and how well they fit in all.
struct Pairs {
    kind: SheetKind,
    pairs: Vec<Pair>,
    /// Headers that name two of our columns, with what stands between the two in cells.
    split: Vec<(usize, &'static str, [usize; 2])>,
    /// The fit of each header (outer) with each of our columns.
    fits: Vec<Vec<Fit>>,
    total: f64,
}

fn of_sample(file: &str, sample: &Sample, said: &Said<'_>) -> ProposedSheet {
    let kinds: Vec<SheetKind> = match said.kind {
        Some(kind) => vec![kind],
        None => SheetKind::ALL.to_vec(),
    };
    let paired = kinds.into_iter().map(|kind| pair(sample, kind, said.known));
    let mut paired: Vec<Pairs> = paired.collect();
    paired.sort_by(|one, other| other.total.total_cmp(&one.total));
    let best = paired.swap_remove(0);
    let kind_reason = match said.kind {
        Some(_) => (1.0, "as you say, or as its name says".to_owned()),
        None => {
            let headers = sample.columns.len().max(1) as f64;
            let reason = format!(
                "{} of {} headers go to columns of {}",
                best.pairs.len(),
                sample.columns.len(),
                best.kind.as_str()
            );
            ((best.pairs.len() as f64 / headers).min(1.0), reason)
        }
    };
    entry::sheet(file, sample, said, best, kind_reason)
}

fn pair(sample: &Sample, kind: SheetKind, known: &KnownIds) -> Pairs {
    let ours = kind.columns();
    let fits: Vec<Vec<Fit>> = (sample.columns.iter())
        .map(|theirs| {
            let fits = ours.iter().map(|column| fit(theirs, column, kind, known));
            fits.collect()
        })
        .collect();
    // Squared, so that one good pair counts more than two poor ones. Our columns are the rows:
    // there are few of them, however broken the header is.
    let weight = |fit: &Fit| {
        if fit.score < LEAST {
            0.0
        } else {
            fit.score * fit.score
        }
    };
    let split = split_headers(sample, kind);
    let is_split = |theirs: usize, ours: usize| {
        let one =
            |(place, _, both): &(usize, &str, [usize; 2])| *place == theirs || both.contains(&ours);
        split.iter().any(one)
    };
    let weights: Vec<Vec<f64>> = (0..ours.len())
        .map(|own| {
            let theirs = fits.iter().enumerate();
            theirs
                .map(|(place, fits)| match is_split(place, own) {
                    true => 0.0,
                    false => weight(&fits[own]),
                })
                .collect()
        })
        .collect();
    let places = assign::assign(&weights);
    let mut pairs: Vec<Pair> = (places.iter().enumerate())
        .filter_map(|(ours, theirs)| {
            let theirs = (*theirs)?;
            let fit = fits[theirs][ours].clone();
            Some(Pair { theirs, ours, fit })
        })
        .collect();
    pairs.sort_by_key(|pair| pair.theirs);
    // A kind whose required columns are found goes before one with as many others.
    let required = |pair: &Pair| if ours[pair.ours].required { 1.5 } else { 1.0 };
    let total: f64 = pairs
        .iter()
        .map(|pair| pair.fit.score * required(pair))
        .sum();
    let lacking = ours
        .iter()
        .enumerate()
        .filter(|(place, column)| column.required && !pairs.iter().any(|pair| pair.ours == *place));
    Pairs {
        kind,
        total: total + 3.0 * split.len() as f64 - 1.5 * lacking.count() as f64,
        pairs,
        split,
        fits,
    }
}

/// Headers such as `Point / Sampler` whose two halves are names of two of our columns, and whose
/// cells are cut alike.
fn split_headers(sample: &Sample, kind: SheetKind) -> Vec<(usize, &'static str, [usize; 2])> {
    let of_half = |half: &str| {
        let heading = heading::Heading::of(half);
        let named = |column: &Column| heading::likeness(&heading, KNOWN.names(kind, column.name));
        kind.columns()
            .iter()
            .position(|column| named(column) > 0.94)
    };
    let mut found: Vec<(usize, &'static str, [usize; 2])> = Vec::new();
    for (place, theirs) in sample.columns.iter().enumerate() {
        let cut = [" / ", "/", " - ", "; ", ", ", " | "]
            .into_iter()
            .find_map(|between| {
                let (one, other) = theirs.name.split_once(between.trim())?;
                let both = [of_half(one)?, of_half(other)?];
                let is_cut = |value: &&String| value.matches(between).count() == 1;
                let cut = theirs.values.iter().filter(is_cut).count();
                let alike = theirs.share(cut).is_some_and(|share| share >= 0.8);
                (both[0] != both[1] && alike).then_some((between, both))
            });
        if let Some((between, both)) = cut
            && !found
                .iter()
                .any(|(_, _, other)| other.iter().any(|one| both.contains(one)))
        {
            found.push((place, between, both));
        }
    }
    found
}

impl Pairs {
    /// Whether nothing is made of one of their columns.
    fn is_free(&self, theirs: usize) -> bool {
        !self.pairs.iter().any(|pair| pair.theirs == theirs)
            && !self.split.iter().any(|(place, _, _)| *place == theirs)
    }

    /// Whether one of our columns is made of something.
    fn is_made(&self, ours: usize) -> bool {
        self.pairs.iter().any(|pair| pair.ours == ours)
            || self.split.iter().any(|(_, _, both)| both.contains(&ours))
    }

    /// How sure a pair is: less so where another header goes with the column almost as well.
    fn confidence(&self, pair: &Pair, sample: &Sample) -> (f64, Option<String>) {
        let free = (0..sample.columns.len()).filter(|place| self.is_free(*place));
        let rival = free
            .map(|place| (self.fits[place][pair.ours].score, place))
            .filter(|(score, _)| *score >= LEAST && *score >= pair.fit.score - 0.1)
            .max_by(|one, other| one.0.total_cmp(&other.0));
        match rival {
            None => (pair.fit.score, None),
            Some((_, place)) => {
                let told = format!("{:?} fits almost as well", sample.columns[place].name);
                (pair.fit.score.min(0.55), Some(told))
            }
        }
    }
}

/// One of their columns as the map names it: by its header, or by its letter where the header is
/// blank, stands twice, or reads like a question that waits for its answer.
fn theirs(sample: &Sample, place: usize) -> String {
    let name = &sample.columns[place].name;
    let alike = |other: &&sample::Sampled| super::folded(&other.name) == super::folded(name);
    if name.is_empty()
        || name.trim() == super::read::ASK
        || sample.columns.iter().filter(alike).count() > 1
    {
        format!("{{letter: {}}}", scalar(&letter_of_place(place)))
    } else {
        scalar(name)
    }
}

impl Proposal {
    /// The questions that wait for an answer, in the order of the map: where each stands, and
    /// what it is.
    #[must_use]
    pub fn questions(&self) -> Vec<(String, &Question)> {
        let mut found = Vec::new();
        for sheet in &self.sheets {
            let mut own = Vec::new();
            for line in sheet.settings.iter().chain(&sheet.columns) {
                line.questions(&mut own);
            }
            let named = own.into_iter();
            found.extend(
                named.map(|(path, question)| (format!("{}: {path}", sheet.file), question)),
            );
        }
        found
    }

    /// Answers the question at this place of [`Self::questions`] with a value as YAML. A text
    /// that someone typed is made YAML by [`scalar`].
    pub fn answer(&mut self, place: usize, yaml: &str) {
        let mut left = place;
        for sheet in &mut self.sheets {
            for line in sheet.settings.iter_mut().chain(&mut sheet.columns) {
                match line.answer(left, yaml) {
                    Ok(()) => return,
                    Err(now) => left = now,
                }
            }
        }
    }

    /// The map as YAML, a confidence and a reason a line.
    #[must_use]
    pub fn yaml(&self) -> String {
        let mut out = String::from(
            "# Proposed by `fairdraw import --propose-map` from the headers and values of the sheets.\n\
             # Look it through: each line says how sure it is and why. Lines with `ask` wait for you.\n\
             fairdraw_columns: 1\nname: Proposed map\nrevision: \"1\"\nsheets:\n",
        );
        for sheet in &self.sheets {
            sheet.write(&mut out);
        }
        out
    }
}

impl ProposedSheet {
    fn write(&self, out: &mut String) {
        let (confidence, reason) = &self.kind_reason;
        let _ = writeln!(
            out,
            "  - kind: {}  # {} {:.0} %: {}",
            self.kind.as_str(),
            confidence_word(*confidence),
            confidence * 100.0,
            lines::in_one_line(reason)
        );
        let _ = writeln!(out, "    files: {}", list(&[&self.file]));
        if let Some(sheet) = &self.sheet {
            let _ = writeln!(out, "    sheet: {}", scalar(sheet));
        }
        for line in &self.settings {
            line.write(2, out);
        }
        let _ = writeln!(out, "    columns:");
        for line in &self.columns {
            line.write(3, out);
        }
        for (name, reason) in &self.aside {
            let name = lines::in_one_line(&format!("{name:?}"));
            let _ = writeln!(
                out,
                "      # kept aside: {name}: {}",
                lines::in_one_line(reason)
            );
        }
    }
}

/// Whether a column of ours is a time or a day.
fn is_dated(column: &Column) -> bool {
    matches!(column.reading, Reading::Time | Reading::Date)
}
