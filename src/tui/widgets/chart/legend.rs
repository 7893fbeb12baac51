//! What each sign of a chart means, in words.

use ratatui::text::{Line, Span};

use crate::tui::text;
use crate::tui::theme::Theme;

/// A sign and what it means.
pub(crate) type Entry = (&'static str, String);

/// What stands between two entries.
const GAP: usize = 3;

/// The lines that the entries take, in rows of at most `width` cells; no entry is broken
/// unless it is wider than a row.
pub(crate) fn lines(entries: &[Entry], width: usize, theme: Theme) -> Vec<Line<'static>> {
    let mut lines: Vec<Vec<Span<'static>>> = Vec::new();
    let mut used = 0;
    for (sign, words) in entries {
        let words = text::cut(
            &format!(" {words}"),
            width.saturating_sub(text::width(sign)),
        );
        let wide = text::width(sign) + text::width(&words);
        let fits = !lines.is_empty() && used + GAP + wide <= width;
        if fits {
            used += GAP;
        } else {
            lines.push(Vec::new());
            used = 0;
        }
        if let Some(line) = lines.last_mut() {
            if fits {
                line.push(Span::raw(" ".repeat(GAP)));
            }
            line.push(Span::styled(*sign, theme.plain()));
            line.push(Span::styled(words, theme.faint()));
        }
        used += wide;
    }
    lines.into_iter().map(Line::from).collect()
}

/// As many of the entries as fit into one row, the first ones first.
pub(crate) fn row(entries: &[Entry], width: usize, theme: Theme) -> Line<'static> {
    let fits = |count: &usize| lines(&entries[..*count], width, theme).len() < 2;
    let count = (0..=entries.len()).rev().find(fits).unwrap_or(0);
    let row = lines(&entries[..count], width, theme).pop();
    row.unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn entries_fill_their_rows() {
        let entries = [("•", "each one".to_owned()), ("◆", "chosen".to_owned())];
        let drawn = |width| -> Vec<String> {
            let lines = lines(&entries, width, Theme::new(true, true));
            lines.iter().map(ToString::to_string).collect()
        };
        assert_eq!(drawn(40), ["• each one   ◆ chosen"]);
        assert_eq!(drawn(12), ["• each one", "◆ chosen"]);
        assert_eq!(drawn(5), ["• ea…", "◆ ch…"]);
        let row = |width| row(&entries, width, Theme::new(true, true)).to_string();
        assert_eq!(row(21), "• each one   ◆ chosen");
        assert_eq!(row(20), "• each one");
    }

    proptest! {
        #[test]
        fn no_row_is_wider_than_it_may_be(
            width in 2usize..80, words in proptest::collection::vec("[a-z ]{1,30}", 0..9)
        ) {
            let entries: Vec<Entry> = words.into_iter().map(|words| ("•", words)).collect();
            for line in lines(&entries, width, Theme::new(true, true)) {
                prop_assert!(line.width() <= width);
            }
        }
    }
}
