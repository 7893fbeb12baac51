//! Coverage: how much of each column is filled, by site and over time, and which column to
//! start recording first.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::exam;
use crate::analysis::coverage::{Column, Covered, Filled, Settled, Sheet, Step};
use crate::analysis::{BLANK, Coverage, FilterKey};
use crate::tui::app::App;
use crate::tui::narrower::Narrower;
use crate::tui::screens::beside;
use crate::tui::text;
use crate::tui::widgets::fill_bar;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

/// The figures of the view.
#[derive(Clone, Debug)]
pub struct CoverageFigures {
    all: Covered,
    sites: Vec<Covered>,
    /// In order of time.
    months: Vec<Covered>,
    /// Places in `all.columns`: those to record first in their order, then those that would
    /// settle most, then those least filled.
    by_rank: Vec<usize>,
    /// The same, the least filled first.
    by_fill: Vec<usize>,
}

/// Over all draws, by site and by month.
#[derive(Clone, Debug, Default)]
pub struct Coverages {
    /// One group with all of them; none without draws.
    pub all: Coverage,
    /// By site.
    pub sites: Coverage,
    /// By month.
    pub months: Coverage,
}

impl CoverageFigures {
    pub(crate) fn of(found: Coverages) -> Self {
        let all = found.all.groups.into_iter().next();
        let all = all.unwrap_or_else(|| Covered {
            key: String::new(),
            draws: 0,
            unproven: 0,
            no_blank: 0,
            columns: Vec::new(),
            order: Vec::new(),
        });
        let share = |place: &usize| all.columns[*place].share().unwrap_or(1.0);
        let rank = |place: &usize| {
            let column = all.columns[*place].column;
            let step = all.order.iter().position(|step| step.column == column);
            step.unwrap_or(usize::MAX)
        };
        let least = |a: &usize, b: &usize| share(a).total_cmp(&share(b)).then(a.cmp(b));
        let mut by_fill: Vec<usize> = (0..all.columns.len()).collect();
        by_fill.sort_by(least);
        let mut by_rank = by_fill.clone();
        by_rank.sort_by_key(|place| {
            let filled = &all.columns[*place];
            (
                rank(place),
                std::cmp::Reverse((filled.settles.whatever, filled.settles.if_kept)),
                std::cmp::Reverse(filled.unproven_without),
            )
        });
        CoverageFigures {
            sites: found.sites.groups,
            months: found.months.groups,
            by_rank,
            by_fill,
            all,
        }
    }

    fn step(&self, column: Column) -> Option<(usize, &Step)> {
        let order = self.all.order.iter().enumerate();
        let mut order = order.filter(|(_, step)| step.column == column);
        order.next()
    }
}

fn of_group(group: &Covered, column: Column) -> Option<&Filled> {
    group.columns.iter().find(|filled| filled.column == column)
}

/// In which order the columns stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Order {
    /// Those to record first.
    #[default]
    Rank,
    /// The least filled.
    Fill,
    /// As in the sheets.
    Sheets,
}

impl Order {
    pub(crate) const fn next(self) -> Self {
        match self {
            Order::Rank => Order::Fill,
            Order::Fill => Order::Sheets,
            Order::Sheets => Order::Rank,
        }
    }
}

/// The columns that there is room for.
fn fitted(area: Rect) -> Vec<(TableColumn<Shown>, usize)> {
    let width = usize::from(area.width).saturating_sub(2);
    table::fit(&COLUMNS, width, |_| false)
}

/// The order that a click on this column of the screen asks for: the numbers before the columns
/// are those to record first.
pub(crate) fn heading_at(area: Rect, x: u16) -> Option<Order> {
    let cell = usize::from(x.checked_sub(area.x)?);
    match table::column_at(&fitted(area), cell)? {
        Shown::Rank | Shown::Settles | Shown::IfKept | Shown::Together => Some(Order::Rank),
        Shown::Filled | Shown::Bar => Some(Order::Fill),
        Shown::Column | Shown::Sheet => Some(Order::Sheets),
        Shown::Months => None,
    }
}

pub(crate) fn figures(app: &App) -> Option<&CoverageFigures> {
    exam::known(app, &app.examined.coverage).map(AsRef::as_ref)
}

pub(crate) fn len(app: &App) -> usize {
    figures(app).map_or(0, |figures| figures.all.columns.len())
}

