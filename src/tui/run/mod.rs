//! The loop: event → action → update → effects → view. Work that takes time is done on threads:
//! one owns the programme file, two reckon over the judged programme in memory (one of them
//! what takes long), and those that examine, take in and write have one each. Another hands
//! the frames to the terminal, so that nothing waits for a terminal that does not read.

mod desk;
mod errands;
mod folders;
mod keeper;
mod listening;
mod own_file;
mod signals;
mod wake;
mod workers;

use std::path::Path;
use std::sync::Arc;
use std::sync::mpsc::channel;

use ratatui::layout::Size;

use super::app::App;
use super::error::Error;
use super::terminal::{self, Screen};
use super::theme::Theme;
use crate::model::Progress;
use crate::model::trail::Who;
use crate::programme::Programme;
use desk::Desk;
use errands::Errands;
use folders::{folder_beside, import_folder};
use wake::Wake;

/// Runs the terminal interface on an open programme until the user leaves.
///
/// # Errors
/// There is no terminal or it can't be used, or the programme can't be read.
pub fn run(programme: Programme, path: &Path, who: Option<Who>) -> Result<(), Error> {
    if !terminal::is_there() {
        return Err(Error::NoTerminal);
    }
    let (wake, woken) = channel();
    let read_only = programme.is_read_only();
    let reading = Arc::new(Progress::default());
    let errands = Errands::begin(programme, path, reading, &wake);
    signals::listen(wake.clone())?;
    let theme = Theme::from_environment(|name| std::env::var(name).ok());
    let written = wake.clone();
    let mut screen = Screen::enter_telling(move |is_there| {
        let _ = written.send(match is_there {
            true => Wake::Written,
            false => Wake::TerminalGone,
        });
    })?;
    listening::listen(wake);
    let app = app(path, theme, screen.size()?, who, read_only);
    let mut desk = Desk::new(app, errands);
    let ended = desk.work(&mut screen, &woken);
    drop(screen);
    let (app, errands) = desk.leave();
    let closed = errands.end();
    ended?;
    closed?;
    match app.failed {
        Some(words) => Err(Error::Unread(words)),
        None => Ok(()),
    }
}

fn app(path: &Path, theme: Theme, size: Size, who: Option<Who>, read_only: bool) -> App {
    let title = path.file_name().map_or_else(
        || path.display().to_string(),
        |name| name.to_string_lossy().into_owned(),
    );
    App::new(&title, theme, size)
        .with_plans_folder(&folder_beside(path, "plans"))
        .with_import_folder(&import_folder(path))
        .with_paper_folders(
            &folder_beside(path, "resample"),
            &folder_beside(path, "pack"),
        )
        .with_read_only(read_only)
        .with_who(who)
}
