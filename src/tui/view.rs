//! Draws the frame: header, the place, hints.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::app::{App, Over, Place};
use super::frame::{BRAND, screen, tab_of};
use super::layout::{self, LEAST};
use super::screens::import::choices;
use super::screens::records::asked;
use super::screens::{decided_on, draws, help, people, picture, points, share, topics};
use super::{background, empty, filter_words, form_view, hints, loading, panels, text};
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
    } else if let Some(Over::Help(help)) = &app.over {
        help::view(app, help, frame, body);
    } else {
        place(app, frame);
    }
    match &app.over {
        Some(Over::Folder(edit)) => panels::folder(app, edit, frame, body),
        Some(Over::Form(form)) => {
            let who = form.purpose.decides().then_some(app.who.as_ref()).flatten();
            let about = |width: u16| decided_on::lines(app, form, width);
            form_view::view(app.theme, form, who.map(Who::as_str), &about, frame, body);
        }
        Some(Over::Asked(line)) => asked::view(app, line, frame, body),
        Some(Over::Choices(offered)) => choices::view(app, offered, frame, body),
        Some(Over::Panel(panel)) => panel.view(app, frame, body),
        Some(Over::Help(..)) | None => {}
    }
    hints::view(app, frame);
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
        "{} × {}; fairdraw needs {} × {}. Please make the window larger.",
        area.width, area.height, LEAST.width, LEAST.height
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
