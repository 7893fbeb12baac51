//! Draws the Topics screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{Tab, asks, heat, panes, person, tabs_area, trainings};
use crate::tui::app::App;
use crate::tui::screens::draws;
use crate::tui::screens::page::Written;

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    if super::figures(app).is_none() {
        return;
    }
    tabs(app, frame, tabs_area(app));
    let panes = panes(app);
    if panes.beside.width > 0 {
        draws::view::divider(app, frame, panes.beside);
    }
    match app.screens.topics.tab {
        Tab::Heat => {
            heat::view(app, frame, panes.list);
            if let Some(written) = person::written(app, panes.beside, false) {
                written.view(app, frame, panes.beside);
            }
        }
        Tab::Asks => {
            asks::list(app, frame, panes.list);
            let lines = asks::lines(app, panes.beside).unwrap_or_default();
            Written::all(lines).view(app, frame, panes.beside);
        }
        Tab::Trainings => {
            trainings::list(app, frame, panes.list);
            let lines = trainings::lines(app, panes.beside).unwrap_or_default();
            Written::all(lines).view(app, frame, panes.beside);
        }
    }
}

fn tabs(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let mut spans = Vec::new();
    for tab in Tab::ALL {
        let style = if tab == app.screens.topics.tab {
            theme.title().add_modifier(Modifier::UNDERLINED)
        } else {
            theme.faint()
        };
        spans.push(Span::styled(tab.title(area.width), style));
        spans.push(Span::raw("  "));
    }
    frame.render_widget(Paragraph::new(Line::from(spans)), area);
}

/// The view whose name stands at this column.
pub(crate) fn tab_at(app: &App, x: u16) -> Option<Tab> {
    let area = tabs_area(app);
    let mut from = area.x;
    for tab in Tab::ALL {
        let to = from + tab.title(area.width).len() as u16;
        if (from..to).contains(&x) {
            return Some(tab);
        }
        from = to + 2;
    }
    None
}
