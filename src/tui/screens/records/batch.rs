//! One batch opened: every row that it refused.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::widgets::Paragraph;

use super::ledger::head;
use super::{MOST_REFUSED, below, chosen, refused};
use crate::tui::app::App;
use crate::tui::screens::refused_list::{self, RefusedList, RefusedRow};
use crate::tui::text;

fn area(app: &App) -> Rect {
    let below = below(app);
    Rect {
        y: below.y + 2,
        height: below.height.saturating_sub(2),
        ..below
    }
}

pub(crate) fn list_area(app: &App) -> Rect {
    refused_list::list_area(area(app))
}

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let Some(batch) = chosen(app) else {
        return;
    };
    let below = below(app);
    frame.render_widget(Paragraph::new(head(app, batch, below)), below);
    let Some(refused) = refused(app) else {
        return;
    };
    let note = match refused.len() >= MOST_REFUSED as usize {
        true => format!(
            "Only the first {} are shown here.",
            text::count(u64::from(MOST_REFUSED))
        ),
        false => String::new(),
    };
    let list = RefusedList {
        rows: refused.iter().map(RefusedRow::from).collect(),
        place: app.screens.records.refused,
        empty: "nothing of this batch was refused",
        note,
    };
    refused_list::view(app, &list, frame, area(app));
}
