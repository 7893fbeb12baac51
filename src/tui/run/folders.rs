//! The folders that are offered to read from and to write into.

use std::path::{MAIN_SEPARATOR, Path, PathBuf};

/// The folder of this name that is offered to write into: beside the programme, or, since a
/// programme among temporary files goes with them, in the present folder.
pub(in crate::tui) fn folder_beside(programme: &Path, name: &str) -> String {
    let beside = programme.parent().unwrap_or(Path::new(""));
    let folder = if programme.starts_with(std::env::temp_dir()) {
        PathBuf::from(name)
    } else {
        beside.join(name)
    };
    folder.display().to_string()
}

/// The folder whose tables are offered: that of the programme, as [`folder_beside`] has it.
pub(in crate::tui) fn import_folder(programme: &Path) -> String {
    let beside = programme.parent().unwrap_or(Path::new(""));
    if beside.as_os_str().is_empty() || programme.starts_with(std::env::temp_dir()) {
        return String::new();
    }
    format!("{}{MAIN_SEPARATOR}", beside.display())
}
