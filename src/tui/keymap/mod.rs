//! Which key asks for what, place by place: one table, read both ways.

mod key;
mod tables;
mod zone;

use std::fmt::Write as _;

use crossterm::event::KeyEvent;

pub use key::{Binding, Key};
pub use zone::Zone;

use super::action::Command;
use tables::TABLES;

/// Every key, in the order in which help lists them.
pub fn keys() -> impl Iterator<Item = &'static Binding> {
    TABLES.iter().copied().flatten()
}

/// What a key asks for in a zone, if anything.
#[must_use]
pub fn command(zone: Zone, event: KeyEvent) -> Option<Command> {
    let pressed = Key::of(event);
    let lookup = |wanted: Zone| {
        keys()
            .find(|(zone, key, _)| *zone == wanted && *key == pressed)
            .map(|(_, _, command)| *command)
    };
    lookup(zone).or_else(|| lookup(zone.common()))
}

/// The first key that asks for a command in a zone, as it is written.
#[must_use]
pub fn label(zone: Zone, command: Command, unicode: bool) -> Option<String> {
    let first = |wanted: Zone| keys().find(|(zone, _, bound)| *zone == wanted && *bound == command);
    first(zone)
        .or_else(|| first(zone.common()))
        .map(|(_, key, _)| key.label(unicode))
}

/// So many of the things that a key does elsewhere are named.
const NAMED: usize = 3;

/// What is said of a letter or sign that asks for nothing where it was pressed: what it does on
/// other screens.
#[must_use]
pub fn unbound(sign: char) -> String {
    let pressed = key::letter(sign);
    let mut hints: Vec<&'static str> = Vec::new();
    let is_elsewhere = |zone: Zone| zone.common() == Zone::Everywhere;
    for (_, _, command) in keys().filter(|(zone, key, _)| *key == pressed && is_elsewhere(*zone)) {
        if !hints.contains(&command.hint()) && hints.len() < NAMED {
            hints.push(command.hint());
        }
    }
    let shown = if sign.is_control() || sign.is_whitespace() {
        "This key".to_owned()
    } else {
        sign.to_string()
    };
    match hints.as_slice() {
        [] => format!("{shown} does nothing; ? shows the keys."),
        some => format!(
            "{shown} does nothing here; elsewhere: {}. ? shows the keys.",
            some.join(", ")
        ),
    }
}

/// The keys of one zone alone: all keys of a command, and what it does, in table order.
#[must_use]
pub fn listing(zone: Zone, unicode: bool) -> Vec<(String, &'static str)> {
    let entries = entries(zone, unicode).into_iter();
    entries
        .map(|(keys, command)| (keys, command.text()))
        .collect()
}

/// The keys of one zone alone: all keys of a command, and the command, in table order.
#[must_use]
pub fn entries(zone: Zone, unicode: bool) -> Vec<(String, Command)> {
    let mut commands: Vec<Command> = Vec::new();
    for (place, _, command) in keys() {
        if *place == zone && !commands.contains(command) {
            commands.push(*command);
        }
    }
    let written = |command: Command| {
        keys()
            .filter(|(place, _, bound)| *place == zone && *bound == command)
            .map(|(_, key, _)| key.label(unicode))
            .collect::<Vec<_>>()
            .join("  ")
    };
    commands
        .into_iter()
        .map(|command| (written(command), command))
        .collect()
}

/// The page `docs/keys.md`.
#[must_use]
pub fn docs_markdown() -> String {
    let mut page = String::from(
        "# Keys of the terminal interface\n\nPrinted by the program from its own table of keys. `?` shows the keys of the place\nyou are in.\n",
    );
    for &zone in Zone::ALL {
        let listing = listing(zone, true);
        if listing.is_empty() {
            continue;
        }
        let _ = write!(
            page,
            "\n## {}\n\n| keys | what they do |\n|---|---|\n",
            zone.title()
        );
        for (keys, text) in listing {
            let keys: Vec<String> = keys.split("  ").map(|key| format!("`{key}`")).collect();
            let _ = writeln!(page, "| {} | {text} |", keys.join(" "));
        }
    }
    page.push_str(
        "\nThe mouse, where the terminal has one: the wheel scrolls, a click chooses a row, a\npane or a screen, a second click on a chosen row opens it. A click on the heading of a column\nsorts by it where it sorts, and another turns the order; a click on a key of the last row does\nwhat the key does; a click beside a list that lies over the screen closes it. To select text\nwith the terminal\u{2019}s own means, hold Shift while dragging (some terminals want Alt or Option).\n",
    );
    page
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use crossterm::event::{KeyCode, KeyModifiers};

    use super::*;

    #[test]
    fn no_key_stands_twice_in_a_place() {
        for (at, (zone, key, _)) in keys().enumerate() {
            let twice = keys()
                .skip(at + 1)
                .any(|(other, same, _)| other == zone && same == key);
            assert!(!twice, "{zone:?} {key:?}");
        }
    }

    #[test]
    fn every_command_has_a_key() {
        for command in Command::ALL {
            assert!(keys().any(|(_, _, bound)| bound == command), "{command:?}");
        }
    }

    #[test]
    fn back_and_help_and_leaving_are_everywhere() {
        for &zone in Zone::ALL {
            let event = |code| KeyEvent::new(code, KeyModifiers::NONE);
            assert_eq!(command(zone, event(KeyCode::Esc)), Some(Command::Back));
            assert_eq!(command(zone, event(KeyCode::F(1))), Some(Command::Help));
            let asks = command(zone, event(KeyCode::Char('?')));
            // In a line of text a question mark is text like any other.
            let expected = (!zone.is_text()).then_some(Command::Help);
            assert_eq!(asks, expected, "{zone:?}");
            let stop = KeyEvent::new(KeyCode::Char('c'), KeyModifiers::CONTROL);
            assert_eq!(command(zone, stop), Some(Command::Quit));
        }
    }

    #[test]
    fn a_label_read_back_gives_its_command() {
        for (zone, key, bound) in keys() {
            assert_eq!(command(*zone, key.event()), Some(*bound));
            assert!(label(*zone, *bound, false).unwrap().is_ascii());
        }
    }
}
