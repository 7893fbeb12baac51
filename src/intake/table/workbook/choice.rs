//! Which sheet of a workbook is meant, and where its header stands.

use std::path::Path;

use calamine::Dimensions;

use super::super::header::{self, LOOKED_THROUGH, Wanted};
use super::super::how::{Format, How};
use super::super::read_as::{ReadAs, SheetChoice};
use super::book::{Book, BookFault, Listed, SheetRow};
use crate::intake::Error;

/// The sheet that was chosen, and its header.
#[derive(Debug)]
pub(super) struct Choice {
    pub(super) how: How,
    pub(super) names: Vec<String>,
    /// Columns before the table, which are blank.
    pub(super) left: usize,
    /// The number of the last row of the header; 0 where there is none.
    pub(super) last_header_row: u64,
}

/// Why there is no sheet to read.
#[derive(Debug)]
pub(super) enum Refused {
    Fault(BookFault),
    NoSuchSheet { wanted: String, names: Vec<String> },
}

impl Refused {
    pub(super) fn into_error(self, path: &Path) -> Error {
        let sheet = path.to_owned();
        match self {
            Refused::Fault(BookFault::Locked) => Error::Locked { sheet },
            Refused::Fault(BookFault::Damaged(reason)) => Error::Damaged { sheet, reason },
            Refused::Fault(BookFault::TooLarge(reason)) => Error::TooLarge { sheet, reason },
            Refused::Fault(BookFault::NoWorkbook) => Error::NoWorkbook { sheet },
            Refused::NoSuchSheet { wanted, names } => Error::NoSuchSheet {
                sheet,
                wanted,
                names,
            },
        }
    }
}

/// The first rows of a sheet.
struct Head {
    sheet: Listed,
    rows: Vec<SheetRow>,
    /// The same as texts.
    texts: Vec<Vec<String>>,
    place: Option<header::Place>,
}

/// Chooses the sheet that is named, or else the visible one whose header has most of the names
/// that are wanted; of equals the first, without any the fullest.
pub(super) fn choose(
    book: &mut Book,
    read_as: &ReadAs,
    wanted: &Wanted,
) -> Result<Choice, Refused> {
    let sheets = book.sheets();
    let names: Vec<String> = sheets.iter().map(|sheet| sheet.name.clone()).collect();
    let head = match &read_as.sheet {
        Some(choice) => {
            let sheet = named(&sheets, choice).ok_or_else(|| Refused::NoSuchSheet {
                wanted: match choice {
                    SheetChoice::Name(name) => name.clone(),
                    SheetChoice::Number(number) => number.to_string(),
                },
                names: names.clone(),
            })?;
            Some(head_of(book, sheet.clone(), wanted, read_as).map_err(Refused::Fault)?)
        }
        None => best(book, &sheets, wanted, read_as)?,
    };
    let mut how = How {
        format: book.format,
        sheets: names,
        header_rows: 1,
        ..How::default()
    };
    let Some(mut head) = head else {
        return Ok(Choice {
            how,
            names: Vec::new(),
            left: 0,
            last_header_row: 0,
        });
    };
    if read_as.sheet.is_none() {
        let others: Vec<&str> = how
            .sheets
            .iter()
            .map(String::as_str)
            .filter(|name| *name != head.sheet.name)
            .collect();
        if !others.is_empty() {
            how.remarks.push(format!(
                "other sheets of the workbook, not taken: {}; --sheet names another",
                others.join(", ")
            ));
        }
    }
    if head.sheet.is_hidden {
        how.remarks.push(format!(
            "the sheet {} is hidden in the workbook",
            head.sheet.name
        ));
    }
    if book.held.hidden_rows > 0 {
        how.remarks.push(format!(
            "rows that are hidden in the workbook are taken like others: {} in all its sheets",
            book.held.hidden_rows
        ));
    }
    if book.held.without_result > 0 {
        how.remarks.push(format!(
            "formulas without a stored result are blank: {} in all its sheets; open the workbook in a spreadsheet, save it and import it again",
            book.held.without_result
        ));
    }
    how.sheet = Some(head.sheet.name.clone());
    Ok(with_header(book, &mut head, read_as, wanted, how))
}

