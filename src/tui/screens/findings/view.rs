//! Draws the Findings screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{Tab, finding, list, panes, pick};
use crate::analysis::findings::State;
use crate::tui::app::App;
use crate::tui::layout;
use crate::tui::screens::draws;
use crate::tui::text;

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    tabs(app, frame);
    if app.figures.docket.is_none() {
        return;
    }
    let state = &app.screens.findings;
    if state.tab == Tab::Picks && state.opened {
        return pick::view(app, frame);
    }
    let panes = panes(app);
    if let Some(area) = panes.list {
        draws::view::divider(app, frame, panes.beside);
        match state.tab {
            Tab::Findings => list::findings_list(app, frame, area),
            Tab::Picks => list::picks_list(app, frame, area),
        }
    }
    match state.tab {
        Tab::Findings => finding::view(app, frame, panes.beside),
        Tab::Picks => pick::beside(app, frame, panes.beside),
    }
}

/// The names of the views, and on the right how many findings wait for what.
fn tabs(app: &App, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let body = layout::body(app.size);
    let area = Rect { height: 1, ..body };
    let mut spans = Vec::new();
    let mut used = 0;
    for tab in Tab::ALL {
        let style = if tab == app.screens.findings.tab {
            theme.title().add_modifier(Modifier::UNDERLINED)
        } else {
            theme.faint()
        };
        spans.push(Span::styled(tab.title(), style));
        spans.push(Span::raw("  "));
        used += text::width(tab.title()) + 2;
    }
    let counts = packing(app).unwrap_or_else(|| counts(app));
    let room = usize::from(area.width).saturating_sub(used + 1);
    spans.push(Span::styled(text::right(&counts, room), theme.faint()));
    frame.render_widget(Paragraph::new(Line::from(spans)), area);
}

/// How far the findings pack has come that is being written.
fn packing(app: &App) -> Option<String> {
    let packing = app.packing.as_ref()?;
    if packing.stopping {
        return Some("Stopping the pack.".to_owned());
    }
    let (done, total) = (packing.progress.done, packing.progress.total);
    let how_far = if total == 0 {
        String::new()
    } else {
        let part = (done as f64 / total as f64).clamp(0.0, 1.0);
        let full = (part * 10.0) as usize;
        let bar = app.theme.pick("━", "=").repeat(full);
        let rest = app.theme.pick("─", "-").repeat(10 - full);
        format!(" {bar}{rest} {:3.0} %", (part * 100.0).floor())
    };
    let stop = if app.screens.findings.opened {
        ""
    } else {
        "; Esc stops it"
    };
    let stage = packing.progress.stage;
    let stage = if stage.is_empty() { "beginning" } else { stage };
    Some(format!("Pack: {stage}{how_far}{stop}"))
}

/// How many findings wait for what.
pub(crate) fn counts(app: &App) -> String {
    let Some(docket) = &app.figures.docket else {
        return String::new();
    };
    let of = |state: State| {
        let same = docket.findings.iter().filter(|it| it.state == state);
        same.count()
    };
    let overdue = docket.findings.iter();
    let overdue = overdue.filter(|it| it.overdue(docket.today).is_some());
    let withdrawn = match of(State::Withdrawn) {
        0 => String::new(),
        some => format!(", {some} withdrawn"),
    };
    format!(
        "{} open, {} answered, {} closed{withdrawn}; {} overdue",
        of(State::Open),
        of(State::Answered),
        of(State::Closed),
        overdue.count()
    )
}

/// The view whose name stands at this column.
pub(crate) fn tab_at(app: &App, x: u16) -> Option<Tab> {
    let mut from = layout::body(app.size).x;
    for tab in Tab::ALL {
        let to = from + tab.title().len() as u16;
        if (from..to).contains(&x) {
            return Some(tab);
        }
        from = to + 2;
    }
    None
}
