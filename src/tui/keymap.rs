//! Which key asks for what, place by place: one table, read both ways.

use std::fmt::Write as _;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::action::Command;

/// A place that has keys of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Zone {
    /// Everywhere but in the lines of text.
    Everywhere,
    /// The Share screen.
    Share,
    /// The list of draws.
    Draws,
    /// An opened draw.
    Opened,
    /// The People screen.
    People,
    /// The Points screen.
    Points,
    /// The heat table of the Topics screen.
    Topics,
    /// What to ask of others, on the Topics screen.
    Asks,
    /// What came after trainings, on the Topics screen.
    Trainings,
    /// The list of findings.
    Findings,
    /// An opened finding.
    Finding,
    /// The list of picks.
    Picks,
    /// An opened pick.
    Pick,
    /// What to sample again.
    Resample,
    /// An opened compartment of it.
    Compartment,
    /// The ledger of the Records screen.
    Ledger,
    /// An opened batch.
    Batch,
    /// A line that is asked for before something is done.
    Asked,
    /// What is filled in, on the Records screen.
    Coverage,
    /// What is hard to believe, on the Records screen.
    Doubts,
    /// An opened doubt.
    Doubt,
    /// Choosing a table to take in.
    ImportFile,
    /// How a table is read, and the map proposed for it.
    ImportMap,
    /// What of a table would be stored or refused.
    ImportRows,
    /// Choosing what a row of the map is.
    Choices,
    /// While a table is tried out or taken in.
    ImportBusy,
    /// What would come of taking a table in.
    ImportTried,
    /// What came of it.
    ImportDone,
    /// The list of values to narrow by.
    Narrow,
    /// The help page.
    Help,
    /// While the programme is read and judged.
    Loading,
    /// The filter line.
    FilterLine,
    /// The line that asks for a folder.
    FolderLine,
    /// A form to fill in.
    Form,
}

impl Zone {
    /// Every zone, in the order of the page of keys.
    pub const ALL: [Zone; 34] = [
        Zone::Everywhere,
        Zone::Share,
        Zone::Draws,
        Zone::Opened,
        Zone::People,
        Zone::Points,
        Zone::Topics,
        Zone::Asks,
        Zone::Trainings,
        Zone::Findings,
        Zone::Finding,
        Zone::Picks,
        Zone::Pick,
        Zone::Resample,
        Zone::Compartment,
        Zone::Ledger,
        Zone::Batch,
        Zone::Coverage,
        Zone::Doubts,
        Zone::Doubt,
        Zone::ImportFile,
        Zone::ImportMap,
        Zone::ImportRows,
        Zone::Choices,
        Zone::ImportBusy,
        Zone::ImportTried,
        Zone::ImportDone,
        Zone::Narrow,
        Zone::Help,
        Zone::Loading,
        Zone::FilterLine,
        Zone::FolderLine,
        Zone::Form,
        Zone::Asked,
    ];

    /// Its name, as a heading.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Zone::Everywhere => "Everywhere but in lines of text",
            Zone::Share => "Share",
            Zone::Draws => "Draws, in the list",
            Zone::Opened => "Draws, in the opened draw",
            Zone::People => "People",
            Zone::Points => "Points",
            Zone::Topics => "Topics, whom to train in what",
            Zone::Asks => "Topics, what to ask of others",
            Zone::Trainings => "Topics, after training",
            Zone::Findings => "Findings, in the list",
            Zone::Finding => "Findings, in an opened finding",
            Zone::Picks => "Findings, picks",
            Zone::Pick => "Findings, in an opened pick",
            Zone::Resample => "Resample, in the list",
            Zone::Compartment => "Resample, in an opened compartment",
            Zone::Ledger => "Records, what was taken in",
            Zone::Batch => "Records, in an opened batch",
            Zone::Coverage => "Records, what is filled in",
            Zone::Doubts => "Records, what is hard to believe",
            Zone::Doubt => "Records, in an opened doubt",
            Zone::ImportFile => "Taking in, choosing a table",
            Zone::ImportMap => "Taking in, how it is read",
            Zone::ImportRows => "Taking in, as it would be stored",
            Zone::Choices => "Taking in, choosing a value",
            Zone::ImportBusy => "Taking in, under way",
            Zone::ImportTried => "Taking in, tried out",
            Zone::ImportDone => "Taking in, done",
            Zone::Narrow => "Choosing what to narrow by",
            Zone::Help => "Help",
            Zone::Loading => "While the programme is read",
            Zone::FilterLine => "Filter line",
            Zone::FolderLine => "Folder of plans",
            Zone::Form => "Form",
            Zone::Asked => "A line that is asked for",
        }
    }

    /// Whether the keys of [`Zone::Everywhere`] hold here too.
    #[must_use]
    pub const fn shares_common_keys(self) -> bool {
        !matches!(
            self,
            Zone::FilterLine | Zone::FolderLine | Zone::Asked | Zone::ImportFile | Zone::Form
        )
    }
}

