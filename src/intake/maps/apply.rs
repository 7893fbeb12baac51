//! A column map bound to the header of one sheet: rows as they stand become canonical cells.

use std::fmt::Write as _;

use rustc_hash::{FxHashMap, FxHashSet};

use super::recipe::{
    Otherwise, Piece, Recipe, SheetMap, Source, Theirs, When, folded, letter_of_place,
};
use super::unit::{self, Said, Unit};
use crate::intake::cell;
use crate::intake::columns::{Column, Range, Reading};
use crate::intake::table::{Cell, Cells};
use crate::model::time::Tz;
use crate::written::suggestion;

/// A map bound to a header.
#[derive(Debug)]
pub struct Bound {
    /// One entry for each column of the kind.
    columns: Vec<Option<BoundColumn>>,
    skip: Vec<(usize, When)>,
    zone: Option<Tz>,
    zones: Option<BoundZones>,
    /// Columns of the sheet that nothing was made of: place and name.
    pub unknown: Vec<(usize, String)>,
    /// What the user should know: columns of the map that the sheet has not.
    pub remarks: Vec<String>,
}

#[derive(Debug)]
struct BoundZones {
    place: usize,
    of: FxHashMap<String, Tz>,
}

#[derive(Debug)]
struct BoundColumn {
    recipe: Recipe,
    column: &'static Column,
    /// Where each piece stands; `None` for fixed texts.
    places: Vec<Option<usize>>,
    /// What refusals call it: the names of their columns.
    name: String,
    /// The unit our column is counted in.
    ours: Option<&'static Unit>,
    words: FxHashMap<String, String>,
    piece_words: Vec<FxHashMap<String, String>>,
    /// Words of ours that pass although `words` does not list them.
    passing: FxHashSet<String>,
    yes: FxHashSet<String>,
    no: FxHashSet<String>,
    blank: FxHashSet<String>,
}

/// The canonical cells of one row.
#[derive(Debug, Default)]
pub struct Mapped {
    cells: Vec<MappedCell>,
    /// The zone of the row's times that name none, where the map says one.
    pub zone: Option<Tz>,
}

/// A canonical cell.
#[derive(Debug, Default)]
struct MappedCell {
    state: State,
    /// The canonical text, or why it is refused.
    text: String,
    /// As it stands in the sheet.
    raw: String,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum State {
    #[default]
    Blank,
    Text,
    Refused,
}

/// What a map makes of one cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Made<'m> {
    /// Nothing.
    Blank,
    /// A canonical text, and the text it was made of.
    Text(&'m str, &'m str),
    /// The text as it stands, and why it is refused.
    Refused(&'m str, &'m str),
}

impl SheetMap {
    /// Binds the map to the header of a sheet.
    ///
    /// # Errors
    /// The column at fault (theirs, or ours where none of theirs is meant) and why the sheet can't
    /// be read by this map.
    pub fn bind(&self, header: &[String]) -> Result<Bound, (String, String)> {
        let columns = self.kind.columns();
        let mut bound = Bound {
            columns: columns.iter().map(|_| None).collect(),
            skip: Vec::new(),
            zone: self.zone,
            zones: None,
            unknown: Vec::new(),
            remarks: Vec::new(),
        };
        let mut used = vec![false; header.len()];
        for recipe in &self.columns {
            let column = &columns[recipe.column];
            match BoundColumn::bind(recipe, column, header) {
                Ok(made) => {
                    for place in made.places.iter().flatten() {
                        used[*place] = true;
                    }
                    bound.columns[recipe.column] = Some(made);
                }
                Err(Unbound::Missing(told)) if !column.required => {
                    bound
                        .remarks
                        .push(format!("{told}; {} stays blank", column.name));
                }
                Err(Unbound::Missing(told)) => {
                    let reason = format!(
                        "{told}; a {} sheet needs {}; the sheet is refused",
                        self.kind.as_str(),
                        column.name
                    );
                    return Err((column.name.to_owned(), reason));
                }
                Err(Unbound::Twice(name)) => return Err(twice(&name)),
            }
        }
        if !self.only_named {
            self.take_ours(header, &mut used, &mut bound)?;
        }
        for (column, made) in columns.iter().zip(&bound.columns) {
            if column.required && made.is_none() {
                let reason = format!(
                    "neither the map nor the header says what the required column {} of a {} sheet is; the sheet is refused",
                    column.name,
                    self.kind.as_str()
                );
                return Err((column.name.to_owned(), reason));
            }
        }
        self.bind_rows(header, &mut bound)?;
        for (place, name) in header.iter().enumerate().filter(|(place, _)| !used[*place]) {
            let name = name_aside(name, place, &bound.unknown);
            bound.unknown.push((place, name));
        }
        Ok(bound)
    }

