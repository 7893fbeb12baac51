//! The commands of a place by word: the words that the screens' hints use, with the keys that
//! do the same.

use crate::tui::action::Command;
use crate::tui::frame;
use crate::tui::keymap::{self, Zone};

/// A command that can be asked for by word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Word {
    /// In small letters.
    pub(crate) word: String,
    pub(crate) command: Command,
}

/// Commands that are spoken of otherwise here, or mean nothing in a line of text.
const fn is_unspoken(command: Command) -> bool {
    matches!(
        command,
        Command::Suspend
            | Command::Colours
            | Command::Help
            | Command::EditFilter
            | Command::PaneNext
            | Command::PaneBack
            | Command::Picture
            | Command::Whole
            | Command::PageUp
            | Command::PageDown
            | Command::CharLeft
            | Command::CharRight
            | Command::LineStart
            | Command::LineEnd
            | Command::DeleteBefore
            | Command::DeleteAfter
            | Command::DeleteWord
            | Command::DeleteAll
    )
}

/// What a command is called in a zone.
fn called(zone: Zone, command: Command) -> String {
    let screens = frame::SCREENS.iter().flat_map(|tab| tab.screens);
    let own = screens
        .filter_map(|screen| screen.hint(zone, command))
        .next();
    let word = match command {
        // In a list read out one after another, sideways means nothing.
        Command::PersonNext => "next person",
        Command::PersonBack => "person before",
        Command::Back => "back",
        // Before a programme is open, as the command line has it.
        Command::Import if zone.common() == Zone::Start => "import",
        Command::PaneBack if zone == Zone::Values => "fields",
        Command::Open if zone != Zone::ImportMap => "open",
        other => own.unwrap_or(other.hint()),
    };
    word.to_lowercase()
}

/// The commands that a zone has of its own, each once.
pub(crate) fn own(zone: Zone) -> Vec<Word> {
    let mut words: Vec<Word> = Vec::new();
    for (place, _, command) in keymap::keys() {
        let is_known = words.iter().any(|word| word.command == *command);
        let is_spoken = !is_unspoken(*command) || called(zone, *command) == "fields";
        if *place == zone && !is_known && is_spoken {
            words.push(Word {
                word: called(zone, *command),
                command: *command,
            });
        }
    }
    words
}

/// The commands of a zone and those that hold in its kind of zone everywhere.
#[cfg(test)]
fn all(zone: Zone) -> Vec<Word> {
    let mut words = own(zone);
    for word in own(zone.common()) {
        if !words.iter().any(|known| known.command == word.command) {
            words.push(word);
        }
    }
    words
}

/// What is said of each command of a zone's own: word, key, and what it does.
pub(crate) fn listing(zone: Zone) -> Vec<String> {
    let said = |word: Word| {
        let key = keymap::label(zone, word.command, false);
        let key = key.map_or_else(String::new, |key| format!(" ({key})"));
        format!("{}{key}: {}.", word.word, word.command.text())
    };
    own(zone).into_iter().map(said).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_word_means_two_things_in_a_zone() {
        for &zone in Zone::ALL {
            let words = own(zone);
            for (at, word) in words.iter().enumerate() {
                let twice = words[at + 1..].iter().any(|other| other.word == word.word);
                assert!(!twice, "{zone:?}: {}", word.word);
                assert!(!word.word.is_empty());
            }
        }
    }

    #[test]
    fn every_key_of_a_zone_is_also_a_word_or_is_spoken_of_otherwise() {
        for (zone, key, command) in keymap::keys() {
            let is_word = all(*zone).iter().any(|word| word.command == *command);
            assert!(
                is_word || is_unspoken(*command),
                "{zone:?} {key:?} {command:?}"
            );
        }
    }
}
