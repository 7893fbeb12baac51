//! Draws what stands there before a programme is open. Reads the state only.

use ratatui::Frame;
use ratatui::layout::{Position, Rect, Size};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::choices::{Choice, command_lines};
use super::{Stage, Start};
use crate::programme::Unopened;
use crate::tui::action::Command;
use crate::tui::frame::BRAND;
use crate::tui::keymap::{self, Zone};
use crate::tui::layout;
use crate::tui::panels;
use crate::tui::screens::help;
use crate::tui::screens::import::picker;
use crate::tui::text;
use crate::tui::theme::Theme;
use crate::tui::view::{line, too_small};
use crate::tui::widgets::progress_bar;

/// What the program does, in two sentences.
pub(crate) const ABOUT: &str = "fairdraw tells which oil samples can be trusted, and what would make the \
    others so. It judges every draw by how it was taken, and shows how many can't be trusted, \
    which practices break, and whether that goes with the people or with the points.";

/// Lines of running text are not longer than this, in cells: longer ones are hard to read.
const MEASURE: u16 = 92;

/// Draws the whole screen.
pub fn view(start: &Start, frame: &mut Frame<'_>) {
    draw(start, frame);
    for cell in &mut frame.buffer_mut().content {
        if let Some(plainer) = start.theme.plainer(cell.symbol()) {
            cell.set_symbol(plainer);
        }
    }
}

fn draw(start: &Start, frame: &mut Frame<'_>) {
    let area = frame.area();
    let size = start.size;
    if !layout::is_enough(size) || area.width < size.width || area.height < size.height {
        return too_small(frame);
    }
    header(start, frame);
    let body = layout::body(size);
    match (&start.help, &start.stage) {
        (Some((scroll, zone)), _) => {
            help::page(start.theme, *scroll, *zone, frame, body);
        }
        (None, Stage::Naming) => {
            let about = "Choose a programme file, or write its path; typing narrows the list.";
            let style = start.theme.faint();
            picker::list_view(start.theme, size, &start.picker, (about, style), frame);
        }
        (None, Stage::Opening { .. } | Stage::Making { .. }) => busy(start, frame),
        (None, Stage::Welcome | Stage::Failed(_)) => {
            let (area, lines) = offer(start);
            let lines: Vec<Line<'_>> = lines.into_iter().map(|(line, _)| line).collect();
            frame.render_widget(Paragraph::new(lines), area);
        }
    }
    hints(start, frame);
}

fn header(start: &Start, frame: &mut Frame<'_>) {
    let theme = start.theme;
    let width = usize::from(start.size.width);
    let room = width.saturating_sub(text::width(BRAND) + 1);
    let file = text::cut_left(&start.file.display().to_string(), room);
    line(
        frame,
        0,
        vec![
            Span::styled(BRAND, theme.strong()),
            Span::styled(text::right(&file, room), theme.faint()),
        ],
    );
    if start.stage == Stage::Naming && start.help.is_none() {
        let edit = &start.picker.line;
        panels::line_edit_on(theme, start.size, " file     ", edit, frame);
    }
    let rule = theme.pick("─", "-").repeat(width);
    line(frame, 2, vec![Span::styled(rule, theme.faint())]);
}

/// The column of text: no wider than it can be read, in the middle of a wide screen.
fn column(size: Size) -> Rect {
    let body = layout::body(size);
    let room = body.width.saturating_sub(1);
    let width = room.min(MEASURE);
    Rect {
        x: body.x + (room - width) / 2,
        width,
        ..body
    }
}

