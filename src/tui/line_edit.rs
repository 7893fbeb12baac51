//! One line of text under a cursor that moves by grapheme.

use unicode_segmentation::{GraphemeCursor, UnicodeSegmentation};

use super::action::Command;

/// The text and the place of the cursor, in bytes and always between graphemes.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct LineEdit {
    text: String,
    cursor: usize,
}

/// No line is longer than this many bytes; more is not taken.
const LONGEST: usize = 4096;

impl LineEdit {
    /// The cursor stands behind the text.
    pub(crate) fn new(text: &str) -> Self {
        LineEdit {
            text: text.to_owned(),
            cursor: text.len(),
        }
    }

    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    pub(crate) fn before_cursor(&self) -> &str {
        &self.text[..self.cursor]
    }

    pub(crate) fn after_cursor(&self) -> &str {
        &self.text[self.cursor..]
    }

    /// Takes text in at the cursor; line breaks and other control characters become blanks.
    pub(crate) fn insert(&mut self, text: &str) {
        if self.text.len() + text.len() > LONGEST {
            return;
        }
        let clean: String = text
            .chars()
            .map(|sign| if sign.is_control() { ' ' } else { sign })
            .collect();
        self.text.insert_str(self.cursor, &clean);
        self.cursor += clean.len();
        self.settle();
    }

    /// A typed character may join the one before or after it: the cursor moves behind both.
    fn settle(&mut self) {
        let mut cursor = GraphemeCursor::new(self.cursor, self.text.len(), true);
        if !matches!(cursor.is_boundary(&self.text, 0), Ok(true)) {
            self.cursor = self.next_boundary();
        }
    }

    fn previous_boundary(&self) -> usize {
        let last = self.before_cursor().grapheme_indices(true).next_back();
        last.map_or(0, |(at, _)| at)
    }

    fn next_boundary(&self) -> usize {
        let mut cursor = GraphemeCursor::new(self.cursor, self.text.len(), true);
        match cursor.next_boundary(&self.text, 0) {
            Ok(Some(at)) => at,
            _ => self.text.len(),
        }
    }

    pub(crate) fn left(&mut self) {
        self.cursor = self.previous_boundary();
    }

    pub(crate) fn right(&mut self) {
        self.cursor = self.next_boundary();
    }

    pub(crate) fn start(&mut self) {
        self.cursor = 0;
    }

    pub(crate) fn end(&mut self) {
        self.cursor = self.text.len();
    }

    pub(crate) fn delete_before(&mut self) {
        let from = self.previous_boundary();
        self.remove(from, self.cursor);
    }

    pub(crate) fn delete_after(&mut self) {
        let to = self.next_boundary();
        self.remove(self.cursor, to);
    }

    pub(crate) fn delete_word(&mut self) {
        let kept = self.before_cursor().trim_end();
        let from = kept.rfind(char::is_whitespace).map_or(0, |at| {
            at + kept[at..].chars().next().map_or(1, char::len_utf8)
        });
        self.remove(from, self.cursor);
    }

    pub(crate) fn clear(&mut self) {
        self.text.clear();
        self.cursor = 0;
    }

    /// Does what a key of editing asked for; other commands change nothing.
    pub(crate) fn obey(&mut self, command: Command) {
        match command {
            Command::CharLeft => self.left(),
            Command::CharRight => self.right(),
            Command::LineStart => self.start(),
            Command::LineEnd => self.end(),
            Command::DeleteBefore => self.delete_before(),
            Command::DeleteAfter => self.delete_after(),
            Command::DeleteWord => self.delete_word(),
            Command::DeleteAll => self.clear(),
            _ => {}
        }
    }

    /// Puts `text` in place of the last `bytes` before the cursor.
    pub(crate) fn replace_before(&mut self, bytes: usize, text: &str) {
        let from = self.cursor.saturating_sub(bytes);
        self.remove(from, self.cursor);
        self.insert(text);
    }

    fn remove(&mut self, from: usize, to: usize) {
        self.text.replace_range(from..to, "");
        self.cursor = from;
        self.settle();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn editing_goes_by_grapheme() {
        let mut line = LineEdit::new("cafe\u{301} 油");
        line.delete_before();
        assert_eq!(line.text(), "cafe\u{301} ");
        line.left();
        line.delete_before();
        assert_eq!(line.text(), "caf ");
        line.end();
        line.insert("x\ny");
        assert_eq!(line.text(), "caf x y");
        line.delete_word();
        assert_eq!(line.text(), "caf x ");
        line.start();
        line.delete_before();
        line.delete_after();
        assert_eq!(line.text(), "af x ");
        line.clear();
        line.delete_before();
        assert_eq!((line.text(), line.before_cursor()), ("", ""));
    }

    proptest! {
        #[test]
        fn no_edit_leaves_the_cursor_inside_a_grapheme(
            edits in proptest::collection::vec((0u8..9, any::<char>()), 0..40)
        ) {
            let mut line = LineEdit::default();
            for (edit, sign) in edits {
                match edit {
                    0 => line.left(),
                    1 => line.right(),
                    2 => line.delete_before(),
                    3 => line.delete_after(),
                    4 => line.delete_word(),
                    5 => line.start(),
                    _ => line.insert(&sign.to_string()),
                }
                let ends: Vec<usize> = line.text().grapheme_indices(true).map(|(at, _)| at)
                    .chain([line.text().len()]).collect();
                prop_assert!(ends.contains(&line.before_cursor().len()));
            }
        }
    }
}
