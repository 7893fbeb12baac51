//! Draws the Resample screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{By, beside, figures, lines, panes};
use crate::analysis::resample::due::times;
use crate::analysis::resample::{Because, Resample};
use crate::model::{Verdict, time};
use crate::tui::app::App;
use crate::tui::layout;
use crate::tui::screens::draws;
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shown {
    Compartment,
    Machine,
    Site,
    Why,
    Trusted,
    Days,
    Intervals,
    Point,
}

/// The columns of the list.
pub(crate) const COLUMNS: [TableColumn<Shown>; 8] = [
    TableColumn::new(Shown::Compartment, "compartment", 11, 0).grows(1, 18),
    TableColumn::new(Shown::Machine, "machine", 13, 1).grows(4, 26),
    TableColumn::new(Shown::Site, "site", 12, 4).grows(3, 20),
    TableColumn::new(Shown::Why, "why", 18, 0),
    TableColumn::new(Shown::Trusted, "last trusted", 12, 0),
    TableColumn::new(Shown::Days, "days", 5, 3).right(),
    TableColumn::new(Shown::Intervals, "intervals", 10, 0).right(),
    TableColumn::new(Shown::Point, "draw at", 8, 5).grows(1, 14),
];

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    head(app, frame);
    if figures(app).is_none() {
        return;
    }
    let panes = panes(app);
    if let Some(area) = panes.list {
        draws::view::divider(app, frame, panes.beside);
        list(app, frame, area);
    }
    beside::view(app, frame, panes.beside);
}

/// How many there are, as of when.
fn head(app: &App, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let days = days_left_out(app);
    let area = Rect {
        height: 1 + u16::from(days.is_some()),
        ..layout::body(app.size)
    };
    let width = usize::from(area.width).saturating_sub(1);
    let line = match counts(app) {
        Some((count, about)) => {
            let gap = width.saturating_sub(text::width(&count));
            Line::from(vec![
                Span::styled(count, theme.title()),
                Span::styled(text::left(&format!(" {about}"), gap), theme.faint()),
            ])
        }
        None => Line::from(Span::styled("looking", theme.faint())),
    };
    let days = days.map(|words| Line::from(Span::styled(text::cut(&words, width), theme.faint())));
    let lines: Vec<Line<'_>> = [Some(line), days].into_iter().flatten().collect();
    frame.render_widget(Paragraph::new(lines), area);
}

/// That days of the filter are left out here, where it names some: what is due today does not
/// hang on the period that is looked at.
pub(crate) fn days_left_out(app: &App) -> Option<String> {
    let days = app.filter.days_alone();
    (!days.is_empty()).then(|| format!("Whatever the period: {days} is left out here."))
}

/// How many there are, and of how many as of when; none before that is known.
pub(crate) fn counts(app: &App) -> Option<(String, String)> {
    let (figures, assessed) = (figures(app)?, app.data.as_ref()?);
    let found = &figures.to_resample.found;
    let count = text::plural(
        found.list.len() as u64,
        "compartment to sample again",
        "compartments to sample again",
    );
    let now = time::local_text(figures.to_resample.now, assessed.zone);
    let mut about = format!("of {}, as of {now}", text::count(found.series as u64));
    if app.screens.resample.strict {
        about.push_str("; doubtful ones count too");
    }
    if found.later > 0 {
        let later = text::plural(found.later as u64, "draw", "draws");
        about.push_str(&format!("; {later} dated later left out"));
    }
    Some((count, about))
}

/// What is said where there is none.
pub(crate) fn empty(app: &App) -> &'static str {
    if app.filter.without_days().is_empty() {
        "the latest sample of every compartment can be trusted"
    } else {
        "no compartment in view has a latest sample that can't be trusted"
    }
}

/// The column that shows what the list is sorted by.
const fn shown(by: By) -> Shown {
    match by {
        By::Urgency => Shown::Intervals,
        By::Days => Shown::Days,
        By::Compartment => Shown::Compartment,
        By::Site => Shown::Site,
    }
}

/// The columns that there is room for.
fn fitted(app: &App, area: Rect) -> Vec<(TableColumn<Shown>, usize)> {
    let width = usize::from(area.width).saturating_sub(2);
    let sorted = shown(app.screens.resample.by);
    table::fit(&COLUMNS, width, |id| id == sorted)
}

/// What a click on this cell of the headings sorts by.
pub(crate) fn heading_at(app: &App, area: Rect, x: u16) -> Option<By> {
    let cell = usize::from(x.checked_sub(area.x)?);
    let found = table::column_at(&fitted(app, area), cell)?;
    By::ALL.into_iter().find(|by| shown(*by) == found)
}

fn list(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let state = &app.screens.resample;
    let lines = lines(app);
    let sorted = shown(state.by);
    let columns = fitted(app, area);
    // Greatest first, names the other way round.
    let falls = matches!(state.by, By::Urgency | By::Days) != state.descending;
    let headings = table::headings(&columns, theme, |id| (id == sorted).then_some(falls));
    let look = Look {
        theme,
        place: state.list,
        len: lines.len(),
        focused: !state.opened,
        marked: true,
        empty: empty(app),
    };
    table::view(frame, area, headings, &look, |at| {
        let mut spans = Vec::new();
        for column in &columns {
            let (value, style) = cell(app, lines[at], column.0.id);
            spans.extend(table::cell(column, &value, style));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

/// Why a sample can't be trusted, with the glyph that stands for it.
pub(crate) fn because(app: &App, found: &Resample) -> (String, Style) {
    let theme = app.theme;
    let verdict = match found.because {
        Because::Unrepresentative => Verdict::Unrepresentative,
        Because::Unproven => Verdict::Unproven,
        Because::Doubtful => Verdict::Doubtful,
        Because::SetAside => {
            let glyph = theme.pick("⊘", "/");
            return (
                format!("{glyph} {}", found.because.as_str()),
                theme.strong(),
            );
        }
    };
    let glyph = theme.verdict_glyph(verdict);
    (format!("{glyph} {verdict}"), theme.verdict(verdict))
}

/// The day a draw was made in the programme's zone.
pub(crate) fn day(app: &App, row: u32) -> String {
    let assessed = app.data.as_ref();
    let text = assessed.map_or_else(String::new, |assessed| {
        time::local_text(assessed.judged.drawn_at[row as usize], assessed.zone)
    });
    text.chars().take(10).collect()
}

/// One value of a row.
pub(crate) fn cell(app: &App, found: &Resample, column: Shown) -> (String, Style) {
    let theme = app.theme;
    let plain = |text: String| (text, theme.plain());
    let Some(assessed) = &app.data else {
        return plain(String::new());
    };
    let point = &assessed.points[found.point];
    let or_none = |text: &Option<String>| plain(text.clone().unwrap_or_default());
    match column {
        Shown::Compartment => plain(point.compartment.clone()),
        Shown::Machine => or_none(&point.machine),
        Shown::Site => or_none(&point.site),
        Shown::Why => because(app, found),
        Shown::Trusted => match found.last_trusted {
            Some(row) => plain(day(app, row)),
            None => ("never".to_owned(), theme.strong()),
        },
        Shown::Days => plain(text::count(found.standing.since.days().max(0.0) as u64)),
        Shown::Intervals => match found.standing.ratio() {
            Some(ratio) if ratio > 1.0 => (times(ratio), theme.strong()),
            Some(ratio) => plain(times(ratio)),
            None => plain("–".to_owned()),
        },
        Shown::Point => plain(point.id.clone()),
    }
}