/// A key with the modifiers that must be held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Key {
    code: KeyCode,
    control: bool,
}

const fn key(code: KeyCode) -> Key {
    Key {
        code,
        control: false,
    }
}

const fn letter(sign: char) -> Key {
    key(KeyCode::Char(sign))
}

const fn control(sign: char) -> Key {
    Key {
        code: KeyCode::Char(sign),
        control: true,
    }
}

impl Key {
    /// The key of an event. Shift is part of the character; a back tab is a key of its own.
    #[must_use]
    pub fn of(event: KeyEvent) -> Self {
        Key {
            code: event.code,
            control: event.modifiers.contains(KeyModifiers::CONTROL),
        }
    }

    /// The event of the key being pressed.
    #[must_use]
    pub fn event(self) -> KeyEvent {
        let held = if self.control {
            KeyModifiers::CONTROL
        } else {
            KeyModifiers::NONE
        };
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
        if self.control {
            format!("Ctrl-{}", name.to_uppercase())
        } else {
            name
        }
    }
}

type Binding = (Zone, Key, Command);

/// Every key, in the order in which help lists them.
pub const KEYS: &[Binding] = {
    use Command as C;
    use KeyCode as K;
    use Zone as Z;
    &[
        (Z::Everywhere, letter('1'), C::ShowShare),
        (Z::Everywhere, letter('2'), C::ShowDraws),
        (Z::Everywhere, letter('3'), C::ShowPeople),
        (Z::Everywhere, letter('4'), C::ShowPoints),
        (Z::Everywhere, letter('5'), C::ShowTopics),
        (Z::Everywhere, letter('6'), C::ShowFindings),
        (Z::Everywhere, letter('7'), C::ShowRecords),
        (Z::Everywhere, letter('8'), C::ShowResample),
        (Z::Everywhere, key(K::Down), C::Down),
        (Z::Everywhere, letter('j'), C::Down),
        (Z::Everywhere, key(K::Up), C::Up),
        (Z::Everywhere, letter('k'), C::Up),
        (Z::Everywhere, key(K::PageDown), C::PageDown),
        (Z::Everywhere, letter(' '), C::PageDown),
        (Z::Everywhere, key(K::PageUp), C::PageUp),
        (Z::Everywhere, key(K::Home), C::First),
        (Z::Everywhere, letter('g'), C::First),
        (Z::Everywhere, key(K::End), C::Last),
        (Z::Everywhere, letter('G'), C::Last),
        (Z::Everywhere, key(K::Esc), C::Back),
        (Z::Everywhere, letter('/'), C::EditFilter),
        (Z::Everywhere, letter('x'), C::DropTerm),
        (Z::Everywhere, letter('r'), C::Reload),
        (Z::Everywhere, letter('?'), C::Help),
        (Z::Everywhere, key(K::F(1)), C::Help),
        (Z::Everywhere, control('z'), C::Suspend),
        (Z::Everywhere, letter('q'), C::Quit),
        (Z::Everywhere, control('c'), C::Quit),
        (Z::Share, key(K::Enter), C::Open),
        (Z::Share, letter('f'), C::AddTerm),
        (Z::Share, letter('t'), C::Periods),
        (Z::Share, key(K::Tab), C::PaneNext),
        (Z::Share, key(K::Right), C::PaneNext),
        (Z::Share, key(K::BackTab), C::PaneBack),
        (Z::Share, key(K::Left), C::PaneBack),
        (Z::Draws, key(K::Enter), C::Open),
        (Z::Draws, key(K::Tab), C::Open),
        (Z::Draws, key(K::Right), C::Open),
        (Z::Draws, letter('s'), C::SortNext),
        (Z::Draws, letter('S'), C::SortTurn),
        (Z::Draws, letter('f'), C::AddTerm),
        (Z::Draws, letter('c'), C::Compartment),
        (Z::Draws, letter('a'), C::SetAside),
        (Z::Draws, letter('F'), C::Raise),
        (Z::Opened, letter('n'), C::DrawNext),
        (Z::Opened, letter('p'), C::DrawBack),
        (Z::Opened, letter('f'), C::AddTerm),
        (Z::Opened, letter('c'), C::Compartment),
        (Z::Opened, key(K::Tab), C::PaneNext),
        (Z::Opened, key(K::Left), C::PaneBack),
        (Z::Opened, key(K::BackTab), C::PaneBack),
        (Z::Opened, letter('a'), C::SetAside),
        (Z::Opened, letter('F'), C::Raise),
        (Z::People, key(K::Enter), C::Open),
        (Z::People, letter('c'), C::Crews),
        (Z::People, letter('v'), C::Columns),
        (Z::People, letter('d'), C::Picture),
        (Z::People, letter('s'), C::SortNext),
        (Z::People, letter('S'), C::SortTurn),
        (Z::People, letter('f'), C::AddTerm),
        (Z::People, letter('F'), C::Raise),
        (Z::Points, key(K::Enter), C::Open),
        (Z::Points, letter('v'), C::Columns),
        (Z::Points, letter('d'), C::Picture),
        (Z::Points, letter('s'), C::SortNext),
        (Z::Points, letter('S'), C::SortTurn),
        (Z::Points, letter('f'), C::AddTerm),
        (Z::Points, letter('F'), C::Raise),
        (Z::Topics, key(K::Enter), C::Open),
        (Z::Topics, key(K::Right), C::PersonNext),
        (Z::Topics, letter('l'), C::PersonNext),
        (Z::Topics, key(K::Left), C::PersonBack),
        (Z::Topics, letter('h'), C::PersonBack),
        (Z::Topics, letter(' '), C::Tick),
        (Z::Topics, letter('w'), C::Plans),
        (Z::Topics, letter('c'), C::Crews),
        (Z::Topics, letter('s'), C::ByRegained),
        (Z::Topics, letter('f'), C::AddTerm),
        (Z::Topics, key(K::Tab), C::PaneNext),
        (Z::Topics, key(K::BackTab), C::PaneBack),
        (Z::Asks, key(K::Enter), C::Open),
        (Z::Asks, letter('f'), C::AddTerm),
        (Z::Asks, key(K::Tab), C::PaneNext),
        (Z::Asks, key(K::BackTab), C::PaneBack),
        (Z::Trainings, key(K::Enter), C::Open),
        (Z::Trainings, letter('f'), C::AddTerm),
        (Z::Trainings, key(K::Tab), C::PaneNext),
        (Z::Trainings, key(K::BackTab), C::PaneBack),
        (Z::Findings, key(K::Enter), C::Open),
        (Z::Findings, key(K::Right), C::Open),
        (Z::Findings, letter('a'), C::AnswerFinding),
        (Z::Findings, letter('c'), C::CloseFinding),
        (Z::Findings, letter('w'), C::WithdrawFinding),
        (Z::Findings, letter('e'), C::Export),
        (Z::Findings, letter('s'), C::SortNext),
        (Z::Findings, letter('S'), C::SortTurn),
        (Z::Findings, key(K::Tab), C::PaneNext),
        (Z::Findings, key(K::BackTab), C::PaneBack),
        (Z::Finding, key(K::Left), C::Back),
        (Z::Finding, key(K::Enter), C::Open),
        (Z::Finding, letter('a'), C::AnswerFinding),
        (Z::Finding, letter('c'), C::CloseFinding),
        (Z::Finding, letter('w'), C::WithdrawFinding),
        (Z::Picks, key(K::Enter), C::Open),
        (Z::Picks, key(K::Right), C::Open),
        (Z::Picks, letter('n'), C::DrawPick),
        (Z::Picks, letter('F'), C::Raise),
        (Z::Picks, letter('e'), C::Export),
        (Z::Picks, key(K::Tab), C::PaneNext),
        (Z::Picks, key(K::BackTab), C::PaneBack),
        (Z::Pick, key(K::Left), C::Back),
        (Z::Pick, key(K::Enter), C::Open),
        (Z::Pick, letter('a'), C::Agree),
        (Z::Pick, letter('d'), C::Disagree),
        (Z::Pick, letter('u'), C::Unverified),
        (Z::Pick, letter('F'), C::Raise),
        (Z::Resample, key(K::Enter), C::Open),
        (Z::Resample, key(K::Right), C::Open),
        (Z::Resample, letter('a'), C::SetAside),
        (Z::Resample, letter('w'), C::Sheets),
        (Z::Resample, letter('t'), C::Strict),
        (Z::Resample, letter('f'), C::AddTerm),
        (Z::Resample, letter('s'), C::SortNext),
        (Z::Resample, letter('S'), C::SortTurn),
        (Z::Compartment, key(K::Left), C::Back),
        (Z::Compartment, key(K::Enter), C::Open),
        (Z::Compartment, letter('n'), C::CompartmentNext),
        (Z::Compartment, letter('p'), C::CompartmentBack),
        (Z::Compartment, letter('a'), C::SetAside),
        (Z::Compartment, letter('w'), C::Sheets),
        (Z::Compartment, letter('f'), C::AddTerm),
        (Z::Ledger, key(K::Enter), C::Open),
        (Z::Ledger, key(K::Right), C::Open),
        (Z::Ledger, letter('i'), C::Import),
        (Z::Ledger, letter('b'), C::TakeBack),
        (Z::Ledger, letter('e'), C::ExportRefused),
        (Z::Batch, letter('e'), C::ExportRefused),
        (Z::Batch, letter('b'), C::TakeBack),
        (Z::Batch, key(K::Tab), C::PaneNext),
        (Z::Batch, key(K::BackTab), C::PaneBack),
        (Z::Ledger, key(K::Tab), C::PaneNext),
        (Z::Ledger, key(K::BackTab), C::PaneBack),
        (Z::Doubts, key(K::Enter), C::Open),
        (Z::Doubts, key(K::Right), C::Open),
        (Z::Doubts, letter('f'), C::AddTerm),
        (Z::Doubts, key(K::Tab), C::PaneNext),
        (Z::Doubts, key(K::BackTab), C::PaneBack),
        (Z::Doubt, key(K::Enter), C::Open),
        (Z::Doubt, letter('f'), C::AddTerm),
        (Z::Doubt, key(K::Left), C::Back),
        (Z::Coverage, letter('s'), C::SortNext),
        (Z::Coverage, letter('i'), C::Import),
        (Z::Coverage, key(K::Tab), C::PaneNext),
        (Z::Coverage, key(K::BackTab), C::PaneBack),
        (Z::Batch, key(K::Left), C::Back),
        (Z::ImportFile, key(K::Enter), C::Open),
        (Z::ImportFile, key(K::Esc), C::Back),
        (Z::ImportFile, key(K::Tab), C::Complete),
        (Z::ImportFile, key(K::Down), C::Down),
        (Z::ImportFile, key(K::Up), C::Up),
        (Z::ImportFile, key(K::PageDown), C::PageDown),
        (Z::ImportFile, key(K::PageUp), C::PageUp),
        (Z::ImportFile, control('w'), C::DeletePart),
        (Z::ImportFile, control('u'), C::DeleteAll),
        (Z::ImportFile, key(K::Backspace), C::DeleteBefore),
        (Z::ImportFile, control('h'), C::DeleteBefore),
        (Z::ImportFile, key(K::Delete), C::DeleteAfter),
        (Z::ImportFile, key(K::Left), C::CharLeft),
        (Z::ImportFile, key(K::Right), C::CharRight),
        (Z::ImportFile, key(K::Home), C::LineStart),
        (Z::ImportFile, control('a'), C::LineStart),
        (Z::ImportFile, key(K::End), C::LineEnd),
        (Z::ImportFile, control('e'), C::LineEnd),
        (Z::ImportFile, key(K::F(1)), C::Help),
        (Z::ImportFile, control('c'), C::Quit),
        (Z::ImportMap, key(K::Enter), C::Open),
        (Z::ImportMap, letter('t'), C::TakeIn),
        (Z::ImportMap, letter('d'), C::TryAll),
        (Z::ImportMap, key(K::Tab), C::PaneNext),
        (Z::ImportMap, key(K::BackTab), C::PaneBack),
        (Z::ImportMap, key(K::Delete), C::LeaveOut),
        (Z::ImportMap, letter('x'), C::LeaveOut),
        (Z::ImportMap, letter('w'), C::SaveMap),
        (Z::ImportRows, letter('t'), C::TakeIn),
        (Z::ImportRows, letter('d'), C::TryAll),
        (Z::ImportRows, key(K::Tab), C::PaneNext),
        (Z::ImportRows, key(K::BackTab), C::PaneBack),
        (Z::ImportRows, key(K::Right), C::PersonNext),
        (Z::ImportRows, key(K::Left), C::PersonBack),
        (Z::ImportRows, letter('n'), C::SheetNext),
        (Z::ImportRows, letter('p'), C::SheetBack),
        (Z::ImportRows, letter('w'), C::SaveMap),
        (Z::Choices, key(K::Enter), C::Open),
        (Z::ImportTried, letter('t'), C::TakeIn),
        (Z::ImportTried, key(K::Enter), C::TakeIn),
        (Z::ImportDone, key(K::Enter), C::Open),
        (Z::Narrow, key(K::Enter), C::Open),
        (Z::Narrow, letter('f'), C::Open),
        (Z::FilterLine, key(K::Enter), C::Apply),
        (Z::FilterLine, key(K::Esc), C::Back),
        (Z::FilterLine, key(K::Tab), C::Complete),
        (Z::FilterLine, control('u'), C::DeleteAll),
        (Z::FilterLine, control('w'), C::DeleteWord),
        (Z::FilterLine, key(K::Backspace), C::DeleteBefore),
        (Z::FilterLine, control('h'), C::DeleteBefore),
        (Z::FilterLine, key(K::Delete), C::DeleteAfter),
        (Z::FilterLine, key(K::Left), C::CharLeft),
        (Z::FilterLine, key(K::Right), C::CharRight),
        (Z::FilterLine, key(K::Home), C::LineStart),
        (Z::FilterLine, control('a'), C::LineStart),
        (Z::FilterLine, key(K::End), C::LineEnd),
        (Z::FilterLine, control('e'), C::LineEnd),
        (Z::FilterLine, key(K::F(1)), C::Help),
        (Z::FilterLine, control('c'), C::Quit),
        (Z::FolderLine, key(K::Enter), C::WritePlans),
        (Z::FolderLine, key(K::Esc), C::Back),
        (Z::FolderLine, control('u'), C::DeleteAll),
        (Z::FolderLine, control('w'), C::DeleteWord),
        (Z::FolderLine, key(K::Backspace), C::DeleteBefore),
        (Z::FolderLine, control('h'), C::DeleteBefore),
        (Z::FolderLine, key(K::Delete), C::DeleteAfter),
        (Z::FolderLine, key(K::Left), C::CharLeft),
        (Z::FolderLine, key(K::Right), C::CharRight),
        (Z::FolderLine, key(K::Home), C::LineStart),
        (Z::FolderLine, control('a'), C::LineStart),
        (Z::FolderLine, key(K::End), C::LineEnd),
        (Z::FolderLine, control('e'), C::LineEnd),
        (Z::FolderLine, key(K::F(1)), C::Help),
        (Z::FolderLine, control('c'), C::Quit),
        (Z::Form, key(K::Enter), C::Send),
        (Z::Form, control('s'), C::SendNow),
        (Z::Form, key(K::Esc), C::Back),
        (Z::Form, key(K::Tab), C::FieldNext),
        (Z::Form, key(K::Down), C::FieldNext),
        (Z::Form, key(K::BackTab), C::FieldBack),
        (Z::Form, key(K::Up), C::FieldBack),
        (Z::Form, control('u'), C::DeleteAll),
        (Z::Form, control('w'), C::DeleteWord),
        (Z::Form, key(K::Backspace), C::DeleteBefore),
        (Z::Form, control('h'), C::DeleteBefore),
        (Z::Form, key(K::Delete), C::DeleteAfter),
        (Z::Form, key(K::Left), C::CharLeft),
        (Z::Form, key(K::Right), C::CharRight),
        (Z::Form, key(K::Home), C::LineStart),
        (Z::Form, control('a'), C::LineStart),
        (Z::Form, key(K::End), C::LineEnd),
        (Z::Form, control('e'), C::LineEnd),
        (Z::Form, key(K::F(1)), C::Help),
        (Z::Form, control('c'), C::Quit),
        (Z::Asked, key(K::Enter), C::GoOn),
        (Z::Asked, key(K::Esc), C::Back),
        (Z::Asked, control('u'), C::DeleteAll),
        (Z::Asked, control('w'), C::DeleteWord),
        (Z::Asked, key(K::Backspace), C::DeleteBefore),
        (Z::Asked, control('h'), C::DeleteBefore),
        (Z::Asked, key(K::Delete), C::DeleteAfter),
        (Z::Asked, key(K::Left), C::CharLeft),
        (Z::Asked, key(K::Right), C::CharRight),
        (Z::Asked, key(K::Home), C::LineStart),
        (Z::Asked, control('a'), C::LineStart),
        (Z::Asked, key(K::End), C::LineEnd),
        (Z::Asked, control('e'), C::LineEnd),
        (Z::Asked, key(K::F(1)), C::Help),
        (Z::Asked, control('c'), C::Quit),
    ]
};

