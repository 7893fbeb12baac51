//! A bar with its interval for each person or point, in the order of the list: shares, or odds
//! ratios against what is expected at the same points.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};

use super::{Around, Picture, around, choose_row, compared, instead, parts};
use crate::tui::action::Command;
use crate::tui::app::{App, Place};
use crate::tui::keymap::Zone;
use crate::tui::moves;
use crate::tui::screens::{against, people, points};
use crate::tui::text;
use crate::tui::widgets::chart::intervals::{self, Bar, Intervals};
use crate::tui::widgets::chart::legend::Entry;
use crate::tui::widgets::chart::scale::Scale;
use crate::tui::widgets::odds_bar::END;

pub(super) struct BarsPicture;

/// To the bars, or back to the funnel.
pub(super) fn turn(app: &mut App) {
    match app.place {
        Place::People => app.screens.people.bars ^= true,
        _ => app.screens.points.bars ^= true,
    }
}

/// Whether shares are shown, not odds ratios; crews have shares alone.
fn is_shares(app: &App) -> bool {
    match app.place {
        Place::People => app.screens.people.shares || app.screens.people.crews,
        _ => app.screens.points.shares,
    }
}

fn legend(app: &App) -> Vec<Entry> {
    if is_shares(app) {
        intervals::legend("share", "share of all draws in view", app.theme)
    } else {
        let mut legend = intervals::legend("odds ratio", "1: as expected", app.theme);
        legend.push(intervals::arrows(app.theme));
        legend
    }
}

/// Which lines of the list are on screen.
fn window(app: &App, area: Rect, len: usize) -> std::ops::Range<usize> {
    let height = intervals::rows(area).max(1);
    // Whole pages, so that the bars stand still while the crosshair goes along them.
    let first = compared::row(app).min(len.saturating_sub(1)) / height * height;
    let first = first.min(len.saturating_sub(height));
    first..(first + height).min(len)
}

fn bar(app: &App, line: &compared::Compared<'_>) -> Bar {
    let count = text::count(line.tally.judged());
    let name = line.name.to_owned();
    if is_shares(app) {
        let share = line.share;
        let range = text::percent_range(share.low, share.high);
        return Bar {
            name,
            count,
            value: share.share,
            low: share.low,
            high: share.high,
            words: format!("{}, {range}", text::percent(share.share).replace(" %", "")),
        };
    }
    let odds = against::odds(app, line.subject);
    Bar {
        name,
        count,
        value: odds.map(|odds| odds.ratio),
        low: odds.map(|odds| odds.low),
        high: odds.map(|odds| odds.high),
        words: odds.map_or_else(|| "–".to_owned(), |odds| against::odds_in_figures(&odds)),
    }
}

