//! What is said where a key is bound but has nothing to do at this moment: a silent key leaves
//! people in doubt whether it was pressed.

use super::action::Command;
use super::app::{App, Place};
use super::works::works;

/// A screen at the moment at which a key is pressed that would do nothing.
pub(crate) struct Idle {
    words: &'static str,
    /// The command would still turn a heading, of a list in which nothing can change places.
    sorts: bool,
    place: Place,
    turn: u64,
}

impl Idle {
    /// What will be said of a command, if it would do nothing; none for keys that only move.
    pub(crate) fn of(app: &App, command: Command) -> Option<Self> {
        let is_at_place = app.over.is_none() && app.data.is_some();
        if !is_at_place || works(app, command) {
            return None;
        }
        Some(Idle {
            words: why(app, command)?,
            sorts: matches!(
                command,
                Command::SortNext | Command::SortTurn | Command::ByRegained
            ),
            place: app.place,
            turn: app.turn,
        })
    }

    /// Whether it is said in place of doing anything.
    pub(crate) const fn is_instead(&self) -> bool {
        self.sorts
    }

    /// Says it, where the command has said nothing itself and all stands as it did.
    pub(crate) fn say(self, app: &mut App) {
        let is_same = app.place == self.place && app.turn == self.turn && app.over.is_none();
        if is_same && app.message.is_none() {
            app.message = Some(self.words.to_owned());
        }
    }
}

fn why(app: &App, command: Command) -> Option<&'static str> {
    use Command as C;
    let decides = matches!(
        command,
        C::SetAside
            | C::Raise
            | C::TakeBack
            | C::AnswerFinding
            | C::CloseFinding
            | C::WithdrawFinding
            | C::DrawPick
            | C::Agree
            | C::Disagree
            | C::Unverified
    );
    if decides && app.read_only {
        return Some("The programme file can only be read; nothing can be decided in it.");
    }
    Some(match command {
        C::SortNext | C::SortTurn | C::ByRegained => {
            "Fewer than two lines: there is nothing to sort."
        }
        C::Open => "Nothing lies behind this line.",
        C::AddTerm => "This is nothing that a filter can ask for.",
        C::Compartment => "No draw is chosen whose compartment it could be.",
        C::DrawNext => "This is the last draw of the list.",
        C::DrawBack => "This is the first draw of the list.",
        C::CompartmentNext => "This is the last compartment of the list.",
        C::CompartmentBack => "This is the first compartment of the list.",
        C::Whole => "All of it is on screen already.",
        C::Tick => "There is nobody to tick.",
        C::SetAside => "No draw is chosen to set aside.",
        C::Raise => "Nothing is chosen that a finding could be about.",
        C::Sheets => "Nothing is to be sampled again: there is no sheet to write.",
        C::ExportRefused => "No refused row of this batch is left to mend.",
        C::TakeBack => "This batch no longer counts, or takes another one back.",
        C::LeaveOut => "Only a column of ours can be left out.",
        C::AnswerFinding | C::CloseFinding | C::WithdrawFinding => "No finding is chosen.",
        C::Agree | C::Disagree | C::Unverified => "No draw of a pick is chosen.",
        C::SheetNext => "This is the last sheet.",
        C::RowsNext => "There are no further rows to the right.",
        _ => return None,
    })
}
