//! What separates and quotes the fields of a text table.

use csv::{ByteRecord, ReaderBuilder};

use super::header::{self, Wanted};
use super::read_as::{Quote, ReadAs};

/// What separates and quotes fields.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Dialect {
    pub(super) delimiter: u8,
    pub(super) quote: Quote,
    /// Whether the first line is `sep=` and the delimiter, and no row.
    pub(super) has_sep_line: bool,
}

/// The beginning of a text in UTF-8.
pub(super) struct Sample<'a> {
    pub(super) text: &'a [u8],
    /// Whether it is the whole text.
    pub(super) whole: bool,
}

/// Delimiters that are looked for; of equals the first is taken.
const DELIMITERS: [u8; 4] = *b",;\t|";
const DOUBLE: Quote = Quote::Mark(b'"');
const SINGLE: Quote = Quote::Mark(b'\'');
/// How many rows are looked at.
const ROWS: usize = 100;

impl Dialect {
    /// A reader of rows in this dialect.
    pub(super) fn reader(self) -> ReaderBuilder {
        let mut builder = ReaderBuilder::new();
        builder
            .has_headers(false)
            .flexible(true)
            .delimiter(self.delimiter);
        match self.quote {
            Quote::Mark(mark) => builder.quote(mark),
            Quote::None => builder.quoting(false),
        };
        builder
    }
}

/// Finds the dialect of a text from its beginning. Commas and `"` are taken wherever the
/// header says that they are meant, whatever the rows below it look like: rows may be damaged.
pub(super) fn find(sample: &Sample<'_>, read_as: &ReadAs, wanted: &Wanted) -> Dialect {
    let text = sample
        .text
        .strip_prefix(b"\xef\xbb\xbf")
        .unwrap_or(sample.text);
    let sample = &Sample { text, ..*sample };
    let sep = sep_line(text);
    let mut dialect = Dialect {
        delimiter: b',',
        quote: read_as.quote.unwrap_or(DOUBLE),
        has_sep_line: sep.is_some(),
    };
    if let Some(delimiter) = read_as.delimiter.or(sep) {
        dialect.delimiter = delimiter;
    } else {
        let plain = rows(sample, dialect);
        let known = plain.first().map_or(0, |row| wanted.count(row));
        if wanted.is_enough(known) {
            return dialect;
        }
        dialect.delimiter = delimiter(sample, dialect, wanted);
    }
    if read_as.quote.is_none() {
        dialect.quote = quote(sample, dialect, wanted);
    }
    dialect
}

/// The delimiter that a spreadsheet named in a first line of its own: `sep=;`.
fn sep_line(text: &[u8]) -> Option<u8> {
    let end = text.iter().position(|byte| matches!(byte, b'\r' | b'\n'))?;
    let line = &text[..end];
    let line = line
        .strip_prefix(b"\"")
        .and_then(|line| line.strip_suffix(b"\""))
        .unwrap_or(line);
    match line {
        [b's' | b'S', b'e' | b'E', b'p' | b'P', b'=', delimiter]
            if delimiter.is_ascii() && !delimiter.is_ascii_alphanumeric() && *delimiter != b'"' =>
        {
            Some(*delimiter)
        }
        _ => None,
    }
}

/// The first rows as texts, without a `sep=` line and without a last row that is cut off.
pub(super) fn rows(sample: &Sample<'_>, dialect: Dialect) -> Vec<Vec<String>> {
    let mut reader = dialect.reader().from_reader(sample.text);
    let mut record = ByteRecord::new();
    let mut rows: Vec<Vec<String>> = Vec::new();
    while rows.len() <= ROWS && reader.read_byte_record(&mut record).unwrap_or(false) {
        let texts = record
            .iter()
            .map(|cell| String::from_utf8_lossy(cell).trim().to_owned());
        rows.push(texts.collect());
    }
    if !sample.whole && rows.len() > 1 && reader.is_done() {
        rows.pop();
    }
    if dialect.has_sep_line && !rows.is_empty() {
        rows.remove(0);
    }
    // Lines of white space are no rows.
    rows.retain(|row| row.len() > 1 || row.iter().any(|cell| !cell.is_empty()));
    rows
}

