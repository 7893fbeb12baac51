//! Draws the Records screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{batch, ledger, panes, tabs_area};
use crate::tui::app::App;
use crate::tui::screens::draws;

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    if app.figures.records.ledger.is_none() {
        return;
    }
    tabs(app, frame, tabs_area(app));
    if app.screens.records.opened {
        return batch::view(app, frame);
    }
    let panes = panes(app);
    draws::view::divider(app, frame, panes.beside);
    ledger::list(app, frame, panes.list);
    ledger::beside(app, frame, panes.beside);
}

fn tabs(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let style = app.theme.title().add_modifier(Modifier::UNDERLINED);
    let line = Line::from(Span::styled(" Ledger ", style));
    frame.render_widget(Paragraph::new(line), area);
}
