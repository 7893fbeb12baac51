//! The lists of people and of points: the columns that both have, which of them are asked
//! for, and how they are drawn.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use super::against::{self, Compared};
use super::share::view::FEW;
use crate::analysis::{Share, Tally};
use crate::tui::app::App;
use crate::tui::list::ListPlace;
use crate::tui::subject::Subject;
use crate::tui::text;
use crate::tui::widgets::interval_bar;
use crate::tui::widgets::table::{self, Column, Look};

/// A column that both lists have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Figure {
    Draws,
    Judged,
    Unrepresentative,
    Compared(Compared),
    Share,
    Interval,
    Bar,
    Bounds,
}

/// Where there is no room for both, the columns that were not asked for go first.
const NOT_ASKED_FOR: u8 = 10;

impl Figure {
    /// How much later the column is wanted where `shares` were asked for, or observed
    /// against expected.
    pub(crate) const fn rank(self, shares: bool) -> u8 {
        match self {
            Figure::Share | Figure::Interval | Figure::Bar | Figure::Bounds | Figure::Draws
                if !shares =>
            {
                NOT_ASKED_FOR
            }
            Figure::Compared(_) if shares => NOT_ASKED_FOR,
            _ => 0,
        }
    }
}

/// What a line of either list is about.
pub(crate) struct Figures<'a> {
    pub(crate) subject: &'a Subject,
    pub(crate) tally: &'a Tally,
    pub(crate) share: &'a Share,
    /// The share of all draws in view.
    pub(crate) all: Option<f64>,
}

impl Figures<'_> {
    /// One cell.
    pub(crate) fn cell<Id>(
        &self,
        app: &App,
        figure: Figure,
        column: &(Column<Id>, usize),
    ) -> Vec<Span<'static>> {
        let (tally, share) = (self.tally, self.share);
        let value = match figure {
            Figure::Draws => text::count(tally.draws),
            Figure::Judged => text::count(tally.judged()),
            Figure::Unrepresentative => text::count(tally.unrepresentative),
            Figure::Share => share_with_few(share.share, tally.judged()),
            Figure::Interval => text::percent_range(share.low, share.high),
            Figure::Bounds => text::percent_range(share.least, share.most),
            Figure::Compared(what) => return against::cell(app, self.subject, what, column),
            Figure::Bar => {
                let shown = interval_bar::Shown {
                    share: share.share,
                    low: share.low,
                    high: share.high,
                    all: self.all,
                };
                return interval_bar::spans(shown, column.1, app.theme);
            }
        };
        table::cell(column, &value, app.theme.plain())
    }
}

/// The share with the word for few draws before it.
pub(crate) fn share_with_few(share: Option<f64>, judged: u64) -> String {
    let few = if judged > 0 && judged < FEW {
        "few "
    } else {
        ""
    };
    format!("{few}{}", text::percent(share))
}

/// The list without the lines of the footnote.
pub(crate) fn table_area(list: Rect) -> Rect {
    Rect {
        height: list
            .height
            .saturating_sub(against::footnote_height(list.height)),
        ..list
    }
}

/// How a list stands: the columns that were wanted, and by which it is sorted.
pub(crate) struct List<'a, Id> {
    pub(crate) wanted: &'a [Column<Id>],
    pub(crate) by: Id,
    pub(crate) descending: bool,
    pub(crate) bar: Id,
    pub(crate) place: ListPlace,
    pub(crate) len: usize,
}

impl<Id: Copy + PartialEq> List<'_, Id> {
    /// As many of the columns as there is room for.
    fn fitted(&self, area: Rect) -> Vec<(Column<Id>, usize)> {
        let width = usize::from(area.width).saturating_sub(2);
        table::fit(self.wanted, width, |id| id == self.by)
    }

    /// The column whose heading stands at this column of the screen.
    pub(crate) fn heading_at(&self, area: Rect, x: u16) -> Option<Id> {
        let cell = usize::from(x.checked_sub(area.x)?);
        table::column_at(&self.fitted(area), cell)
    }
}

/// Draws as many of the columns as there is room for, above the footnote.
pub(crate) fn view<Id: Copy + PartialEq>(
    app: &App,
    list: &List<'_, Id>,
    frame: &mut Frame<'_>,
    area: Rect,
    cell: impl Fn(usize, &(Column<Id>, usize)) -> Vec<Span<'static>>,
) {
    let columns = list.fitted(area);
    let sorted = |id| (id == list.by).then_some(list.descending);
    let headings = table::headings(&columns, app.theme, sorted);
    let headings = against::with_bar_heading(headings, &columns, |id| id == list.bar);
    let look = Look {
        theme: app.theme,
        place: list.place,
        len: list.len,
        focused: true,
        marked: true,
        empty: "no draws pass the filter",
    };
    table::view(frame, table_area(area), headings, &look, |at| {
        let mut spans = Vec::new();
        for column in &columns {
            spans.extend(cell(at, column));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}
