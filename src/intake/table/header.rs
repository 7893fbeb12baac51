//! Which of the first rows is the header.

use rustc_hash::FxHashSet;

use crate::intake::SheetKind;

/// How many rows are looked through for a header.
pub(super) const LOOKED_THROUGH: usize = 50;

/// Names of columns that are hoped for, in lower case: those of the sheet's kind or of a
/// column map. They tell the header from the titles above it.
#[derive(Clone, Debug, Default)]
pub struct Wanted {
    names: FxHashSet<String>,
    /// Those without which there is no such table.
    required: FxHashSet<String>,
}

impl Wanted {
    /// These names, in any case.
    pub fn new<'a>(names: impl IntoIterator<Item = &'a str>) -> Self {
        Wanted {
            names: names.into_iter().map(folded).collect(),
            required: FxHashSet::default(),
        }
    }

    /// The names of the columns of a kind of sheet.
    #[must_use]
    pub fn of(kind: SheetKind) -> Self {
        let required = kind.columns().iter().filter(|column| column.required);
        Wanted {
            required: required.map(|column| folded(column.name)).collect(),
            ..Wanted::new(kind.columns().iter().map(|column| column.name))
        }
    }

    /// How many of the names these are, each counted once; where none that is required is
    /// missing, at least as many as are enough.
    pub(super) fn count(&self, names: &[String]) -> usize {
        if self.names.is_empty() {
            return 0;
        }
        let found: FxHashSet<String> = names
            .iter()
            .map(|name| folded(name))
            .filter(|name| self.names.contains(name))
            .collect();
        let is_whole = !self.required.is_empty() && self.required.is_subset(&found);
        found.len().max(if is_whole { ENOUGH } else { 0 })
    }

    /// Whether so many can't be there by accident.
    pub(super) fn is_enough(&self, count: usize) -> bool {
        count >= ENOUGH || (count > 0 && count == self.names.len())
    }
}

/// So many known names are no accident.
const ENOUGH: usize = 2;

fn folded(name: &str) -> String {
    name.trim().to_lowercase()
}

/// Where the header stands among the first rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Place {
    /// The row, counted from 0.
    pub(super) first: usize,
    /// 1, or 2 for a row of groups above a row of names.
    pub(super) rows: usize,
    /// How many wanted names it has.
    pub(super) wanted: usize,
}

/// Finds the header among the first rows; `None` where all are blank. Where `spread` is set, a
/// group stands over the blank cells to its right as well; otherwise merged cells were already
/// filled.
pub(super) fn find(rows: &[Vec<String>], wanted: &Wanted, spread: bool) -> Option<Place> {
    let rows = &rows[..rows.len().min(LOOKED_THROUGH)];
    let first = rows.iter().position(|row| filled(row) > 0)?;
    let mut best = Place {
        first,
        rows: 1,
        wanted: wanted.count(&rows[first]),
    };
    for (place, row) in rows.iter().enumerate().skip(first) {
        let alone = wanted.count(row);
        if alone > best.wanted {
            best = Place {
                first: place,
                rows: 1,
                wanted: alone,
            };
        }
        let Some(below) = rows.get(place + 1) else {
            continue;
        };
        if !is_header_like(row) || !is_header_like(below) {
            continue;
        }
        let together = wanted.count(&joined(row, below, spread));
        if together > best.wanted.max(wanted.count(below)) {
            best = Place {
                first: place,
                rows: 2,
                wanted: together,
            };
        }
    }
    if wanted.is_enough(best.wanted) {
        return Some(best);
    }
    let (first, rows_taken) = by_looks(rows, first, spread);
    let names = if rows_taken == 2 {
        joined(&rows[first], &rows[first + 1], spread)
    } else {
        rows[first].clone()
    };
    Some(Place {
        first,
        rows: rows_taken,
        wanted: wanted.count(&names),
    })
}