    /// Takes columns that bear one of our names and that the map does not speak of.
    fn take_ours(
        &self,
        header: &[String],
        used: &mut [bool],
        bound: &mut Bound,
    ) -> Result<(), (String, String)> {
        let named: FxHashSet<usize> = self.columns.iter().map(|recipe| recipe.column).collect();
        for (place, column) in self.kind.columns().iter().enumerate() {
            if named.contains(&place) {
                continue;
            }
            let theirs = Theirs::Name(column.name.to_owned());
            let recipe = Recipe::plain(place, theirs, &self.usual);
            match BoundColumn::bind(&recipe, column, header) {
                Ok(made) => {
                    let at = made.places.iter().flatten().copied().next();
                    if let Some(at) = at.filter(|at| !used[*at]) {
                        used[at] = true;
                        bound.columns[place] = Some(made);
                    }
                }
                Err(Unbound::Missing(_)) => {}
                Err(Unbound::Twice(name)) => return Err(twice(&name)),
            }
        }
        Ok(())
    }

    /// Binds what decides on whole rows: those passed over, and their zones.
    fn bind_rows(&self, header: &[String], bound: &mut Bound) -> Result<(), (String, String)> {
        let refused = |unbound| match unbound {
            Unbound::Twice(name) => twice(&name),
            Unbound::Missing(told) => (String::new(), format!("{told}; the sheet is refused")),
        };
        for skip in &self.skip {
            match place_of(&skip.column, header) {
                Ok(place) => bound.skip.push((place, skip.when.clone())),
                Err(Unbound::Missing(told)) => {
                    bound
                        .remarks
                        .push(format!("{told}; no row is passed over for it"));
                }
                Err(twice) => return Err(refused(twice)),
            }
        }
        if let Some(zones) = &self.zones {
            let place = place_of(&zones.column, header).map_err(refused)?;
            let of = zones.of.iter().map(|(text, zone)| (folded(text), *zone));
            bound.zones = Some(BoundZones {
                place,
                of: of.collect(),
            });
        }
        Ok(())
    }
}

/// Why a column can't be bound.
enum Unbound {
    Missing(String),
    Twice(String),
}

fn twice(name: &str) -> (String, String) {
    let reason = "the column stands twice in the header; name it in the map by its letter, as in {letter: C}; the sheet is refused";
    (name.to_owned(), reason.to_owned())
}

/// A name of its own for a column that nothing was made of.
fn name_aside(name: &str, place: usize, others: &[(usize, String)]) -> String {
    let plain = match name.trim() {
        "" => format!("column {}", place + 1),
        name => name.to_owned(),
    };
    if others.iter().all(|(_, other)| *other != plain) {
        return plain;
    }
    format!("{plain} (column {})", place + 1)
}

fn place_of(theirs: &Theirs, header: &[String]) -> Result<usize, Unbound> {
    match theirs {
        Theirs::Place(place) if *place < header.len() => Ok(*place),
        Theirs::Place(place) => Err(Unbound::Missing(format!(
            "the map speaks of column {}, but the sheet has only {} columns",
            letter_of_place(*place),
            header.len()
        ))),
        Theirs::Name(name) => {
            let wanted = folded(name);
            let mut found = (0..header.len()).filter(|place| folded(&header[*place]) == wanted);
            match (found.next(), found.next()) {
                (Some(place), None) => Ok(place),
                (Some(_), Some(_)) => Err(Unbound::Twice(name.clone())),
                (None, _) => {
                    let hint = suggestion(name, header.iter().map(String::as_str));
                    let told = format!("the header lacks the column {name:?} of the map{hint}");
                    Err(Unbound::Missing(told))
                }
            }
        }
    }
}

