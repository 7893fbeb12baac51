//! Draws the People screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use super::{By, Person, chosen, lines, panes};
use crate::tui::app::App;
use crate::tui::screens::against::{self, Compared};
use crate::tui::screens::share::view::FEW;
use crate::tui::screens::{beside, draws};
use crate::tui::subject::Subject;
use crate::tui::text;
use crate::tui::widgets::interval_bar;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shown {
    Name,
    Crew,
    Draws,
    Judged,
    Unrepresentative,
    Compared(Compared),
    Share,
    Interval,
    Bar,
    Bounds,
}

/// Columns that say nothing of a crew.
const fn is_about_technicians(shown: Shown) -> bool {
    matches!(
        shown,
        Shown::Crew | Shown::Compared(Compared::Odds | Compared::Bar)
    )
}

const COLUMNS: [TableColumn<Shown>; 13] = [
    TableColumn::new(Shown::Name, "name", 16, 0).grows(6, 28),
    TableColumn::new(Shown::Crew, "crew", 8, 5).grows(3, 20),
    TableColumn::new(Shown::Draws, "draws", 7, 6).right(),
    TableColumn::new(Shown::Judged, "judged", 7, 0).right(),
    TableColumn::new(Shown::Unrepresentative, "unrepr.", 8, 1).right(),
    TableColumn::new(Shown::Compared(Compared::Expected), "expected", 9, 1).right(),
    TableColumn::new(Shown::Compared(Compared::Difference), "differ", 7, 3).right(),
    TableColumn::new(Shown::Compared(Compared::Odds), "odds", 8, 4).right(),
    TableColumn::new(Shown::Compared(Compared::Bar), "", 13, 2).grows(4, 33),
    TableColumn::new(Shown::Share, "share", 11, 0).right(),
    TableColumn::new(Shown::Interval, "95 %", 12, 2).right(),
    TableColumn::new(Shown::Bar, "0 to 100 %", 13, 1).grows(4, 51),
    TableColumn::new(Shown::Bounds, "least-most", 12, 7).right(),
];

/// Where there is no room for both, the columns that were not asked for go first.
pub(crate) const NOT_ASKED_FOR: u8 = 10;

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

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let Some((_, figures)) = &app.figures.people else {
        return;
    };
    let panes = panes(app);
    let state = &app.screens.people;
    list(app, figures.all, frame, panes.list);
    footnote(app, frame, panes.list);
    draws::view::divider(app, frame, panes.beside);
    if let Some(person) = chosen(app) {
        let crew = match &person.subject {
            Subject::Technician(_) if person.name == person.id => person.crew.clone(),
            Subject::Technician(_) => format!("{} · {}", person.id, person.crew),
            _ => "crew".to_owned(),
        };
        let beside = beside::Beside {
            subject: &person.subject,
            tally: person.tally,
            all: figures.all,
            head: vec![beside::heading(app, &person.name, &crew, panes.beside)],
            funnel: match person.subject {
                Subject::Crew(_) => &figures.funnel_of_crews,
                _ => &figures.funnel_of_technicians,
            },
            picture: state.picture,
        };
        beside::view(app, beside, frame, panes.beside);
    }
}

fn list(app: &App, all: Option<f64>, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let state = &app.screens.people;
    let by = match state.by {
        By::Name => Shown::Name,
        By::Crew => Shown::Crew,
        By::Draws => Shown::Draws,
        By::Unrepresentative => Shown::Unrepresentative,
        By::Difference => Shown::Compared(Compared::Difference),
    };
    let wanted: Vec<TableColumn<Shown>> = COLUMNS
        .into_iter()
        .filter(|column| !(state.crews && is_about_technicians(column.id)))
        .map(|mut column| {
            if state.crews && column.id == Shown::Name {
                column.title = "crew";
            }
            let is_share = matches!(
                column.id,
                Shown::Share | Shown::Interval | Shown::Bar | Shown::Bounds | Shown::Draws
            );
            let is_compared = matches!(column.id, Shown::Compared(_));
            if state.shares && is_compared || !state.shares && is_share {
                column.rank += NOT_ASKED_FOR;
            }
            column
        })
        .collect();
    let width = usize::from(area.width).saturating_sub(2);
    let columns = table::fit(&wanted, width, |id| id == by);
    let headings = table::headings(&columns, theme, |id| (id == by).then_some(state.descending));
    let headings = against::with_bar_heading(headings, &columns, |id| {
        id == Shown::Compared(Compared::Bar)
    });
    let people = lines(app);
    let look = Look {
        theme,
        place: state.list,
        len: people.len(),
        focused: true,
        marked: true,
        empty: "no draws pass the filter",
    };
    table::view(frame, table_area(area), headings, &look, |at| {
        let mut spans = Vec::new();
        for column in &columns {
            spans.extend(cell(app, people[at], all, column));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

fn cell(
    app: &App,
    person: &Person,
    all: Option<f64>,
    column: &(TableColumn<Shown>, usize),
) -> Vec<Span<'static>> {
    let theme = app.theme;
    let tally = &person.tally;
    let share = &person.share;
    let value = match column.0.id {
        Shown::Name => person.name.clone(),
        Shown::Crew => person.crew.clone(),
        Shown::Draws => text::count(tally.draws),
        Shown::Judged => text::count(tally.judged()),
        Shown::Unrepresentative => text::count(tally.unrepresentative),
        Shown::Share => share_with_few(share.share, tally.judged()),
        Shown::Interval => text::percent_range(share.low, share.high),
        Shown::Bounds => text::percent_range(share.least, share.most),
        Shown::Compared(what) => return against::cell(app, &person.subject, what, column),
        Shown::Bar => {
            let shown = interval_bar::Shown {
                share: share.share,
                low: share.low,
                high: share.high,
                all,
            };
            return interval_bar::spans(shown, column.1, theme);
        }
    };
    table::cell(column, &value, theme.plain())
}

fn footnote(app: &App, frame: &mut Frame<'_>, list: Rect) {
    let width = usize::from(list.width).saturating_sub(2);
    let (long, short) = (
        "A share depends on the points served: a high one is no verdict on a person.",
        "Shares depend on the points served; no verdict on a person.",
    );
    let note = if text::width(long) <= width {
        long
    } else {
        short
    };
    against::footnote_view(app, note, frame, list);
}
