//! The last row: the keys that work at this moment, most useful first, or a message. A click on
//! a key there does what the key does.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Clear, Paragraph};

use super::action::Command;
use super::app::{App, Over};
use super::frame::screen;
use super::keymap::{self, Zone};
use super::screens::picture;
use super::view::line;
use super::{empty, steps, text, works};

/// The cells between one hint and the next.
const GAP: usize = 3;

/// A key and what it does, where it stands in the row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Hint {
    pub(crate) command: Command,
    key: String,
    words: String,
    /// Its first cell.
    start: usize,
}

impl Hint {
    fn cells(&self) -> usize {
        text::width(&self.key) + 1 + text::width(&self.words)
    }
}

/// The message that stands in the row instead of the keys.
fn message(app: &App) -> Option<String> {
    let news = app.news().map(ToOwned::to_owned);
    app.message.clone().or(news)
}

/// The keys as there is room for them. How to get help and how to leave stand at the right end,
/// whatever else there is.
pub(crate) fn row(app: &App) -> Vec<Hint> {
    let width = usize::from(app.size.width);
    let zone = app.zone();
    let fixed: Vec<Hint> = [Command::Help, Command::Quit]
        .into_iter()
        .filter_map(|command| hint(app, zone, command))
        .collect();
    let reserved: usize = fixed.iter().map(|hint| hint.cells() + GAP).sum();
    let mut row: Vec<Hint> = Vec::new();
    let mut used = 1;
    for command in commands(app, zone) {
        if !works::works(app, *command) {
            continue;
        }
        let Some(mut hint) = hint(app, zone, *command) else {
            continue;
        };
        if used + hint.cells() + reserved > width {
            break;
        }
        hint.start = used;
        used += hint.cells() + GAP;
        row.push(hint);
    }
    let mut start = (width + GAP - 1).saturating_sub(reserved).max(used);
    for mut hint in fixed {
        hint.start = start;
        start += hint.cells() + GAP;
        row.push(hint);
    }
    row
}

fn commands(app: &App, zone: Zone) -> &[Command] {
    let own = screen(app.place).filter(|_| app.over.is_none() && app.data.is_some());
    let empty = empty::of(app).filter(|_| app.over.is_none());
    let picture = picture::open(app).filter(|_| app.over.is_none());
    match (&app.over, own) {
        (Some(Over::Panel(panel)), _) => panel.hinted(),
        _ if empty.is_some() => empty.map_or(&[], empty::hinted),
        _ if picture.is_some() => picture.map_or(&[], |picture| picture.hinted()),
        (_, Some(screen)) => screen.hinted(zone),
        (_, None) => hinted(zone),
    }
}

/// What a click in the row asks for.
pub(crate) fn command_at(app: &App, x: u16) -> Option<Command> {
    let x = usize::from(x);
    let under = |hint: &Hint| (hint.start..hint.start + hint.cells()).contains(&x);
    row(app).into_iter().find(under).map(|hint| hint.command)
}

/// Draws the row.
pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let y = app.size.height - 1;
    if let Some(words) = message(app) {
        return said(app, &words, frame);
    }
    let mut spans = Vec::new();
    let mut used = 0;
    for hint in row(app) {
        spans.push(Span::raw(" ".repeat(hint.start.saturating_sub(used))));
        used = hint.start + hint.cells();
        spans.push(Span::styled(hint.key, theme.key()));
        spans.push(Span::styled(format!(" {}", hint.words), theme.faint()));
    }
    line(frame, y, spans);
}

fn hint(app: &App, zone: Zone, command: Command) -> Option<Hint> {
    let key = keymap::label(zone, command, app.theme.is_unicode())?;
    let own = match &app.over {
        Some(Over::Panel(panel)) => panel.hint(command),
        _ => None,
    };
    let words = match (zone, command) {
        _ if own.is_some() => own.unwrap_or_default(),
        (Zone::Loading, Command::Back) => "stop",
        (_, Command::Back) if app.over.is_none() && picture::is_open(app) => "close",
        (Zone::Bars, Command::Columns) => "shares or odds",
        (Zone::Funnel, Command::OtherPicture) => "bars",
        (Zone::Bars, Command::OtherPicture) => "funnel",
        // Where the key leads from here, not what it is called.
        (Zone::People, Command::Crews) if app.screens.people.crews => "technicians",
        (Zone::Topics, Command::Crews) if app.screens.topics.crews => "technicians",
        (Zone::People, Command::Columns) => compared(app.screens.people.shares),
        (Zone::Points, Command::Columns) => compared(app.screens.points.shares),
        (Zone::Resample, Command::Strict) if app.screens.resample.strict => "without doubtful",
        (Zone::Choices, Command::Open) => "choose",
        (Zone::StartFailed, Command::Reload) => "try again",
        (Zone::Opened, Command::Back) if steps::is_within(app) => "to the list",
        (Zone::Help, Command::PaneNext) => "next page",
        (Zone::Topics | Zone::Asks | Zone::Trainings, Command::PaneNext) => "next view",
        (Zone::FolderLine | Zone::Asked | Zone::Form, Command::Back) => "leave it",
        _ => screen(app.place)
            .and_then(|screen| screen.hint(zone, command))
            .unwrap_or(command.hint()),
    };
    Some(Hint {
        command,
        key,
        words: words.to_owned(),
        start: 0,
    })
}

