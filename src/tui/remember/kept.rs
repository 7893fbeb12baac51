//! What is kept of how the screens were left, a line each.

use super::words::{SWITCH, order, orders, read_order, value, word, words};
use crate::analysis::Every;
use crate::tui::app::App;
use crate::tui::frame;
use crate::tui::screens::draws::columns::Column;
use crate::tui::screens::records::coverage;
use crate::tui::screens::share::{RulesBy, Section};
use crate::tui::screens::{findings, people, points, records, resample, topics};
use crate::tui::theme::Background;

/// Something that is kept.
pub(super) struct Kept {
    /// By what name.
    pub(super) name: &'static str,
    /// How it stands.
    pub(super) read: fn(&App) -> String,
    /// Sets it; a word that is not known changes nothing.
    pub(super) set: fn(&mut App, &str),
    /// Every word that it can be.
    #[cfg_attr(not(test), expect(dead_code, reason = "tests go through all of them"))]
    pub(super) words: fn() -> Vec<String>,
}

/// A line of [`ALL`] for a value with a table of words.
macro_rules! kept {
    ($name:literal, $table:expr, $($field:ident).+) => {
        Kept {
            name: $name,
            read: |app| word($table, app.screens.$($field).+).to_owned(),
            set: |app, given| {
                if let Some(value) = value($table, given) {
                    app.screens.$($field).+ = value;
                }
            },
            words: || words($table),
        }
    };
}

/// A line of [`ALL`] for the order of a list: by what, and in which direction.
macro_rules! kept_order {
    ($name:literal, $table:expr, $screen:ident, $by:ident) => {
        Kept {
            name: $name,
            read: |app| {
                order(
                    $table,
                    app.screens.$screen.$by,
                    app.screens.$screen.descending,
                )
            },
            set: |app, given| {
                if let Some((by, descending)) = read_order($table, given) {
                    app.screens.$screen.$by = by;
                    app.screens.$screen.descending = descending;
                }
            },
            words: || orders($table),
        }
    };
}

/// Everything that is kept.
pub(super) const ALL: &[Kept] = &[
    Kept {
        name: "screen",
        read: |app| {
            frame::tab_of(app.place).map_or_else(String::new, |tab| tab.name.to_lowercase())
        },
        set: |app, given| {
            let mut tabs = frame::SCREENS.iter();
            let tab = tabs.find(|tab| tab.name.eq_ignore_ascii_case(given));
            // Within a screen it begins where that begins.
            if let Some(place) = tab.and_then(|tab| tab.places.first()) {
                app.place = *place;
            }
        },
        words: || {
            let names = frame::SCREENS.iter().map(|tab| tab.name.to_lowercase());
            names.collect()
        },
    },
    Kept {
        name: "colours",
        read: |app| match app.colours_turned {
            true => app.theme.colours().to_string(),
            false => String::new(),
        },
        set: |app, given| {
            let colours = match given {
                "dark" => Some(Background::Dark),
                "light" => Some(Background::Light),
                "none" => None,
                _ => return,
            };
            if app.colours_free {
                app.theme = app.theme.on(colours);
                app.colours_turned = true;
            }
        },
        words: || ["dark", "light", "none"].map(str::to_owned).to_vec(),
    },
    kept!("share.pane", SECTIONS, share.section),
    kept!("share.periods", PERIODS, share.every),
    kept!("share.rules", RULES, share.rules_by),
    kept!("share.picture", SWITCH, share.picture),
    kept_order!("draws.order", COLUMNS, draws, column),
    kept_order!("people.order", PEOPLE, people, by),
    kept!("people.crews", SWITCH, people.crews),
    kept!("people.shares", SWITCH, people.shares),
    kept!("people.picture", SWITCH, people.picture),
    kept!("people.bars", SWITCH, people.bars),
    kept_order!("points.order", POINTS, points, by),
    kept!("points.shares", SWITCH, points.shares),
    kept!("points.picture", SWITCH, points.picture),
    kept!("points.bars", SWITCH, points.bars),
    kept!("topics.view", TOPICS, topics.tab),
    kept!("topics.crews", SWITCH, topics.crews),
    kept!("topics.picture", SWITCH, topics.picture),
    kept!("topics.by-id", SWITCH, topics.by_id),
    kept!("findings.view", FINDINGS, findings.tab),
    kept_order!("findings.order", FINDINGS_BY, findings, by),
    kept!("records.view", RECORDS, records.tab),
    kept!("records.order", FILLED, records.order),
    kept_order!("resample.order", RESAMPLE, resample, by),
    kept!("resample.doubtful-too", SWITCH, resample.strict),
];

const SECTIONS: &[(&str, Section)] = &[
    ("verdicts", Section::Verdicts),
    ("rules", Section::Rules),
    ("periods", Section::Months),
    ("waiting", Section::Waiting),
];

const PERIODS: &[(&str, Every)] = &[
    ("month", Every::Month),
    ("quarter", Every::Quarter),
    ("year", Every::Year),
    ("week", Every::Week),
];

const RULES: &[(&str, RulesBy)] = &[("broken", RulesBy::Broken), ("regains", RulesBy::Regains)];

const COLUMNS: &[(&str, Column)] = &[
    ("verdict", Column::Verdict),
    ("drawn", Column::Date),
    ("point", Column::Point),
    ("technician", Column::Technician),
    ("score", Column::Score),
    ("broken", Column::Broken),
];

const PEOPLE: &[(&str, people::By)] = &[
    ("name", people::By::Name),
    ("crew", people::By::Crew),
    ("draws", people::By::Draws),
    ("unrepresentative", people::By::Unrepresentative),
    ("difference", people::By::Difference),
];

const POINTS: &[(&str, points::By)] = &[
    ("name", points::By::Name),
    ("site", points::By::Site),
    ("machine", points::By::Machine),
    ("draws", points::By::Draws),
    ("unrepresentative", points::By::Unrepresentative),
    ("difference", points::By::Difference),
    ("suited", points::By::Suited),
    ("flow", points::By::Flow),
];

const TOPICS: &[(&str, topics::Tab)] = &[
    ("train", topics::Tab::Heat),
    ("ask", topics::Tab::Asks),
    ("trainings", topics::Tab::Trainings),
];

const FINDINGS: &[(&str, findings::Tab)] = &[
    ("findings", findings::Tab::Findings),
    ("picks", findings::Tab::Picks),
];

const FINDINGS_BY: &[(&str, findings::By)] = &[
    ("due", findings::By::Due),
    ("number", findings::By::Number),
    ("state", findings::By::State),
    ("owner", findings::By::Owner),
];

const RECORDS: &[(&str, records::Tab)] = &[
    ("taken in", records::Tab::Ledger),
    ("filled in", records::Tab::Coverage),
    ("doubts", records::Tab::Doubts),
];

const FILLED: &[(&str, coverage::Order)] = &[
    ("rank", coverage::Order::Rank),
    ("fill", coverage::Order::Fill),
    ("sheets", coverage::Order::Sheets),
];

const RESAMPLE: &[(&str, resample::By)] = &[
    ("urgency", resample::By::Urgency),
    ("days", resample::By::Days),
    ("compartment", resample::By::Compartment),
    ("site", resample::By::Site),
];
