//! What a user says about how a table is to be read.

pub use encoding_rs::Encoding;

/// How a table is to be read, where the user says so; what is `None` is found out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ReadAs {
    /// The encoding of a text table.
    pub encoding: Option<&'static Encoding>,
    /// The character between two fields of a text table.
    pub delimiter: Option<u8>,
    /// The quote around fields of a text table.
    pub quote: Option<Quote>,
    /// The sheet of a workbook.
    pub sheet: Option<SheetChoice>,
    /// The row of the header as a spreadsheet or an editor numbers it, from 1.
    pub header_row: Option<u64>,
}

/// The quote around fields.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quote {
    /// `"` or `'`; doubled inside a quoted field it stands for itself.
    Mark(u8),
    /// Quotes are characters like any other.
    None,
}

/// A sheet of a workbook.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SheetChoice {
    /// By its name, in any case.
    Name(String),
    /// By its place among the sheets, from 1.
    Number(usize),
}

impl ReadAs {
    /// Whether nothing is said.
    #[must_use]
    pub fn is_silent(&self) -> bool {
        *self == ReadAs::default()
    }
}

/// Reads the label of an encoding, as the WHATWG Encoding Standard lists them:
/// `utf-8`, `windows-1252`, `latin1`, `utf-16le`, `shift_jis` and so on, in any case.
///
/// # Errors
/// No encoding has that label.
pub fn encoding(label: &str) -> Result<&'static Encoding, String> {
    Encoding::for_label(label.as_bytes()).ok_or_else(|| {
        format!(
            "there is no encoding {label}; labels are those of the WHATWG Encoding Standard, such as utf-8, utf-16le, windows-1252"
        )
    })
}

/// Reads a delimiter: one ASCII character or one of the words comma, semicolon, tab, pipe, space.
///
/// # Errors
/// Anything else, and what can't stand between fields: letters, digits, quotes, line ends.
pub fn delimiter(text: &str) -> Result<u8, String> {
    let wrong = || {
        format!(
            "{text:?} is no delimiter: give one ASCII character that is no letter, digit or quote, or comma, semicolon, tab, pipe, space"
        )
    };
    match text.to_ascii_lowercase().as_str() {
        "comma" => Ok(b','),
        "semicolon" => Ok(b';'),
        "tab" | "\\t" => Ok(b'\t'),
        "pipe" => Ok(b'|'),
        "space" => Ok(b' '),
        _ => match text.as_bytes() {
            [b'"' | b'\'' | b'\r' | b'\n' | 0] => Err(wrong()),
            [one] if one.is_ascii() && !one.is_ascii_alphanumeric() => Ok(*one),
            _ => Err(wrong()),
        },
    }
}

/// Reads a quote: `"`, `'` or one of the words double, single, none.
///
/// # Errors
/// Anything else.
pub fn quote(text: &str) -> Result<Quote, String> {
    match text.to_ascii_lowercase().as_str() {
        "\"" | "double" => Ok(Quote::Mark(b'"')),
        "'" | "single" => Ok(Quote::Mark(b'\'')),
        "none" => Ok(Quote::None),
        _ => Err(format!(
            "{text:?} is no quote: give double, single, none, or the character itself"
        )),
    }
}

/// Reads the choice of a sheet: a number from 1, or a name.
///
/// # Errors
/// Nothing at all, or 0.
pub fn sheet(text: &str) -> Result<SheetChoice, String> {
    match text.parse() {
        Ok(0) => Err("sheets are numbered from 1".to_owned()),
        Ok(number) => Ok(SheetChoice::Number(number)),
        Err(_) if text.trim().is_empty() => Err("a sheet has a name or a number".to_owned()),
        Err(_) => Ok(SheetChoice::Name(text.to_owned())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn delimiters_are_characters_or_words() {
        for (text, expected) in [
            (",", b','),
            ("Semicolon", b';'),
            ("TAB", b'\t'),
            ("\\t", b'\t'),
            ("\t", b'\t'),
            ("|", b'|'),
            ("space", b' '),
            ("^", b'^'),
        ] {
            assert_eq!(delimiter(text), Ok(expected), "{text}");
        }
        for text in ["", "\"", "'", "a", "1", ",,", "\n", "é", "none"] {
            assert!(delimiter(text).is_err(), "{text}");
        }
    }

    #[test]
    fn quotes_sheets_and_encodings_are_read() {
        assert_eq!(quote("\""), Ok(Quote::Mark(b'"')));
        assert_eq!(quote("single"), Ok(Quote::Mark(b'\'')));
        assert_eq!(quote("None"), Ok(Quote::None));
        assert!(quote("`").is_err() && quote("").is_err());
        assert_eq!(sheet("2"), Ok(SheetChoice::Number(2)));
        assert_eq!(sheet("Draws"), Ok(SheetChoice::Name("Draws".to_owned())));
        assert!(sheet("0").is_err() && sheet(" ").is_err());
        assert_eq!(encoding("Latin1").map(Encoding::name), Ok("windows-1252"));
        assert!(encoding("latin-99").is_err());
    }
}