/// The header where no name is known: the first row about as wide as the table, with the row
/// of groups above it or the row of names below it where neither says enough alone.
fn by_looks(rows: &[Vec<String>], first: usize, spread: bool) -> (usize, usize) {
    let mut widths: Vec<usize> = rows
        .iter()
        .map(|row| filled(row))
        .filter(|width| *width > 0)
        .collect();
    widths.sort_unstable();
    let usual = widths[widths.len() / 2];
    // A title over merged cells says the same many times.
    let is_wide =
        |row: &Vec<String>| filled(row) * 5 >= usual * 3 && (usual < 2 || distinct(row) > 1);
    let wide = rows.iter().position(is_wide).unwrap_or(first);
    let header = match wide.checked_sub(1).map(|above| &rows[above]) {
        // Groups above names: two of them at least, and the names do not do alone.
        Some(above) if filled(above) >= 2 && is_header_like(above) && !is_complete(&rows[wide]) => {
            wide - 1
        }
        _ => wide,
    };
    let (Some(below), Some(data)) = (rows.get(header + 1), rows.get(header + 2)) else {
        return (wide, 1);
    };
    let both = is_header_like(&rows[header]) && is_header_like(below) && !is_header_like(data);
    let together = joined(&rows[header], below, spread);
    let helps = !is_complete(&rows[header]) && distinct(&together) > distinct(&rows[header]);
    if both && helps && filled(data) > 0 {
        (header, 2)
    } else {
        (wide, 1)
    }
}

/// Two rows of a header as one: the group, then the name under it.
pub(super) fn joined(upper: &[String], lower: &[String], spread: bool) -> Vec<String> {
    let mut group = "";
    (0..upper.len().max(lower.len()))
        .map(|place| {
            let above = upper.get(place).map_or("", |text| text.trim());
            let below = lower.get(place).map_or("", |text| text.trim());
            if !above.is_empty() {
                // What stands above nothing is a name of its own, not a group.
                group = if below.is_empty() { "" } else { above };
            }
            let above = if above.is_empty() && spread {
                group
            } else {
                above
            };
            match (above, below) {
                ("", name) | (name, "") => name.to_owned(),
                (above, below) if above == below => below.to_owned(),
                (above, below) => format!("{above} {below}"),
            }
        })
        .collect()
}

/// How many cells hold something.
fn filled(row: &[String]) -> usize {
    row.iter().filter(|cell| !cell.trim().is_empty()).count()
}

/// How many different texts there are.
fn distinct(row: &[String]) -> usize {
    let texts: FxHashSet<&str> = row.iter().map(|cell| cell.trim()).collect();
    texts.len() - usize::from(texts.contains(""))
}

/// Whether every cell up to the last filled one has a name of its own.
fn is_complete(row: &[String]) -> bool {
    let end = row
        .iter()
        .rposition(|cell| !cell.trim().is_empty())
        .map_or(0, |place| place + 1);
    let names: FxHashSet<String> = row[..end].iter().map(|name| folded(name)).collect();
    names.len() == end && !names.contains("")
}

/// Whether no cell holds a number, a date or a time.
fn is_header_like(row: &[String]) -> bool {
    filled(row) > 0 && !row.iter().any(|cell| is_value(cell))
}

