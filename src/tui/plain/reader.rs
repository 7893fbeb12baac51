//! Lines into what they ask for: a key of the screens, a command by word, a number, or text
//! where text is wanted.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::words::{self, Word};
use crate::analysis::nearest;
use crate::tui::action::Command;
use crate::tui::keymap::{self, Zone};

/// What a line asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Asked {
    /// What a key or a word asks for.
    Command(Command),
    /// To choose the row of this number, from 1.
    Choose(usize),
    /// To choose the row of this number, then to do this.
    At(usize, Command),
    /// To choose the row of this number and to tell all of it.
    Tell(usize),
    /// To do this, and to write these words where it asks for some.
    With(Command, String),
    /// Text for the line or the field that waits for it; empty to keep what stands there.
    Text(String),
    Next,
    Before,
    /// The page of this number, from 1.
    Page(usize),
    Again,
    More,
    Where,
    Help,
    /// This filter; none asks how it stands.
    Filter(Option<String>),
    Sort(Option<String>),
    View(Option<String>),
    /// The rule of the chosen person's topics, by number or id.
    Topic(String),
    /// Nothing known; in a sentence.
    Unknown(String),
}

/// What is known of the place that a line is read in.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Scene<'a> {
    pub(crate) zone: Zone,
    /// The names of its views.
    pub(crate) views: &'a [&'a str],
    /// Something is to be chosen: digits are numbers, not the keys of screens.
    pub(crate) is_choosing: bool,
}

/// Words of this face alone.
const WORDS: [&str; 22] = [
    "help", "keys", "where", "again", "more", "next", "before", "previous", "page", "choose",
    "item", "row", "filter", "unfilter", "sort", "view", "views", "topic", "exit", "leave", "open",
    "import",
];

/// Reads a line.
pub(crate) fn read(line: &str, scene: Scene<'_>) -> Asked {
    if scene.zone.is_text() {
        return read_text(line, scene.zone);
    }
    let line = line.trim();
    // Whoever has just left a line of text may still put the dot before a word.
    let line = match line.strip_prefix('.') {
        Some(word) if word.starts_with(char::is_alphabetic) => word,
        _ => line,
    };
    if line.is_empty() {
        let enter = KeyEvent::new(KeyCode::Enter, KeyModifiers::NONE);
        return keymap::command(scene.zone, enter).map_or_else(
            || Asked::Unknown("Nothing opens here; where tells what can be done.".to_owned()),
            command,
        );
    }
    if let Ok(number) = line.parse::<usize>()
        && scene.is_choosing
    {
        return Asked::Choose(number);
    }
    if let Some(asked) = key(line, scene.zone) {
        return asked;
    }
    if let Ok(number) = line
        .trim_start_matches('#')
        .trim_end_matches('.')
        .parse::<usize>()
    {
        return Asked::Choose(number);
    }
    by_word(line, scene)
}

const fn command(command: Command) -> Asked {
    match command {
        Command::Help => Asked::Help,
        other => Asked::Command(other),
    }
}

/// A single sign that is a key here, or the name of a key.
fn key(line: &str, zone: Zone) -> Option<Asked> {
    let mut signs = line.chars();
    if let (Some(sign), None) = (signs.next(), signs.next()) {
        let event = KeyEvent::new(KeyCode::Char(sign), KeyModifiers::NONE);
        return keymap::command(zone, event).map(command);
    }
    let named = |key: &keymap::Key| key.label(false).eq_ignore_ascii_case(line);
    let first = |wanted: Zone| keymap::keys().find(|(zone, key, _)| *zone == wanted && named(key));
    // The keys of the place itself come before those that hold in all of its kind.
    let found = first(zone).or_else(|| first(zone.common()));
    found.map(|(.., found)| command(*found))
}

