//! Asks the terminal for its background before anything else reads from it, for a moment only.

use std::io;
#[cfg(unix)]
use std::io::Write as _;
#[cfg(unix)]
use std::time::{Duration, Instant};

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

#[cfg(unix)]
use super::background::QUESTION;
use super::background::of_answer;
use super::{Background, Late};

/// How long the terminal is waited for. A later answer is known by [`Late`].
#[cfg(unix)]
const PATIENCE: Duration = Duration::from_millis(100);

const ESCAPE: u8 = 0x1b;
const BELL: u8 = 0x07;

/// What came from the terminal meanwhile.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Heard {
    /// Its background.
    pub(crate) background: Option<Background>,
    /// Keys that were pressed meanwhile, which must not be lost.
    pub(crate) typed: Vec<KeyEvent>,
    /// The last answer, which every terminal gives, was there.
    ended: bool,
    /// The beginning of an answer of which the end was still under way.
    begun: Option<String>,
}

impl Heard {
    /// What takes a late answer out of the keys.
    pub(crate) fn late(&self) -> Late {
        match &self.begun {
            Some(words) => Late::within(words),
            None if self.ended => Late::over(),
            None => Late::waiting(),
        }
    }

    /// Tells answers and keys apart.
    fn of(mut bytes: &[u8]) -> Self {
        let mut heard = Heard::default();
        while let Some((&first, rest)) = bytes.split_first() {
            bytes = match (first, rest.first()) {
                (ESCAPE, Some(b']')) => heard.answer(&rest[1..]),
                (ESCAPE, Some(b'[')) => heard.control(&rest[1..]),
                // Before the last answer it may be the beginning of that.
                (ESCAPE, None) => {
                    heard.typed.extend(heard.ended.then(|| plain(KeyCode::Esc)));
                    rest
                }
                // A key with Alt, or one of the keys that are sent as `Esc O` and a letter.
                (ESCAPE, Some(_)) => rest.get(2..).unwrap_or_default(),
                _ => heard.key(bytes),
            };
        }
        heard
    }

    /// Takes an answer up to its end: a bell, or `Esc` and a stroke.
    fn answer<'a>(&mut self, bytes: &'a [u8]) -> &'a [u8] {
        let end = bytes.iter().position(|byte| matches!(*byte, BELL | ESCAPE));
        let words = String::from_utf8_lossy(&bytes[..end.unwrap_or(bytes.len())]).into_owned();
        let rest = match end {
            Some(end) if bytes[end] == BELL => &bytes[end + 1..],
            Some(end) if bytes.len() > end + 1 => &bytes[end + 2..],
            _ => {
                self.begun = Some(words);
                return &[];
            }
        };
        self.background = of_answer(&words).map(Background::of).or(self.background);
        rest
    }

    /// Takes what begins with `Esc [` up to its last letter; `Esc [ ? … c` is the last answer.
    fn control<'a>(&mut self, bytes: &'a [u8]) -> &'a [u8] {
        let Some(end) = bytes.iter().position(|byte| (0x40..0x7f).contains(byte)) else {
            return &[];
        };
        if bytes[end] == b'c' && bytes.first() == Some(&b'?') {
            self.ended = true;
        }
        &bytes[end + 1..]
    }

    /// Takes one key.
    fn key<'a>(&mut self, bytes: &'a [u8]) -> &'a [u8] {
        let length =
            (1..=bytes.len().min(4)).find(|length| std::str::from_utf8(&bytes[..*length]).is_ok());
        let Some(length) = length else {
            return &bytes[1..];
        };
        let (sign, rest) = bytes.split_at(length);
        let sign = String::from_utf8_lossy(sign);
        if let Some(sign) = sign.chars().next() {
            self.typed.push(key_of(sign));
        }
        rest
    }
}

fn plain(code: KeyCode) -> KeyEvent {
    KeyEvent::new(code, KeyModifiers::NONE)
}

