//! What stands beside or below a list, on a page of its own: where there is little room beside
//! the list, all of it can be read here.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::{Clear, Paragraph};

use super::topics::{self, Tab, asks, person, trainings};
use super::{people, points};
use crate::tui::action::Command;
use crate::tui::app::{App, Place};
use crate::tui::effect::Effect;
use crate::tui::keymap::{self, Zone};
use crate::tui::panel::{self, Panel};
use crate::tui::plain::{self, Told};
use crate::tui::update::at_place;
use crate::tui::widgets::table;
use crate::tui::{layout, moves, text};

/// The lines of what stands beside a list.
#[derive(Debug, Default)]
pub(crate) struct Written {
    pub(crate) lines: Vec<Line<'static>>,
    /// How many more there would be, had each part all the room it wants.
    pub(crate) left_out: usize,
}

impl Written {
    /// Lines of which none is left out.
    pub(crate) const fn all(lines: Vec<Line<'static>>) -> Self {
        Written { lines, left_out: 0 }
    }

    fn is_cut(&self, height: usize) -> bool {
        self.left_out > 0 || self.lines.len() > height
    }

    /// Draws as many as there is room for; the last line says how many more there are, and which
    /// key shows them.
    pub(crate) fn view(mut self, app: &App, frame: &mut Frame<'_>, area: Rect) {
        let height = usize::from(area.height);
        if self.is_cut(height) && height > 0 {
            let kept = self.lines.len().min(height - 1);
            let more = (self.lines.len() - kept + self.left_out) as u64;
            self.lines.truncate(kept);
            let unicode = app.theme.is_unicode();
            let key = keymap::label(app.place_zone(), Command::Whole, unicode);
            let shows = key.map_or_else(String::new, |key| format!("; {key} shows all"));
            let more = text::plural(more, "more line", "more lines");
            let words = format!("{} {more}{shows}", app.theme.pick("…", "..."));
            self.lines
                .push(Line::from(Span::styled(words, app.theme.faint())));
        }
        frame.render_widget(Paragraph::new(self.lines), area);
    }
}

/// What stands beside the chosen line, and where. With `whole` all of it, for an area so wide.
fn written(app: &App, whole: Option<Rect>) -> Option<(Written, Rect)> {
    let (pair, tab) = match app.place {
        Place::People => (people::panes(app), None),
        Place::Points => (points::panes(app), None),
        Place::Topics => (topics::panes(app), Some(app.screens.topics.tab)),
        _ => return None,
    };
    let area = whole.unwrap_or(pair.beside);
    let is_whole = whole.is_some();
    let written = match (app.place, tab) {
        (Place::People, _) => people::view::beside(app, area, is_whole)?,
        (Place::Points, _) => points::view::beside(app, area, is_whole)?,
        (_, Some(Tab::Heat)) => person::written(app, area, is_whole)?,
        (_, Some(Tab::Asks)) => Written::all(asks::lines(app, area)?),
        (_, _) => Written::all(trainings::lines(app, area)?),
    };
    Some((written, area))
}

/// Whether some of what stands beside the chosen line has no room there.
pub(crate) fn is_cut(app: &App) -> bool {
    let is_cut = |(written, area): (Written, Rect)| {
        area.width > 0 && written.is_cut(usize::from(area.height))
    };
    written(app, None).is_some_and(is_cut)
}

/// Shows all of it on a page.
pub(crate) fn open(app: &mut App) {
    if written(app, None).is_some() {
        panel::lay(app, Box::new(Page::default()));
    }
}

/// The page.
#[derive(Debug, Default)]
struct Page {
    /// The first line on screen.
    scroll: usize,
}

impl Page {
    fn lines(app: &App, body: Rect) -> Vec<Line<'static>> {
        written(app, Some(body)).map_or_else(Vec::new, |(written, _)| written.lines)
    }

    fn scrolled(&mut self, app: &App, by: isize) {
        let body = layout::body(app.size);
        let most = Page::lines(app, body).len();
        let most = most.saturating_sub(usize::from(body.height));
        self.scroll = self.scroll.saturating_add_signed(by).min(most);
    }
}

impl Panel for Page {
    fn zone(&self) -> Zone {
        Zone::Page
    }

    fn hinted(&self) -> &'static [Command] {
        &[Command::Back, Command::PageDown]
    }

    fn works(&self, app: &App, command: Command) -> bool {
        let body = layout::body(app.size);
        let below = || Page::lines(app, body).len() > self.scroll + usize::from(body.height);
        command != Command::PageDown || below()
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        let height = usize::from(layout::body(app.size).height);
        match (command, moves::distance(command, height)) {
            (Command::Back, _) => {}
            (_, Some(by)) => {
                self.scrolled(app, by);
                panel::lay(app, self);
            }
            (other, None) => at_place(app, other, effects),
        }
    }

    fn insert(self: Box<Self>, app: &mut App, _text: &str) {
        panel::lay(app, self);
    }

    fn ask(mut self: Box<Self>, app: &mut App, _effects: &mut Vec<Effect>) {
        self.scrolled(app, 0);
        panel::lay(app, self);
    }

    fn click(self: Box<Self>, app: &mut App, _at: Position) -> Option<Command> {
        panel::lay(app, self);
        None
    }

    fn wheel(mut self: Box<Self>, app: &mut App, _at: Position, by: isize) {
        self.scrolled(app, by);
        panel::lay(app, self);
    }

    fn told(&self, app: &App) -> Told {
        let mut told = Told::new(self.zone().title());
        told.say_all(plain::all_words(&Page::lines(app, layout::body(app.size))));
        told
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        let lines = Page::lines(app, body);
        let (len, height) = (lines.len(), usize::from(body.height));
        let shown: Vec<Line<'_>> = lines.into_iter().skip(self.scroll).take(height).collect();
        frame.render_widget(Clear, body);
        frame.render_widget(Paragraph::new(shown), body);
        // The bar counts the lines below the first, as it does below the headings of a list.
        table::scrollbar(frame, body, app.theme, self.scroll, len.saturating_sub(1));
    }
}
