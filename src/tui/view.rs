//! Draws the frame: header, the place, hints.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Clear, Paragraph};

use super::action::Command;
use super::app::{App, Over, Place};
use super::frame::{BRAND, screen, tab_of};
use super::keymap::{self, Zone};
use super::layout::{self, LEAST};
use super::screens::import::choices;
use super::screens::records::asked;
use super::screens::{draws, help, people, picture, points, share, topics};
use super::{background, empty, filter_words, form_view, loading, panels, text};
use crate::model::trail::Who;

/// Draws the whole screen. Reads the state only.
pub fn view(app: &App, frame: &mut Frame<'_>) {
    draw(app, frame);
    // One pass over the cells, so that no text, our own or from the records, slips through.
    for cell in &mut frame.buffer_mut().content {
        if let Some(plainer) = app.theme.plainer(cell.symbol()) {
            cell.set_symbol(plainer);
        }
    }
}

fn draw(app: &App, frame: &mut Frame<'_>) {
    let area = frame.area();
    if !layout::is_enough(app.size) || area.width < app.size.width || area.height < app.size.height
    {
        return too_small(frame);
    }
    header(app, frame);
    let body = layout::body(app.size);
    if app.data.is_none() {
        loading::view(app, frame, body);
    } else if let Some(Over::Help(scroll, zone, _)) = &app.over {
        help::view(app, *scroll, *zone, frame, body);
    } else {
        place(app, frame);
    }
    match &app.over {
        Some(Over::Folder(edit)) => panels::folder(app, edit, frame, body),
        Some(Over::Form(form)) => {
            let who = form.purpose.decides().then_some(app.who.as_ref()).flatten();
            form_view::view(app.theme, form, who.map(Who::as_str), frame, body);
        }
        Some(Over::Asked(line)) => asked::view(app, line, frame, body),
        Some(Over::Choices(offered)) => choices::view(app, offered, frame, body),
        Some(Over::Panel(panel)) => panel.view(app, frame, body),
        Some(Over::Help(..)) | None => {}
    }
    hints(app, frame);
}

fn place(app: &App, frame: &mut Frame<'_>) {
    if let Some(empty) = empty::of(app) {
        return empty::view(app, empty, frame);
    }
    if let Some(words) = loading::awaited(app) {
        let said = Paragraph::new(Line::styled(words, app.theme.faint()));
        frame.render_widget(said, layout::body(app.size));
    }
    if let Some(picture) = picture::open(app) {
        return picture.view(app, frame);
    }
    match app.place {
        Place::Share => share::view::view(app, frame),
        Place::Draws | Place::Opened => draws::view::view(app, frame),
        Place::People => people::view::view(app, frame),
        Place::Points => points::view::view(app, frame),
        Place::Topics => topics::view::view(app, frame),
        other => {
            if let Some(screen) = screen(other) {
                screen.view(app, frame);
            }
        }
    }
}

/// Says that the window is too small.
pub(crate) fn too_small(frame: &mut Frame<'_>) {
    let area = frame.area();
    let words = format!(
        "fairdraw needs {} columns and {} rows; this window has {} and {}. Please make it larger.",
        LEAST.width, LEAST.height, area.width, area.height
    );
    let lines: Vec<Line<'_>> = text::wrap(&words, usize::from(area.width))
        .into_iter()
        .map(Line::from)
        .collect();
    frame.render_widget(Paragraph::new(lines), area);
}

pub(crate) fn line(frame: &mut Frame<'_>, y: u16, spans: Vec<Span<'_>>) {
    let area = Rect {
        x: 0,
        y,
        width: frame.area().width,
        height: 1,
    };
    frame.render_widget(Paragraph::new(Line::from(spans)), area);
}

