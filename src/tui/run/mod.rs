//! The loop: event → action → update → effects → view. Work that takes time is done on threads:
//! one owns the programme file, two reckon over the judged programme in memory (one of them
//! what takes long), and those that examine, take in and write have one each. Another hands
//! the frames to the terminal, so that nothing waits for a terminal that does not read.

mod desk;
mod early;
mod errands;
mod folders;
mod keeper;
mod listening;
mod look;
mod own_file;
mod signals;
mod wake;
mod workers;

use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};

use ratatui::layout::Size;

use super::app::App;
use super::clipboard::Clipboard;
use super::error::Error;
use super::start::run::{Begun, Doorstep, First};
use super::terminal::{self, Screen};
use super::theme::Theme;
use crate::model::Progress;
use crate::programme::Beginning;
use crate::programme::remembered::Keeper;
pub(super) use desk::GLANCE;
use desk::{Desk, Left};
pub(super) use early::Early;
use errands::Errands;
pub(super) use folders::{folder_beside, import_folder};
pub(super) use look::Look;
pub(super) use wake::{Alarm, Wake};

/// Runs the terminal interface until the user leaves: before a programme is open, and on it.
///
/// # Errors
/// There is no terminal or it can't be used, or the programme can't be read.
pub fn run(beginning: &Beginning) -> Result<(), Error> {
    if !terminal::is_there() {
        return Err(Error::NoTerminal);
    }
    match until_left(beginning) {
        // It may vanish while something is drawn: that is an end like any other.
        Err(Error::Terminal(_)) if !terminal::is_there() => Ok(()),
        ended => ended,
    }
}

fn until_left(beginning: &Beginning) -> Result<(), Error> {
    let (wake, woken) = channel();
    signals::listen(wake.clone())?;
    let written = wake.clone();
    let mut screen = Screen::enter_telling(move |is_there| {
        let _ = written.send(match is_there {
            true => Wake::Written,
            false => Wake::TerminalGone,
        });
    })?;
    let mut look = Look::new(beginning.colours);
    listening::listen(wake.clone(), !look.is_settled);
    let mut first = First::of(beginning);
    loop {
        let mut doorstep = Doorstep::new(beginning, &wake, &woken);
        let begun = doorstep.wait(first, &mut look, &mut screen)?;
        let Some(begun) = begun else { return Ok(()) };
        match sit(begun, &mut look, screen, &wake, &woken)? {
            Some(kept) => screen = kept,
            None => return Ok(()),
        }
        first = First::Name;
    }
}

/// Runs the interface on an open programme until the user leaves; the terminal comes back
/// where another programme is to be opened.
fn sit(
    begun: Begun,
    look: &mut Look,
    mut screen: Screen,
    wake: &Sender<Wake>,
    woken: &Receiver<Wake>,
) -> Result<Option<Screen>, Error> {
    let remembered = Keeper::of(&begun.programme, &|name| std::env::var(name).ok());
    let app = app(&begun, look.theme, screen.size()?, &remembered)
        .with_colours_free(look.is_free)
        .as_it_was_left(&remembered);
    let Begun {
        programme, file, ..
    } = begun;
    let reading = Arc::new(Progress::default());
    let errands = Errands::begin(programme, &file, reading, remembered, wake);
    let mut desk = Desk::new(app, errands);
    let ended = desk.work(&mut screen, look, woken);
    // Whoever leaves has the terminal back before the threads have come to an end.
    let goes_on = matches!(ended, Ok(Left::ForAnother));
    let screen = goes_on.then_some(screen);
    let (app, errands) = desk.leave();
    errands.remember(&app);
    let closed = errands.end();
    ended?;
    closed?;
    if goes_on {
        // What the threads said last was meant for the state that is gone.
        while let Ok(wake) = woken.try_recv() {
            match wake {
                Wake::Looked(background) => look.settle(background),
                Wake::Signal | Wake::TerminalGone => return Ok(None),
                _ => {}
            }
        }
        return Ok(screen);
    }
    match app.failed {
        Some(words) => Err(Error::Unread(words)),
        None => Ok(None),
    }
}

fn app(begun: &Begun, theme: Theme, size: Size, remembered: &Keeper) -> App {
    let path = begun.file.as_path();
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
        .with_file(&path.display().to_string())
        .with_clipboard(Clipboard::from_environment(|name| std::env::var(name).ok()))
        .with_memory(remembered)
        .with_read_only(begun.programme.is_read_only())
        .with_new_file(begun.programme.path().is_none())
        .with_who(begun.who.clone())
}
