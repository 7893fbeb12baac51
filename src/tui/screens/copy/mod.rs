//! Copying: a cell, the row, the list, the filter, or the command line that tells what is on
//! screen. The panel shows the very text before it is handed to the terminal's clipboard.
//!
//! ```text
//! c cell       41.2 %  (share)          what there is to copy
//! r row        12 cells with headings
//! ────────────────────────────────
//! site:North crew:B                     the text of what is chosen
//! ```

mod listing;
mod lists;
mod texts;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};

use crate::tui::action::Command;
use crate::tui::app::App;
use crate::tui::clipboard::Clipboard;
use crate::tui::effect::{Effect, Fetch};
use crate::tui::keymap::{self, Zone};
use crate::tui::panel::{self, Panel};
use crate::tui::plain::{Rows, Told};
use crate::tui::update::at_place;
use crate::tui::widgets::boxed;
use crate::tui::{layout, moves, text};
use texts::Texts;

/// How wide the panel is where there is room.
const WIDTH: u16 = 110;

/// What can be copied, in the order of the panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum What {
    Cell,
    Row,
    List,
    Filter,
    Command,
}

impl What {
    const ALL: [What; 5] = [
        What::Cell,
        What::Row,
        What::List,
        What::Filter,
        What::Command,
    ];

    const fn name(self) -> &'static str {
        match self {
            What::Cell => "cell",
            What::Row => "row",
            What::List => "list",
            What::Filter => "filter",
            What::Command => "command line",
        }
    }

    /// What asks for it.
    const fn command(self) -> Command {
        match self {
            What::Cell => Command::CopyCell,
            What::Row => Command::CopyRow,
            What::List => Command::CopyList,
            What::Filter => Command::CopyFilter,
            What::Command => Command::CopyCommand,
        }
    }

    fn asked_for(command: Command) -> Option<Self> {
        Self::ALL.into_iter().find(|what| what.command() == command)
    }
}

/// The panel.
#[derive(Clone, Debug)]
pub(crate) struct Copy {
    what: What,
    /// The chosen cell of the row.
    cell: usize,
    /// The first line of the text on screen.
    scroll: usize,
    /// What there is to copy, worked out after every action.
    texts: Texts,
    /// Records that were asked for, so that they are asked for once.
    asked: bool,
}

/// Lays it over the screen.
pub(crate) fn open(app: &mut App) {
    let texts = Texts::of(app, None);
    let what = if texts.row.is_ok() {
        What::Row
    } else {
        What::Command
    };
    let cell = texts.first_cell;
    panel::lay(
        app,
        Box::new(Copy {
            what,
            cell,
            scroll: 0,
            texts: Texts::of(app, Some(cell)),
            asked: false,
        }),
    );
}

impl Copy {
    fn text(&self) -> &Result<String, String> {
        self.text_of(self.what)
    }

    const fn text_of(&self, what: What) -> &Result<String, String> {
        match what {
            What::Cell => &self.texts.cell,
            What::Row => &self.texts.row,
            What::List => &self.texts.list,
            What::Filter => &self.texts.filter,
            What::Command => &self.texts.command,
        }
    }

    /// What is said of it beside its name.
    fn about(&self, what: What) -> String {
        let why = |of: &Result<String, String>, about: &str| match of {
            Ok(_) => about.to_owned(),
            Err(why) => why.clone(),
        };
        match what {
            What::Cell => why(&self.texts.cell, &self.texts.about_cell),
            What::Row => why(&self.texts.row, &self.texts.about_row),
            What::List => why(&self.texts.list, &self.texts.about_list),
            What::Filter => why(&self.texts.filter, "as it is typed"),
            What::Command => why(&self.texts.command, "tells what is on screen"),
        }
    }

    fn turn_to(&mut self, what: What) {
        self.what = what;
        self.scroll = 0;
    }

    /// The lines of the text as they are shown: tabs as a sign, long lines broken.
    fn lines(&self, app: &App, width: usize) -> Vec<String> {
        let shown = match self.text() {
            Ok(shown) => shown.as_str(),
            Err(why) => return text::wrap(why, width),
        };
        let tab = app.theme.pick(" ⇥ ", " > ");
        let lines = shown.lines().map(|line| line.replace('\t', tab));
        lines.flat_map(|line| broken(&line, width)).collect()
    }

