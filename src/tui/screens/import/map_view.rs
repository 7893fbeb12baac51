//! Draws how a table is read and the map proposed for it: a row for each thing that can be
//! changed, and beside it the chosen one in full.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::how::ReadHow;
use super::map_rows::{self, At, MapRow, line};
use super::panes;
use crate::programme::SheetPreview;
use crate::programme::maps::{Proposal, Value, confidence_word};
use crate::tui::app::App;
use crate::tui::screens::{beside, draws};
use crate::tui::text;
use crate::tui::widgets::table::{self, Look};

pub(crate) fn rows(app: &App) -> Vec<MapRow> {
    map_rows::rows(proposal(app))
}

pub(crate) fn proposal(app: &App) -> Option<&Proposal> {
    app.import.looked.proposal.as_deref()
}

pub(crate) fn chosen(app: &App) -> Option<MapRow> {
    rows(app).into_iter().nth(app.import.map.cursor)
}

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let panes = panes(app);
    draws::view::divider(app, frame, panes.beside);
    let rows = rows(app);
    let width = usize::from(panes.list.width).saturating_sub(2);
    let look = Look {
        theme,
        place: app.import.map,
        len: rows.len(),
        focused: true,
        marked: true,
        empty: "",
    };
    let cells = Cells::of(width);
    let headings = Line::from(Span::styled(
        format!(
            "{} {} {}",
            text::left("ours", cells.key),
            text::left("made of, or read as", cells.value),
            text::left("how sure", cells.sure),
        ),
        theme.faint(),
    ));
    table::view(frame, panes.list, headings, &look, |at| {
        row(app, &rows[at], cells)
    });
    detail(app, frame, panes.beside);
}

#[derive(Clone, Copy)]
struct Cells {
    key: usize,
    value: usize,
    sure: usize,
}

impl Cells {
    fn of(width: usize) -> Self {
        let sure = 12;
        let key = (width / 3).clamp(18, 30);
        Cells {
            key,
            value: width.saturating_sub(key + sure + 2),
            sure,
        }
    }
}

fn row(app: &App, row: &MapRow, cells: Cells) -> Line<'static> {
    let theme = app.theme;
    let three = |key: String, value: String, sure: String, style: Style| {
        Line::from(vec![
            Span::styled(text::left(&key, cells.key), style),
            Span::raw(" "),
            Span::styled(text::left(&value, cells.value), style),
            Span::raw(" "),
            Span::styled(text::left(&sure, cells.sure), theme.faint()),
        ])
    };
    match row {
        MapRow::Title(words) => Line::from(Span::styled(words.clone(), theme.title())),
        MapRow::How(how) => {
            let said = how.said(&app.import.request);
            let style = if said.is_some() {
                theme.strong()
            } else {
                theme.plain()
            };
            let found = match how {
                ReadHow::Kind => found_kind(app),
                how => how.found(&app.import.looked.how),
            };
            let (value, sure) = match (said, found) {
                (Some(said), _) => (said, "as you say"),
                (None, Some(found)) => (found, how.whence(&app.import.looked.how)),
                (None, None) => (how.if_not_found(&app.import.looked.how).to_owned(), ""),
            };
            three(format!("  {}", how.name()), value, sure.to_owned(), style)
        }
        MapRow::Line(at) => {
            let Some((proposal, line)) = proposal(app).and_then(|of| Some((of, line(of, at)?)))
            else {
                return Line::default();
            };
            let indent = "  ".repeat(at.path.len());
            let sure = line.confidence.map_or_else(String::new, |confidence| {
                format!(
                    "{} {:.0} %",
                    confidence_word(confidence),
                    confidence * 100.0
                )
            });
            match &line.value {
                Value::Open(_) => {
                    let keys = map_rows::keys(proposal, at).join(", ");
                    let style = theme.warning();
                    three(
                        format!("? {keys}"),
                        "Enter answers it".to_owned(),
                        String::new(),
                        style,
                    )
                }
                Value::Yaml(yaml) => three(
                    format!("{indent}{}", line.key),
                    plain(yaml),
                    sure,
                    theme.plain(),
                ),
                Value::Lines(_) => three(
                    format!("{indent}{}", line.key),
                    String::new(),
                    sure,
                    theme.plain(),
                ),
            }
        }
        MapRow::Aside(sheet, place) => {
            let name = aside(app, *sheet, *place).map_or("", |(name, _)| name);
            three(
                "  -".to_owned(),
                name.to_owned(),
                String::new(),
                theme.faint(),
            )
        }
    }
}

/// What the tables hold, where that is known and the same for all.
fn found_kind(app: &App) -> Option<String> {
    let of_map = proposal(app).map(|of| of.sheets.iter().map(|sheet| sheet.kind));
    let of_rows = app.import.looked.previews.iter().map(|sheet| sheet.kind);
    let mut kinds = of_map.into_iter().flatten().chain(of_rows);
    let first = kinds.next()?;
    kinds
        .all(|kind| kind == first)
        .then(|| first.as_str().to_owned())
}

pub(crate) fn aside(app: &App, sheet: usize, place: usize) -> Option<(&str, &str)> {
    let (name, reason) = proposal(app)?.sheets.get(sheet)?.aside.get(place)?;
    Some((name, reason))
}