/// Text, or a word of this face behind a dot.
fn read_text(line: &str, zone: Zone) -> Asked {
    let word = line.trim().to_lowercase();
    match word.as_str() {
        ".back" => Asked::Command(Command::Back),
        ".quit" => Asked::Command(Command::Quit),
        ".send" => Asked::Command(Command::SendNow),
        ".up" => Asked::Command(Command::FieldBack),
        ".clear" => Asked::Command(Command::DeleteAll),
        ".again" => Asked::Again,
        ".where" => Asked::Where,
        ".help" => Asked::Help,
        ".more" => Asked::More,
        ".next" => Asked::Next,
        ".before" => Asked::Before,
        dotted => of_zone(dotted, zone).unwrap_or_else(|| Asked::Text(line.trim().to_owned())),
    }
}

/// A command of a zone of text by its word or its key, behind a dot.
fn of_zone(dotted: &str, zone: Zone) -> Option<Asked> {
    let word = dotted.strip_prefix('.')?;
    let mut own = words::own(zone).into_iter().filter(|own| own.word == word);
    match own.next() {
        Some(found) => Some(command(found.command)),
        None if word.chars().count() > 1 => key(word, zone),
        None => None,
    }
}

fn by_word(line: &str, scene: Scene<'_>) -> Asked {
    let own = words::own(scene.zone);
    let common = words::own(scene.zone.common());
    let found = phrase(line, &own)
        .or_else(|| whole(line, &common))
        .or_else(|| of_this_face(line, scene))
        .or_else(|| view(line, scene))
        .or_else(|| phrase(line, &common));
    if let Some(asked) = found {
        return asked;
    }
    let known: Vec<&str> = own
        .iter()
        .chain(&common)
        .map(|word| word.word.as_str())
        .chain(WORDS)
        .chain(scene.views.iter().copied())
        .collect();
    let (word, rest) = split(line);
    let word = word.to_lowercase();
    let mut meant: Vec<&str> = known
        .iter()
        .copied()
        .filter(|it| it.starts_with(&word))
        .collect();
    meant.sort_unstable();
    meant.dedup();
    match meant.as_slice() {
        [only] if word.len() > 1 => by_word(format!("{only} {rest}").trim(), scene),
        [] => {
            let near = nearest(&word, known.iter().copied());
            let near = near.map_or_else(String::new, |near| format!("Did you mean {near}? "));
            unknown(line, &format!("{near}where tells what can be done."))
        }
        several => unknown(line, &format!("It could be {}.", several.join(", "))),
    }
}

fn unknown(line: &str, next: &str) -> Asked {
    Asked::Unknown(format!("\"{line}\" is no command here. {next}"))
}

/// The first word and the rest.
fn split(line: &str) -> (&str, &str) {
    let (word, rest) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
    (word, rest.trim())
}

/// A command by its words, perhaps with the number of a row or with text behind it.
fn phrase(line: &str, words: &[Word]) -> Option<Asked> {
    let behind = |word: &Word| {
        let rest = line.get(word.word.len()..)?;
        let begins = line
            .get(..word.word.len())?
            .eq_ignore_ascii_case(&word.word);
        let ends = rest.is_empty() || rest.starts_with(char::is_whitespace);
        (begins && ends).then(|| rest.trim().to_owned())
    };
    let found = words.iter().filter_map(|word| Some((word, behind(word)?)));
    let (word, rest) = found.max_by_key(|(word, _)| word.word.len())?;
    // Sorting by a column and the like are said with words of this face.
    if matches!(word.command, Command::SortNext) && !rest.is_empty() {
        return None;
    }
    Some(match (rest.as_str(), rest.parse::<usize>()) {
        ("", _) => command(word.command),
        (_, Ok(number)) => Asked::At(number, word.command),
        _ => Asked::With(word.command, rest),
    })
}

/// A command whose words are all of the line.
fn whole(line: &str, words: &[Word]) -> Option<Asked> {
    let found = words.iter().find(|it| it.word.eq_ignore_ascii_case(line));
    found.map(|it| command(it.command))
}