/// What a key asks for in a zone, if anything.
#[must_use]
pub fn command(zone: Zone, event: KeyEvent) -> Option<Command> {
    let pressed = Key::of(event);
    let lookup = |wanted: Zone| {
        KEYS.iter()
            .find(|(zone, key, _)| *zone == wanted && *key == pressed)
            .map(|(_, _, command)| *command)
    };
    lookup(zone).or_else(|| {
        zone.shares_common_keys()
            .then(|| lookup(Zone::Everywhere))?
    })
}

/// The first key that asks for a command in a zone, as it is written.
#[must_use]
pub fn label(zone: Zone, command: Command, unicode: bool) -> Option<String> {
    let own = KEYS
        .iter()
        .find(|(place, _, bound)| *place == zone && *bound == command);
    let common = KEYS.iter().find(|(place, _, bound)| {
        zone.shares_common_keys() && *place == Zone::Everywhere && *bound == command
    });
    own.or(common).map(|(_, key, _)| key.label(unicode))
}

/// The keys of one zone alone: all keys of a command, and what it does, in table order.
#[must_use]
pub fn listing(zone: Zone, unicode: bool) -> Vec<(String, &'static str)> {
    let mut commands: Vec<Command> = Vec::new();
    for (place, _, command) in KEYS {
        if *place == zone && !commands.contains(command) {
            commands.push(*command);
        }
    }
    let keys = |command: Command| {
        KEYS.iter()
            .filter(|(place, _, bound)| *place == zone && *bound == command)
            .map(|(_, key, _)| key.label(unicode))
            .collect::<Vec<_>>()
            .join("  ")
    };
    commands
        .into_iter()
        .map(|command| (keys(command), command.text()))
        .collect()
}

