//! Text from files is hostile: what goes to a spreadsheet passes through here first.

use std::borrow::Cow;

/// Whether a spreadsheet could take the text for a formula: its first sign after blanks is one
/// that formulas begin with, also in the wide forms of East Asian writing; or it begins with a
/// tab or a line break, behind which some programs look for one.
///
/// The signs are those of the OWASP page "CSV Injection".
#[must_use]
pub fn is_formula(text: &str) -> bool {
    text.starts_with(['\t', '\r', '\n'])
        || text.trim_start().starts_with([
            '=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}',
        ])
}

/// A text that a spreadsheet would run as a formula gets an apostrophe in front.
#[must_use]
pub fn harmless(text: &str) -> Cow<'_, str> {
    if is_formula(text) {
        Cow::Owned(format!("'{text}"))
    } else {
        Cow::Borrowed(text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_get_an_apostrophe_and_nothing_else_does() {
        for text in [
            "=1+1",
            "+1",
            "-1",
            "@SUM(A1)",
            "\t=1",
            "\r=1",
            "\n=1",
            "  =1",
            "\u{a0}=1",
            "\u{ff1d}1",
        ] {
            assert_eq!(harmless(text), format!("'{text}"));
        }
        for text in ["", "P-1", "1=1", " a", "'=1", "Öl"] {
            assert_eq!(harmless(text), text);
        }
    }
}