fn header(app: &App, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let width = usize::from(app.size.width);
    let current = tab_of(app.place).map(|tab| tab.command);
    let header = super::frame::header(app.size, current);
    let mut spans = Vec::new();
    let mut used = 0;
    if header.brand {
        spans.push(Span::styled(BRAND, theme.strong()));
        used = text::width(BRAND);
    }
    for (start, name, command) in header.tabs {
        spans.push(Span::raw(" ".repeat(usize::from(start) - used)));
        let style = if Some(command) == current && app.data.is_some() {
            theme.chosen().add_modifier(Modifier::BOLD)
        } else {
            theme.plain()
        };
        used = usize::from(start) + name.len();
        spans.push(Span::styled(name, style));
    }
    if header.brand {
        let title = text::right(&app.title, width.saturating_sub(used + 2));
        spans.push(Span::styled(format!(" {title}"), theme.faint()));
    }
    line(frame, 0, spans);
    filter_row(app, frame);
    line(frame, 2, background::rule(app, width));
}

fn filter_row(app: &App, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let width = usize::from(app.size.width);
    match &app.over {
        Some(Over::Folder(edit)) => return panels::line_edit(app, " folder   ", &edit.line, frame),
        Some(Over::Asked(asked)) => {
            return panels::line_edit(app, asked.title(), &asked.line, frame);
        }
        Some(Over::Panel(panel)) => {
            if let Some((title, edit)) = panel.line() {
                return panels::line_edit(app, title, edit, frame);
            }
        }
        Some(_) => {}
        None => {
            let own = screen(app.place).filter(|_| app.data.is_some());
            if let Some((title, edit)) = own.and_then(|screen| screen.line(app)) {
                return panels::line_edit(app, title, edit, frame);
            }
        }
    }
    let count = match &app.data {
        None => String::new(),
        Some(_) if app.selected_turn != app.turn => "counting".to_owned(),
        Some(assessed) => {
            let all = assessed.judged.len() as u64;
            let shown = app.selection.len() as u64;
            if app.filter.is_empty() {
                text::plural(all, "draw", "draws")
            } else {
                format!(
                    "{} of {}",
                    text::count(shown),
                    text::plural(all, "draw", "draws")
                )
            }
        }
    };
    // Where the header has no room for the programme's name, it stands here, shortened.
    let current = tab_of(app.place).map(|tab| tab.command);
    let title = match super::frame::header(app.size, current).brand {
        true => String::new(),
        false => format!("   {}", text::cut(&app.title, 16)),
    };
    let room = width.saturating_sub(10 + text::width(&count) + text::width(&title) + 3);
    let (filter, style) = if app.filter.is_empty() {
        ("no filter".to_owned(), theme.faint())
    } else {
        (filter_words::fitted(&app.filter, room), theme.strong())
    };
    let spans = vec![
        Span::styled(" filter   ", theme.faint()),
        Span::styled(text::left(&filter, room), style),
        Span::raw(format!("  {count}")),
        Span::styled(title, theme.faint()),
        Span::raw(" "),
    ];
    line(frame, 1, spans);
}

/// The commands that are worth a hint in a zone, most useful first.
const fn hinted(zone: Zone) -> &'static [Command] {
    use Command as C;
    match zone {
        Zone::Share => &[
            C::Open,
            C::EditFilter,
            C::PaneNext,
            C::Picture,
            C::Periods,
            C::AddTerm,
            C::DropTerm,
            C::Back,
        ],
        Zone::Draws => &[
            C::Open,
            C::EditFilter,
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
            C::EditFilter,
            C::Crews,
            C::SortNext,
            C::Picture,
            C::Columns,
            C::Back,
            C::AddTerm,
            C::DropTerm,
            C::SortTurn,
            C::Raise,
        ],
        Zone::Points => &[
            C::Open,
            C::EditFilter,
            C::SortNext,
            C::Picture,
            C::Columns,
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
            C::Picture,
            C::ByRegained,
            C::Crews,
            C::EditFilter,
            C::AddTerm,
            C::Back,
            C::DropTerm,
        ],
        Zone::Asks | Zone::Trainings => &[
            C::Open,
            C::PaneNext,
            C::EditFilter,
            C::AddTerm,
            C::Back,
            C::DropTerm,
        ],
        Zone::Choices => &[C::Open, C::Back],
        Zone::Help => &[C::Back, C::PageDown, C::PageUp],
        Zone::Form => &[C::Send, C::SendNow, C::Back, C::FieldBack],
        Zone::Asked => &[C::GoOn, C::Back, C::DeleteWord, C::DeleteAll],
        Zone::FolderLine => &[C::WritePlans, C::Back, C::DeleteWord, C::DeleteAll],
        Zone::StartFailed => &[C::Reload, C::OtherFile],
        // The other screens say it themselves.
        _ => &[C::Back],
    }
}