/// A word of this face, perhaps with a number or a name behind it.
fn of_this_face(line: &str, scene: Scene<'_>) -> Option<Asked> {
    let (word, rest) = split(line);
    let word = word.to_lowercase();
    let some = (!rest.is_empty()).then(|| rest.to_owned());
    let number = rest.parse::<usize>().ok();
    let plain = |asked: Asked| rest.is_empty().then_some(asked);
    match word.as_str() {
        "help" => plain(Asked::Help),
        "keys" | "where" => plain(Asked::Where),
        "again" => plain(Asked::Again),
        "more" => match number {
            Some(number) => Some(Asked::Tell(number)),
            None => plain(Asked::More),
        },
        "next" => plain(Asked::Next),
        "before" | "previous" => plain(Asked::Before),
        "page" => number.map(Asked::Page),
        "open" => number.map(Asked::Tell),
        "choose" | "item" | "row" => number.map(Asked::Choose),
        "filter" => Some(Asked::Filter(some)),
        "unfilter" => plain(Asked::Filter(Some(String::new()))),
        "sort" => Some(Asked::Sort(some)),
        "view" | "views" => Some(Asked::View(some)),
        "topic" if scene.zone == Zone::Topics => some.map(Asked::Topic),
        "import" => Some(match some {
            Some(path) => Asked::With(Command::Import, path),
            None => Asked::Command(Command::Import),
        }),
        "exit" | "leave" => plain(Asked::Command(Command::Quit)),
        _ => None,
    }
}