fn drawn(app: &App, lines: &[compared::Compared<'_>]) -> Intervals {
    let bars = lines.iter().map(|line| bar(app, line)).collect();
    let headings = (compared::each(app), "judged");
    if is_shares(app) {
        let step = if app.size.width >= 140 { 1 } else { 2 };
        let ticks = (0..=10).step_by(step).map(|tenth| f64::from(tenth) / 10.0);
        return Intervals {
            bars,
            scale: Scale::even(0.0, 1.0),
            ticks: ticks
                .map(|at| (at, format!("{:.0} %", at * 100.0)))
                .collect(),
            line: compared::all(app),
            headings,
        };
    }
    let ticks = [
        (1.0 / END, "1/8"),
        (0.25, "1/4"),
        (0.5, "1/2"),
        (1.0, "1"),
        (2.0, "2"),
    ];
    let ticks = ticks.into_iter().chain([(4.0, "4"), (END, "8")]);
    Intervals {
        bars,
        scale: Scale::factors(1.0 / END, END),
        ticks: ticks.map(|(at, words)| (at, words.to_owned())).collect(),
        line: Some(1.0),
        headings,
    }
}

fn widest(lines: &[compared::Compared<'_>]) -> usize {
    let widths = lines.iter().map(|line| text::width(line.name));
    widths.max().unwrap_or(0)
}

fn reading(app: &App, line: &compared::Compared<'_>) -> String {
    let share = line.share;
    format!(
        "{}: {} of {} judged ({} at 95 %)",
        line.full_name(),
        text::percent(share.share),
        text::count(line.tally.judged()),
        text::percent_range(share.low, share.high),
    ) + &compared::all(app).map_or_else(String::new, |all| {
        format!(", {} over all", text::percent(Some(all)))
    })
}

fn sorted_by(app: &App) -> &'static str {
    match app.place {
        Place::People => match app.screens.people.by {
            people::By::Name => "name",
            people::By::Crew => "crew",
            people::By::Draws => "draws",
            people::By::Unrepresentative => "unrepresentative draws",
            people::By::Difference => "difference from expected",
        },
        _ => match app.screens.points.by {
            points::By::Name => "point",
            points::By::Site => "site",
            points::By::Machine => "machine",
            points::By::Draws => "draws",
            points::By::Unrepresentative => "unrepresentative draws",
            points::By::Difference => "difference from expected",
            points::By::Suited => "fault of the point",
            points::By::Flow => "flow",
        },
    }
}

fn step(app: &mut App, by: isize) {
    let len = compared::lines(app).len();
    let to = compared::row(app).saturating_add_signed(by);
    choose_row(app, to.min(len.saturating_sub(1)));
}

impl Picture for BarsPicture {
    fn zone(&self) -> Zone {
        Zone::Bars
    }

    fn hinted(&self) -> &'static [Command] {
        &[
            Command::Open,
            Command::Back,
            Command::OtherPicture,
            Command::SortNext,
            Command::Columns,
            Command::AddTerm,
            Command::Down,
            Command::Up,
            Command::EditFilter,
        ]
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>) {
        let lines = compared::lines(app);
        if lines.is_empty() {
            return instead(app, "No draws in view, so nothing to draw.", frame);
        }
        let legend = legend(app);
        let parts = parts(app, &legend);
        let shown = window(app, parts.chart, lines.len());
        let chosen = compared::row(app).min(lines.len() - 1);
        let bars = drawn(app, &lines[shown.clone()]);
        let at = chosen.checked_sub(shown.start);
        bars.draw(
            frame.buffer_mut(),
            parts.chart,
            widest(&lines),
            at,
            app.theme,
        );
        let line = &lines[chosen];
        let about = if is_shares(app) {
            "unrepresentative draws, % of those judged"
        } else {
            "odds of an unrepresentative draw against those expected at the same points, ratio"
        };
        let about = match app.place {
            Place::Points => about.replace("at the same points", "of the same technicians"),
            _ => about.to_owned(),
        };
        let words = Around {
            title: "Intervals",
            about,
            extent: format!(
                "{}-{} of {} by {}",
                shown.start + 1,
                shown.end,
                text::count(lines.len() as u64),
                sorted_by(app)
            ),
            legend,
            reading: reading(app, line),
            notes: against::reading(app, line.subject),
        };
        around(app, &words, &parts, frame);
    }

    fn obey(&self, app: &mut App, command: Command) -> bool {
        let area = parts(app, &legend(app)).chart;
        match command {
            Command::OtherPicture => turn(app),
            other => match moves::distance(other, intervals::rows(area)) {
                Some(by) => step(app, by),
                None => return false,
            },
        }
        true
    }

    fn click(&self, app: &mut App, at: Position) -> Option<Command> {
        let lines = compared::lines(app);
        let area = parts(app, &legend(app)).chart;
        let shown = window(app, area, lines.len());
        let stand = intervals::stand(area, shown.len(), widest(&lines))?;
        let row = shown.start + intervals::at(&stand, at)?;
        let was = compared::row(app);
        if row >= shown.end {
            return None;
        }
        choose_row(app, row);
        (row == was).then_some(Command::Open)
    }

    fn wheel(&self, app: &mut App, by: isize) {
        step(app, by);
    }
}
