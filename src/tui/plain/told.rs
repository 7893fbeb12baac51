//! What is told of where the user is: a title, sentences, numbered rows; and of all that only
//! what has changed.

use super::rows::Rows;
use super::{draws, findings, forms, import, opened, people, points, records, resample, share};
use super::{topics, voice};
use crate::tui::app::{App, Over, Place};
use crate::tui::empty::{self, Empty};
use crate::tui::frame;
use crate::tui::text;

/// More cells than any line needs: nothing is wrapped or cut.
pub(super) const WIDE: u16 = 4000;

/// What is told of a place.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Told {
    /// Where one is; another title is another place.
    pub(crate) title: String,
    /// The filter, and how many draws are in view.
    pub(crate) filter: String,
    pub(crate) sentences: Vec<String>,
    pub(crate) rows: Option<Rows>,
    /// What is said whenever it holds, such as a mistake that was made again.
    pub(crate) notices: Vec<String>,
}

impl Told {
    pub(crate) fn new(title: &str) -> Self {
        Told {
            title: title.to_owned(),
            ..Told::default()
        }
    }

    /// Adds a sentence; an empty one is none.
    pub(crate) fn say(&mut self, words: &str) {
        let words = words.trim();
        if !words.is_empty() {
            self.sentences.push(voice::stopped(words));
        }
    }

    /// Adds a notice, which is said whenever it holds.
    pub(crate) fn notice(&mut self, words: &str) {
        self.notices.push(voice::stopped(words));
    }

    pub(crate) fn say_all(&mut self, words: impl IntoIterator<Item = String>) {
        for words in words {
            self.say(&words);
        }
    }

    /// All of it.
    pub(crate) fn whole(&self) -> Vec<String> {
        let mut lines = vec![format!("{}.", self.title)];
        if !self.filter.is_empty() {
            lines.push(self.filter.clone());
        }
        lines.extend(self.notices.iter().cloned());
        lines.extend(self.sentences.iter().cloned());
        lines.extend(self.rows.iter().flat_map(Rows::whole));
        lines
    }

    /// Where one is, where all of it was told before.
    pub(crate) fn brief(&self) -> Vec<String> {
        let mut lines = vec![format!("{}.", self.title)];
        if !self.filter.is_empty() {
            lines.push(self.filter.clone());
        }
        lines.extend(self.rows.iter().flat_map(Rows::brief));
        lines
    }

    /// What is new against what was told before; all of it in another place.
    pub(crate) fn since(&self, before: &Told) -> Vec<String> {
        if self.title != before.title {
            return self.whole();
        }
        let mut lines = Vec::new();
        if self.filter != before.filter {
            lines.push(self.filter.clone());
        }
        lines.extend(self.notices.iter().cloned());
        let is_new = |words: &&String| !before.sentences.contains(words);
        lines.extend(self.sentences.iter().filter(is_new).cloned());
        lines.extend(match (&self.rows, &before.rows) {
            (Some(rows), Some(before)) => rows.since(before),
            (Some(rows), None) => rows.whole(),
            (None, _) => Vec::new(),
        });
        lines
    }
}

/// The place, whatever lies over it.
pub(crate) fn place(app: &App) -> Told {
    let mut told = match app.place {
        _ if app.data.is_none() => Told::new("The programme is not read yet"),
        place if empty::of(app) == Some(Empty::Programme) => nothing_yet(place),
        Place::Share => share::told(app),
        Place::Draws => draws::told(app),
        Place::Opened => opened::told(app),
        Place::People => people::told(app),
        Place::Points => points::told(app),
        Place::Topics => topics::told(app),
        Place::Findings => findings::told(app),
        Place::Resample => resample::told(app),
        Place::Records => records::told(app),
        Place::Import => import::told(app),
    };
    let is_filtered = !matches!(app.place, Place::Import | Place::Opened);
    if app.data.is_some() && is_filtered {
        told.filter = filter(app);
    }
    told
}

/// A place in a programme without draws.
fn nothing_yet(place: Place) -> Told {
    let mut told = Told::new(screen_name(place));
    told.say(&format!(
        "No draws yet. Here will stand {}",
        empty::will_show(place)
    ));
    told.say("import takes your tables in");
    told
}

