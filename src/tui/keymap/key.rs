//! Keys as they are pressed and as they are written.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::zone::Zone;
use crate::tui::action::Command;

/// Where a key holds, the key, and what it asks for.
pub type Binding = (Zone, Key, Command);

/// A key with the modifiers that must be held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Key {
    code: KeyCode,
    control: bool,
    alt: bool,
}

/// A key on its own.
pub(super) const fn key(code: KeyCode) -> Key {
    Key {
        code,
        control: false,
        alt: false,
    }
}

/// A letter or sign.
pub(super) const fn letter(sign: char) -> Key {
    key(KeyCode::Char(sign))
}

/// A letter while Ctrl is held.
pub(super) const fn control(sign: char) -> Key {
    Key {
        control: true,
        ..letter(sign)
    }
}

/// A key while Alt is held.
pub(super) const fn alt(code: KeyCode) -> Key {
    Key {
        alt: true,
        ..key(code)
    }
}

impl Key {
    /// The key of an event. Shift is part of the character; a back tab is a key of its own.
    #[must_use]
    pub fn of(event: KeyEvent) -> Self {
        Key {
            code: event.code,
            control: event.modifiers.contains(KeyModifiers::CONTROL),
            alt: event.modifiers.contains(KeyModifiers::ALT),
        }
    }

    /// The event of the key being pressed.
    #[must_use]
    pub fn event(self) -> KeyEvent {
        let mut held = KeyModifiers::NONE;
        held.set(KeyModifiers::CONTROL, self.control);
        held.set(KeyModifiers::ALT, self.alt);
        KeyEvent::new(self.code, held)
    }

    /// How the key is written, in Unicode or in ASCII.
    #[must_use]
    pub fn label(self, unicode: bool) -> String {
        let pick = |fine: &str, plain: &str| (if unicode { fine } else { plain }).to_owned();
        let name = match self.code {
            KeyCode::Char(' ') => "Space".to_owned(),
            KeyCode::Char(sign) => sign.to_string(),
            KeyCode::F(number) => format!("F{number}"),
            KeyCode::Up => pick("↑", "Up"),
            KeyCode::Down => pick("↓", "Down"),
            KeyCode::Left => pick("←", "Left"),
            KeyCode::Right => pick("→", "Right"),
            KeyCode::PageUp => "PgUp".to_owned(),
            KeyCode::PageDown => "PgDn".to_owned(),
            KeyCode::BackTab => "Shift-Tab".to_owned(),
            other => format!("{other:?}"),
        };
        match (self.control, self.alt) {
            (true, _) => format!("Ctrl-{}", name.to_uppercase()),
            (false, true) => format!("Alt-{name}"),
            (false, false) => name,
        }
    }
}
