//! The clipboard of the terminal, reached by OSC 52: a control sequence with the text in Base64,
//! that terminals also understand from afar. tmux and GNU screen stand between and want it
//! wrapped; what they and terminals make of it is from memory of their manuals.

use crossterm::Command as _;
use crossterm::clipboard::CopyToClipboard;

/// The most bytes of a text: some terminals take sequences of up to 100,000 bytes, which is
/// this many before Base64 makes four of three.
pub(crate) const MOST: usize = 74_994;

/// GNU screen takes no longer strings than some hundred bytes at once.
const SCREEN_PIECE: usize = 240;

/// How a terminal is spoken to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Clipboard {
    /// Directly.
    #[default]
    Direct,
    /// Through tmux.
    Tmux,
    /// Through GNU screen.
    Screen,
    /// It has none: the console of Linux, and terminals that say they know nothing.
    None,
}

impl Clipboard {
    /// From the environment: `TMUX`, `STY`, `TERM`.
    #[must_use]
    pub fn from_environment(variable: impl Fn(&str) -> Option<String>) -> Self {
        let filled = |name| variable(name).filter(|value| !value.is_empty());
        let term = filled("TERM").unwrap_or_default();
        if filled("TMUX").is_some() {
            Clipboard::Tmux
        } else if filled("STY").is_some() {
            Clipboard::Screen
        } else if matches!(term.as_str(), "dumb" | "linux") {
            Clipboard::None
        } else {
            Clipboard::Direct
        }
    }

    /// What is written to the terminal to have this text copied; nothing where it has no
    /// clipboard.
    #[must_use]
    pub fn sequence(self, text: &str) -> String {
        let mut plain = String::new();
        // Writing to a text cannot fail.
        let _ = CopyToClipboard::to_clipboard_from(text).write_ansi(&mut plain);
        match self {
            Clipboard::Direct => plain,
            // tmux takes the plain one with `set-clipboard on` and hands the wrapped one on with
            // `allow-passthrough on`; either does it.
            Clipboard::Tmux => {
                let doubled = plain.replace('\u{1b}', "\u{1b}\u{1b}");
                format!("{plain}\u{1b}Ptmux;{doubled}\u{1b}\\")
            }
            Clipboard::Screen => screen_pieces(&plain),
            Clipboard::None => String::new(),
        }
    }

    /// What is said once a text of so many bytes was sent.
    pub(crate) fn said(self, bytes: usize) -> String {
        match self {
            Clipboard::Direct => format!(
                "Sent {bytes} bytes. If nothing pastes, this terminal takes none; y shows it."
            ),
            Clipboard::Tmux => {
                format!("Sent {bytes} bytes to tmux, which needs set-clipboard on; y shows it.")
            }
            Clipboard::Screen => {
                format!("Sent {bytes} bytes through screen to the terminal; y shows it.")
            }
            Clipboard::None => {
                "This terminal has no clipboard; the text can be read here.".to_owned()
            }
        }
    }
}

/// The sequence in pieces, each handed on by screen as it is. An end of string within a piece
/// would end the piece, so the sequence ends with a bell.
fn screen_pieces(plain: &str) -> String {
    let body = plain.strip_suffix("\u{1b}\\").unwrap_or(plain);
    let body = body.strip_suffix('\u{7}').unwrap_or(body);
    let whole = format!("{body}\u{7}");
    // Base64 and the signs around it are ASCII, so any byte is a place to part it.
    let pieces = whole.as_bytes().chunks(SCREEN_PIECE);
    let wrapped = pieces.map(|piece| format!("\u{1b}P{}\u{1b}\\", String::from_utf8_lossy(piece)));
    wrapped.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Base64 of RFC 4648, section 10.
    const FOOBAR: &str = "Zm9vYmFy";

    #[test]
    fn a_terminal_is_spoken_to_in_its_own_way() {
        let plain = Clipboard::Direct.sequence("foobar");
        assert!(plain.starts_with("\u{1b}]52;c;"), "{plain:?}");
        assert!(plain.contains(FOOBAR));
        let tmux = Clipboard::Tmux.sequence("foobar");
        assert!(tmux.starts_with(&plain));
        let inner = tmux[plain.len()..]
            .strip_prefix("\u{1b}Ptmux;")
            .and_then(|rest| rest.strip_suffix("\u{1b}\\"));
        assert_eq!(
            inner.map(|inner| inner.replace("\u{1b}\u{1b}", "\u{1b}")),
            Some(plain)
        );
        assert_eq!(Clipboard::None.sequence("foobar"), "");
    }

    #[test]
    fn screen_gets_short_pieces_that_make_the_whole() {
        let long = "x".repeat(10_000);
        let wrapped = Clipboard::Screen.sequence(&long);
        let mut whole = String::new();
        for piece in wrapped.split_terminator("\u{1b}\\") {
            let piece = piece.strip_prefix("\u{1b}P").unwrap_or("no piece");
            assert!(piece.len() <= SCREEN_PIECE, "{}", piece.len());
            whole.push_str(piece);
        }
        let plain = Clipboard::Direct.sequence(&long);
        let end = |text: &str| text.trim_end_matches(['\u{1b}', '\\', '\u{7}']).to_owned();
        assert_eq!(end(&whole), end(&plain));
        assert!(whole.ends_with('\u{7}'));
    }

    #[test]
    fn the_environment_says_what_stands_between() {
        for (set, clipboard) in [
            (&[("TERM", "xterm-256color")][..], Clipboard::Direct),
            (&[], Clipboard::Direct),
            (&[("TERM", "linux")], Clipboard::None),
            (&[("TERM", "dumb")], Clipboard::None),
            (&[("TERM", "screen"), ("TMUX", "/run/1")], Clipboard::Tmux),
            (&[("TERM", "screen"), ("STY", "12.pts")], Clipboard::Screen),
            (&[("TMUX", "")], Clipboard::Direct),
        ] {
            let found = Clipboard::from_environment(|name| {
                let found = set.iter().find(|(known, _)| *known == name);
                found.map(|(_, value)| (*value).to_owned())
            });
            assert_eq!(found, clipboard, "{set:?}");
        }
        for clipboard in [Clipboard::Direct, Clipboard::Tmux, Clipboard::Screen] {
            assert!(
                clipboard.said(MOST).len() <= 78,
                "{}",
                clipboard.said(MOST).len()
            );
        }
    }
}
