//! Whether a key does anything at this moment. The last row names no key that does not.

use super::action::Command;
use super::app::{App, Over, Place};
use super::screens::{draws, help, page, people, picture, share, topics};
use super::update::chosen_narrower;
use super::{empty, form_command, frame};

/// Whether a command would do something where the user is.
pub(crate) fn works(app: &App, command: Command) -> bool {
    match &app.over {
        Some(Over::Panel(panel)) => panel.works(app, command),
        Some(Over::Help(page)) => help::works(app, page, command),
        Some(Over::Folder(edit)) => in_line(command, edit.line.text()),
        Some(Over::Asked(asked)) => in_line(command, asked.line.text()),
        Some(Over::Form(form)) => match command {
            // A form of one field has none before it.
            Command::FieldBack => form.fields.len() > 1,
            Command::CopyCommand => form_command::of(app, form).is_some(),
            _ => true,
        },
        Some(Over::Choices(_)) => true,
        None if app.data.is_none() => true,
        None => at_place(app, command),
    }
}

/// An empty line has nothing to delete.
fn in_line(command: Command, text: &str) -> bool {
    !text.is_empty() || !matches!(command, Command::DeleteWord | Command::DeleteAll)
}

fn at_place(app: &App, command: Command) -> bool {
    if command == Command::Back && picture::open(app).is_some() {
        return true;
    }
    if empty::of(app).is_some() && matches!(command, Command::Import | Command::EditFilter) {
        return true;
    }
    let own = frame::screen(app.place).and_then(|screen| screen.works(app, command));
    own.unwrap_or_else(|| in_general(app, command))
}

/// What holds on every screen that does not know better.
fn in_general(app: &App, command: Command) -> bool {
    use Command as C;
    match command {
        C::Back => app.place == Place::Opened || !app.steps.is_empty(),
        C::DropTerm => !app.filter.is_empty(),
        C::Open | C::AddTerm | C::Compartment if app.place == Place::Draws => {
            app.chosen_row().is_some()
        }
        C::Open if app.place == Place::Topics => topics::draws_behind(app).is_some(),
        C::Open | C::AddTerm => chosen_narrower(app).is_some(),
        C::Compartment => app.chosen_row().is_some(),
        C::DrawNext => app.screens.draws.list.cursor + 1 < app.list_len(),
        C::DrawBack => app.screens.draws.list.cursor > 0,
        C::PageDown if app.place == Place::Opened => {
            let lines = draws::view::opened_text(app).map_or(0, |text| text.lines.len());
            app.screens.draws.scroll + draws::opened_height(app) < lines
        }
        C::SetAside => !app.read_only && app.chosen_row().is_some(),
        C::Raise => !app.read_only && can_be_raised(app),
        C::Whole => page::is_cut(app),
        C::Tick => topics::chosen_unit(app).is_some(),
        C::Plans => !app.ticked.is_empty(),
        C::ByRegained => topics::units(app).len() > 1,
        C::SortTurn | C::SortNext if app.place == Place::Draws => app.list_len() > 1,
        C::SortNext if app.place == Place::Share => share::len(app, share::Section::Rules) > 1,
        _ => true,
    }
}

/// Whether a finding can be raised about what is chosen.
fn can_be_raised(app: &App) -> bool {
    match app.place {
        Place::Draws | Place::Opened => app.chosen_row().is_some(),
        Place::People => !app.screens.people.crews && people::chosen(app).is_some(),
        _ => chosen_narrower(app).is_some(),
    }
}
