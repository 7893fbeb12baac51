//! The records of an XLS workbook, looked through before it is read.
//!
//! The reader of XLS workbooks makes room for every cell between the first and the last; one
//! wrong byte in the place of a cell would have it ask for more memory than there is, which
//! ends the program. Numbers of records are those of the specification MS-XLS (from memory,
//! and as the sources of calamine cite them).

use std::fs::File;
use std::io::Read;

/// So many cells there is always room for.
const HARMLESS: u64 = 2 << 20;
/// A sheet may be as thinly filled as one cell in so many.
const THIN: u64 = 200;

/// The size of a workbook beyond which it can't be one: the rows of many full sheets.
const MOST_BYTES: u64 = 1 << 30;

const DIMENSIONS: u16 = 0x0200;
const BOUND_SHEET: u16 = 0x0085;
const LOCKED: u16 = 0x002f;
const END: u16 = 0x000a;
/// Records that begin with row and column: formula, number, label, error, text, number in
/// short, several numbers in short, string.
const CELLS: [u16; 8] = [
    0x0006, 0x0203, 0x0204, 0x0205, 0x00d6, 0x00fd, 0x027e, 0x00bd,
];

/// Whether all cells lie near each other; `Err` says in which sheet they do not. What can't be looked
/// through is left to the reader.
pub(super) fn look_through(file: File) -> Result<(), String> {
    let Some(stream) = stream(file) else {
        return Ok(());
    };
    // Behind a password the places of cells can't be read; nobody reads them.
    if records(&stream, 0).any(|(kind, _)| kind == LOCKED) {
        return Ok(());
    }
    for (number, start) in sheets(&stream).into_iter().enumerate() {
        let (extent, count) = extent(records(&stream, start));
        if extent > HARMLESS.max(count.saturating_mul(THIN)) {
            return Err(format!(
                "in its sheet {}, cells lie too far apart",
                number + 1
            ));
        }
    }
    Ok(())
}

fn stream(file: File) -> Option<Vec<u8>> {
    let mut package = cfb::CompoundFile::open(file).ok()?;
    let name = ["Workbook", "Book"]
        .into_iter()
        .find(|name| package.is_stream(name))?;
    let mut stream = Vec::new();
    let inner = package.open_stream(name).ok()?;
    inner.take(MOST_BYTES).read_to_end(&mut stream).ok()?;
    Some(stream)
}

/// Where the sheets begin.
fn sheets(stream: &[u8]) -> Vec<usize> {
    records(stream, 0)
        .filter(|(kind, data)| *kind == BOUND_SHEET && data.len() >= 4)
        .map(|(_, data)| u32::from_le_bytes([data[0], data[1], data[2], data[3]]) as usize)
        .collect()
}

/// The records from a place on, up to the one that ends them.
fn records(stream: &[u8], start: usize) -> impl Iterator<Item = (u16, &[u8])> {
    let mut rest = stream.get(start..).unwrap_or_default();
    std::iter::from_fn(move || {
        let (head, tail) = rest.split_at_checked(4)?;
        let (kind, size) = (short(head, 0)?, usize::from(short(head, 2)?));
        let (data, tail) = tail.split_at_checked(size)?;
        rest = tail;
        Some((kind, data))
    })
    .take_while(|(kind, _)| *kind != END)
}

fn short(data: &[u8], place: usize) -> Option<u16> {
    let bytes = data.get(place..place + 2)?;
    Some(u16::from_le_bytes([bytes[0], bytes[1]]))
}

/// How many cells there are between the first and the last, or are said to be, and how many
/// records hold one.
fn extent<'s>(records: impl Iterator<Item = (u16, &'s [u8])>) -> (u64, u64) {
    let (mut said, mut count) = (0, 0);
    let (mut rows, mut columns) = (None::<(u64, u64)>, None::<(u64, u64)>);
    let widen = |range: &mut Option<(u64, u64)>, place: u64| {
        let (first, last) = range.unwrap_or((place, place));
        *range = Some((first.min(place), last.max(place)));
    };
    for (kind, data) in records {
        if kind == DIMENSIONS {
            said = said.max(dimensions(data));
        } else if CELLS.contains(&kind)
            && let (Some(row), Some(column)) = (short(data, 0), short(data, 2))
        {
            count += 1;
            widen(&mut rows, row.into());
            widen(&mut columns, column.into());
            if kind == 0x00bd
                && let Some(last) = data.len().checked_sub(2).and_then(|at| short(data, at))
            {
                widen(&mut columns, last.into());
            }
        }
    }
    let length = |range: Option<(u64, u64)>| range.map_or(0, |(first, last)| last - first + 1);
    (said.max(length(rows) * length(columns)), count)
}

/// The cells that a sheet says it has. A last row or column before the first counts as far off.
fn dimensions(data: &[u8]) -> u64 {
    let long = |place: usize| {
        let (low, high) = (short(data, place)?, short(data, place + 2)?);
        Some(u64::from(low) | u64::from(high) << 16)
    };
    let wide = (|| Some((long(0)?, long(4)?, short(data, 8)?, short(data, 10)?)))();
    let narrow = (|| {
        Some((
            short(data, 0)?,
            short(data, 2)?,
            short(data, 4)?,
            short(data, 6)?,
        ))
    })();
    let (rows, columns) = match (wide, narrow) {
        (Some((first, behind, left, right)), _) => ((first, behind), (left, right)),
        (None, Some((first, behind, left, right))) => {
            ((first.into(), behind.into()), (left, right))
        }
        (None, None) => return 0,
    };
    let length = |first: u64, behind: u64| behind.checked_sub(first).unwrap_or(u64::MAX);
    length(rows.0, rows.1).saturating_mul(length(columns.0.into(), columns.1.into()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(row: u16, column: u16) -> Vec<u8> {
        let mut data = [row.to_le_bytes(), column.to_le_bytes()].concat();
        data.extend([0; 10]);
        data
    }

    #[test]
    fn cells_far_apart_are_seen() {
        let near = [number(3, 2), number(7, 5)];
        let extent = |cells: &[Vec<u8>]| extent(cells.iter().map(|data| (0x0203, &data[..])));
        assert_eq!(extent(&near), (5 * 4, 2));
        assert_eq!(
            extent(&[number(9000, 40_000), number(0, 0)]),
            (9001 * 40_001, 2)
        );
        assert_eq!(extent(&[]), (0, 0));
    }

    #[test]
    fn what_a_sheet_says_of_itself_is_seen() {
        let said = |first: u32, behind: u32, left: u16, right: u16| {
            let mut data = [first.to_le_bytes(), behind.to_le_bytes()].concat();
            data.extend([left.to_le_bytes(), right.to_le_bytes()].concat());
            data.extend([0; 2]);
            dimensions(&data)
        };
        assert_eq!(said(0, 6, 0, 8), 48);
        assert_eq!(said(0, 0, 0, 0), 0);
        assert!(said(6, 0, 0, 8) > HARMLESS);
        assert!(said(0, u32::MAX, 0, 8) > HARMLESS);
    }
}
