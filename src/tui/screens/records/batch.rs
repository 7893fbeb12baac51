//! One batch opened: its sheets, and below them every row that it refused.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

use super::ledger::{head, sheet_lines};
use super::{MOST_REFUSED, below, chosen, refused};
use crate::tui::app::App;
use crate::tui::screens::refused_list::{self, RefusedList, RefusedRow};
use crate::tui::text;
use crate::tui::widgets::table;

/// What is said of the batch and its sheets.
pub(crate) fn about(app: &App) -> Vec<Line<'static>> {
    let Some(batch) = chosen(app) else {
        return Vec::new();
    };
    let area = below(app);
    let width = usize::from(area.width).saturating_sub(2);
    let inner = Rect {
        width: area.width.saturating_sub(1),
        ..area
    };
    let mut lines = head(app, batch, inner);
    for sheet in &batch.sheets {
        lines.extend(sheet_lines(app, sheet, width, Some(64)));
    }
    lines
}

/// Where the batch is spoken of and where its refused rows stand: as much of the one as
/// leaves the other room; all of it where nothing was refused.
pub(crate) fn areas(app: &App) -> (Rect, Rect) {
    let area = below(app);
    let lines = about(app).len() as u16;
    let rows = refused(app).map_or(0, <[_]>::len) as u16;
    let most = match (rows, app.screens.records.in_sheets) {
        (0, _) => area.height,
        (_, true) => area.height.saturating_sub(8),
        (_, false) => (area.height * 2 / 5).max(area.height.saturating_sub(rows + 7)),
    };
    let upper = lines.min(most);
    let gap = u16::from(rows > 0);
    (
        Rect {
            height: upper,
            ..area
        },
        Rect {
            y: area.y + upper + gap,
            height: area.height.saturating_sub(upper + gap),
            ..area
        },
    )
}

pub(crate) fn list_area(app: &App) -> Rect {
    refused_list::list_area(areas(app).1)
}

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let (upper, lower) = areas(app);
    let lines = about(app);
    let len = lines.len();
    let height = usize::from(upper.height);
    let scroll = app.screens.records.sheets_scroll;
    let scroll = scroll.min(len.saturating_sub(height));
    let lines: Vec<Line<'static>> = lines.into_iter().skip(scroll).take(height).collect();
    frame.render_widget(Paragraph::new(lines), upper);
    table::scrollbar(frame, upper, app.theme, scroll, len.saturating_sub(1));
    let Some(refused) = refused(app).filter(|refused| !refused.is_empty()) else {
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
        focused: !app.screens.records.in_sheets,
        empty: "",
        note,
    };
    refused_list::view(app, &list, frame, lower);
}