/// The page `docs/keys.md`.
#[must_use]
pub fn docs_markdown() -> String {
    let mut page = String::from(
        "# Keys of the terminal interface\n\nPrinted by the program from its own table of keys. `?` shows the keys of the place\nyou are in.\n",
    );
    for zone in Zone::ALL {
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
        "\nThe mouse, where the terminal has one: the wheel scrolls, a click chooses a row or a\nscreen, a second click on a chosen row opens it.\n",
    );
    page
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn no_key_stands_twice_in_a_place() {
        for (at, (zone, key, _)) in KEYS.iter().enumerate() {
            let twice = KEYS[at + 1..]
                .iter()
                .any(|(other, same, _)| other == zone && same == key);
            assert!(!twice, "{zone:?} {key:?}");
        }
    }

    #[test]
    fn every_command_has_a_key() {
        for command in Command::ALL {
            assert!(
                KEYS.iter().any(|(_, _, bound)| bound == command),
                "{command:?}"
            );
        }
    }

    #[test]
    fn back_and_help_and_leaving_are_everywhere() {
        for zone in Zone::ALL {
            let event = |code| KeyEvent::new(code, KeyModifiers::NONE);
            assert_eq!(command(zone, event(KeyCode::Esc)), Some(Command::Back));
            assert_eq!(command(zone, event(KeyCode::F(1))), Some(Command::Help));
            let asks = command(zone, event(KeyCode::Char('?')));
            // In a line of text a question mark is text like any other.
            let expected = zone.shares_common_keys().then_some(Command::Help);
            assert_eq!(asks, expected, "{zone:?}");
            let stop = KeyEvent::new(KeyCode::Char('c'), KeyModifiers::CONTROL);
            assert_eq!(command(zone, stop), Some(Command::Quit));
        }
    }

    #[test]
    fn a_label_read_back_gives_its_command() {
        for (zone, key, bound) in KEYS {
            assert_eq!(command(*zone, key.event()), Some(*bound));
            assert!(label(*zone, *bound, false).unwrap().is_ascii());
        }
    }
}