    fn area(&self, app: &App, body: Rect) -> Rect {
        let width = usize::from(WIDTH.min(body.width.saturating_sub(4)));
        let rows = What::ALL.len() + 1 + self.lines(app, width).len();
        boxed::area(body, WIDTH, rows as u16)
    }

    /// Lines of the text on screen.
    fn height(&self, app: &App, body: Rect) -> usize {
        let inner = usize::from(boxed::inner(self.area(app, body)).height);
        inner.saturating_sub(What::ALL.len() + 1).max(1)
    }

    /// What of the list was sent, what was left out, and how to have all of it.
    fn left_out(&self, app: &App, bytes: usize) -> String {
        let left = text::plural(self.texts.left_out as u64, "row is", "rows are");
        let whole = match &self.texts.export {
            Some(line) => format!(" All of them: {line}"),
            None => String::new(),
        };
        format!(
            "{} It holds {}; {left} left out.{whole}",
            app.clipboard.said(bytes),
            self.texts.about_list
        )
    }

    fn send(&self, app: &mut App, effects: &mut Vec<Effect>) -> bool {
        match self.text() {
            Ok(text) => {
                app.message = Some(app.clipboard.said(text.len()));
                if app.clipboard == Clipboard::None {
                    return false;
                }
                if self.what == What::List && self.texts.left_out > 0 {
                    app.message = Some(self.left_out(app, text.len()));
                }
                effects.push(Effect::Copy(text.clone()));
                true
            }
            Err(why) => {
                app.message = Some(why.clone());
                false
            }
        }
    }
}

/// A line in pieces of at most so many cells, nothing of it left out.
fn broken(line: &str, width: usize) -> Vec<String> {
    use unicode_segmentation::UnicodeSegmentation;
    let mut pieces = vec![String::new()];
    let mut used = 0;
    for grapheme in line.graphemes(true) {
        let wide = text::width(grapheme);
        if used + wide > width.max(1) {
            pieces.push(String::new());
            used = 0;
        }
        used += wide;
        if let Some(last) = pieces.last_mut() {
            last.push_str(grapheme);
        }
    }
    pieces
}

impl Panel for Copy {
    fn zone(&self) -> Zone {
        Zone::Copy
    }

