//! Draws the Records screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{
    Tab, batch, below, coverage, doubts, ledger, legend_area, panes, reached, tabs_area, under_head,
};
use crate::tui::app::App;
use crate::tui::screens::draws;
use crate::tui::text;
use crate::tui::widgets::progress_bar;

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    tabs(app, frame, tabs_area(app));
    match app.screens.records.tab {
        Tab::Ledger if app.figures.records.ledger.is_none() => {}
        Tab::Ledger if app.screens.records.opened => batch::view(app, frame),
        Tab::Ledger => {
            let panes = panes(app);
            draws::view::divider(app, frame, panes.beside);
            ledger::list(app, frame, panes.list);
            reached::view(app, frame, panes.list);
            ledger::beside(app, frame, panes.beside);
        }
        Tab::Coverage if coverage::figures(app).is_none() => {
            examining(app, "Counting what is filled in", frame);
        }
        Tab::Coverage => {
            let area = below(app);
            let width = usize::from(area.width).saturating_sub(1);
            frame.render_widget(Paragraph::new(coverage::head(app, width)), area);
            let panes = panes(app);
            draws::view::divider(app, frame, panes.beside);
            coverage::list(app, frame, panes.list);
            coverage::beside(app, frame, panes.beside);
            let legend = Paragraph::new(coverage::legend(app, width));
            frame.render_widget(legend, legend_area(app));
        }
        Tab::Doubts if doubts::figures(app).is_none() => {
            examining(app, "Looking for what is hard to believe", frame);
        }
        Tab::Doubts => {
            let area = below(app);
            let width = usize::from(area.width).saturating_sub(1);
            frame.render_widget(Paragraph::new(doubts::head(app, width)), area);
            if doubts::list_of(app).is_empty() {
                return doubts::reach(app, frame, under_head(app));
            }
            if app.screens.records.doubt_opened {
                return doubts::view_page(app, frame, under_head(app), true);
            }
            let panes = panes(app);
            draws::view::divider(app, frame, panes.beside);
            doubts::list(app, frame, panes.list);
            doubts::view_page(app, frame, panes.beside, false);
        }
    }
}

/// What is worked out, how far it has come, or why it can't be.
fn examining(app: &App, title: &str, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let area = below(app);
    let width = usize::from(area.width).saturating_sub(2).min(100);
    let mut lines = vec![Line::default()];
    match &app.examined.failed {
        Some(words) => {
            lines.extend(text::wrap(words, width).into_iter().map(Line::from));
            lines.push(Line::default());
            let words = "r reads the programme again and tries once more.";
            lines.push(Line::from(Span::styled(words, theme.faint())));
        }
        None => {
            lines.push(Line::from(Span::styled(title.to_owned(), theme.title())));
            let progress = app.examined.progress;
            lines.extend(progress_bar::lines(theme, progress, width.min(60)));
            lines.push(Line::default());
            let words = "It goes on in the background; other screens work meanwhile.";
            lines.push(Line::from(Span::styled(words, theme.faint())));
        }
    }
    frame.render_widget(Paragraph::new(lines), area);
}

fn tabs(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let mut spans = Vec::new();
    for tab in Tab::ALL {
        let style = if tab == app.screens.records.tab {
            theme.title().add_modifier(Modifier::UNDERLINED)
        } else {
            theme.faint()
        };
        spans.push(Span::styled(tab.title(), style));
        spans.push(Span::raw("  "));
    }
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
