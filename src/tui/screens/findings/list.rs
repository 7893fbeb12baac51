//! The lists of findings and of picks.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::{By, findings, picks};
use crate::analysis::findings::{Finding, State};
use crate::analysis::picks::{Pick, outcome};
use crate::tui::app::App;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};
use crate::tui::{layout, text};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shown {
    Number,
    State,
    Due,
    Late,
    Subject,
    Text,
    Owner,
}

/// The columns of findings.
pub(crate) const COLUMNS: [TableColumn<Shown>; 7] = [
    TableColumn::new(Shown::Number, "no.", 5, 0),
    TableColumn::new(Shown::State, "state", 11, 0),
    TableColumn::new(Shown::Due, "due", 10, 0),
    TableColumn::new(Shown::Late, "late", 5, 1),
    TableColumn::new(Shown::Subject, "about", 16, 3).grows(1, 24),
    TableColumn::new(Shown::Text, "what was found", 14, 0).grows(8, 70),
    TableColumn::new(Shown::Owner, "owner", 11, 2).grows(2, 16),
];

/// What is said where no finding was raised.
pub(crate) const NO_FINDING: &str =
    "none was raised yet; F raises one: on Draws, People, Points, or a pick";

/// What is said where no pick was drawn.
pub(crate) const NO_PICK: &str = "no pick was drawn yet; n draws one";

/// The column that shows what the list is sorted by.
const fn shown(by: By) -> Shown {
    match by {
        By::Due => Shown::Due,
        By::Number => Shown::Number,
        By::State => Shown::State,
        By::Owner => Shown::Owner,
    }
}

/// The columns that there is room for.
fn fitted(app: &App, area: Rect) -> Vec<(TableColumn<Shown>, usize)> {
    let width = usize::from(area.width).saturating_sub(2);
    let sorted = shown(app.screens.findings.by);
    // Where none is late there is more room for what was found.
    let is_late = findings(app).iter().any(|it| overdue(app, it).is_some());
    let told = COLUMNS
        .into_iter()
        .filter(|column| is_late || column.id != Shown::Late);
    let told: Vec<_> = told.collect();
    table::fit(&told, width, |id| id == sorted)
}

/// What a click on this cell of the headings sorts by.
pub(crate) fn heading_at(app: &App, area: Rect, x: u16) -> Option<By> {
    let cell = usize::from(x.checked_sub(area.x)?);
    let found = table::column_at(&fitted(app, area), cell)?;
    By::ALL.into_iter().find(|by| shown(*by) == found)
}

pub(crate) fn findings_list(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let state = &app.screens.findings;
    let findings = findings(app);
    let sorted = shown(state.by);
    let columns = fitted(app, area);
    // The latest number stands first unless the order is turned.
    let descending = state.descending != (state.by == By::Number);
    let headings = table::headings(&columns, theme, |id| (id == sorted).then_some(descending));
    let each = lines_each(app, area);
    let mut place = state.findings;
    if each > 1 {
        (place.cursor, place.offset) = (place.cursor * each, 0);
    }
    let look = Look {
        theme,
        place,
        len: findings.len() * each,
        focused: !state.opened,
        marked: true,
        empty: NO_FINDING,
    };
    let width = usize::from(area.width).saturating_sub(1);
    table::view(frame, area, headings, &look, |at| {
        let (finding, part) = (findings[at / each], at % each);
        let mut line = line(app, finding, &columns, (part, each));
        if part == 0 || at / each != state.findings.cursor {
            return line;
        }
        // The table marks the first line of the chosen one alone.
        let gap = width.saturating_sub(line.width());
        line.spans.push(Span::raw(" ".repeat(gap)));
        match look.focused {
            true => theme.choose(line),
            false => line.style(theme.resting()),
        }
    });
}

/// A line of a finding: what was found goes on in the later ones.
fn line(
    app: &App,
    finding: &Finding,
    columns: &[(TableColumn<Shown>, usize)],
    (part, each): (usize, usize),
) -> Line<'static> {
    let mut spans = Vec::new();
    for column in columns {
        let (value, style) = cell(app, finding, column.0.id);
        let value = match (column.0.id, part) {
            (Shown::Text, _) if each > 1 => told_in(&value, column.1, each).swap_remove(part),
            (_, 0) => value,
            _ => String::new(),
        };
        spans.extend(table::cell(column, &value, style));
        spans.push(Span::raw(" "));
    }
    Line::from(spans)
}

/// A text in so many lines of this width; what does not fit into the last is cut there.
fn told_in(value: &str, width: usize, lines: usize) -> Vec<String> {
    let mut parts = text::wrap(value, width);
    if parts.len() > lines {
        let rest = parts.split_off(lines - 1).join(" ");
        parts.push(text::cut(&rest, width));
    }
    parts.resize(lines, String::new());
    parts
}