fn folded_set(texts: &[String]) -> FxHashSet<String> {
    texts.iter().map(|text| folded(text)).collect()
}

fn folded_map(words: &[(String, String)]) -> FxHashMap<String, String> {
    words
        .iter()
        .map(|(theirs, ours)| (folded(theirs), ours.clone()))
        .collect()
}

impl BoundColumn {
    fn bind(recipe: &Recipe, column: &'static Column, header: &[String]) -> Result<Self, Unbound> {
        let mut places = Vec::new();
        let mut names: Vec<&str> = Vec::new();
        for piece in &recipe.from {
            places.push(match &piece.source {
                Source::Always(_) => None,
                Source::Column(theirs) => {
                    let place = place_of(theirs, header)?;
                    names.push(header[place].trim());
                    Some(place)
                }
            });
        }
        let name = match names[..] {
            [] => format!("{} (from the map)", column.name),
            _ => names.join(" + "),
        };
        let mut passing: FxHashSet<String> =
            recipe.words.iter().map(|(_, ours)| folded(ours)).collect();
        if let Reading::Word(words) | Reading::Words(words) = column.reading {
            passing.extend(words().into_iter().map(folded));
        }
        Ok(BoundColumn {
            column,
            places,
            name,
            ours: match unit::said(column.unit) {
                Said::Unit(unit) => Some(unit),
                _ => None,
            },
            words: folded_map(&recipe.words),
            piece_words: (recipe.from.iter())
                .map(|piece| folded_map(&piece.words))
                .collect(),
            passing,
            yes: folded_set(&recipe.manner.yes),
            no: folded_set(&recipe.manner.no),
            blank: folded_set(&recipe.manner.blank),
            recipe: recipe.clone(),
        })
    }
}

impl Bound {
    /// What refusals call the column at this place of the kind's columns: the names of theirs.
    #[must_use]
    pub fn name(&self, column: usize) -> Option<&str> {
        self.columns[column].as_ref().map(|made| made.name.as_str())
    }

    /// Turns a row into canonical cells. False where the map passes over the row.
    pub fn row(&self, cells: &Cells, mapped: &mut Mapped) -> bool {
        if self
            .skip
            .iter()
            .any(|(place, when)| passes_over(when, &cells.get(*place)))
        {
            return false;
        }
        mapped
            .cells
            .resize_with(self.columns.len(), MappedCell::default);
        let no_zone = self.find_zone(cells, mapped);
        for (made, cell) in self.columns.iter().zip(&mut mapped.cells) {
            cell.state = State::Blank;
            cell.text.clear();
            cell.raw.clear();
            let Some(made) = made else { continue };
            if let Err(reason) = made.make(cells, cell) {
                cell.state = State::Refused;
                cell.text = reason;
            } else if !cell.text.is_empty() {
                cell.state = State::Text;
                if let (Some(reason), Reading::Time) = (&no_zone, made.column.reading)
                    && is_local(&cell.text)
                {
                    cell.state = State::Refused;
                    cell.text.clone_from(reason);
                }
            }
        }
        true
    }

    /// Finds the zone of a row; why its local times can't be read where there is none.
    fn find_zone(&self, cells: &Cells, mapped: &mut Mapped) -> Option<String> {
        mapped.zone = self.zone;
        let zones = self.zones.as_ref()?;
        let site = match cells.get(zones.place) {
            Cell::Text(text) => text,
            Cell::Blank | Cell::Unreadable(..) => "",
        };
        match (zones.of.get(&folded(site)), self.zone) {
            (Some(zone), _) => {
                mapped.zone = Some(*zone);
                None
            }
            (None, Some(_)) => None,
            (None, None) => Some(format!("the map says no zone for {site:?}")),
        }
    }
}

/// Whether a canonical time says nothing of its distance from UTC.
fn is_local(text: &str) -> bool {
    !text.ends_with(['Z', 'z']) && !text.get(11..).is_some_and(|rest| rest.contains(['+', '-']))
}

