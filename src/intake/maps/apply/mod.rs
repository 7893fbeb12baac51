//! A column map bound to the header of one sheet: rows as they stand become canonical cells.
//!
//! Here stand the bound map and its rows; `bind` makes it from a map and a header, `cell` puts
//! the text of a cell together and finds our words for it, `value` reads numbers and dates.

mod bind;
mod cell;
mod value;

use rustc_hash::{FxHashMap, FxHashSet};

use super::recipe::{Recipe, When, folded};
use super::unit::Unit;
use crate::intake::columns::{Column, Reading};
use crate::intake::table::{Cell, Cells};
use crate::model::time::Tz;

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