/// A value without the marks that only YAML needs.
fn plain(yaml: &str) -> String {
    if let Some(items) = yaml
        .strip_prefix('[')
        .and_then(|rest| rest.strip_suffix(']'))
    {
        let items: Vec<String> = items.split(", ").map(plain).collect();
        return items.join(", ");
    }
    let inner = yaml
        .strip_prefix('"')
        .and_then(|rest| rest.strip_suffix('"'));
    match inner {
        Some(inner) if !inner.contains(['"', '\\']) => inner.to_owned(),
        _ => yaml.to_owned(),
    }
}

/// The chosen row in full, what is wrong with the map, how the table was read.
fn detail(app: &App, frame: &mut Frame<'_>, area: Rect) {
    frame.render_widget(Paragraph::new(detail_lines(app, area)), area);
}

/// The same line by line.
pub(crate) fn detail_lines(app: &App, area: Rect) -> Vec<Line<'static>> {
    let theme = app.theme;
    let width = usize::from(area.width).saturating_sub(1);
    let mut lines: Vec<Line<'static>> = Vec::new();
    let mut say = |words: &str, style: Style| {
        let wrapped = text::wrap(words, width).into_iter();
        lines.extend(wrapped.map(|part| Line::from(Span::styled(part, style))));
    };
    match chosen(app) {
        Some(MapRow::How(how)) => {
            say(how.name(), theme.strong());
            say(how.about(), theme.plain());
            for remark in remarks(app) {
                say(&text::sentence(&remark), theme.faint());
            }
        }
        Some(MapRow::Line(at)) => about_line(app, &at, &mut say),
        Some(MapRow::Aside(sheet, place)) => {
            if let Some((name, reason)) = aside(app, sheet, place) {
                say(name, theme.strong());
                let words = format!(
                    "{} It stays with its row, but nothing is judged by it. Enter makes it one of our columns.",
                    text::sentence(reason)
                );
                say(&words, theme.plain());
            }
        }
        Some(MapRow::Title(_)) | None => {
            for remark in remarks(app) {
                say(&text::sentence(&remark), theme.faint());
            }
        }
    }
    for problem in &app.import.looked.problems {
        say(problem, theme.warning());
    }
    if usize::from(area.height) > lines.len() + 4 {
        lines.push(Line::default());
        lines.push(beside::heading(app, "What would come of it", "", area));
        let counted = super::rows_view::counted(app);
        let wrapped = text::wrap(&counted, width).into_iter();
        lines.extend(wrapped.map(Line::from));
    }
    lines
}

/// A row in words: ours, what it is made of or read as, how sure that is.
pub(crate) fn said(app: &App, row: &MapRow) -> String {
    const CELLS: Cells = Cells {
        key: 200,
        value: 400,
        sure: 40,
    };
    let line = self::row(app, row, CELLS);
    let spans = line.spans.iter().map(|span| span.content.trim());
    let parts: Vec<&str> = spans.filter(|part| !part.is_empty()).collect();
    match parts.as_slice() {
        ["-", name] => format!("{name}: kept aside, not judged"),
        [key] => (*key).to_owned(),
        [key, rest @ ..] => format!("{key}: {}", rest.join(", ")),
        [] => String::new(),
    }
}

fn remarks(app: &App) -> Vec<String> {
    let previews = app.import.looked.previews.iter();
    previews
        .flat_map(|preview| preview.remarks.clone())
        .collect()
}

fn about_line(app: &App, at: &At, say: &mut dyn FnMut(&str, Style)) {
    let theme = app.theme;
    let Some((of, line)) = proposal(app).and_then(|of| Some((of, line(of, at)?))) else {
        return;
    };
    say(&map_rows::keys(of, at).join(", "), theme.strong());
    if let Value::Open(question) = &line.value {
        say(&text::sentence(&question.text), theme.plain());
        let answers: Vec<&str> = question
            .choices
            .iter()
            .map(|choice| choice.label.as_str())
            .collect();
        if !answers.is_empty() {
            say(&format!("Answers: {}.", answers.join(", ")), theme.faint());
        }
        return;
    }
    if !line.reason.is_empty() {
        say(&text::sentence(&line.reason), theme.plain());
    }
    if at.in_columns
        && let Some(sheet) = of.sheets.get(at.sheet)
        && let Some(name) = map_rows::keys(of, at).first()
    {
        let ours = crate::programme::maps::mappable(sheet.kind);
        if let Some(ours) = ours.iter().find(|ours| ours.name == name) {
            let unit = match ours.unit {
                "" => String::new(),
                unit => format!(", in {unit}"),
            };
            let words = format!("{}: {}{unit}.", ours.name, ours.meaning);
            say(&words, theme.faint());
        }
        let stored = stored(app, name);
        if !stored.is_empty() {
            say(&format!("As stored: {}.", stored.join(", ")), theme.plain());
        }
    }
}

/// The first values of a column as they would be stored.
fn stored(app: &App, name: &str) -> Vec<String> {
    let of = |preview: &SheetPreview| {
        let place = preview
            .columns
            .iter()
            .position(|column| column.ours == name)?;
        let cells = preview.rows.iter().map(|row| row.cells[place].clone());
        Some(
            cells
                .filter(|cell| !cell.is_empty())
                .take(6)
                .collect::<Vec<_>>(),
        )
    };
    app.import
        .looked
        .previews
        .iter()
        .find_map(of)
        .unwrap_or_default()
}

/// Whether a row can be chosen: titles are passed over.
pub(crate) const fn is_title(row: &MapRow) -> bool {
    matches!(row, MapRow::Title(_))
}