fn named<'s>(sheets: &'s [Listed], choice: &SheetChoice) -> Option<&'s Listed> {
    match choice {
        SheetChoice::Number(number) => sheets.get(number.checked_sub(1)?),
        SheetChoice::Name(name) => {
            let exact = sheets.iter().find(|sheet| sheet.name == *name);
            let folded = name.trim().to_lowercase();
            exact.or_else(|| {
                sheets
                    .iter()
                    .find(|sheet| sheet.name.trim().to_lowercase() == folded)
            })
        }
    }
}

/// How many wanted names the header of a sheet has, whether it is seen, how full it is.
type Score = (usize, bool, usize);

fn best(
    book: &mut Book,
    sheets: &[Listed],
    wanted: &Wanted,
    read_as: &ReadAs,
) -> Result<Option<Head>, Refused> {
    let mut best: Option<(Score, Head)> = None;
    let mut fault = None;
    for sheet in sheets {
        let head = match head_of(book, sheet.clone(), wanted, read_as) {
            Ok(head) => head,
            Err(error) => {
                fault.get_or_insert(error);
                continue;
            }
        };
        let Some(place) = &head.place else { continue };
        let known = if wanted.is_enough(place.wanted) {
            place.wanted
        } else {
            0
        };
        // Without a known name the fullest sheet is meant.
        let cells = if known > 0 {
            0
        } else {
            head.texts.iter().map(Vec::len).sum()
        };
        let score = (known, !sheet.is_hidden, cells);
        if best.as_ref().is_none_or(|(other, _)| score > *other) {
            best = Some((score, head));
        }
    }
    match (best, fault) {
        (Some((_, head)), _) => Ok(Some(head)),
        (None, Some(fault)) => Err(Refused::Fault(fault)),
        (None, None) => Ok(None),
    }
}

fn head_of(
    book: &mut Book,
    sheet: Listed,
    wanted: &Wanted,
    read_as: &ReadAs,
) -> Result<Head, BookFault> {
    let mut source = book.rows(&sheet.name)?;
    let mut rows = Vec::new();
    let header_row = read_as.header_row.unwrap_or(0);
    let mut last = 0;
    while rows.len() < LOOKED_THROUGH || last <= header_row {
        // What is damaged further down is told when it is reached.
        match source.next() {
            Ok(Some(row)) => {
                last = row.number;
                rows.push(row);
            }
            Ok(None) => break,
            Err(reason) if rows.is_empty() => return Err(BookFault::Damaged(reason)),
            Err(_) => break,
        }
    }
    let texts: Vec<Vec<String>> = rows.iter().map(texts).collect();
    let place = header::find(&texts, wanted, true);
    Ok(Head {
        sheet,
        rows,
        texts,
        place,
    })
}

fn texts(row: &SheetRow) -> Vec<String> {
    row.texts
        .iter()
        .map(|text| text.trim().to_owned())
        .collect()
}