fn passes_over(when: &When, given: &Cell<'_>) -> bool {
    let text = match given {
        Cell::Blank => return matches!(when, When::Blank),
        Cell::Unreadable(..) => return false,
        Cell::Text(text) => text.to_lowercase(),
    };
    match when {
        When::Blank => false,
        When::Is(texts) => texts.iter().any(|one| folded(one) == folded(&text)),
        When::Begins(texts) => texts
            .iter()
            .any(|one| text.starts_with(&one.to_lowercase())),
        When::Holds(texts) => texts.iter().any(|one| text.contains(&one.to_lowercase())),
    }
}

impl Mapped {
    /// The cell as it stands in the sheet.
    #[must_use]
    pub fn raw(&self, column: usize) -> &str {
        self.cells.get(column).map_or("", |cell| cell.raw.as_str())
    }

    /// What was made for the column at this place of the kind's columns.
    #[must_use]
    pub fn cell(&self, column: usize) -> Made<'_> {
        match self.cells.get(column) {
            None => Made::Blank,
            Some(cell) => match cell.state {
                State::Blank => Made::Blank,
                State::Text => Made::Text(&cell.text, &cell.raw),
                State::Refused => Made::Refused(&cell.raw, &cell.text),
            },
        }
    }
}

impl BoundColumn {
    /// Makes the canonical text of a cell; it stays empty where the cell is blank.
    fn make(&self, cells: &Cells, cell: &mut MappedCell) -> Result<(), String> {
        // Most columns are one of theirs: no list of pieces is needed.
        if let ([piece], [Some(place)]) = (&self.recipe.from[..], &self.places[..]) {
            let text = match cells.get(*place) {
                Cell::Blank => "",
                Cell::Text(text) => text,
                Cell::Unreadable(shown, why) => {
                    cell.raw = shown;
                    return Err(why);
                }
            };
            cell.raw.push_str(text);
            let text = self.piece_text(piece, 0, text);
            return self.finish(text, &mut cell.text);
        }
        let Some(joined) = self.joined(cells, cell)? else {
            return self.finish("", &mut cell.text);
        };
        self.finish(&joined, &mut cell.text)
    }

