//! Naming another programme file: a line with a path, and below it the programme files and
//! folders that lie there.

use super::{Effect, Stage, Start};
use crate::programme::folder::{What, path_of};
use crate::tui::action::Command;
use crate::tui::layout;
use crate::tui::moves;
use crate::tui::screens::import::picker::{self, Picker, Row};

/// Begins with the folder of the file at hand.
pub(super) fn begin(start: &mut Start) {
    let folder = start.file.parent().filter(|it| !it.as_os_str().is_empty());
    let folder = folder.map_or_else(String::new, |folder| {
        format!("{}{}", folder.display(), std::path::MAIN_SEPARATOR)
    });
    start.picker = Picker::of_programmes(&folder);
    start.stage = Stage::Naming;
}

/// Asks what lies in the folder of the line, where that is not known.
pub(super) fn ask(start: &mut Start) -> Option<Effect> {
    let is_known = start.picker.entries().is_some();
    if start.stage != Stage::Naming || is_known || start.looking {
        return None;
    }
    start.looking = true;
    Some(Effect::List(start.picker.parts().0.to_owned()))
}

/// Does what a key asked for; `Back` is the caller's.
pub(super) fn obey(start: &mut Start, command: Command) -> Vec<Effect> {
    let height = layout::rows_of(picker::list_area(start.size));
    let picker = &mut start.picker;
    match command {
        Command::Open => return open(start),
        Command::Complete => picker.complete(),
        Command::DeletePart => picker.cut_part(),
        other => match moves::distance(other, height) {
            Some(by) => {
                let len = picker.rows().len();
                picker.list.step(by, len, height);
            }
            None => {
                picker.line.obey(other);
                picker.begin_anew();
            }
        },
    }
    Vec::new()
}

/// Enter: goes into the chosen folder or opens the chosen file; where nothing here is called
/// so, opens what is written, as it may lie somewhere that can't be listed.
fn open(start: &mut Start) -> Vec<Effect> {
    let picker = &mut start.picker;
    let rows = picker.rows();
    let path = match rows.get(picker.list.cursor) {
        Some(Row::Up) => {
            picker.go_up();
            return Vec::new();
        }
        Some(Row::Entry(entry)) if entry.what == What::Folder => {
            let name = entry.name.clone();
            picker.enter(&name);
            return Vec::new();
        }
        Some(Row::Entry(entry)) => format!("{}{}", picker.parts().0, entry.name),
        _ => picker.line.text().to_owned(),
    };
    if path.trim().is_empty() {
        start.message = Some("Please name a file.".to_owned());
        return Vec::new();
    }
    start.file = path_of(&path);
    start.open()
}
