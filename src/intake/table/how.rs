//! How a table was read: what was given, what was found, and what was passed over.

use serde::Serialize;

use super::read_as::Quote;
use crate::model::printable::printable;

/// How a table was read, to be told to the user and kept with an import.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct How {
    /// What kind of file it is.
    pub format: Format,
    /// Whether it was unpacked from gzip.
    pub compressed: bool,
    /// The encoding of a text table, as the WHATWG Encoding Standard names it.
    pub encoding: Option<&'static str>,
    /// Whether the encoding was guessed from the bytes: nothing in the file says it.
    pub encoding_guessed: bool,
    /// The character between two fields of a text table.
    pub delimiter: Option<char>,
    /// The quote of a text table; `None` where quotes are characters like any other.
    pub quote: Option<char>,
    /// The sheet of a workbook.
    pub sheet: Option<String>,
    /// All sheets of a workbook, in their order.
    pub sheets: Vec<String>,
    /// The row of the header, from 1; of a header of two rows, the first of them. 0 where the
    /// table is empty.
    pub header_row: u64,
    /// How many rows the header takes: 1, or 2 that were joined.
    pub header_rows: u64,
    /// What stands before the header and is no part of the table: the number of the row, its
    /// texts joined.
    pub before: Vec<(u64, String)>,
    /// What else the user should know: hidden rows, a hidden sheet.
    pub remarks: Vec<String>,
}

/// The kind of a file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Format {
    /// Text, fields separated by a delimiter.
    #[default]
    Text,
    /// Office Open XML workbook.
    Xlsx,
    /// Binary workbook in an Office Open XML package.
    Xlsb,
    /// Workbook of spreadsheets before 2007.
    Xls,
    /// OpenDocument spreadsheet.
    Ods,
}

impl Format {
    /// In words.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Format::Text => "text",
            Format::Xlsx => "XLSX workbook",
            Format::Xlsb => "XLSB workbook",
            Format::Xls => "XLS workbook",
            Format::Ods => "ODS workbook",
        }
    }
}

/// How many rows before the header a remark shows.
const SHOWN: usize = 3;

impl How {
    /// A text table of commas, `"` and UTF-8.
    pub(super) fn plain() -> Self {
        How {
            encoding: Some("UTF-8"),
            delimiter: Some(','),
            quote: Some('"'),
            header_row: 1,
            header_rows: 1,
            ..How::default()
        }
    }

    pub(super) fn set_quote(&mut self, quote: Quote) {
        self.quote = match quote {
            Quote::Mark(mark) => Some(char::from(mark)),
            Quote::None => None,
        };
    }

    /// Whether this is CSV in UTF-8 without anything before its header: nothing to tell.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        let plain = How {
            header_row: self.header_row,
            ..How::plain()
        };
        *self == plain
    }

    /// How the table was read, in one sentence without its end; what was passed over and what
    /// else there is to know stand in [`How::told`].
    #[must_use]
    pub fn words(&self) -> String {
        let mut parts = Vec::new();
        if self.format == Format::Text {
            let named = match self.delimiter {
                Some('\t') => "tabs".to_owned(),
                Some(',') => "commas".to_owned(),
                Some(';') => "semicolons".to_owned(),
                Some('|') => "upright strokes".to_owned(),
                Some(' ') => "spaces".to_owned(),
                Some(other) => format!("{other:?}"),
                None => "nothing".to_owned(),
            };
            parts.push(format!("text with {named} between fields"));
            match self.quote {
                Some('"') => {}
                Some(_) => parts.push("single quotes around fields".to_owned()),
                None => parts.push("no quotes".to_owned()),
            }
            if let Some(encoding) = self.encoding {
                parts.push(encoding.to_owned());
            }
        } else {
            parts.push(self.format.as_str().to_owned());
            if let Some(sheet) = &self.sheet {
                parts.push(format!("sheet {}", printable(sheet)));
            }
        }
        if self.compressed {
            parts.push("unpacked from gzip".to_owned());
        }
        match (self.header_row, self.header_rows) {
            (0, _) => parts.push("empty".to_owned()),
            (row, 2) => parts.push(format!("header in rows {row} and {}, joined", row + 1)),
            (row, _) => parts.push(format!("header in row {row}")),
        }
        parts.join(", ")
    }

    /// Everything the user should be told, a remark each: nothing for a plain table.
    #[must_use]
    pub fn told(&self) -> Vec<String> {
        if self.is_plain() {
            return Vec::new();
        }
        let mut told = vec![format!("read as {}", self.words())];
        if self.encoding_guessed {
            told.push(format!(
                "nothing in the file says its encoding; {} is a guess from its letters: look at a few names, and say --encoding if they are wrong",
                self.encoding.unwrap_or_default()
            ));
        }
        if !self.before.is_empty() {
            let shown: Vec<String> = self.before.iter().take(SHOWN).map(shown).collect();
            let rest = match self.before.len() - shown.len() {
                0 => String::new(),
                more => format!(" and {more} more"),
            };
            told.push(format!(
                "before the header, and not taken: {}{rest}; if that is wrong, say --header-row",
                shown.join(", ")
            ));
        }
        told.extend(self.remarks.iter().cloned());
        told
    }
}

fn shown((row, text): &(u64, String)) -> String {
    const LONGEST: usize = 60;
    let text = printable(text);
    let mut short: String = text.chars().take(LONGEST).collect();
    if short.len() < text.len() {
        short.push('…');
    }
    format!("row {row} \"{short}\"")
}