    /// A piece with its own words and its own text for a blank.
    fn piece_text<'t>(&'t self, piece: &'t Piece, place: usize, text: &'t str) -> &'t str {
        let text = if self.is_blank(text) { "" } else { text };
        let words = &self.piece_words[place];
        let text = match words.is_empty() || text.is_empty() {
            true => text,
            false => words.get(&folded(text)).map_or(text, String::as_str),
        };
        match &piece.if_blank {
            Some(instead) if text.is_empty() => instead,
            _ => text,
        }
    }

    /// The pieces put together; `None` where all of their columns are blank.
    fn joined(&self, cells: &Cells, cell: &mut MappedCell) -> Result<Option<String>, String> {
        let is_time = matches!(self.column.reading, Reading::Time);
        let (mut texts, mut any, mut columns) = (Vec::new(), false, 0);
        let mut lacking = None;
        for (number, (piece, place)) in self.recipe.from.iter().zip(&self.places).enumerate() {
            let own = match (place, &piece.source) {
                (Some(place), _) => match cells.get(*place) {
                    Cell::Blank => "",
                    Cell::Text(text) => text,
                    Cell::Unreadable(shown, why) => {
                        cell.raw = shown;
                        return Err(why);
                    }
                },
                (None, Source::Always(text)) => {
                    texts.push(text.clone());
                    continue;
                }
                (None, Source::Column(_)) => "",
            };
            columns += 1;
            if !own.is_empty() {
                if !cell.raw.is_empty() {
                    cell.raw.push(' ');
                }
                cell.raw.push_str(own);
            }
            any |= !self.is_blank(own);
            let text = self.piece_text(piece, number, own);
            if text.is_empty() {
                lacking = Some(number);
            } else if is_time {
                texts.push(cut_for_time(text).to_owned());
            } else {
                texts.push(text.to_owned());
            }
        }
        if !any && columns > 0 {
            return Ok(None);
        }
        if let (true, Some(_), true) = (is_time, lacking, columns > 1) {
            return Err("one half of date and time is blank".to_owned());
        }
        if is_time && let Some(sum) = self.serial_sum(&texts) {
            return Ok(Some(sum));
        }
        Ok(Some(texts.join(&self.recipe.join)))
    }

    /// A day and a time of day that are both serial numbers.
    fn serial_sum(&self, texts: &[String]) -> Option<String> {
        let serial =
            |form: &super::DateForm| form.written.to_ascii_lowercase().starts_with("serial");
        if texts.len() < 2 || !self.recipe.manner.dates.iter().any(serial) {
            return None;
        }
        let numbers: Option<Vec<f64>> = texts.iter().map(|text| text.parse().ok()).collect();
        Some(numbers?.iter().sum::<f64>().to_string())
    }

    fn is_blank(&self, text: &str) -> bool {
        text.is_empty() || (!self.blank.is_empty() && self.blank.contains(&folded(text)))
    }

    /// From the text as it was put together to the canonical one.
    fn finish(&self, text: &str, into: &mut String) -> Result<(), String> {
        let recipe = &self.recipe;
        let text = match (&recipe.split, recipe.part) {
            (Some(split), Some(part)) => {
                let part = text.split(split.as_str()).nth(part - 1);
                part.map(str::trim).unwrap_or_default()
            }
            _ => text.trim(),
        };
        let text = if self.is_blank(text) { "" } else { text };
        let text = match &recipe.if_blank {
            Some(instead) if text.is_empty() => return push(into, instead),
            _ if text.is_empty() => return Ok(()),
            _ => text,
        };
        if let Reading::Words(_) = self.column.reading {
            return self.several_words(text, into);
        }
        match self.word(text)? {
            None => Ok(()),
            Some(ours) if !std::ptr::eq(ours, text) => push(into, ours),
            Some(text) => self.read(text, into),
        }
    }

    /// Several words: each by itself, unless the whole text is listed.
    fn several_words(&self, text: &str, into: &mut String) -> Result<(), String> {
        let split = self.recipe.split.as_deref().unwrap_or(";");
        let whole = self.words.contains_key(&folded(text));
        let parts: Vec<&str> = if whole {
            vec![text]
        } else {
            text.split(split).collect()
        };
        for part in parts.into_iter().map(str::trim) {
            if self.is_blank(part) {
                continue;
            }
            if let Some(ours) = self.word(part)? {
                if !into.is_empty() {
                    into.push(';');
                }
                into.push_str(ours);
            }
        }
        Ok(())
    }

    /// Our word for theirs; the text itself where none is listed, `None` where it is blank.
    fn word<'t>(&'t self, text: &'t str) -> Result<Option<&'t str>, String> {
        if self.words.is_empty() && self.recipe.otherwise == Otherwise::Keep {
            return Ok(Some(text));
        }
        let folded = folded(text);
        match self.words.get(&folded) {
            Some(ours) => Ok((!ours.is_empty()).then_some(ours.as_str())),
            None if self.passing.contains(&folded) => Ok(Some(text)),
            None => match self.recipe.otherwise {
                Otherwise::Keep => Ok(Some(text)),
                Otherwise::Blank => Ok(None),
                Otherwise::Refuse => Err("none of the words that the map lists".to_owned()),
            },
        }
    }

    /// Reads a text by the kind of the column.
    fn read(&self, text: &str, into: &mut String) -> Result<(), String> {
        match self.column.reading {
            Reading::Number(_) => self.number(text, into),
            Reading::YesNo if self.yes.contains(&folded(text)) => push(into, "yes"),
            Reading::YesNo if self.no.contains(&folded(text)) => push(into, "no"),
            Reading::Time | Reading::Date => self.date(text, into),
            _ => push(into, text),
        }
    }

    fn number(&self, text: &str, into: &mut String) -> Result<(), String> {
        let (mut text, mut from) = (text, self.recipe.unit);
        if self.recipe.unit_in_cell {
            let (number, unit) = unit::split_cell(text);
            if !unit.is_empty() {
                from = Some(self.unit_of_cell(unit)?);
                text = number;
            }
        }
        let canonical = self.recipe.manner.numbers.canonical(text)?;
        let (Some(from), Some(ours)) = (from, self.ours) else {
            return push(into, &canonical);
        };
        if from == ours {
            return push(into, &canonical);
        }
        let value = cell::number(&canonical, Range::Any)?;
        // Writing to a text does not fail.
        let _ = write!(into, "{}", from.convert(value, ours));
        Ok(())
    }

    fn unit_of_cell(&self, text: &str) -> Result<&'static Unit, String> {
        let ours = self.ours.ok_or("the column has no unit")?;
        match unit::said(text) {
            Said::Unit(unit) if unit.quantity == ours.quantity => Ok(unit),
            Said::Unit(unit) => Err(format!("{} is no unit for {}", unit.name, self.column.name)),
            // What the map says decides which of the two is meant.
            Said::Either(us, imperial) => match self.recipe.unit {
                Some(unit) if unit == us || unit == imperial => Ok(unit),
                _ => Err(format!(
                    "{text} may be {} or {}; say so in the map with unit",
                    us.name, imperial.name
                )),
            },
            Said::Unknown => Err(format!("{text:?} is no unit that is known")),
        }
    }

    fn date(&self, text: &str, into: &mut String) -> Result<(), String> {
        let manner = &self.recipe.manner;
        let mut why = None;
        for form in &manner.dates {
            match form.read(text, manner.pivot) {
                Ok(moment) => {
                    let canonical = match self.column.reading {
                        Reading::Date => Some(moment.as_day()),
                        _ => moment.as_time(),
                    };
                    match canonical {
                        Some(canonical) => return push(into, &canonical),
                        None => why = Some("a date alone is not a time".to_owned()),
                    }
                }
                Err(reason) => why = why.or(reason),
            }
        }
        // What stands in the canonical form needs no form of the map.
        let canonical = cell::day_of(text.as_bytes()).is_some();
        if canonical || manner.dates.is_empty() {
            let is_day = matches!(self.column.reading, Reading::Date);
            return push(into, if is_day { midnight_cut(text) } else { text });
        }
        Err(why.unwrap_or_else(|| {
            let forms: Vec<&str> = manner
                .dates
                .iter()
                .map(|form| form.written.as_str())
                .collect();
            format!("not written as {}", forms.join(" or "))
        }))
    }
}

