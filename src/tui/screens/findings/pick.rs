//! The chosen pick: how it was drawn, what its verification says so far, and its draws.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{below, chosen_pick, finding};
use crate::analysis::picks::{Pick, outcome};
use crate::model::decisions::DrawSeen;
use crate::model::decisions::pick::{Outcome, Verified};
use crate::tui::app::App;
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shown {
    Draw,
    When,
    Point,
    Technician,
    Verdict,
    Result,
    Note,
}

/// The columns of its draws.
pub(crate) const COLUMNS: [TableColumn<Shown>; 7] = [
    TableColumn::new(Shown::Draw, "draw", 12, 0).grows(1, 28),
    TableColumn::new(Shown::When, "drawn on", 10, 1),
    TableColumn::new(Shown::Point, "point", 10, 2).grows(1, 18),
    TableColumn::new(Shown::Technician, "technician", 10, 3),
    TableColumn::new(Shown::Verdict, "record says", 18, 0),
    TableColumn::new(Shown::Result, "found", 14, 0),
    TableColumn::new(Shown::Note, "note", 10, 4).grows(2, 50),
];

/// What stands above the draws of an opened pick.
pub(crate) fn head(app: &App, pick: &Pick, width: usize) -> Vec<Line<'static>> {
    let theme = app.theme;
    let drawn = &pick.drawn;
    let title = format!("Pick {}", drawn.pick);
    let entered = format!("{} of {} entered", pick.entered(), drawn.draws.len());
    let gap = width.saturating_sub(text::width(&title));
    let mut lines = vec![Line::from(vec![
        Span::styled(title, theme.strong()),
        Span::styled(text::right(&entered, gap), theme.strong()),
    ])];
    let mut words = |words: &str, style: Style| {
        for part in text::wrap(words, width) {
            lines.push(Line::from(Span::styled(part, style)));
        }
    };
    let of = match drawn.filter.as_str() {
        "" => "all".to_owned(),
        filter => format!("those of {filter}"),
    };
    let by = match drawn.by.as_str() {
        "" => String::new(),
        by => format!(", parted by {by}"),
    };
    words(
        &format!(
            "{} of {} draws ({of}){by}; {}; seed {}. Drawn {} by {}.",
            drawn.draws.len(),
            text::count(drawn.population),
            drawn.plan,
            drawn.seed,
            finding::when(app, pick.told.at),
            pick.told.who
        ),
        theme.plain(),
    );
    words(&says(pick), theme.strong());
    lines
}

/// What the results say, in words.
fn says(pick: &Pick) -> String {
    let confidence = pick.drawn.plan.confidence().parse().unwrap_or(0.95);
    let outcome = outcome(pick, confidence);
    let counts = outcome.counts;
    if pick.entered() == 0 {
        return "Nothing is entered yet; i enters a filled-in sheet.".to_owned();
    }
    let mut words = format!(
        "{} agree, {} disagree, {} could not be verified.",
        counts.agree, counts.disagree, counts.unverified
    );
    let percent = |part: f64| format!("{:.1} %", part * 100.0);
    if let Some(bounds) = outcome.left_out
        && let (Some(rate), Some(upper)) = (bounds.rate, bounds.upper)
    {
        words.push_str(&format!(
            " Errors: {} of those verified; with {} confidence at most {} of all such records",
            percent(rate),
            format_args!("{} %", shortest(confidence * 100.0)),
            percent(upper)
        ));
        if let Some(most) = bounds.most {
            words.push_str(&format!(", and at most {} of these", text::count(most)));
        }
        words.push('.');
    }
    if let Some(beyond) = outcome
        .kappa
        .as_ref()
        .and_then(|kappa| kappa.beyond.as_ref())
    {
        words.push_str(&format!(
            " Cohen's kappa of the record with the verifier: {:.2}.",
            beyond.kappa
        ));
    }
    words
}

/// A number with no more decimals than it needs, three at most.
fn shortest(number: f64) -> f64 {
    (number * 1000.0).round() / 1000.0
}