/// Whether a text is a number, a date or a time, however written.
pub(super) fn is_value(text: &str) -> bool {
    let text = text.trim();
    let rest = text.trim_start_matches(['-', '+', '.', ',']);
    rest.starts_with(|letter: char| letter.is_ascii_digit())
        && text.chars().all(|letter| {
            letter.is_ascii_digit()
                || matches!(
                    letter,
                    '.' | ',' | '-' | '+' | '/' | ':' | ' ' | 'T' | 'Z' | 'e' | 'E' | '%'
                )
        })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn rows(text: &str) -> Vec<Vec<String>> {
        let cells = |line: &str| line.split('|').map(|cell| cell.trim().to_owned()).collect();
        text.lines().map(cells).collect()
    }

    fn found(text: &str, wanted: &str) -> (usize, usize, Vec<String>) {
        let rows = rows(text);
        let place = find(
            &rows,
            &Wanted::new(wanted.split(' ').filter(|name| !name.is_empty())),
            true,
        )
        .unwrap();
        let names = match place.rows {
            2 => joined(&rows[place.first], &rows[place.first + 1], true),
            _ => rows[place.first].clone(),
        };
        (place.first, place.rows, names)
    }

    #[test]
    fn the_row_with_the_names_that_are_wanted_is_the_header() {
        let text =
            "Oil samples|\nas of|2026-03-04\n|\nDraw_ID|Point_ID|Drawn_At\nD-1|P-1|2026-03-04";
        let (first, count, _) = found(text, "draw_id point_id drawn_at");
        assert_eq!((first, count), (3, 1));
        // One name alone may stand in a title.
        let (first, _, _) = found("method|\na|b\n1|2\n3|4", "method draw_id");
        assert_eq!(first, 1);
        let (first, _, _) = found("technician_id\nT-1\nT-2", "technician_id");
        assert_eq!(first, 0);
    }

    #[test]
    fn one_name_is_enough_where_it_is_all_that_is_required() {
        let wanted = Wanted::of(SheetKind::Technicians);
        let count = |text: &str| wanted.count(&rows(text).remove(0));
        assert!(wanted.is_enough(count("Technician_ID|telephone")));
        assert!(!wanted.is_enough(count("name|telephone")));
        assert!(wanted.is_enough(count("name|crew")));
    }

    #[test]
    fn without_known_names_the_first_wide_row_of_words_is_the_header() {
        let text =
            "Samples 2025|||\n|||\nBottle|Where|When|Who\n17|pump|3.4.2025|A\n18|pump|4.4.2025|B";
        assert_eq!(found(text, "").0, 2);
        assert_eq!(found("Bottle\n17\n18", "").0, 0);
        assert_eq!(found("1|2\n3|4", "").0, 0);
    }

    #[test]
    fn groups_and_names_are_joined_where_neither_does_alone() {
        let text = "Point|Sample|||Remarks\n|Date|Time|Temp|\nP-1|3.4.2025|09:30|61|x\nP-2|3.4.2025|09:40|62|";
        let (first, count, names) = found(text, "");
        assert_eq!((first, count), (0, 2));
        assert_eq!(
            names,
            [
                "Point",
                "Sample Date",
                "Sample Time",
                "Sample Temp",
                "Remarks"
            ]
        );
        let text = "Taken||Sent|\nDate|Time|Date|Time\n3.4.2025|09:30|4.4.2025|10:00\n5.4.2025|09:30|6.4.2025|10:00";
        assert_eq!(
            found(text, "").2,
            ["Taken Date", "Taken Time", "Sent Date", "Sent Time"]
        );
        // Names that are complete need no groups.
        let text = "A||B|\nid|point|when|who\n1|P|3.4.2025|T\n2|P|3.4.2025|T";
        assert_eq!(found(text, ""), (1, 1, rows("id|point|when|who").remove(0)));
        // A blank name above texts is no group.
        assert_eq!(found("id||note\nD|x|y\nE|x|y", "").1, 1);
    }

    #[test]
    fn joined_names_can_be_wanted() {
        let text = "Point||Sample|\n|Tech|Date|Time\nP|T|a|b\nP|T|a|b";
        let rows = rows(text);
        let wanted = Wanted::new(["sample date", "point"]);
        assert_eq!(
            find(&rows, &wanted, true),
            Some(Place {
                first: 0,
                rows: 2,
                wanted: 2
            })
        );
    }

    #[test]
    fn values_are_told_from_words() {
        for text in [
            "1",
            "-1,5",
            "2026-03-04",
            "3.4.2025 09:30",
            "80 %",
            "1e5",
            "+.5",
        ] {
            assert!(is_value(text), "{text}");
        }
        for text in ["", "P-1", "x", "12 mL", "Date", "-"] {
            assert!(!is_value(text), "{text}");
        }
    }
}