/// A line, and the choice that a click on it chooses.
type Offered = (Line<'static>, Option<usize>);

/// How roomy the page is: blank lines and what comes of every choice, or of the chosen one
/// alone, as the height allows.
#[derive(Clone, Copy)]
enum Room {
    Ample,
    Some,
    Little,
}

/// What is on offer and where it stands: as roomy as fits, a little above the middle.
fn offer(start: &Start) -> (Rect, Vec<Offered>) {
    let area = column(start.size);
    let fits = |lines: &Vec<Offered>| lines.len() <= usize::from(area.height);
    let lines = [Room::Ample, Room::Some]
        .into_iter()
        .map(|room| page(start, room, usize::from(area.width)))
        .find(fits)
        .unwrap_or_else(|| page(start, Room::Little, usize::from(area.width)));
    let spare = area.height.saturating_sub(lines.len() as u16);
    let down = (spare / 3).min(8);
    let area = Rect {
        y: area.y + down,
        height: area.height - down,
        ..area
    };
    (area, lines)
}

/// The choice that stands at this cell.
pub(super) fn choice_at(start: &Start, at: Position) -> Option<usize> {
    if !matches!(start.stage, Stage::Welcome | Stage::Failed(_)) {
        return None;
    }
    let (area, lines) = offer(start);
    let inside = area.contains(at);
    let row = usize::from(at.y.checked_sub(area.y)?);
    lines
        .get(row)
        .and_then(|(_, choice)| *choice)
        .filter(|_| inside)
}

fn page(start: &Start, room: Room, width: usize) -> Vec<Offered> {
    let theme = start.theme;
    let mut lines: Vec<Offered> = Vec::new();
    let gap = |lines: &mut Vec<Offered>| {
        if !matches!(room, Room::Little) {
            lines.push((Line::default(), None));
        }
    };
    match &start.stage {
        Stage::Failed(unopened) => failed(theme, unopened, width, &mut lines),
        _ => {
            say(&mut lines, ABOUT, width, theme.plain());
            gap(&mut lines);
            let file = text::cut_left(&start.file.display().to_string(), width.saturating_sub(35));
            let words = format!("There is no programme file {file} yet.");
            say(&mut lines, &words, width, theme.strong());
        }
    }
    gap(&mut lines);
    for (at, choice) in start.choices().iter().enumerate() {
        offered(start, at, choice, room, width, &mut lines);
    }
    if start.stage == Stage::Welcome {
        gap(&mut lines);
        say(
            &mut lines,
            "The same on the command line",
            width,
            theme.title(),
        );
        for words in command_lines(&start.file) {
            say(&mut lines, &words, width, theme.plain());
        }
    }
    lines
}

fn say(lines: &mut Vec<Offered>, words: &str, width: usize, style: Style) {
    let wrapped = text::wrap(words, width).into_iter();
    lines.extend(wrapped.map(|part| (Line::from(Span::styled(part, style)), None)));
}

/// What is the matter, where, and what to do.
fn failed(theme: Theme, unopened: &Unopened, width: usize, lines: &mut Vec<Offered>) {
    let title = format!("{} {}", theme.pick("✗", "x"), unopened.what);
    say(lines, &title, width, theme.warning());
    let file = unopened.file.display().to_string();
    say(lines, &file, width, theme.strong());
    lines.push((Line::default(), None));
    if !unopened.more.is_empty() {
        say(lines, &unopened.more, width, theme.plain());
    }
    say(lines, &unopened.advice, width, theme.plain());
}

/// A choice: its key and words, and what comes of it.
fn offered(
    start: &Start,
    at: usize,
    choice: &Choice,
    room: Room,
    width: usize,
    lines: &mut Vec<Offered>,
) {
    const INDENT: usize = 5;
    let theme = start.theme;
    let is_chosen = at == start.chosen;
    let key = key_of(theme, start.zone(), choice.command).unwrap_or_default();
    let mark = if is_chosen {
        theme.pick("▸", ">")
    } else {
        " "
    };
    let words = text::left(choice.words, width.saturating_sub(INDENT));
    let head = Line::from(vec![
        Span::raw(format!("{mark} ")),
        Span::styled(format!("{key}  "), theme.strong()),
        Span::styled(words, theme.strong()),
    ]);
    let head = if is_chosen { theme.choose(head) } else { head };
    lines.push((head, Some(at)));
    let is_told = match room {
        Room::Ample => true,
        Room::Some | Room::Little => is_chosen,
    };
    if is_told {
        for part in text::wrap(&choice.about, width.saturating_sub(INDENT)) {
            let words = format!("{:INDENT$}{part}", "");
            lines.push((Line::from(Span::styled(words, theme.faint())), Some(at)));
        }
    }
}

/// What is under way, how far it has come, and that it can be stopped.
fn busy(start: &Start, frame: &mut Frame<'_>) {
    if start.is_quiet() {
        return;
    }
    let theme = start.theme;
    let area = column(start.size);
    let width = usize::from(area.width);
    let mut lines: Vec<Offered> = Vec::new();
    let (title, about, foot) = match start.stage {
        Stage::Making { stopping } => (
            "Making the demo",
            "Its sheets are written and taken in as any others, then judged.".to_owned(),
            match stopping {
                true => "Stopping.",
                false => "Esc stops it.",
            },
        ),
        _ => (
            "Opening the programme",
            start.file.display().to_string(),
            "Esc leaves.",
        ),
    };
    say(&mut lines, title, width, theme.title());
    say(&mut lines, &about, width, theme.plain());
    lines.push((Line::default(), None));
    if matches!(start.stage, Stage::Making { .. }) {
        let bar = progress_bar::lines(theme, start.progress, width.min(60));
        lines.extend(bar.into_iter().map(|line| (line, None)));
        lines.push((Line::default(), None));
    }
    say(&mut lines, foot, width, theme.faint());
    let down = (area.height / 4).min(8);
    let area = Rect {
        y: area.y + down,
        height: area.height - down,
        ..area
    };
    let lines: Vec<Line<'_>> = lines.into_iter().map(|(line, _)| line).collect();
    frame.render_widget(Paragraph::new(lines), area);
}

fn key_of(theme: Theme, zone: Zone, command: Command) -> Option<String> {
    keymap::label(zone, command, theme.pick("u", "a") == "u")
}

fn hints(start: &Start, frame: &mut Frame<'_>) {
    let theme = start.theme;
    let y = start.size.height - 1;
    let width = usize::from(start.size.width);
    if let Some(words) = &start.message {
        let words = text::cut(words, width.saturating_sub(2));
        let said = Span::styled(format!(" {words}"), theme.strong());
        return line(frame, y, vec![said]);
    }
    let zone = start.zone();
    let own: &[Command] = match start.help {
        Some(_) => &[Command::Back, Command::PageDown, Command::PageUp],
        None => start.hinted(),
    };
    let keys = |commands: &[Command]| -> Vec<(String, String)> {
        let hint = |command: &Command| {
            let key = key_of(theme, zone, *command)?;
            Some((key, start.hint(*command).to_owned()))
        };
        commands.iter().filter_map(hint).collect()
    };
    let fixed = keys(&[Command::Help, Command::Quit]);
    let cells = |(key, words): &(String, String)| text::width(key) + text::width(words) + 4;
    let reserved: usize = fixed.iter().map(cells).sum();
    let mut used = 1;
    let mut spans = vec![Span::raw(" ")];
    let push = |spans: &mut Vec<Span<'static>>, (key, words): (String, String)| {
        spans.push(Span::styled(key, theme.strong()));
        spans.push(Span::styled(format!(" {words}   "), theme.faint()));
    };
    for hint in keys(own) {
        if used + cells(&hint) + reserved > width + 2 {
            break;
        }
        used += cells(&hint);
        push(&mut spans, hint);
    }
    spans.push(Span::raw(
        " ".repeat((width + 2).saturating_sub(used + reserved)),
    ));
    for hint in fixed {
        push(&mut spans, hint);
    }
    line(frame, y, spans);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tui::layout::LEAST;

    #[test]
    fn all_that_is_on_offer_fits_the_least_window() {
        let start = Start::new(
            std::path::Path::new("a/rather/long/way/to/the/programme of the north pit.db"),
            Theme::new(true, true),
            LEAST,
        );
        let (area, lines) = offer(&start);
        assert!(lines.len() <= usize::from(area.height), "{}", lines.len());
        for choice in 0..start.choices().len() {
            assert!(lines.iter().any(|(_, at)| *at == Some(choice)));
        }
    }
}
