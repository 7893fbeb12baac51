//! Draws the Points screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use super::{By, PointLine, PointsFigures, chosen, lines, panes};
use crate::model::{Answer, Method, Outcome, Place, Point, answer};
use crate::tui::app::App;
use crate::tui::screens::against::{self, Compared};
use crate::tui::screens::compared_list::{self, Figure, Figures, List};
use crate::tui::screens::page::Written;
use crate::tui::screens::{beside, draws};
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shown {
    Name,
    Site,
    Machine,
    Suited,
    Flow,
    /// A column that both lists have.
    Figure(Figure),
}

const COLUMNS: [TableColumn<Shown>; 16] = [
    TableColumn::new(Shown::Name, "point", 12, 0).grows(30, 24),
    TableColumn::new(Shown::Site, "site", 9, 6).grows(30, 18),
    TableColumn::new(Shown::Machine, "machine", 9, 7).grows(30, 22),
    TableColumn::new(Shown::Figure(Figure::Draws), "draws", 7, 8).right(),
    TableColumn::new(Shown::Figure(Figure::Judged), "judged", 7, 0).right(),
    TableColumn::new(Shown::Figure(Figure::Unrepresentative), "unrepr.", 8, 1).right(),
    TableColumn::new(
        Shown::Figure(Figure::Compared(Compared::Expected)),
        "expected",
        9,
        1,
    )
    .right(),
    TableColumn::new(
        Shown::Figure(Figure::Compared(Compared::Difference)),
        "differ",
        7,
        4,
    )
    .right(),
    TableColumn::new(
        Shown::Figure(Figure::Compared(Compared::Odds)),
        "odds",
        8,
        5,
    )
    .right(),
    TableColumn::new(Shown::Figure(Figure::Compared(Compared::Bar)), "", 13, 2).grows(4, 33),
    TableColumn::new(Shown::Figure(Figure::Share), "share", 11, 0).right(),
    TableColumn::new(Shown::Figure(Figure::Interval), "95 %", 12, 4).right(),
    TableColumn::new(Shown::Figure(Figure::Bar), "0 to 100 %", 13, 2).grows(4, 51),
    TableColumn::new(Shown::Figure(Figure::Bounds), "least-most", 12, 9).right(),
    TableColumn::new(Shown::Suited, "the point", 12, 3),
    TableColumn::new(Shown::Flow, "flow, Re", 14, 8).right(),
];

/// What is said of the point itself in the list.
pub(crate) const fn suited_word(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Met => "suited",
        Outcome::Broken => "not suited",
        Outcome::Unrecorded => "unrecorded",
        Outcome::NotApplicable => "",
    }
}

/// What stands below the list in any case.
pub(crate) const NOTE: &str = "Expected: what the same technicians lose elsewhere.";

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let Some((_, figures)) = &app.figures.points else {
        return;
    };
    let panes = panes(app);
    list(app, figures, frame, panes.list);
    against::footnote_view(app, NOTE, frame, panes.list);
    draws::view::divider(app, frame, panes.beside);
    if let Some(written) = beside(app, panes.beside, false) {
        written.view(app, frame, panes.beside);
    }
}

/// What stands beside the chosen point; with `whole` all of it.
pub(crate) fn beside(app: &App, area: Rect, whole: bool) -> Option<Written> {
    let (_, figures) = app.figures.points.as_ref()?;
    let line = chosen(app)?;
    let said = beside::Beside {
        subject: &line.subject,
        tally: line.tally,
        all: figures.all,
        head: head(app, line, area),
        funnel: &figures.funnel,
    };
    Some(beside::written(app, said, area, whole))
}

/// The column that shows what the list is sorted by.
const fn shown(by: By) -> Shown {
    match by {
        By::Name => Shown::Name,
        By::Site => Shown::Site,
        By::Machine => Shown::Machine,
        By::Draws => Shown::Figure(Figure::Draws),
        By::Unrepresentative => Shown::Figure(Figure::Unrepresentative),
        By::Difference => Shown::Figure(Figure::Compared(Compared::Difference)),
        By::Suited => Shown::Suited,
        By::Flow => Shown::Flow,
    }
}

/// What a click on this cell of the headings sorts by.
pub(crate) fn heading_at(app: &App, x: u16) -> Option<By> {
    let (_, figures) = app.figures.points.as_ref()?;
    let area = panes(app).list;
    let wanted = wanted(app, figures, area);
    let found = the_list(app, &wanted, figures.points.len()).heading_at(area, x)?;
    By::ALL.into_iter().find(|by| shown(*by) == found)
}

fn the_list<'a>(app: &App, wanted: &'a [TableColumn<Shown>], len: usize) -> List<'a, Shown> {
    let state = &app.screens.points;
    List {
        wanted,
        by: shown(state.by),
        descending: state.descending,
        bar: Shown::Figure(Figure::Compared(Compared::Bar)),
        place: state.list,
        len,
    }
}

/// The columns, as wide as what stands in them needs where there is room.
fn wanted(app: &App, figures: &PointsFigures, area: Rect) -> Vec<TableColumn<Shown>> {
    let state = &app.screens.points;
    let [id, site, machine] = figures.widest;
    let columns = COLUMNS.map(|mut column| {
        if let Shown::Figure(figure) = column.id {
            column.rank += figure.rank(state.shares);
            if state.shares && figure == Figure::Unrepresentative {
                // The share says nearly the same; its line says more.
                column.rank = 3;
            }
        }
        if area.width >= 100 {
            // The interval of a share is wanted before they are.
            let rank = if state.shares { 5 } else { 2 };
            (column.width, column.rank) = match column.id {
                Shown::Site => (site.clamp(column.width, 20), rank),
                Shown::Machine => (machine.clamp(column.width, 20), rank),
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
    columns.to_vec()
}

fn list(app: &App, figures: &PointsFigures, frame: &mut Frame<'_>, area: Rect) {
    let wanted = wanted(app, figures, area);
    let points = lines(app);
    let list = the_list(app, &wanted, points.len());
    compared_list::view(app, &list, frame, area, |at, column| {
        let line = points[at];
        let value = match column.0.id {
            Shown::Name => &line.id,
            Shown::Site => &line.site,
            Shown::Machine => &line.machine,
            Shown::Flow => &flow(line),
            Shown::Suited => return suited_cell(app, line, column.1),
            Shown::Figure(figure) => {
                let figures = Figures {
                    subject: &line.subject,
                    tally: &line.tally,
                    share: &line.share,
                    all: figures.all,
                };
                return figures.cell(app, figure, column);
            }
        };
        table::cell(column, value, app.theme.plain())
    });
}

/// The Reynolds number, with a word where the flow mixes poorly.
pub(crate) fn flow(line: &PointLine) -> String {
    let Some(reynolds) = line.facts.reynolds else {
        return String::new();
    };
    let number = text::count(reynolds.round() as u64);
    match regime(reynolds).split_once(',') {
        Some((word @ "laminar", _)) => format!("{word} {number}"),
        _ => number,
    }
}

fn suited_cell(app: &App, line: &PointLine, width: usize) -> Vec<Span<'static>> {
    let theme = app.theme;
    let outcome = line.suited();
    let word = suited_word(outcome);
    let glyph = if word.is_empty() {
        " "
    } else {
        theme.outcome_glyph(outcome)
    };
    vec![
        Span::styled(format!("{glyph} "), theme.outcome(outcome)),
        Span::raw(text::left(word, width.saturating_sub(2))),
    ]
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

/// Where the point sits, its physics, and what is wrong with it, each with its label.
pub(crate) fn facts(line: &PointLine, point: &Point) -> Vec<(&'static str, String)> {
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