fn hints(app: &App, frame: &mut Frame<'_>) {
    let width = usize::from(app.size.width);
    let y = app.size.height - 1;
    let news = app.news().map(ToOwned::to_owned);
    if let Some(words) = app.message.clone().or(news) {
        return said(app, &words, frame);
    }
    let zone = app.zone();
    let mut spans = vec![Span::raw(" ")];
    let mut used = 1;
    // How to get help and how to leave stand at the right end, whatever else there is.
    let fixed: Vec<(String, String)> = [Command::Help, Command::Quit]
        .into_iter()
        .filter_map(|command| hint(app, zone, command))
        .collect();
    let cells = |(key, words): &(String, String)| text::width(key) + 1 + text::width(words) + 3;
    let reserved: usize = fixed.iter().map(cells).sum();
    let own = screen(app.place).filter(|_| app.over.is_none() && app.data.is_some());
    let empty = empty::of(app).filter(|_| app.over.is_none());
    let picture = picture::open(app).filter(|_| app.over.is_none());
    let commands = match (&app.over, own) {
        (Some(Over::Panel(panel)), _) => panel.hinted(),
        _ if empty.is_some() => empty.map_or(&[][..], empty::hinted),
        _ if picture.is_some() => picture.map_or(&[][..], |picture| picture.hinted()),
        (_, Some(screen)) => screen.hinted(zone),
        (_, None) => hinted(zone),
    };
    for command in commands {
        let Some(hint) = hint(app, zone, *command) else {
            continue;
        };
        if used + cells(&hint) + reserved > width + 2 {
            break;
        }
        used += cells(&hint);
        push_hint(app, &mut spans, hint);
    }
    let gap = (width + 2).saturating_sub(used + reserved);
    spans.push(Span::raw(" ".repeat(gap)));
    for hint in fixed {
        push_hint(app, &mut spans, hint);
    }
    line(frame, y, spans);
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
        lines.insert(0, Line::from(Span::styled(rule, app.theme.faint())));
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

fn hint(app: &App, zone: Zone, command: Command) -> Option<(String, String)> {
    let unicode = app.theme.pick("u", "a") == "u";
    let key = keymap::label(zone, command, unicode)?;
    let own = match &app.over {
        Some(Over::Panel(panel)) => panel.hint(command),
        _ => None,
    };
    let words = match (zone, command) {
        _ if own.is_some() => own.unwrap_or_default(),
        (Zone::Loading, Command::Back) => "stop",
        (_, Command::Back) if app.over.is_none() && picture::is_open(app) => "close",
        (Zone::Bars, Command::Columns) => "shares or odds",
        (Zone::StartFailed, Command::Reload) => "try again",
        (Zone::Opened, Command::Back) => "to the list",
        (Zone::Topics | Zone::Asks | Zone::Trainings, Command::PaneNext) => "next view",
        (Zone::FolderLine | Zone::Asked | Zone::Form, Command::Back) => "leave it",
        _ => screen(app.place)
            .and_then(|screen| screen.hint(zone, command))
            .unwrap_or(command.hint()),
    };
    Some((key, words.to_owned()))
}

fn push_hint(app: &App, spans: &mut Vec<Span<'static>>, (key, words): (String, String)) {
    spans.push(Span::styled(key, app.theme.strong()));
    spans.push(Span::styled(format!(" {words}   "), app.theme.faint()));
}