/// Beside the list of picks.
pub(crate) fn beside(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let Some(pick) = chosen_pick(app) else {
        return;
    };
    let width = usize::from(area.width).saturating_sub(1);
    let mut lines = head(app, pick, width);
    lines.push(Line::default());
    let height = usize::from(area.height);
    let room = height.saturating_sub(lines.len() + 1);
    for (seen, result) in pick.drawn.draws.iter().zip(&pick.results).take(room) {
        let result = result.as_ref().map(|(_, verified)| verified);
        let (found, style) = found(app, result);
        let draw = text::left(&seen.draw, width.saturating_sub(38).clamp(8, 24));
        let [glyph, verdict] = finding::verdict(app.theme, &seen.verdict);
        lines.push(Line::from(vec![
            Span::raw(draw),
            glyph,
            verdict,
            Span::styled(found, style),
        ]));
    }
    let left = pick.drawn.draws.len().saturating_sub(room);
    if left > 0 {
        let words = format!(
            "and {}",
            text::plural(left as u64, "more draw", "more draws")
        );
        lines.push(Line::from(Span::styled(words, app.theme.faint())));
    }
    frame.render_widget(Paragraph::new(lines), area);
}

fn areas(app: &App) -> (Rect, Rect) {
    let below = below(app);
    let width = usize::from(below.width).saturating_sub(1);
    let lines = chosen_pick(app).map_or(0, |pick| head(app, pick, width).len());
    let lines = (lines as u16 + 1).min(below.height / 2);
    let above = Rect {
        height: lines.saturating_sub(1),
        ..below
    };
    let list = Rect {
        y: below.y + lines,
        height: below.height - lines,
        ..below
    };
    (above, list)
}

/// Where the draws of the opened pick stand.
pub(crate) fn list_area(app: &App) -> Rect {
    areas(app).1
}

/// An opened pick.
pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let Some(pick) = chosen_pick(app) else {
        return;
    };
    let theme = app.theme;
    let (above, area) = areas(app);
    let width = usize::from(above.width).saturating_sub(1);
    frame.render_widget(Paragraph::new(head(app, pick, width)), above);
    let columns = table::fit(&COLUMNS, usize::from(area.width).saturating_sub(2), |_| {
        false
    });
    let headings = table::headings(&columns, theme, |_| None);
    let look = Look {
        theme,
        place: app.screens.findings.draws,
        len: pick.drawn.draws.len(),
        focused: true,
        marked: true,
        empty: "",
    };
    table::view(frame, area, headings, &look, |at| {
        let seen = &pick.drawn.draws[at];
        let result = pick.results[at].as_ref().map(|(_, verified)| verified);
        let mut spans = Vec::new();
        for column in &columns {
            let (value, style) = cell(app, seen, result, column.0.id);
            spans.extend(table::cell(column, &value, style));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

/// One value of a draw's row.
pub(crate) fn cell(
    app: &App,
    seen: &DrawSeen,
    result: Option<&Verified>,
    column: Shown,
) -> (String, Style) {
    let theme = app.theme;
    let plain = |text: String| (text, theme.plain());
    match column {
        Shown::Draw => plain(seen.draw.clone()),
        Shown::When => plain(finding::when(app, seen.drawn_at).chars().take(10).collect()),
        Shown::Point => plain(seen.point.clone()),
        Shown::Technician => plain(seen.technician.clone()),
        Shown::Verdict => match crate::model::Verdict::parse(&seen.verdict) {
            Some(verdict) => (
                format!("{} {verdict}", theme.verdict_glyph(verdict)),
                theme.verdict(verdict),
            ),
            None => plain(seen.verdict.clone()),
        },
        Shown::Result => found(app, result),
        Shown::Note => plain(result.map_or_else(String::new, |result| result.note.clone())),
    }
}

/// What was found of a draw, with the glyph that stands for it.
pub(super) fn found(app: &App, result: Option<&Verified>) -> (String, Style) {
    let theme = app.theme;
    match result.map(|result| result.result) {
        None => (theme.pick("·", ".").to_owned(), theme.faint()),
        Some(Outcome::Agree) => (format!("{} agrees", theme.pick("✓", "+")), theme.plain()),
        Some(Outcome::Disagree) => (
            format!("{} disagrees", theme.pick("✗", "x")),
            theme.warning(),
        ),
        Some(Outcome::Unverified) => ("? not verified".to_owned(), theme.plain()),
    }
}
