//! The funnel of people or of points in full, the crosshair at the chosen one.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};

use super::{Around, Picture, around, compared, instead, parts};
use crate::tui::action::Command;
use crate::tui::app::{App, Place};
use crate::tui::keymap::Zone;
use crate::tui::screens::{against, funnel as figures};
use crate::tui::text;
use crate::tui::widgets::chart::funnel::{Funnel, Toward};

pub(super) struct FunnelPicture;

/// What is said of people in any case.
const FAIR: &str = "A share depends on the points served: a high one is no verdict on a person.";

fn drawn(app: &App) -> Option<&Funnel> {
    compared::funnel(app)
        .map(|figures| &figures.drawn)
        .filter(|drawn| !drawn.is_empty())
}

fn chart(app: &App, drawn: &Funnel) -> Rect {
    parts(app, &drawn.legend(compared::each(app), app.theme)).chart
}

/// The mark of the chosen one of these lines.
fn mark_among(app: &App, lines: &[compared::Compared<'_>]) -> Option<usize> {
    compared::mark_of(app, lines.get(compared::row(app))?.subject)
}

fn mark(app: &App) -> Option<usize> {
    mark_among(app, &compared::lines(app))
}

fn toward(app: &mut App, toward: Toward) {
    let Some(drawn) = drawn(app) else { return };
    let to = match mark(app) {
        Some(from) => drawn.toward(chart(app, drawn), from, toward),
        None => Some(0),
    };
    if let Some(to) = to {
        compared::choose_mark(app, to);
    }
}

/// Goes to another mark in the order of judged draws.
fn along(app: &mut App, by: isize) {
    let Some(drawn) = drawn(app) else { return };
    let mut order: Vec<usize> = (0..drawn.dots.len()).collect();
    order.sort_by(|a, b| {
        let (one, other) = (drawn.dots[*a], drawn.dots[*b]);
        one.0
            .cmp(&other.0)
            .then(one.1.total_cmp(&other.1))
            .then(a.cmp(b))
    });
    let at = mark(app).and_then(|mark| order.iter().position(|other| *other == mark));
    let at = at.unwrap_or(0).saturating_add_signed(by);
    if let Some(mark) = order.get(at.min(order.len().saturating_sub(1))) {
        compared::choose_mark(app, *mark);
    }
}

/// What the crosshair reads.
fn reading(app: &App, line: &compared::Compared<'_>) -> String {
    let said = compared::funnel(app)
        .map(|funnel| figures::words(funnel, line.tally))
        .unwrap_or_default();
    format!(
        "{}: {} of {} judged. {said}",
        line.full_name(),
        text::percent(line.share.share),
        text::count(line.tally.judged())
    )
}

fn notes(app: &App, line: &compared::Compared<'_>, crowd: usize) -> Vec<String> {
    let mut notes = Vec::new();
    if crowd > 1 {
        let others = text::plural(crowd as u64 - 1, "other stands", "others stand");
        notes.push(format!(
            "{others} in the same place; n and p go from one to the next."
        ));
    }
    notes.extend(against::reading(app, line.subject));
    notes.extend(compared::funnel(app).and_then(figures::spread));
    if app.place == Place::People {
        notes.push(FAIR.to_owned());
    }
    notes
}

impl Picture for FunnelPicture {
    fn zone(&self) -> Zone {
        Zone::Funnel
    }

    fn hinted(&self) -> &'static [Command] {
        &[
            Command::Leftward,
            Command::Rightward,
            Command::Open,
            Command::Back,
            Command::OtherPicture,
            Command::MarkNext,
            Command::AddTerm,
            Command::EditFilter,
        ]
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>) {
        let Some(drawn) = drawn(app) else {
            return instead(
                app,
                "No funnel: no draw in view is judged, or all of them are alike. Tab shows the bars.",
                frame,
            );
        };
        let legend = drawn.legend(compared::each(app), app.theme);
        let parts = parts(app, &legend);
        let lines = compared::lines(app);
        let line = lines.get(compared::row(app));
        let mark = mark_among(app, &lines);
        let crowd = mark.map_or(0, |mark| drawn.crowd(parts.chart, mark));
        let chosen = mark.zip(line).map(|(mark, line)| (mark, line.name));
        drawn.draw(frame.buffer_mut(), parts.chart, chosen, app.theme);
        let marks = drawn.dots.len() as u64;
        let words = Around {
            title: "Funnel",
            about: "unrepresentative draws, % of those judged, by number of judged draws"
                .to_owned(),
            extent: match compared::each(app) {
                "crew" => text::plural(marks, "crew", "crews"),
                "point" => text::plural(marks, "point", "points"),
                _ => text::plural(marks, "technician", "technicians"),
            },
            legend,
            reading: line.map_or_else(String::new, |line| reading(app, line)),
            notes: line.map_or_else(Vec::new, |line| notes(app, line, crowd)),
        };
        around(app, &words, &parts, frame);
    }

    fn obey(&self, app: &mut App, command: Command) -> bool {
        match command {
            Command::Leftward => toward(app, Toward::Left),
            Command::Rightward => toward(app, Toward::Right),
            Command::Up => toward(app, Toward::Up),
            Command::Down => toward(app, Toward::Down),
            Command::MarkNext => along(app, 1),
            Command::MarkBack => along(app, -1),
            Command::First => along(app, isize::MIN / 2),
            Command::Last => along(app, isize::MAX / 2),
            Command::OtherPicture => super::bars::turn(app),
            Command::PageUp | Command::PageDown => {}
            _ => return false,
        }
        true
    }

    fn click(&self, app: &mut App, at: Position) -> Option<Command> {
        let drawn = drawn(app)?;
        let to = drawn.at(chart(app, drawn), at)?;
        let was = mark(app);
        compared::choose_mark(app, to);
        (was == Some(to)).then_some(Command::Open)
    }

    fn wheel(&self, app: &mut App, by: isize) {
        along(app, by);
    }
}