/// What is known of the column at this place of the list.
pub(crate) fn filled_at<'a>(
    app: &App,
    figures: &'a CoverageFigures,
    at: usize,
) -> Option<&'a Filled> {
    let place = match app.screens.records.order {
        Order::Rank => figures.by_rank.get(at).copied()?,
        Order::Fill => figures.by_fill.get(at).copied()?,
        Order::Sheets => at,
    };
    figures.all.columns.get(place)
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shown {
    Rank,
    Column,
    Sheet,
    Filled,
    Bar,
    Months,
    Settles,
    IfKept,
    Together,
}

/// The columns of the list.
pub(crate) const COLUMNS: [TableColumn<Shown>; 9] = [
    TableColumn::new(Shown::Rank, "", 2, 0).right(),
    TableColumn::new(Shown::Column, "column", 16, 0),
    TableColumn::new(Shown::Sheet, "sheet", 6, 2),
    TableColumn::new(Shown::Filled, "filled", 7, 0).right(),
    TableColumn::new(Shown::Bar, "", 8, 5).grows(1, 20),
    TableColumn::new(Shown::Months, "blank by month", 14, 3).grows(2, 60),
    TableColumn::new(Shown::Settles, "settles", 7, 0).right(),
    TableColumn::new(Shown::IfKept, "at best", 7, 1).right(),
    TableColumn::new(Shown::Together, "together", 8, 1).right(),
];

/// What stands above the list: what it says in a sentence.
pub(crate) fn head(app: &App, width: usize) -> Vec<Line<'static>> {
    let Some(figures) = figures(app) else {
        return Vec::new();
    };
    let all = &figures.all;
    let words = match all.order.first() {
        _ if all.draws == 0 => "No draws pass the filter.".to_owned(),
        None if all.unproven == 0 => {
            "No draw is unproven: nothing more need be recorded.".to_owned()
        }
        None => format!(
            "{} of {} are unproven; no column alone or with others would settle one.",
            text::count(all.unproven),
            text::plural(all.draws, "draw", "draws")
        ),
        Some(step) => format!(
            "{} of {} are unproven. Start recording {}: that settles {} of them{}.",
            text::count(all.unproven),
            text::plural(all.draws, "draw", "draws"),
            step.column.as_str(),
            text::count(step.together.whatever),
            at_best(step.together)
        ),
    };
    let mut lines: Vec<Line<'static>> = text::wrap(&words, width)
        .into_iter()
        .map(Line::from)
        .collect();
    lines.push(Line::default());
    lines
}

