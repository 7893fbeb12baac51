//! Text from files is hostile: what goes to a terminal passes through here first.

use std::borrow::Cow;

/// The text with every control character, line break, invisible direction mark and
/// zero-width format character replaced by `\u{fffd}`, so that it cannot move the
/// cursor, change colours or reorder what stands beside it.
#[must_use]
pub fn printable(text: &str) -> Cow<'_, str> {
    if text.chars().all(|c| !is_hidden(c)) {
        return Cow::Borrowed(text);
    }
    Cow::Owned(
        text.chars()
            .map(|c| if is_hidden(c) { '\u{fffd}' } else { c })
            .collect(),
    )
}

/// Control characters (C0, C1, DEL), line and paragraph separators, direction marks and
/// isolates, zero-width and other invisible format characters, and tag characters.
fn is_hidden(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{00ad}' | '\u{061c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_text_passes_and_control_sequences_do_not() {
        assert_eq!(printable("Öl 46 °C"), "Öl 46 °C");
        assert_eq!(printable("a\u{1b}[31mb"), "a\u{fffd}[31mb");
        assert_eq!(
            printable("a\nb\u{202e}c\u{9b}"),
            "a\u{fffd}b\u{fffd}c\u{fffd}"
        );
    }
}
