//! The line that asks which folder plans are written to.

use std::path::PathBuf;

use super::action::Command;
use super::app::{App, Loading, Over};
use super::effect::{Effect, PlansOrder, Written};
use super::line_edit::LineEdit;
use super::text;

/// The folder while it is being written.
#[derive(Clone, Debug, Default)]
pub(crate) struct FolderEdit {
    pub(crate) line: LineEdit,
    /// Why the plans could not be written, or what is under way.
    pub(crate) said: Option<String>,
}

/// Asks for the folder, if anyone is ticked.
pub(crate) fn ask(app: &mut App) {
    if app.ticked.is_empty() {
        app.message = Some("Nobody is ticked yet; Space ticks the chosen one.".to_owned());
        return;
    }
    app.over = Some(Over::Folder(FolderEdit {
        line: LineEdit::new(&app.plans_folder),
        said: None,
    }));
}

/// Takes typed or pasted text in.
pub(crate) fn insert(edit: &mut FolderEdit, text: &str) {
    edit.line.insert(text);
    edit.said = None;
}

/// Does what a key asked for in the line.
pub(crate) fn obey(
    app: &mut App,
    mut edit: FolderEdit,
    command: Command,
    effects: &mut Vec<Effect>,
) {
    match command {
        Command::Back if app.waiting.plans => {
            edit.said = Some("Stopping.".to_owned());
            effects.push(Effect::StopPlans);
        }
        Command::Back => return,
        Command::WritePlans => {
            let folder = edit.line.text().trim().to_owned();
            if folder.is_empty() {
                edit.said = Some("Please name a folder.".to_owned());
            } else if !app.waiting.plans {
                edit.said = Some("Writing; Esc stops it.".to_owned());
                app.writing = Loading::default();
                app.plans_folder.clone_from(&folder);
                app.waiting.plans = true;
                effects.push(Effect::WritePlans(order(app, &folder)));
            }
        }
        other => edit.line.obey(other),
    }
    app.over = Some(Over::Folder(edit));
}

fn order(app: &App, folder: &str) -> PlansOrder {
    PlansOrder {
        folder: PathBuf::from(folder),
        technicians: app.ticked.clone(),
        filter: app.filter.clone(),
        selection: app.selection.clone(),
    }
}

/// The plans were written, or not.
pub(crate) fn answered(app: &mut App, written: Result<Written, String>) {
    app.waiting.plans = false;
    match (written, &mut app.over) {
        (Err(words), Some(Over::Folder(edit))) => edit.said = Some(words),
        (Err(words), _) => app.message = Some(words),
        (Ok(written), over) => {
            if matches!(over, Some(Over::Folder(_))) {
                *over = None;
            }
            app.message = Some(words(&written, usize::from(app.size.width)));
        }
    }
}

/// Where the plans are, in one line; a long folder keeps its end.
fn words(written: &Written, width: usize) -> String {
    let plans = match written.plans {
        1 => "1 plan is in ".to_owned(),
        many => format!("{many} plans are in "),
    };
    let left_out = match written.left_out {
        0 => ".".to_owned(),
        some => format!(" ({some} without a draw in view left out)."),
    };
    let room = width.saturating_sub(2 + text::width(&plans) + text::width(&left_out));
    format!("{plans}{}{left_out}", text::cut_left(&written.folder, room))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_folder_keeps_its_end() {
        let written = Written {
            plans: 2,
            left_out: 1,
            folder: "/home/trainer/handed out/autumn".to_owned(),
        };
        assert_eq!(
            words(&written, 120),
            "2 plans are in /home/trainer/handed out/autumn (1 without a draw in view left out)."
        );
        let narrow = words(&written, 66);
        assert!(
            narrow.contains("… out/autumn (1") && narrow.chars().count() <= 64,
            "{narrow}"
        );
    }
}