    fn hinted(&self) -> &'static [Command] {
        &[Command::CopyNow, Command::CellNext, Command::Back]
    }

    fn hint(&self, command: Command) -> Option<&'static str> {
        match command {
            Command::CopyNow => Some("copy it"),
            _ => None,
        }
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        let at = self.what as usize;
        match command {
            Command::Back => return,
            Command::CopyNow => {
                if self.send(app, effects) {
                    return;
                }
            }
            Command::Up => self.turn_to(What::ALL[at.saturating_sub(1)]),
            Command::Down => self.turn_to(What::ALL[(at + 1).min(What::ALL.len() - 1)]),
            Command::CellNext | Command::CellBack => {
                let cells = self.texts.cells.max(1);
                let by = if command == Command::CellNext {
                    1
                } else {
                    cells - 1
                };
                // The first press shows the cell; the next ones move.
                if self.what == What::Cell {
                    self.cell = (self.cell + by) % cells;
                }
                self.turn_to(What::Cell);
            }
            other => match What::asked_for(other) {
                Some(what) => self.turn_to(what),
                None => {
                    let body = layout::body(app.size);
                    let height = self.height(app, body);
                    match moves::distance(other, height) {
                        Some(by) => self.scroll = self.scroll.saturating_add_signed(by),
                        None => return at_place(app, other, effects),
                    }
                }
            },
        }
        panel::lay(app, self);
    }

    fn insert(self: Box<Self>, app: &mut App, _text: &str) {
        panel::lay(app, self);
    }

    /// Works the texts out anew. Records of rows that were not on screen yet are fetched once.
    fn ask(mut self: Box<Self>, app: &mut App, effects: &mut Vec<Effect>) {
        self.texts = Texts::of(app, Some(self.cell));
        let body = layout::body(app.size);
        let width = usize::from(boxed::inner(self.area(app, body)).width);
        let most = self.lines(app, width).len();
        let most = most.saturating_sub(self.height(app, body));
        self.scroll = self.scroll.min(most);
        let missing = match self.what {
            What::List if !self.asked && !app.waiting.records && !app.unreadable => {
                lists::missing_records(app)
            }
            _ => Vec::new(),
        };
        if !missing.is_empty() {
            self.asked = true;
            app.waiting.records = true;
            effects.push(Effect::Fetch(Fetch::Records(missing)));
        }
        panel::lay(app, self);
    }

    fn click(mut self: Box<Self>, app: &mut App, at: Position) -> Option<Command> {
        let area = self.area(app, layout::body(app.size));
        if !area.contains(at) {
            return None;
        }
        let what = boxed::line_at(area, at).and_then(|row| What::ALL.get(row));
        let again = what.is_some_and(|what| *what == self.what);
        if let Some(what) = what {
            self.turn_to(*what);
        }
        panel::lay(app, self);
        again.then_some(Command::CopyNow)
    }

    fn wheel(mut self: Box<Self>, app: &mut App, _at: Position, by: isize) {
        self.scroll = self.scroll.saturating_add_signed(by);
        let body = layout::body(app.size);
        let width = usize::from(boxed::inner(self.area(app, body)).width);
        let most = self.lines(app, width).len();
        self.scroll = self.scroll.min(most.saturating_sub(self.height(app, body)));
        panel::lay(app, self);
    }

    fn told(&self, _app: &App) -> Told {
        let mut told = Told::new("Copying");
        told.say("A number says the text that stands there, an empty line that of the chosen one");
        if self.texts.left_out > 0 {
            let whole = self.texts.export.as_ref();
            told.say(&whole.map_or_else(String::new, |line| format!("All of the list: {line}")));
        }
        let noun = ("text", "texts");
        told.rows = Some(Rows::of(
            noun,
            What::ALL.len(),
            self.what as usize,
            "",
            |at| {
                let what = What::ALL[at];
                let text = match (what, self.text_of(what)) {
                    (What::Cell | What::Filter | What::Command, Ok(text)) => format!(": {text}"),
                    _ => String::new(),
                };
                format!("{}: {}{text}", what.name(), self.about(what))
            },
        ));
        told
    }

    fn choose(&mut self, _app: &App, row: usize) {
        if let Some(what) = What::ALL.get(row) {
            self.turn_to(*what);
        }
    }

    fn takes(&self) -> Command {
        Command::CopyNow
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        let theme = app.theme;
        let area = self.area(app, body);
        let width = usize::from(boxed::inner(area).width);
        let unicode = theme.pick("u", "a") == "u";
        let mut lines: Vec<Line<'static>> = What::ALL
            .into_iter()
            .map(|what| {
                let key = keymap::label(Zone::Copy, what.command(), unicode);
                let about = text::left(&self.about(what), width.saturating_sub(17));
                let line = Line::from(vec![
                    Span::styled(text::left(&key.unwrap_or_default(), 3), theme.strong()),
                    Span::raw(text::left(what.name(), 14)),
                    Span::styled(about, theme.faint()),
                ]);
                if what == self.what {
                    theme.choose(line)
                } else {
                    line
                }
            })
            .collect();
        let rule = theme.pick("─", "-").repeat(width);
        lines.push(Line::from(Span::styled(rule, theme.faint())));
        let height = self.height(app, body);
        let shown = self.lines(app, width).into_iter();
        let style = match self.text() {
            Ok(_) => theme.plain(),
            Err(_) => theme.faint(),
        };
        let shown = shown.skip(self.scroll).take(height);
        lines.extend(shown.map(|line| Line::from(Span::styled(line, style))));
        boxed::view(frame, area, "copy", lines, theme);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_broken_by_cells_and_nothing_is_lost() {
        assert_eq!(broken("abcdef", 4), ["abcd", "ef"]);
        assert_eq!(broken("油温計", 4), ["油温", "計"]);
        assert_eq!(broken("", 4), [""]);
        assert_eq!(broken("ab", 0), ["a", "b"][..].to_vec());
    }
}