fn key_of(sign: char) -> KeyEvent {
    match sign {
        '\r' | '\n' => plain(KeyCode::Enter),
        '\t' => plain(KeyCode::Tab),
        '\u{7f}' => plain(KeyCode::Backspace),
        '\u{1}'..='\u{1a}' => {
            let letter = char::from(b'a' + (sign as u8) - 1);
            KeyEvent::new(KeyCode::Char(letter), KeyModifiers::CONTROL)
        }
        other => plain(KeyCode::Char(other)),
    }
}

/// Asks. The terminal must hand over every key as it is pressed, and nothing else may read from
/// it meanwhile.
///
/// # Errors
/// The terminal can't be read or written.
#[cfg(unix)]
pub(crate) fn ask() -> io::Result<Heard> {
    use rustix::event::{PollFd, PollFlags, Timespec, poll};
    use rustix::io::{Errno, read};

    let mut out = io::stdout();
    out.write_all(QUESTION)?;
    out.flush()?;
    let terminal = io::stdin();
    let begun = Instant::now();
    let mut bytes = Vec::new();
    let mut buffer = [0; 256];
    loop {
        let left = PATIENCE.saturating_sub(begun.elapsed());
        let left = Timespec::try_from(left).map_err(io::Error::other)?;
        let mut asked = [PollFd::new(&terminal, PollFlags::IN)];
        let ready = match poll(&mut asked, Some(&left)) {
            // A signal, such as that of another size.
            Err(Errno::INTR) => continue,
            ready => ready?,
        };
        let count = if ready == 0 {
            0
        } else {
            read(&terminal, &mut buffer)?
        };
        bytes.extend_from_slice(&buffer[..count]);
        let heard = Heard::of(&bytes);
        if heard.ended || count == 0 {
            return Ok(heard);
        }
    }
}

/// Where terminals can't be waited for, none is asked.
///
/// # Errors
/// None.
#[cfg(not(unix))]
pub(crate) fn ask() -> io::Result<Heard> {
    Ok(Heard {
        ended: true,
        ..Heard::default()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const DARK: &[u8] = b"\x1b]11;rgb:1e1e/1e1e/2e2e\x1b\\";
    const END: &[u8] = b"\x1b[?62;4c";

    fn of(parts: &[&[u8]]) -> Heard {
        Heard::of(&parts.concat())
    }

    #[test]
    fn answers_are_told_from_keys() {
        let heard = of(&[b"2j", DARK, b"\r", END, "µ".as_bytes()]);
        assert_eq!(heard.background, Some(Background::Dark));
        assert!(heard.ended);
        assert_eq!(heard.typed, ['2', 'j', '\r', 'µ'].map(key_of).to_vec(),);
        let heard = of(&[b"\x1b]11;rgb:ffff/ffff/ffff\x07", END]);
        assert_eq!(heard.background, Some(Background::Light));
    }

    #[test]
    fn a_terminal_that_knows_no_background_ends_the_wait_all_the_same() {
        let heard = of(&[END]);
        assert!(heard.ended && heard.background.is_none() && heard.typed.is_empty());
    }

    #[test]
    fn an_answer_cut_anywhere_is_never_taken_for_keys() {
        let all = [DARK, END].concat();
        for cut in 2..all.len() {
            let heard = Heard::of(&all[..cut]);
            assert_eq!(heard.typed, [], "{cut}");
            // Within the first answer, its beginning is kept.
            assert_eq!(heard.begun.is_some(), cut < DARK.len(), "{cut}");
        }
    }

    #[test]
    fn keys_that_are_several_bytes_are_let_go_and_a_lone_escape_is_one() {
        assert_eq!(of(&[b"\x1b[A", b"\x1bOP", b"q"]).typed, [key_of('q')]);
        assert_eq!(of(&[END, b"\x1b"]).typed, [plain(KeyCode::Esc)]);
        assert_eq!(of(&[b"\x1b"]).typed, []);
        let stop = KeyEvent::new(KeyCode::Char('c'), KeyModifiers::CONTROL);
        assert_eq!(of(&[b"\x03"]).typed, [stop]);
        assert_eq!(of(&[b"\xff"]).typed, []);
    }
}
