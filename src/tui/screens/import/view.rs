//! Draws what stands between choosing a table and what came of it.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{Stage, Tab, map_view, picker, report, rows_view, tabs_area};
use crate::tui::app::App;
use crate::tui::layout;
use crate::tui::text;
use crate::tui::widgets::progress_bar;

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let state = &app.import;
    match &state.stage {
        Stage::Choosing => picker::view(app, &state.picker, frame),
        Stage::Looking => busy(app, "Looking at it", frame),
        Stage::Looked => {
            tabs(app, frame);
            match state.tab {
                Tab::Map => map_view::view(app, frame),
                Tab::Rows => rows_view::view(app, frame),
                Tab::Refused => rows_view::refused(app, frame),
            }
        }
        Stage::Trying => busy(app, "Trying it out; nothing is stored", frame),
        Stage::Taking => busy(app, "Taking it in", frame),
        Stage::Tried(found) => report::view(app, found, false, frame),
        Stage::Done(found) => report::view(app, found, true, frame),
        Stage::Failed(words) => failed(app, words, frame),
    }
}

fn tabs(app: &App, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let area = tabs_area(app);
    let mut spans = Vec::new();
    let mut used = 0;
    for tab in Tab::ALL {
        let style = if tab == app.import.tab {
            theme.title().add_modifier(Modifier::UNDERLINED)
        } else {
            theme.faint()
        };
        spans.push(Span::styled(tab.title(), style));
        spans.push(Span::raw("  "));
        used += tab.title().len() + 2;
    }
    let room = usize::from(area.width).saturating_sub(used + 1);
    let said = if app.waiting.intake {
        "looking again".to_owned()
    } else {
        chosen(app)
    };
    let said = text::cut_left(&said, room);
    spans.push(Span::styled(text::right(&said, room), theme.faint()));
    frame.render_widget(Paragraph::new(Line::from(spans)), area);
}

/// The view whose name stands at this column.
pub(crate) fn tab_at(app: &App, x: u16) -> Option<Tab> {
    let mut from = tabs_area(app).x;
    for tab in Tab::ALL {
        let to = from + tab.title().len() as u16;
        if (from..to).contains(&x) {
            return Some(tab);
        }
        from = to + 2;
    }
    None
}

/// What was chosen, in words.
pub(crate) fn chosen(app: &App) -> String {
    let sheets = app.import.request.sheets.iter();
    let names: Vec<String> = sheets.map(|path| path.display().to_string()).collect();
    names.join(", ")
}

fn busy(app: &App, title: &str, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let body = layout::body(app.size);
    let width = usize::from(body.width).saturating_sub(2);
    let mut lines = vec![
        Line::from(Span::styled(title.to_owned(), theme.title())),
        Line::from(text::cut_left(&chosen(app), width)),
        Line::default(),
    ];
    let progress = app.import.progress;
    lines.extend(progress_bar::lines(theme, progress, width.min(60)));
    lines.push(Line::default());
    let words = if app.import.stopping {
        "Stopping; everything stays as it was."
    } else {
        "Esc stops it; everything then stays as it was. Other screens work meanwhile."
    };
    let wrapped = text::wrap(words, width).into_iter();
    lines.extend(wrapped.map(|part| Line::from(Span::styled(part, theme.faint()))));
    centred(frame, body, lines);
}

fn failed(app: &App, words: &str, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let body = layout::body(app.size);
    let width = usize::from(body.width).saturating_sub(2).min(100);
    let mut lines = vec![
        Line::from(Span::styled("Not taken in", theme.warning())),
        Line::from(text::cut_left(&chosen(app), width)),
        Line::default(),
    ];
    lines.extend(text::wrap(words, width).into_iter().map(Line::from));
    lines.push(Line::default());
    lines.push(Line::from(Span::styled(
        "Nothing was changed.",
        theme.faint(),
    )));
    centred(frame, body, lines);
}

/// In the upper third, from the left.
fn centred(frame: &mut Frame<'_>, body: Rect, lines: Vec<Line<'static>>) {
    let down = (body.height / 4).min(8);
    let area = Rect {
        y: body.y + down,
        height: body.height - down,
        ..body
    };
    frame.render_widget(Paragraph::new(lines), area);
}