pub(crate) fn list(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let Some(figures) = figures(app) else {
        return;
    };
    let columns = fitted(area);
    let order = app.screens.records.order;
    let headings = table::headings(&columns, theme, |id| match (order, id) {
        (Order::Rank, Shown::Rank)
        | (Order::Fill, Shown::Filled)
        | (Order::Sheets, Shown::Sheet) => Some(false),
        _ => None,
    });
    let look = Look {
        theme,
        place: app.screens.records.columns,
        len: figures.all.columns.len(),
        focused: true,
        marked: true,
        empty: "no column is asked for",
    };
    table::view(frame, area, headings, &look, |at| {
        let Some(filled) = filled_at(app, figures, at) else {
            return Line::default();
        };
        let mut spans = Vec::new();
        for column in &columns {
            match column.0.id {
                Shown::Bar => spans.extend(fill_bar::spans(filled.share(), column.1, theme)),
                Shown::Months => {
                    let line = months(app, figures, filled.column, column.1);
                    spans.push(Span::raw(text::left(&line, column.1)));
                }
                id => {
                    let (value, style) = cell(app, figures, filled, id);
                    spans.extend(table::cell(column, &value, style));
                }
            }
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

/// One value of a column's row.
pub(crate) fn cell(
    app: &App,
    figures: &CoverageFigures,
    filled: &Filled,
    column: Shown,
) -> (String, Style) {
    let theme = app.theme;
    let count = |number: u64| match number {
        0 => (theme.pick("·", ".").to_owned(), theme.faint()),
        some => (text::count(some), theme.plain()),
    };
    let step = figures.step(filled.column);
    match column {
        Shown::Rank => {
            let rank = step.map_or_else(String::new, |(at, _)| (at + 1).to_string());
            (rank, theme.strong())
        }
        Shown::Column => (filled.column.as_str().to_owned(), theme.plain()),
        Shown::Sheet => (filled.column.sheet().as_str().to_owned(), theme.faint()),
        Shown::Filled => (text::percent(filled.share()), theme.plain()),
        Shown::Settles => count(filled.settles.whatever),
        Shown::IfKept => count(filled.settles.if_kept),
        Shown::Together => step.map_or_else(
            || (String::new(), theme.plain()),
            |(_, step)| count(step.together.if_kept),
        ),
        Shown::Bar | Shown::Months => (String::new(), theme.plain()),
    }
}

/// The part of each month that is left blank, as far as months fit, the latest last; what is
/// nearly always filled differs by how much is not. Several months in one cell where all would not fit.
fn months(app: &App, figures: &CoverageFigures, column: Column, width: usize) -> String {
    let months = &figures.months;
    let together = months.len().div_ceil(width.max(1)).max(1);
    let cells: Vec<&str> = months
        .rchunks(together)
        .map(|months| {
            let found = months.iter().filter_map(|month| of_group(month, column));
            let (mut asked, mut filled) = (0, 0);
            for month in found {
                asked += month.asked;
                filled += month.filled;
            }
            let blank = (asked > 0).then(|| (asked - filled) as f64 / asked as f64);
            fill_bar::blanks(blank, app.theme)
        })
        .collect();
    cells.into_iter().rev().collect()
}

/// What the numbers of the list mean, below it; nothing where rows are worth more.
pub(crate) fn legend(app: &App, width: usize) -> Vec<Line<'static>> {
    const WORDS: &str = "settles: unproven draws that would get a verdict if it were filled, \
                         whatever is written; at best: if it showed the rules kept; together: at \
                         best, with all numbered before it.";
    if figures(app).is_none_or(|figures| figures.all.unproven == 0) {
        return Vec::new();
    }
    let parts = text::wrap(WORDS, width).into_iter();
    let style = app.theme.faint();
    parts
        .map(|part| Line::from(Span::styled(part, style)))
        .collect()
}

/// The column that the keys act on.
fn chosen(app: &App) -> Option<&Filled> {
    filled_at(app, figures(app)?, app.screens.records.columns.cursor)
}

/// What narrows to the draws on which the chosen column is blank, where a filter can say that
/// and there are any.
pub(crate) fn narrower(app: &App) -> Option<Narrower> {
    let filled = chosen(app).filter(|filled| filled.filled < filled.asked)?;
    let key = match filled.column {
        Column::Method => FilterKey::Method,
        Column::PointPlace => FilterKey::Place,
        _ => return None,
    };
    Some(Narrower::one(key, BLANK))
}

/// Why nothing can be narrowed to, and what comes near.
pub(crate) fn why_no_narrower(app: &App) -> Option<String> {
    let filled = chosen(app)?;
    let name = filled.column.as_str();
    Some(match filled.filled < filled.asked {
        false => format!("{name} is blank on no draw in view."),
        true => format!(
            "No filter tells where {name} is blank; unrecorded: with a rule passes the draws that \
             lack what it asks for."
        ),
    })
}

/// The chosen column in words, by site and by month.
pub(crate) fn beside(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let Some(figures) = figures(app) else {
        return;
    };
    let Some(filled) = filled_at(app, figures, app.screens.records.columns.cursor) else {
        return;
    };
    let width = usize::from(area.width).saturating_sub(1);
    let sheet = format!("{}.csv", filled.column.sheet().as_str());
    let mut lines = vec![beside::heading(app, filled.column.as_str(), &sheet, area)];
    lines.extend(
        text::wrap(&words(figures, filled), width)
            .into_iter()
            .map(Line::from),
    );
    let room = usize::from(area.height).saturating_sub(lines.len());
    let column = filled.column;
    // Sites take what they need, at most half of the room where months need it too.
    let need = |groups: &[Covered]| groups.len() + 2;
    let for_sites =
        need(&figures.sites).min((room / 2).max(room.saturating_sub(need(&figures.months))));
    groups(
        app,
        &mut lines,
        "By site",
        &figures.sites,
        column,
        (width, for_sites),
    );
    let newest_first: Vec<Covered> = figures.months.iter().rev().cloned().collect();
    let room = usize::from(area.height).saturating_sub(lines.len());
    groups(
        app,
        &mut lines,
        "By month",
        &newest_first,
        column,
        (width, room),
    );
    frame.render_widget(Paragraph::new(lines), area);
}

/// What is added where more can be settled than is sure.
fn at_best(settled: Settled) -> String {
    if settled.if_kept == settled.whatever {
        return String::new();
    }
    format!(
        " whatever is written, {} where it shows the rules kept",
        text::count(settled.if_kept)
    )
}

/// How far the column is filled, and what it would settle, in words.
pub(crate) fn words(figures: &CoverageFigures, filled: &Filled) -> String {
    let mut words = format!(
        "Filled on {} of {} on which it has a meaning.",
        text::count(filled.filled),
        text::plural(filled.asked, "draw", "draws")
    );
    if filled.column.sheet() == Sheet::Points && filled.points_without > 0 {
        words.push_str(&format!(
            " It is blank at {}.",
            text::plural(filled.points_without, "point", "points")
        ));
    }
    if filled.unproven_without > 0 {
        let settles = filled.settles;
        words.push_str(&format!(
            " It is blank on {} of {} unproven ones",
            text::count(filled.unproven_without),
            text::count(figures.all.unproven)
        ));
        words.push_str(&match (settles.whatever, settles.if_kept) {
            (_, 0) => "; alone it would settle none.".to_owned(),
            (0, best) => format!(
                "; alone it would settle up to {}, where it shows the rules kept.",
                text::count(best)
            ),
            (sure, _) => format!(
                "; alone it would settle {}{}.",
                text::count(sure),
                at_best(settles)
            ),
        });
    }
    if let Some((at, step)) = figures.step(filled.column).filter(|(at, _)| *at > 0) {
        let others = match at {
            1 => "number 1".to_owned(),
            last => format!("numbers 1 to {last}"),
        };
        words.push_str(&format!(
            " Recorded together with {others}: {}{}.",
            text::count(step.together.whatever),
            at_best(step.together)
        ));
    }
    words
}

/// How far a column is filled by site and by month, the newest first, in words.
pub(crate) fn by_group(figures: &CoverageFigures, column: Column) -> Vec<String> {
    let said = |group: &Covered| {
        let filled = of_group(group, column);
        let asked = filled.map_or(0, |filled| filled.asked);
        let share = text::percent(filled.and_then(Filled::share));
        format!("{} {share} of {}", group.key, text::count(asked))
    };
    let sites: Vec<String> = figures.sites.iter().map(said).collect();
    let months: Vec<String> = figures.months.iter().rev().map(said).collect();
    vec![
        format!("By site: {}.", sites.join("; ")),
        format!("By month, the newest first: {}.", months.join("; ")),
    ]
}

/// A bar of fewer cells than this shows nothing.
const LEAST_BAR: usize = 4;

fn groups(
    app: &App,
    lines: &mut Vec<Line<'static>>,
    title: &str,
    groups: &[Covered],
    column: Column,
    (width, room): (usize, usize),
) {
    let theme = app.theme;
    if room < 3 || groups.is_empty() {
        return;
    }
    lines.push(Line::default());
    let about = text::right("draws, filled", width.saturating_sub(text::width(title)));
    lines.push(Line::from(vec![
        Span::styled(title.to_owned(), theme.title()),
        Span::styled(about, theme.faint()),
    ]));
    // A bar only beside whole names: the percentage says the same.
    let longest = groups.iter().map(|group| text::width(&group.key)).max();
    let longest = longest.unwrap_or(0).min(24);
    let is_cut = longest > (width / 3).max(8) && width < longest + 8 + 9 + 2 + LEAST_BAR;
    let name = match is_cut {
        true => longest.min(width.saturating_sub(8 + 9 + 1)),
        false => longest.max((width / 3).clamp(8, 24)),
    };
    for group in groups.iter().take(room - 2) {
        let filled = of_group(group, column);
        let asked = filled.map_or(0, |filled| filled.asked);
        let share = filled.and_then(Filled::share);
        let mut spans = vec![Span::raw(text::left(&group.key, name)), Span::raw(" ")];
        if is_cut {
            let blanks = width.saturating_sub(name + 8 + 9 + 2);
            spans.push(Span::raw(" ".repeat(blanks)));
        } else {
            let bar = width.saturating_sub(name + 8 + 9 + 2);
            spans.extend(fill_bar::spans(share, bar, theme));
        }
        spans.push(Span::styled(
            text::right(&text::count(asked), 8),
            theme.faint(),
        ));
        spans.push(Span::raw(text::right(&text::percent(share), 9)));
        lines.push(Line::from(spans));
    }
}
