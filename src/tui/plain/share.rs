//! Share in words: how many samples can't be trusted, when, and why.

use super::rows::Rows;
use super::told::Told;
use super::views;
use crate::analysis::Cost;
use crate::model::Verdict;
use crate::tui::app::App;
use crate::tui::screens::share::{self, Section, ShareFigures, Wait, periods, view};
use crate::tui::text;
use crate::tui::widgets::verdict_bar::count_of;

/// So many of the rules that break most are named above the list.
const NAMED: usize = 3;

pub(super) fn told(app: &App) -> Told {
    let mut told = Told::new("Share");
    let Some((_, figures)) = &app.figures.share else {
        return told;
    };
    let (first, second) = view::sentences_in_view(app, &figures.tally);
    told.say(&first);
    told.say(&second);
    told.say(&breaks_most(figures));
    told.say(&latest(app, figures));
    told.say(&waiting(figures));
    told.say(&views::sentence(app));
    told.rows = Some(rows(app, figures));
    told
}

fn breaks_most(figures: &ShareFigures) -> String {
    let named: Vec<String> = figures.broken_most.iter().take(NAMED).map(broken).collect();
    match named.as_slice() {
        [] => "No rule is broken.".to_owned(),
        some => format!("Breaks most: {}.", some.join("; ")),
    }
}

fn broken(cost: &Cost) -> String {
    format!(
        "{} on {} of {} recorded ({})",
        cost.id(),
        text::count(cost.broken),
        text::plural(cost.recorded(), "draw", "draws"),
        view::whole_percent(cost.share())
    )
}

/// The newest period in words.
fn latest(app: &App, figures: &ShareFigures) -> String {
    let trend = figures.trend(app.screens.share.every);
    let newest = trend.and_then(|trend| trend.periods.first());
    newest.map_or_else(String::new, |period| {
        format!("Latest: {}", periods::said(period))
    })
}

fn waiting(figures: &ShareFigures) -> String {
    let some: Vec<String> = (Wait::ALL.iter().zip(figures.waiting))
        .filter(|(_, count)| *count > 0)
        .map(|(wait, count)| format!("{} {}", wait.text(), text::count(count)))
        .collect();
    match some.as_slice() {
        [] => "Nothing waits.".to_owned(),
        some => format!("Waiting: {}.", some.join(", ")),
    }
}

fn rows(app: &App, figures: &ShareFigures) -> Rows {
    let state = &app.screens.share;
    let section = state.section;
    let (len, chosen) = (share::len(app, section), state.list(section).cursor);
    let tally = &figures.tally;
    match section {
        Section::Verdicts => Rows::of(("verdict", "verdicts"), len, chosen, "", |at| {
            let verdict = Verdict::ALL[at];
            let count = count_of(tally, verdict);
            let part = (tally.draws > 0).then(|| count as f64 / tally.draws as f64);
            let draws = text::plural(count, "draw", "draws");
            format!("{verdict}: {draws}, {}", text::percent(part))
        }),
        Section::Rules => {
            let noun = ("rule broken", "rules broken");
            Rows::of(noun, len, chosen, "no rule is broken", |at| {
                let cost = &figures.rules(state.rules_by)[at];
                format!("{}, regains {}", broken(cost), text::count(cost.regained))
            })
        }
        Section::Months => {
            let every = state.every.as_str();
            let many = match every {
                "week" => "weeks, newest first,",
                "quarter" => "quarters, newest first,",
                _ => "months, newest first,",
            };
            Rows::of((every, many), len, chosen, "no draws in view", |at| {
                let period = figures
                    .trend(state.every)
                    .and_then(|trend| trend.periods.get(at));
                period.map_or_else(String::new, periods::said)
            })
        }
        Section::Waiting => {
            let noun = ("thing to wait for", "things to wait for");
            Rows::of(noun, len, chosen, "", |at| {
                let draws = text::plural(figures.waiting[at], "draw", "draws");
                format!("{}: {draws}", Wait::ALL[at].text())
            })
        }
    }
}

/// What the chosen line means.
pub(super) fn more(app: &App) -> Vec<String> {
    let Some((_, figures)) = &app.figures.share else {
        return Vec::new();
    };
    let about = view::about(app, figures).into_iter();
    let said = about.filter(|(_, words)| !words.is_empty());
    let mut lines: Vec<String> = said
        .map(|(label, words)| match label {
            "" => text::sentence(&words),
            label => format!("{label}: {}", text::sentence(&words)),
        })
        .collect();
    if app.screens.share.section == Section::Months {
        lines.extend(periods::of_chart(figures, app.screens.share.every));
    }
    lines
}