/// What the other columns are.
const fn compared(shares: bool) -> &'static str {
    match shares {
        true => "expected",
        false => "shares",
    }
}

/// The commands that are worth a hint in a zone, most useful first.
const fn hinted(zone: Zone) -> &'static [Command] {
    use Command as C;
    match zone {
        Zone::Share => &[
            C::Open,
            C::Find,
            C::BuildFilter,
            C::Period,
            C::PaneNext,
            C::Picture,
            C::Periods,
            C::SortNext,
            C::AddTerm,
            C::DropTerm,
            C::Back,
        ],
        Zone::Draws => &[
            C::Open,
            C::Find,
            C::BuildFilter,
            C::Period,
            C::SortNext,
            C::AddTerm,
            C::DropTerm,
            C::Back,
            C::Compartment,
            C::SetAside,
            C::Raise,
            C::SortTurn,
        ],
        Zone::Opened => &[
            C::Back,
            C::DrawNext,
            C::DrawBack,
            C::Picture,
            C::Compartment,
            C::SetAside,
            C::Raise,
            C::AddTerm,
            C::PageDown,
        ],
        Zone::People => &[
            C::Open,
            C::Find,
            C::BuildFilter,
            C::Period,
            C::Whole,
            C::Crews,
            C::SortNext,
            C::Picture,
            C::Columns,
            C::AdjustFor,
            C::Back,
            C::AddTerm,
            C::DropTerm,
            C::SortTurn,
            C::Raise,
        ],
        Zone::Points => &[
            C::Open,
            C::Find,
            C::BuildFilter,
            C::Period,
            C::Whole,
            C::SortNext,
            C::Picture,
            C::Columns,
            C::AdjustFor,
            C::AddTerm,
            C::Back,
            C::DropTerm,
            C::SortTurn,
            C::Raise,
        ],
        Zone::Topics => &[
            C::Open,
            C::Tick,
            C::Plans,
            C::PaneNext,
            C::Whole,
            C::Picture,
            C::ByRegained,
            C::Crews,
            C::Find,
            C::BuildFilter,
            C::Period,
            C::AddTerm,
            C::Back,
            C::DropTerm,
        ],
        Zone::Asks | Zone::Trainings => &[
            C::Open,
            C::PaneNext,
            C::Whole,
            C::Find,
            C::BuildFilter,
            C::Period,
            C::AddTerm,
            C::Back,
            C::DropTerm,
        ],
        Zone::Choices => &[C::Open, C::Back],
        Zone::Help => &[C::PaneNext, C::Back, C::PageDown],
        Zone::Form => &[C::Send, C::SendNow, C::Back, C::FieldBack, C::CopyCommand],
        Zone::Asked => &[C::GoOn, C::Back, C::DeleteWord, C::DeleteAll],
        Zone::FolderLine => &[C::WritePlans, C::Back, C::DeleteWord, C::DeleteAll],
        Zone::StartFailed => &[C::Reload, C::OtherFile],
        // The other screens say it themselves.
        _ => &[C::Back],
    }
}

/// A message longer than this many lines is cut.
const MOST_SAID: usize = 5;

/// A message in place of the hints. A long one takes the rows above as well, so that what went
/// wrong can be read to its end.
fn said(app: &App, words: &str, frame: &mut Frame<'_>) {
    let width = usize::from(app.size.width).saturating_sub(2);
    let parts = text::wrap(words, width);
    let shown = parts.len().min(MOST_SAID);
    let rest = parts[shown - 1..].join(" ");
    let style = app.theme.strong();
    let mut lines: Vec<Line<'_>> = parts[..shown - 1]
        .iter()
        .map(|part| Line::from(Span::styled(format!(" {part}"), style)))
        .collect();
    lines.push(Line::from(Span::styled(
        format!(" {}", text::cut(&rest, width)),
        style,
    )));
    if shown > 1 {
        let rule = app.theme.pick("─", "-").repeat(usize::from(app.size.width));
        lines.insert(0, Line::from(Span::styled(rule, app.theme.line())));
    }
    let height = lines.len() as u16;
    let area = Rect {
        x: 0,
        y: app.size.height - height,
        width: app.size.width,
        height,
    };
    frame.render_widget(Clear, area);
    frame.render_widget(Paragraph::new(lines), area);
}
