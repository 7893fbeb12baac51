//! The text of a cell: put together from the pieces of its column, cut, and turned into our words.

use super::value::{cut_for_time, push};
use super::{BoundColumn, MappedCell};
use crate::intake::columns::Reading;
use crate::intake::maps::DateForm;
use crate::intake::maps::recipe::{Otherwise, Piece, Source, folded};
use crate::intake::table::{Cell, Cells};

impl BoundColumn {
    /// Makes the canonical text of a cell; it stays empty where the cell is blank.
    pub(super) fn make(&self, cells: &Cells, cell: &mut MappedCell) -> Result<(), String> {
        // Most columns are one of theirs: no list of pieces is needed.
        if let ([piece], [Some(place)]) = (&self.recipe.from[..], &self.places[..]) {
            let text = theirs(cells, *place, cell)?;
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
                (Some(place), _) => theirs(cells, *place, cell)?,
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
        let serial = |form: &DateForm| form.written.to_ascii_lowercase().starts_with("serial");
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
}

/// The text of a cell of theirs, empty where it is blank; one that can't be read is kept as it
/// may be shown.
fn theirs<'c>(cells: &'c Cells, place: usize, cell: &mut MappedCell) -> Result<&'c str, String> {
    match cells.get(place) {
        Cell::Blank => Ok(""),
        Cell::Text(text) => Ok(text),
        Cell::Unreadable(shown, why) => {
            cell.raw = shown;
            Err(why)
        }
    }
}
