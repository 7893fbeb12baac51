//! Draws the Points screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use super::{By, PointLine, PointsFigures, chosen, lines, panes};
use crate::model::{Answer, Method, Outcome, Place, Point, answer};
use crate::tui::app::App;
use crate::tui::screens::against::{self, Compared};
use crate::tui::screens::people::view::{NOT_ASKED_FOR, share_with_few};
use crate::tui::screens::{beside, draws};
use crate::tui::text;
use crate::tui::widgets::interval_bar;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shown {
    Name,
    Site,
    Machine,
    Draws,
    Judged,
    Unrepresentative,
    Compared(Compared),
    Share,
    Interval,
    Bar,
    Bounds,
    Suited,
}

const COLUMNS: [TableColumn<Shown>; 15] = [
    TableColumn::new(Shown::Name, "point", 12, 0).grows(30, 24),
    TableColumn::new(Shown::Site, "site", 9, 6).grows(30, 18),
    TableColumn::new(Shown::Machine, "machine", 9, 7).grows(30, 22),
    TableColumn::new(Shown::Draws, "draws", 7, 8).right(),
    TableColumn::new(Shown::Judged, "judged", 7, 0).right(),
    TableColumn::new(Shown::Unrepresentative, "unrepr.", 8, 1).right(),
    TableColumn::new(Shown::Compared(Compared::Expected), "expected", 9, 1).right(),
    TableColumn::new(Shown::Compared(Compared::Difference), "differ", 7, 4).right(),
    TableColumn::new(Shown::Compared(Compared::Odds), "odds", 8, 5).right(),
    TableColumn::new(Shown::Compared(Compared::Bar), "", 13, 2).grows(4, 33),
    TableColumn::new(Shown::Share, "share", 11, 0).right(),
    TableColumn::new(Shown::Interval, "95 %", 12, 4).right(),
    TableColumn::new(Shown::Bar, "0 to 100 %", 13, 2).grows(4, 51),
    TableColumn::new(Shown::Bounds, "least-most", 12, 9).right(),
    TableColumn::new(Shown::Suited, "the point", 12, 3),
];

/// What is said of the point itself in the list.
const fn suited_word(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Met => "suited",
        Outcome::Broken => "not suited",
        Outcome::Unrecorded => "unrecorded",
        Outcome::NotApplicable => "",
    }
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

/// What stands below the list in any case.
const NOTE: &str = "Observed against what the same technicians lose elsewhere.";

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let Some((_, figures)) = &app.figures.points else {
        return;
    };
    let panes = panes(app);
    list(app, figures, frame, panes.list);
    against::footnote_view(app, NOTE, frame, panes.list);
    draws::view::divider(app, frame, panes.beside);
    if let Some(line) = chosen(app) {
        let beside = beside::Beside {
            subject: &line.subject,
            tally: line.tally,
            all: figures.all,
            head: head(app, line, panes.beside),
            funnel: &figures.funnel,
            picture: app.screens.points.picture,
        };
        beside::view(app, beside, frame, panes.beside);
    }
}