#[allow(
    clippy::unnecessary_wraps,
    reason = "the last step of ways that can fail"
)]
fn push(into: &mut String, text: &str) -> Result<(), String> {
    into.push_str(text);
    Ok(())
}

/// One half of date and time as a spreadsheet hands it over: a day at midnight, or a time on
/// the day before its count begins.
fn cut_for_time(text: &str) -> &str {
    if cell::day_of(text.as_bytes()).is_none() {
        return text;
    }
    let day_zero = ["1899-12-30", "1899-12-31", "1904-01-01", "1900-01-00"];
    if text.len() > 11 && day_zero.iter().any(|day| text.starts_with(day)) {
        return text.get(11..).unwrap_or(text);
    }
    midnight_cut(text)
}

/// A canonical day without the midnight that stands behind it.
fn midnight_cut(text: &str) -> &str {
    let rest = text.get(10..).unwrap_or_default();
    let rest = rest.trim_start_matches([' ', 'T']);
    match rest {
        "00:00" | "00:00:00" | "00:00:00.000" => text.get(..10).unwrap_or(text),
        _ => text,
    }
}

/// A bound map with the row last mapped, and what was passed over so far.
#[derive(Debug)]
pub struct Mapping {
    /// The map.
    pub bound: Bound,
    /// The canonical cells of the row last read.
    pub mapped: Mapped,
    /// How many rows were passed over.
    pub skipped: u64,
    /// The line of the first of them.
    pub first_skipped: u64,
}

impl Mapping {
    /// A bound map before the first row.
    #[must_use]
    pub fn new(bound: Bound) -> Self {
        Mapping {
            bound,
            mapped: Mapped::default(),
            skipped: 0,
            first_skipped: 0,
        }
    }

    /// Maps a row; false where it is passed over.
    pub fn row(&mut self, cells: &Cells, line: u64) -> bool {
        let taken = self.bound.row(cells, &mut self.mapped);
        if !taken {
            if self.skipped == 0 {
                self.first_skipped = line;
            }
            self.skipped += 1;
        }
        taken
    }

    /// What to tell of rows passed over.
    #[must_use]
    pub fn told(&self) -> Option<String> {
        (self.skipped > 0).then(|| {
            format!(
                "rows that the map passes over: {}, the first on line {}",
                self.skipped, self.first_skipped
            )
        })
    }
}