fn with_header(
    book: &mut Book,
    head: &mut Head,
    read_as: &ReadAs,
    wanted: &Wanted,
    mut how: How,
) -> Choice {
    let (mut first, mut count, mut spread) = match (&head.place, read_as.header_row) {
        (_, Some(number)) => {
            let found = head.rows.iter().position(|row| row.number >= number);
            (found.unwrap_or(head.rows.len()), 1, true)
        }
        (Some(place), None) => (place.first, place.rows, true),
        (None, None) => (head.rows.len(), 1, true),
    };
    // Merged cells only matter where a header may consist of them.
    let is_plain = |row: &Vec<String>| row.iter().all(|name| !name.is_empty());
    if read_as.header_row.is_none()
        && head
            .texts
            .get(first)
            .is_some_and(|row| count == 2 || !is_plain(row))
        && let Some(merged) = book.merged(&head.sheet.name)
        && !merged.is_empty()
    {
        fill_merged(head, &merged);
        if let Some(place) = header::find(&head.texts, wanted, false) {
            (first, count, spread) = (place.first, place.rows, false);
        }
    }
    how.before = head.rows[..first]
        .iter()
        .map(|row| {
            (
                row.number,
                row.texts
                    .iter()
                    .filter(|text| !text.is_empty())
                    .collect::<Vec<_>>()
                    .join(", "),
            )
        })
        .collect();
    let Some(row) = head.rows.get(first) else {
        how.header_row = 0;
        let last = head.rows.last().map_or(0, |row| row.number);
        return Choice {
            how,
            names: Vec::new(),
            left: 0,
            last_header_row: last,
        };
    };
    how.header_row = row.number;
    how.header_rows = count as u64;
    let mut names = match head.texts.get(first + 1) {
        Some(below) if count == 2 => header::joined(&head.texts[first], below, spread),
        _ => head.texts[first].clone(),
    };
    let end = names
        .iter()
        .rposition(|name| !name.is_empty())
        .map_or(0, |place| place + 1);
    names.truncate(end);
    let begins = |texts: &[String]| texts.iter().position(|text| !text.is_empty());
    let body = head.rows[(first + count).min(head.rows.len())..].iter();
    let left = body
        .filter_map(|row| row.texts.iter().position(|text| !text.is_empty()))
        .chain(begins(&names))
        .min()
        .unwrap_or(0);
    names.drain(..left.min(names.len()));
    if book.format != Format::Xlsx {
        let body = &head.texts[(first + count).min(head.texts.len())..];
        how.remarks.extend(perhaps_percent(&names, left, body));
    }
    let last = head.rows.get(first + count - 1).unwrap_or(row).number;
    Choice {
        how,
        names,
        left,
        last_header_row: last,
    }
}

/// Formats other than XLSX do not tell which numbers are shown as percentages: a column of
/// fractions is remarked upon.
fn perhaps_percent(names: &[String], left: usize, body: &[Vec<String>]) -> Option<String> {
    let is_fractions = |place: usize| {
        let mut numbers = body
            .iter()
            .filter_map(|row| row.get(left + place))
            .filter(|text| !text.is_empty())
            .map(|text| text.parse::<f64>().ok());
        let mut some = false;
        let all = numbers.all(|number| {
            some |= number.is_some_and(|number| number.fract() != 0.0);
            number.is_some_and(|number| (0.0..=1.0).contains(&number))
        });
        all && some
    };
    let columns: Vec<&str> = (0..names.len())
        .filter(|place| !names[*place].is_empty() && is_fractions(*place))
        .map(|place| names[place].as_str())
        .collect();
    (!columns.is_empty()).then(|| {
        format!(
            "only numbers from 0 to 1 in {}: this format does not tell whether they are shown as percent, so 80 % would read as 0.8; a workbook saved as XLSX tells it",
            columns.join(", ")
        )
    })
}

/// Gives every cell of a merged region the text of its first one.
fn fill_merged(head: &mut Head, merged: &[Dimensions]) {
    let numbers: Vec<u64> = head.rows.iter().map(|row| row.number).collect();
    let place_of = |row: u32| numbers.binary_search(&(u64::from(row) + 1)).ok();
    for region in merged {
        let Some(top) = place_of(region.start.0) else {
            continue;
        };
        let (left, right) = (
            region.start.1 as usize,
            (region.end.1 as usize).min(1 << 14),
        );
        let Some(text) = head.texts[top]
            .get(left)
            .filter(|text| !text.is_empty())
            .cloned()
        else {
            continue;
        };
        for row in (region.start.0..=region.end.0).take(LOOKED_THROUGH) {
            let Some(place) = place_of(row) else { continue };
            let texts = &mut head.texts[place];
            if texts.len() <= right {
                texts.resize(right + 1, String::new());
            }
            texts[left..=right].fill(text.clone());
        }
    }
}
