//! Text from files in Markdown: no markup and no HTML of theirs reaches a page.

use std::fmt::Write as _;

use crate::model::printable::printable;

/// The text as words within a line of Markdown: control characters replaced, HTML written
/// as entities, everything that CommonMark or its usual extensions (tables, struck out
/// words, links found in plain text) could take for markup escaped. A plus, minus or equals
/// sign inside a word is left as it is, so that ids stay readable in the source.
#[must_use]
pub fn words(text: &str) -> String {
    let text = printable(text.trim());
    let mut escaped = String::with_capacity(text.len());
    let mut before = ' ';
    for c in text.chars() {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '+' | '-' | '=' if before.is_alphanumeric() => escaped.push(c),
            c if c.is_ascii_punctuation() && c != ',' => {
                // Writing to a text cannot fail.
                let _ = write!(escaped, "\\{c}");
            }
            c => escaped.push(c),
        }
        before = c;
    }
    escaped
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn ids_stay_readable_and_markup_is_disarmed() {
        for (text, escaped) in [
            ("BRA-01A", "BRA-01A"),
            ("Öl 3, oben", "Öl 3, oben"),
            ("- list", "\\- list"),
            ("# heading", "\\# heading"),
            ("*b* _i_ ~~s~~ `c`", "\\*b\\* \\_i\\_ \\~\\~s\\~\\~ \\`c\\`"),
            ("[x](http://a.b)", "\\[x\\]\\(http\\:\\/\\/a\\.b\\)"),
            ("![x](y)", "\\!\\[x\\]\\(y\\)"),
            ("a|b\nc", "a\\|b\u{fffd}c"),
            ("<b>&lt;", "&lt;b&gt;&amp;lt\\;"),
            ("1. one", "1\\. one"),
            ("www.a.b", "www\\.a\\.b"),
            ("    code", "code"),
            ("\\*", "\\\\\\*"),
        ] {
            assert_eq!(words(text), escaped);
        }
    }

    proptest! {
        #[test]
        fn nothing_unescaped_is_left(text in "\\PC*") {
            let escaped = words(&text);
            let is_line = !escaped.contains(['\n', '\r', '<', '>']);
            prop_assert!(is_line);
            let mut chars = escaped.chars();
            while let Some(c) = chars.next() {
                if c == '\\' {
                    prop_assert!(chars.next().is_some_and(|c| c.is_ascii_punctuation()));
                } else {
                    prop_assert!(!"*_`[]()!|~#:@\"'".contains(c), "{}", escaped);
                }
            }
        }
    }
}