/// How many lines each finding takes: more than one where what was found is longer than its
/// column and rows are left.
pub(crate) fn lines_each(app: &App, area: Rect) -> usize {
    const MOST: usize = 3;
    let findings = findings(app);
    let columns = fitted(app, area);
    let width = columns.iter().find(|(column, _)| column.id == Shown::Text);
    let Some((_, width)) = width else { return 1 };
    let needed = |finding: &&Finding| text::wrap(&finding.raised.text, *width).len();
    let needed = findings.iter().map(needed).max().unwrap_or(1);
    let room = layout::rows_of(area) / findings.len().max(1);
    needed.min(MOST).min(room).max(1)
}

/// A state with the glyph that stands for it.
pub(crate) fn state_words(app: &App, finding: &Finding) -> (String, Style) {
    let theme = app.theme;
    let (glyph, style) = match finding.state {
        _ if overdue(app, finding).is_some() => ("!", theme.warning()),
        State::Open => (theme.pick("○", "o"), theme.strong()),
        State::Answered => (theme.pick("◐", "a"), theme.plain()),
        State::Closed => (theme.pick("✓", "+"), theme.faint()),
        State::Withdrawn => ("-", theme.faint()),
    };
    (format!("{glyph} {}", finding.state), style)
}

/// By how many days a finding is overdue.
pub(crate) fn overdue(app: &App, finding: &Finding) -> Option<i64> {
    finding.overdue(app.figures.docket.as_ref()?.today)
}

/// One value of a finding's row.
pub(crate) fn cell(app: &App, finding: &Finding, column: Shown) -> (String, Style) {
    let theme = app.theme;
    let plain = |text: String| (text, theme.plain());
    match column {
        Shown::Number => plain(format!("F-{}", finding.number())),
        Shown::State => state_words(app, finding),
        Shown::Due => plain(
            finding
                .due()
                .map_or_else(String::new, |day| day.to_string()),
        ),
        Shown::Late => match overdue(app, finding) {
            Some(days) => (format!("{days} d"), theme.warning()),
            None => plain(String::new()),
        },
        Shown::Subject => plain(finding.raised.subject.to_string()),
        Shown::Text => plain(finding.raised.text.clone()),
        Shown::Owner => plain(finding.raised.owner.clone()),
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PickShown {
    Number,
    When,
    Plan,
    Draws,
    Entered,
    Disagree,
    Of,
}

/// The columns of picks.
pub(crate) const PICK_COLUMNS: [TableColumn<PickShown>; 7] = [
    TableColumn::new(PickShown::Number, "pick", 5, 0),
    TableColumn::new(PickShown::When, "drawn on", 10, 2),
    TableColumn::new(PickShown::Plan, "plan", 12, 1).grows(2, 44),
    TableColumn::new(PickShown::Draws, "draws", 6, 0).right(),
    TableColumn::new(PickShown::Entered, "entered", 8, 0).right(),
    TableColumn::new(PickShown::Disagree, "disagree", 9, 0).right(),
    TableColumn::new(PickShown::Of, "of", 9, 3).right(),
];

pub(crate) fn picks_list(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let picks = picks(app);
    let width = usize::from(area.width).saturating_sub(2);
    let columns = table::fit(&PICK_COLUMNS, width, |_| false);
    let headings = table::headings(&columns, theme, |_| None);
    let look = Look {
        theme,
        place: app.screens.findings.picks,
        len: picks.len(),
        focused: true,
        marked: true,
        empty: NO_PICK,
    };
    table::view(frame, area, headings, &look, |at| {
        let mut spans = Vec::new();
        for column in &columns {
            let (value, style) = pick_cell(app, picks[at], column.0.id);
            spans.extend(table::cell(column, &value, style));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

/// One value of a pick's row.
pub(crate) fn pick_cell(app: &App, pick: &Pick, column: PickShown) -> (String, Style) {
    let theme = app.theme;
    let count = |number: u64| (text::count(number), theme.plain());
    match column {
        PickShown::Number => (pick.drawn.pick.to_string(), theme.plain()),
        PickShown::When => {
            let when = super::finding::when(app, pick.told.at);
            (when.chars().take(10).collect(), theme.plain())
        }
        PickShown::Plan => (pick.drawn.plan.to_string(), theme.plain()),
        PickShown::Draws => count(pick.drawn.draws.len() as u64),
        PickShown::Entered => count(pick.entered()),
        PickShown::Disagree => {
            let disagree = outcome(pick, 0.95).counts.disagree;
            let style = if disagree > 0 {
                theme.strong()
            } else {
                theme.faint()
            };
            (text::count(disagree), style)
        }
        PickShown::Of => count(pick.drawn.population),
    }
}