fn delimiter(sample: &Sample<'_>, dialect: Dialect, wanted: &Wanted) -> u8 {
    let mut best = (0, 0.0, b',');
    let quotes = if dialect.quote == DOUBLE {
        [DOUBLE, SINGLE]
    } else {
        [dialect.quote; 2]
    };
    for delimiter in DELIMITERS {
        let (mut known, mut score) = (0, 0.0);
        for (quote, weight) in quotes.into_iter().zip([1.0, 0.9]) {
            let rows = rows(
                sample,
                Dialect {
                    delimiter,
                    quote,
                    ..dialect
                },
            );
            let names = header::find(&rows, wanted, true).map_or(0, |place| place.wanted);
            known = known.max(if wanted.is_enough(names) { names } else { 0 });
            score = f64::max(score, weight * likeness(&rows, delimiter));
        }
        if (known, score) > (best.0, best.1) {
            best = (known, score, delimiter);
        }
    }
    best.2
}

/// How much rows look like those of a table under this delimiter, from 0: most have the same
/// number of fields, of which no other delimiter is part, below a row of words. A little more
/// for more fields.
fn likeness(rows: &[Vec<String>], delimiter: u8) -> f64 {
    let rows: Vec<&Vec<String>> = rows
        .iter()
        .filter(|row| row.iter().any(|cell| !cell.is_empty()))
        .collect();
    let Some(width) = usual_width(&rows) else {
        return 0.0;
    };
    // What stands above the first full row are titles.
    let start = rows.iter().position(|row| row.len() == width).unwrap_or(0);
    let table = &rows[start..];
    let alike = table.iter().filter(|row| row.len() == width).count();
    let head = if table[0].iter().any(|cell| header::is_value(cell)) {
        0.5
    } else {
        1.0
    };
    let foreign = |cell: &str| {
        cell.bytes()
            .any(|byte| byte != delimiter && matches!(byte, b';' | b'\t' | b'|'))
    };
    let torn = |cell: &str| cell.matches('"').count() % 2 == 1;
    let (mut cells, mut odd) = (0.0, 0.0);
    for cell in table.iter().flat_map(|row| row.iter()) {
        cells += 1.0;
        odd += if torn(cell) { 1.0 } else { 0.0 } + if foreign(cell) { 0.5 } else { 0.0 };
    }
    let alike = alike as f64 / table.len() as f64;
    let titled = if start > 0 { 0.9 } else { 1.0 };
    alike
        * alike
        * head
        * titled
        * (1.0 - f64::min(odd / cells, 1.0))
        * (1.0 + (width as f64).ln() / 10.0)
}

/// The most frequent number of fields above one; of equals the greater.
fn usual_width(rows: &[&Vec<String>]) -> Option<usize> {
    let mut widths: Vec<usize> = rows
        .iter()
        .map(|row| row.len())
        .filter(|width| *width > 1)
        .collect();
    widths.sort_unstable();
    let groups = widths.chunk_by(|one, other| one == other);
    groups.max_by_key(|group| group.len()).map(|group| group[0])
}

/// `"`, unless all speaks for `'` or for none.
fn quote(sample: &Sample<'_>, dialect: Dialect, wanted: &Wanted) -> Quote {
    let raw = rows(
        sample,
        Dialect {
            quote: Quote::None,
            ..dialect
        },
    );
    let cells = || raw.iter().flatten();
    let opened = |mark: char| cells().filter(|cell| cell.starts_with(mark)).count();
    let enclosed = |mark: char| {
        cells()
            .filter(|cell| cell.len() > 1 && cell.starts_with(mark) && cell.ends_with(mark))
            .count()
    };
    let names =
        |rows: &[Vec<String>]| header::find(rows, wanted, true).map_or(0, |place| place.wanted);
    let single = rows(
        sample,
        Dialect {
            quote: SINGLE,
            ..dialect
        },
    );
    if names(&single) > names(&raw) {
        return SINGLE;
    }
    if enclosed('"') > 0 {
        return DOUBLE;
    }
    let filled = cells().filter(|cell| !cell.is_empty()).count();
    let most = enclosed('\'') * 2 > filled;
    let some = enclosed('\'') > 0 || opened('\'') > 1;
    if most || (some && is_even(&single) && !is_even(&raw)) {
        return SINGLE;
    }
    // No field is enclosed, yet one begins with a quote and swallows rows.
    let double = rows(
        sample,
        Dialect {
            quote: DOUBLE,
            ..dialect
        },
    );
    if opened('"') > 0 && double.len() < raw.len() && is_even(&raw) {
        return Quote::None;
    }
    DOUBLE
}

