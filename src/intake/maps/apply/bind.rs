//! From a map and the header of a sheet to the bound map: each column of theirs finds its place.

use rustc_hash::{FxHashMap, FxHashSet};

use super::{Bound, BoundColumn, BoundZones};
use crate::intake::columns::{Column, Reading};
use crate::intake::maps::recipe::{Recipe, SheetMap, Source, Theirs, folded, letter_of_place};
use crate::intake::maps::unit::{self, Said};
use crate::written::suggestion;

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
