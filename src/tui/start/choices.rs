//! What is on offer before a programme is open, each with its key.

use std::path::Path;

use super::{Stage, Start};
use crate::tui::action::Command;

/// Something on offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// What is asked for.
    pub command: Command,
    /// In a few words.
    pub words: &'static str,
    /// What comes of it.
    pub about: String,
}

impl Start {
    /// What is on offer at present.
    #[must_use]
    pub fn choices(&self) -> Vec<Choice> {
        let demo = Choice {
            command: Command::MakeDemo,
            words: "Look around in the demo",
            about: "Invented people and firms, some 5,000 draws; kept nowhere.".to_owned(),
        };
        let another = Choice {
            command: Command::OtherFile,
            words: "Open another programme file",
            about: "You write its path; Tab completes it.".to_owned(),
        };
        match &self.stage {
            Stage::Welcome => vec![
                demo,
                Choice {
                    command: Command::Import,
                    words: "Take your tables in",
                    about: format!(
                        "Spreadsheets and CSV as they are, into the new file {}; it is made once \
                         something is taken in.",
                        self.file.display()
                    ),
                },
                another,
            ],
            Stage::Failed(_) => vec![
                Choice {
                    command: Command::Reload,
                    words: "Try again",
                    about: "Once it is put right.".to_owned(),
                },
                another,
                demo,
            ],
            _ => Vec::new(),
        }
    }
}

/// The same on the command line: the demo, taking tables in, opening another file.
#[must_use]
pub fn command_lines(file: &Path) -> [String; 3] {
    let option = match file.to_str() {
        Some("programme.db") => String::new(),
        _ => format!(" -p {}", quoted(&file.display().to_string())),
    };
    [
        "fairdraw demo".to_owned(),
        format!("fairdraw{option} import FOLDER"),
        "fairdraw open FILE".to_owned(),
    ]
}

/// A word as a shell takes it: in quotes where it has to be.
fn quoted(word: &str) -> String {
    let is_plain = |sign: char| sign.is_ascii_alphanumeric() || "/._-".contains(sign);
    if !word.is_empty() && word.chars().all(is_plain) {
        return word.to_owned();
    }
    format!("'{}'", word.replace('\'', "'\\''"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn commands_can_be_pasted_into_a_shell() {
        for (file, expected) in [
            ("programme.db", "fairdraw import FOLDER"),
            ("a/north.db", "fairdraw -p a/north.db import FOLDER"),
            ("North pit.db", "fairdraw -p 'North pit.db' import FOLDER"),
            ("o'neil.db", "fairdraw -p 'o'\\''neil.db' import FOLDER"),
        ] {
            assert_eq!(command_lines(Path::new(file))[1], expected);
        }
    }
}