/// What lies over the place and takes the lines, if anything.
pub(crate) fn over(app: &App) -> Option<Told> {
    Some(match app.over.as_ref()? {
        Over::Folder(edit) => forms::folder(app, edit),
        Over::Form(form) => forms::form(app, form),
        Over::Asked(asked) => forms::asked(app, asked),
        Over::Choices(choices) => forms::choices(choices),
        Over::Panel(panel) => panel.told(app),
        Over::Help(help) => forms::help(app, help.zone),
    })
}

/// All that is to be known of the chosen row.
pub(crate) fn more(app: &App) -> Vec<String> {
    if app.over.is_some() || app.data.is_none() {
        return Vec::new();
    }
    match app.place {
        Place::Share => share::more(app),
        Place::Draws => draws::more(app),
        Place::Opened => opened::more(app),
        Place::People => people::more(app),
        Place::Points => points::more(app),
        Place::Topics => topics::more(app),
        Place::Findings => findings::more(app),
        Place::Resample => resample::more(app),
        Place::Records => records::more(app),
        Place::Import => import::more(app),
    }
}

/// The filter and how many draws are in view, in a sentence.
pub(crate) fn filter(app: &App) -> String {
    let Some(assessed) = &app.data else {
        return String::new();
    };
    let all = text::plural(assessed.judged.len() as u64, "draw", "draws");
    if app.filter.is_empty() {
        return format!("No filter, {all}.");
    }
    let shown = text::count(app.selection.len() as u64);
    format!("Filter {}: {shown} of {all}.", app.filter)
}

/// The name of the place as the header has it.
pub(crate) fn screen_name(place: Place) -> &'static str {
    frame::tab_of(place).map_or("fairdraw", |tab| tab.name)
}

/// A panel that has no words of its own, read off what it draws.
pub(crate) fn read_off(
    title: &str,
    app: &App,
    draw: impl FnOnce(&mut ratatui::Frame<'_>, ratatui::layout::Rect),
) -> Told {
    use ratatui::Terminal;
    use ratatui::backend::TestBackend;
    let mut told = Told::new(title);
    let (width, height) = (app.size.width, app.size.height);
    let Ok(mut terminal) = Terminal::new(TestBackend::new(width, height));
    let Ok(_) = terminal.draw(|frame| {
        let body = crate::tui::layout::body(app.size);
        draw(frame, body);
    });
    let buffer = terminal.backend().buffer();
    for y in 0..height {
        let line: String = (0..width).map(|x| buffer[(x, y)].symbol()).collect();
        let spoken = voice::Voice { unicode: true }.line(&line);
        let is_frame = spoken
            .chars()
            .all(|sign| matches!(sign, '-' | '|' | '+' | ' '));
        if !is_frame {
            told.say(spoken.trim_matches(['|', ' ']));
        }
    }
    told
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(sentences: &[&str], chosen: usize) -> Told {
        Told {
            title: "Draws".to_owned(),
            filter: "No filter, 12 draws.".to_owned(),
            sentences: sentences.iter().map(|it| (*it).to_owned()).collect(),
            notices: Vec::new(),
            rows: Some(Rows::of(("draw", "draws"), 12, chosen, "", |at| {
                format!("d{at}")
            })),
        }
    }

    #[test]
    fn only_what_changed_is_said_again() {
        let before = told(&["one", "two"], 0);
        assert!(told(&["one", "two"], 0).since(&before).is_empty());
        assert_eq!(told(&["one", "three"], 0).since(&before), ["three"]);
        assert_eq!(told(&["one", "two"], 3).since(&before), ["4. d3"]);
        let next = told(&["one", "two"], 10).since(&before);
        assert_eq!(next, ["Draws 11 to 12 of 12.", "11. d10", "12. d11"]);
        let elsewhere = Told {
            title: "Share".to_owned(),
            ..told(&["one"], 0)
        };
        assert_eq!(elsewhere.since(&before), elsewhere.whole());
    }
}