fn list(app: &App, figures: &PointsFigures, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let state = &app.screens.points;
    let by = match state.by {
        By::Name => Shown::Name,
        By::Site => Shown::Site,
        By::Machine => Shown::Machine,
        By::Draws => Shown::Draws,
        By::Unrepresentative => Shown::Unrepresentative,
        By::Difference => Shown::Compared(Compared::Difference),
        By::Suited => Shown::Suited,
    };
    let [id, site, machine] = figures.widest;
    let wanted = COLUMNS.map(|mut column| {
        let is_share = matches!(
            column.id,
            Shown::Share | Shown::Interval | Shown::Bar | Shown::Bounds | Shown::Draws
        );
        let is_compared = matches!(column.id, Shown::Compared(_));
        if state.shares && is_compared || !state.shares && is_share {
            column.rank += NOT_ASKED_FOR;
        }
        if state.shares && column.id == Shown::Unrepresentative {
            // The share says nearly the same; its line says more.
            column.rank = 3;
        }
        if area.width >= 100 {
            (column.width, column.rank) = match column.id {
                Shown::Site => (site.clamp(column.width, 20), 2),
                Shown::Machine => (machine.clamp(column.width, 20), 2),
                _ => (column.width, column.rank),
            };
        }
        // Names take what they need before the lines grow.
        if column.id == Shown::Name {
            column.width = id.clamp(8, column.width);
        }
        column.most = match column.id {
            Shown::Name => id.clamp(column.width, 40),
            Shown::Site => site.clamp(column.width, 40),
            Shown::Machine => machine.clamp(column.width, 40),
            _ => column.most,
        };
        column
    });
    let width = usize::from(area.width).saturating_sub(2);
    let columns = table::fit(&wanted, width, |id| id == by);
    let headings = table::headings(&columns, theme, |id| (id == by).then_some(state.descending));
    let headings = against::with_bar_heading(headings, &columns, |id| {
        id == Shown::Compared(Compared::Bar)
    });
    let points = lines(app);
    let look = Look {
        theme,
        place: state.list,
        len: points.len(),
        focused: true,
        marked: true,
        empty: "no draws pass the filter",
    };
    table::view(frame, table_area(area), headings, &look, |at| {
        let mut spans = Vec::new();
        for column in &columns {
            spans.extend(cell(app, points[at], figures.all, column));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

fn cell(
    app: &App,
    line: &PointLine,
    all: Option<f64>,
    column: &(TableColumn<Shown>, usize),
) -> Vec<Span<'static>> {
    let theme = app.theme;
    let (tally, share) = (&line.tally, &line.share);
    let value = match column.0.id {
        Shown::Name => line.id.clone(),
        Shown::Site => line.site.clone(),
        Shown::Machine => line.machine.clone(),
        Shown::Draws => text::count(tally.draws),
        Shown::Judged => text::count(tally.judged()),
        Shown::Unrepresentative => text::count(tally.unrepresentative),
        Shown::Share => share_with_few(share.share, tally.judged()),
        Shown::Interval => text::percent_range(share.low, share.high),
        Shown::Bounds => text::percent_range(share.least, share.most),
        Shown::Compared(what) => return against::cell(app, &line.subject, what, column),
        Shown::Suited => {
            let outcome = line.suited();
            let word = suited_word(outcome);
            let glyph = if word.is_empty() {
                " "
            } else {
                theme.outcome_glyph(outcome)
            };
            return vec![
                Span::styled(format!("{glyph} "), theme.outcome(outcome)),
                Span::raw(text::left(word, column.1.saturating_sub(2))),
            ];
        }
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

/// The name, where the point sits, its physics, and what is wrong with it.
fn head(app: &App, line: &PointLine, area: Rect) -> Vec<Line<'static>> {
    let theme = app.theme;
    let Some(assessed) = &app.data else {
        return Vec::new();
    };
    let point = &assessed.points[line.place as usize];
    let width = usize::from(area.width).saturating_sub(1);
    let about = [
        point.machine.as_deref(),
        point.area.as_deref(),
        point.site.as_deref(),
    ];
    let about: Vec<&str> = about.into_iter().flatten().collect();
    let mut lines = vec![beside::heading(app, &point.id, &about.join(" · "), area)];
    for (label, words) in facts(line, point) {
        let wrapped = text::wrap(&words, width.saturating_sub(11));
        let broken = label == "suited" && line.suited() == Outcome::Broken;
        for (at, part) in wrapped.into_iter().enumerate() {
            let head = if at == 0 { label } else { "" };
            let style = if broken {
                theme.warning()
            } else {
                theme.plain()
            };
            lines.push(Line::from(vec![
                Span::styled(text::left(head, 11), theme.faint()),
                Span::styled(part, style),
            ]));
        }
    }
    lines
}

fn facts(line: &PointLine, point: &Point) -> Vec<(&'static str, String)> {
    let facts = &line.facts;
    let mut said = Vec::new();
    let bend = if point.is_at_bend() { " at a bend" } else { "" };
    let place = point.place.map_or("place not recorded", Place::as_str);
    let method = point.method.map_or("no agreed method", Method::as_str);
    let agreed = if point.is_agreed() {
        "an agreed point"
    } else {
        "not an agreed point"
    };
    said.push((
        "sits",
        format!("{} · {place}{bend} · {method} · {agreed}", point.kind),
    ));
    let suited = match &facts.suited {
        Some(said) if said.outcome == Outcome::Met => "fit to draw from".to_owned(),
        Some(said) => ground(said),
        None => "not judged".to_owned(),
    };
    said.push(("suited", suited));
    if let Some(flush) = &facts.flush {
        let words = match facts.dead_volume_ml {
            Some(volume) => format!(
                "dead volume {} mL, run off {}",
                answer::tidy(volume),
                flush.wanted
            ),
            None => "dead volume not known: bore and length of the tube are missing".to_owned(),
        };
        said.push(("flush", words));
    }
    if let Some(reynolds) = facts.reynolds {
        said.push((
            "flow",
            format!(
                "Re {} ({})",
                text::count(reynolds.round() as u64),
                regime(reynolds)
            ),
        ));
    }
    if let Some(window) = &facts.window {
        let words = match facts.settling_limit_min {
            Some(limit) => format!(
                "draw {}; a 20 µm iron particle passes mid-depth {} min after a stop",
                window.wanted,
                answer::tidy(limit)
            ),
            None => format!("draw {} (depth or oil not known)", window.wanted),
        };
        said.push(("settling", words));
    }
    said
}

fn ground(answer: &Answer) -> String {
    match answer.outcome {
        Outcome::Broken => format!("not suited: {}; wanted: {}", answer.seen, answer.wanted),
        _ => format!("not recorded; wanted: {}", answer.wanted),
    }
}

/// The regime of flow in a pipe. Limits: laminar below 2300, turbulent from 4000 (White,
/// *Fluid Mechanics*, chapter 6; quoted from memory).
fn regime(reynolds: f64) -> &'static str {
    if reynolds < 2300.0 {
        "laminar, poorly mixed"
    } else if reynolds < 4000.0 {
        "between laminar and turbulent"
    } else {
        "turbulent, well mixed"
    }
}
