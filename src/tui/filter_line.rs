//! The filter line while it is edited.

use super::action::Command;
use super::app::{App, FilterEdit, Over};
use super::complete::Completion;
use super::steps::{change, list_place};
use crate::analysis::Filter;

/// The filter as it stands, if it can be read.
pub(crate) fn parsed(edit: &FilterEdit) -> Option<Filter> {
    Filter::parse(edit.line.text().trim_end()).ok()
}

/// Looks for mistakes after a keystroke.
pub(crate) fn check(edit: &mut FilterEdit) {
    edit.stroke += 1;
    edit.tried = false;
    edit.error = Filter::parse(edit.line.text().trim_end()).err();
}

/// Takes typed or pasted text in.
pub(crate) fn insert(app: &mut App, text: &str) {
    if let Some(Over::Filter(edit)) = &mut app.over {
        edit.line.insert(text);
        check(edit);
    }
}

/// Does what a key asked for in the filter line.
pub(crate) fn obey(app: &mut App, mut edit: FilterEdit, command: Command) {
    let line = &mut edit.line;
    match command {
        Command::Back => return,
        Command::Apply => match Filter::parse(line.text().trim_end()) {
            Ok(filter) => return change(app, filter, list_place(app.place)),
            Err(error) => {
                edit.error = Some(error);
                edit.tried = true;
                app.over = Some(Over::Filter(edit));
                return;
            }
        },
        Command::Complete => complete(app, &mut edit),
        other => line.obey(other),
    }
    check(&mut edit);
    app.over = Some(Over::Filter(edit));
}

fn complete(app: &App, edit: &mut FilterEdit) {
    let Some(assessed) = &app.data else { return };
    let completion = Completion::of(assessed, edit.line.before_cursor());
    if let Some(insertion) = completion.insertion() {
        edit.line.replace_before(completion.typed, &insertion);
    }
}