/// The name of a view alone.
fn view(line: &str, scene: Scene<'_>) -> Option<Asked> {
    let named = scene
        .views
        .iter()
        .find(|name| name.eq_ignore_ascii_case(line))?;
    Some(Asked::View(Some((*named).to_owned())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn scene(zone: Zone) -> Scene<'static> {
        Scene {
            zone,
            views: &["verdicts", "rules"],
            is_choosing: false,
        }
    }

    fn number(asked: usize, command: Command) -> Asked {
        Asked::At(asked, command)
    }

    #[test]
    fn lines_ask_for_what_they_say() {
        use Command as C;
        let some = |text: &str| Some(text.to_owned());
        for (zone, line, asked) in [
            (Zone::Share, "2", Asked::Command(C::ShowDraws)),
            (Zone::Share, "draws", Asked::Command(C::ShowDraws)),
            (Zone::Share, "Draws", Asked::Command(C::ShowDraws)),
            (Zone::Share, "12", Asked::Choose(12)),
            (Zone::Share, "#3", Asked::Choose(3)),
            (Zone::Share, "item 3", Asked::Choose(3)),
            (Zone::Share, "", Asked::Command(C::Open)),
            (Zone::Share, "rules", Asked::View(some("rules"))),
            (Zone::Share, "view rules", Asked::View(some("rules"))),
            (Zone::Share, "j", Asked::Command(C::Down)),
            (Zone::Share, "G", Asked::Command(C::Last)),
            (Zone::Share, "esc", Asked::Command(C::Back)),
            (Zone::Share, "back", Asked::Command(C::Back)),
            (Zone::Share, ".back", Asked::Command(C::Back)),
            (Zone::Share, ".again", Asked::Again),
            (Zone::Share, "import", Asked::Command(C::Import)),
            (
                Zone::Share,
                "import sheets/",
                Asked::With(C::Import, "sheets/".to_owned()),
            ),
            (Zone::Start, "demo", Asked::Command(C::MakeDemo)),
            (
                Zone::Start,
                "open north.db",
                Asked::With(C::Open, "north.db".to_owned()),
            ),
            (
                Zone::StartFailed,
                "open north.db",
                Asked::With(C::Open, "north.db".to_owned()),
            ),
            (Zone::Share, "?", Asked::Help),
            (Zone::Share, "quit", Asked::Command(C::Quit)),
            (Zone::Share, "exit", Asked::Command(C::Quit)),
            (
                Zone::Share,
                "filter site:\"North pit\"",
                Asked::Filter(some("site:\"North pit\"")),
            ),
            (Zone::Share, "filter", Asked::Filter(None)),
            (Zone::Share, "filter by", Asked::Command(C::BuildFilter)),
            (Zone::Share, "unfilter", Asked::Filter(some(""))),
            (Zone::Draws, "open 3", number(3, C::Open)),
            (Zone::Draws, "OPEN 3", number(3, C::Open)),
            (Zone::Opened, "open 3", Asked::Tell(3)),
            (Zone::Draws, "narrow 3", number(3, C::AddTerm)),
            (Zone::Draws, "set aside 2", number(2, C::SetAside)),
            (
                Zone::Draws,
                "set aside tap was dirty",
                Asked::With(C::SetAside, "tap was dirty".to_owned()),
            ),
            (Zone::Draws, "raise", Asked::Command(C::Raise)),
            (Zone::Draws, "sort date", Asked::Sort(some("date"))),
            (Zone::Draws, "sort", Asked::Command(C::SortNext)),
            (Zone::Draws, "next", Asked::Next),
            (Zone::Draws, "previous", Asked::Before),
            (Zone::Draws, "page 4", Asked::Page(4)),
            (Zone::Opened, "next draw", Asked::Command(C::DrawNext)),
            (
                Zone::Compartment,
                "next",
                Asked::Command(C::CompartmentNext),
            ),
            (Zone::Topics, "tick 2", number(2, C::Tick)),
            (Zone::Topics, "space", Asked::Command(C::Tick)),
            (
                Zone::Topics,
                "topic flush-met",
                Asked::Topic("flush-met".to_owned()),
            ),
            (Zone::Pick, "disagrees 4", number(4, C::Disagree)),
            (Zone::Pick, "agree 4", number(4, C::Agree)),
            (
                Zone::Form,
                "tap was dirty ",
                Asked::Text("tap was dirty".to_owned()),
            ),
            (Zone::Form, "", Asked::Text(String::new())),
            (Zone::Form, "quit", Asked::Text("quit".to_owned())),
            (Zone::Form, ".back", Asked::Command(C::Back)),
            (
                Zone::ImportFile,
                "../sheets/",
                Asked::Text("../sheets/".to_owned()),
            ),
        ] {
            assert_eq!(read(line, scene(zone)), asked, "{zone:?} {line:?}");
        }
    }

    #[test]
    fn behind_a_dot_stand_the_commands_of_a_line_of_text() {
        use Command as C;
        for (line, command) in [
            (".exclude", C::Exclude),
            (".fields", C::PaneBack),
            (".tab", C::FieldNext),
            (".back", C::Back),
            (".clear", C::DeleteAll),
        ] {
            assert_eq!(read(line, scene(Zone::Values)), Asked::Command(command));
        }
        for text in [".", "..", ".x", "./sheets", ".backward"] {
            let asked = Asked::Text(text.to_owned());
            assert_eq!(read(text, scene(Zone::ImportFile)), asked);
        }
    }

    #[test]
    fn where_something_is_chosen_digits_are_numbers() {
        let choosing = Scene {
            is_choosing: true,
            ..scene(Zone::Narrow)
        };
        assert_eq!(read("2", choosing), Asked::Choose(2));
        assert_eq!(read("open", choosing), Asked::Command(Command::Open));
    }

    #[test]
    fn what_is_not_known_says_what_may_be_meant() {
        let said = |line| match read(line, scene(Zone::Draws)) {
            Asked::Unknown(words) => words,
            other => panic!("{line}: {other:?}"),
        };
        assert!(
            said("drawz").contains("Did you mean draws?"),
            "{}",
            said("drawz")
        );
        assert!(said("re").contains("It could be"), "{}", said("re"));
        assert!(said("xyzzy plugh").contains("where tells"));
    }

    proptest! {
        #[test]
        fn every_line_is_read_in_every_zone(line in any::<String>(), zone in 0..Zone::ALL.len()) {
            let _ = read(&line, scene(Zone::ALL[zone]));
        }
    }
}