/// Whether all rows have the same number of fields.
fn is_even(rows: &[Vec<String>]) -> bool {
    rows.len() > 1 && rows.windows(2).all(|pair| pair[0].len() == pair[1].len())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> (u8, Quote) {
        let sample = Sample {
            text: text.as_bytes(),
            whole: true,
        };
        let wanted = Wanted::new(["draw_id", "point_id", "drawn_at", "looks"]);
        let dialect = find(&sample, &ReadAs::default(), &wanted);
        (dialect.delimiter, dialect.quote)
    }

    #[test]
    fn delimiters_are_found() {
        let cases = [
            ("draw_id,point_id\nD;1,P\n", b','),
            ("draw_id;point_id\nD,1;P,2\n", b';'),
            ("draw_id\tpoint_id\nD,1\tP;1\n", b'\t'),
            ("draw_id|point_id\nD,1|P;1\n", b'|'),
            ("sep=;\na,b;c\n1,2;3\n", b';'),
            ("\u{feff}sep=|\r\na,b|c\r\n1,2|3\r\n", b'|'),
            ("Bottle;Temp;Mark\n1;2,5;3,5\n2;2,5;4,5\n3;2,5;4,5\n", b';'),
            ("x;y\n1,5;2,5\n2,5;3,5\n", b';'),
            ("Bottle,What\n1,\"a;b;c\"\n2,\"a;b;c\"\n", b','),
            ("Bottle,Looks\n1,clear;metal\n2,clear\n3,clear\n", b','),
            ("Bottle\n1\n2\n", b','),
            (
                "Samples, all of them\nof 2025; by T.\n\nBottle;Where;When\n1;a;3.4.2025\n2;b, c;3.4.2025\n",
                b';',
            ),
            ("Bottle\tText\n1\ta, b, c\n2\td, e\n3\t\n", b'\t'),
            ("", b','),
            ("\n\n", b','),
        ];
        for (text, delimiter) in cases {
            assert_eq!(found(text).0, delimiter, "{text:?}");
        }
    }

    #[test]
    fn quotes_are_found() {
        let cases = [
            ("draw_id,point_id\n'D','P'\n", DOUBLE),
            ("'draw_id','point_id'\n'D','P, Q'\n", SINGLE),
            ("Bottle;What\n1;'a;b'\n2;'c;d'\n", SINGLE),
            ("Bottle;What\n1;it's\n2;'tis\n", DOUBLE),
            ("Bottle;What\n1;\"a;b\"\n2;'x'\n", DOUBLE),
            ("Bottle\tWhat\n1\t\"open\n2\tx\n3\ty\n", Quote::None),
            ("Bottle;What\n1;\"a\"\n2;\"open\n3;y\n", DOUBLE),
        ];
        for (text, quote) in cases {
            assert_eq!(found(text).1, quote, "{text:?}");
        }
    }

    #[test]
    fn a_sheet_of_one_required_column_is_comma_separated_whatever_is_in_it() {
        let sample = Sample {
            text: b"technician_id\nA;B\nC;D\n",
            whole: true,
        };
        let wanted = Wanted::of(crate::intake::SheetKind::Technicians);
        let dialect = find(&sample, &ReadAs::default(), &wanted);
        assert_eq!((dialect.delimiter, dialect.quote), (b',', DOUBLE));
    }

    #[test]
    fn what_the_user_says_is_taken() {
        let sample = Sample {
            text: b"a,b\n1,2\n",
            whole: true,
        };
        let read_as = ReadAs {
            delimiter: Some(b'|'),
            quote: Some(Quote::None),
            ..ReadAs::default()
        };
        let dialect = find(&sample, &read_as, &Wanted::default());
        assert_eq!((dialect.delimiter, dialect.quote), (b'|', Quote::None));
    }
}
