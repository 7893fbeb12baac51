//! People in words: observed against expected, never a ranking by raw share.

use super::rows::Rows;
use super::told::{Told, WIDE};
use super::voice::{self, labelled};
use super::{rows, sorted, views};
use crate::analysis::{Every, Share, Tally};
use crate::rules;
use crate::tui::app::App;
use crate::tui::screens::against::{self, Compared};
use crate::tui::screens::compared_list::{Figure, Figures, share_with_few};
use crate::tui::screens::funnel::{self, FunnelFigures};
use crate::tui::screens::people::{self, Person, view::NOTES};
use crate::tui::screens::share::view::sentences;
use crate::tui::subject::{Subject, SubjectFigures};
use crate::tui::text;
use crate::tui::widgets::table::Column;

pub(super) fn told(app: &App) -> Told {
    let mut told = Told::new("People");
    let Some((_, figures)) = &app.figures.people else {
        return told;
    };
    told.say_all(footnote(app, NOTES[0]));
    told.say(&views::sentence(app));
    told.say(&sorted::sentence(app));
    let state = &app.screens.people;
    let people = people::lines(app);
    let noun = rows::noun(state.crews);
    let empty = "no draws pass the filter";
    told.rows = Some(Rows::of(
        noun,
        people.len(),
        state.list.cursor,
        empty,
        |at| {
            let person = people[at];
            let figures = Figures {
                subject: &person.subject,
                tally: &person.tally,
                share: &person.share,
                all: figures.all,
            };
            format!(
                "{}: {}",
                name(person),
                compared(app, &figures, state.shares)
            )
        },
    ));
    told
}

fn name(person: &Person) -> String {
    let mut parts = vec![person.name.as_str()];
    if person.id != person.name && !person.id.is_empty() {
        parts.push(&person.id);
    }
    let crew = crew(&person.crew);
    if !crew.is_empty() {
        parts.push(&crew);
    }
    parts.join(", ")
}

/// A crew by its name, with the word before a name that lacks it.
pub(super) fn crew(name: &str) -> String {
    match name {
        "" => String::new(),
        name if name.to_lowercase().contains("crew") => name.to_owned(),
        name => format!("crew {name}"),
    }
}

/// What the model says of people and points together, and what to know before believing it.
pub(super) fn footnote(app: &App, note: &str) -> Vec<String> {
    const LINES: usize = 40;
    voice::all_words(&against::footnote(app, note, usize::from(WIDE), LINES))
}

/// Observed against expected, or the share with its interval and bounds where `shares` were
/// asked for.
pub(super) fn compared(app: &App, figures: &Figures<'_>, shares: bool) -> String {
    let asked: &[(&str, Figure)] = if shares {
        &[
            ("share", Figure::Share),
            ("95 % interval", Figure::Interval),
            ("least to most", Figure::Bounds),
        ]
    } else {
        &[
            ("expected", Figure::Compared(Compared::Expected)),
            ("differs", Figure::Compared(Compared::Difference)),
            ("odds ratio", Figure::Compared(Compared::Odds)),
        ]
    };
    let cell = |figure: Figure| {
        let column = (Column::new(figure, "", 40, 0), 40);
        match voice::cell(&figures.cell(app, figure, &column)).as_str() {
            "–" => String::new(),
            value => value.to_owned(),
        }
    };
    let counts = format!(
        "{} of {} judged unrepresentative",
        text::count(figures.tally.unrepresentative),
        text::count(figures.tally.judged())
    );
    let mut pairs = vec![("", counts)];
    pairs.extend(asked.iter().map(|(label, figure)| (*label, cell(*figure))));
    labelled(&pairs)
}

pub(super) fn more(app: &App) -> Vec<String> {
    let (Some(person), Some((_, figures))) = (people::chosen(app), &app.figures.people) else {
        return Vec::new();
    };
    let funnel = match person.subject {
        Subject::Crew(_) => &figures.funnel_of_crews,
        _ => &figures.funnel_of_technicians,
    };
    let mut lines = vec![format!("{}.", name(person))];
    lines.extend(beside(app, &person.subject, &person.tally, funnel));
    lines
}

/// What stands beside a technician, a crew or a point.
pub(super) fn beside(
    app: &App,
    subject: &Subject,
    tally: &Tally,
    funnel: &FunnelFigures,
) -> Vec<String> {
    let mut lines = Vec::new();
    if !against::says_share(app, subject) {
        lines.push(sentences(tally).0);
    }
    lines.extend(voice::all_words(&against::words(
        app,
        subject,
        usize::from(WIDE),
    )));
    lines.push(format!("In the funnel: {}", funnel::words(funnel, tally)));
    let known = app.figures.subject.as_ref();
    let figures = known.filter(|(turn, shown, _)| *turn == app.selected_turn && shown == subject);
    if let Some((_, _, figures)) = figures {
        lines.extend(sections(app, subject, figures));
    }
    lines
}

/// So many rows of what stands beside are told.
const MOST: usize = 6;

fn sections(app: &App, subject: &Subject, figures: &SubjectFigures) -> Vec<String> {
    let mut lines = Vec::new();
    let mut section = |title: &str, rows: Vec<String>| {
        if !rows.is_empty() {
            lines.push(format!("{title}: {}.", rows.join("; ")));
        }
    };
    let broken = figures.rules.iter().take(MOST).map(|(place, tally)| {
        let card = rules::cards()[*place];
        format!(
            "{} on {} of {} recorded, answers to {}",
            card.id,
            text::count(tally.unrepresentative),
            text::plural(tally.judged(), "draw", "draws"),
            card.owner
        )
    });
    section("Breaks most", broken.collect());
    let every = match figures.every {
        Some(Every::Quarter) => "Quarter by quarter, the newest first",
        Some(Every::Year) => "Year by year, the newest first",
        _ => "Month by month, the newest first",
    };
    let periods = figures.periods.iter().take(MOST);
    let periods = periods.map(|it| share(&it.key, &it.share, &it.tally));
    section(every, periods.collect());
    let title = match subject {
        Subject::Point(_) => "Technicians who serve it",
        _ => "Points served",
    };
    let partners = figures.partners.iter().take(MOST);
    let partners = partners.map(|group| {
        let name = crate::tui::screens::beside::partner_name(app, subject, group);
        share(&name, &group.tally.share(), &group.tally)
    });
    section(title, partners.collect());
    lines
}

fn share(name: &str, share: &Share, tally: &Tally) -> String {
    let judged = tally.judged();
    let said = share_with_few(share.share, judged);
    format!("{name} {said} of {} judged", text::count(judged))
}
