//! What the list of a place can be sorted by, by name.

use crate::tui::app::{App, Place};
use crate::tui::screens::draws::columns::Column;
use crate::tui::screens::records::coverage::Order;
use crate::tui::screens::share::{RulesBy, Section};
use crate::tui::screens::{findings, people, points, records, resample, topics};

/// The orders of a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Orders {
    pub(crate) names: Vec<&'static str>,
    pub(crate) now: &'static str,
    /// The order is turned around: highest or last first.
    pub(crate) descending: bool,
}

fn orders(names: &[&'static str], now: &'static str, descending: bool) -> Option<Orders> {
    Some(Orders {
        names: names.to_vec(),
        now,
        descending,
    })
}

/// The orders of the list that the user is in; none where it has one only.
pub(crate) fn of(app: &App) -> Option<Orders> {
    let screens = &app.screens;
    match app.place {
        Place::Draws => Some(Orders {
            names: Column::ALL.map(Column::title).to_vec(),
            now: screens.draws.column.title(),
            descending: screens.draws.descending,
        }),
        Place::Share if screens.share.section == Section::Rules => {
            let now = match screens.share.rules_by {
                RulesBy::Broken => "broken",
                RulesBy::Regains => "regains",
            };
            orders(&["broken", "regains"], now, true)
        }
        Place::People => {
            let now = match screens.people.by {
                people::By::Name => "name",
                people::By::Crew => "crew",
                people::By::Draws => "draws",
                people::By::Unrepresentative => "unrepresentative",
                people::By::Difference => "difference",
            };
            let names = ["name", "crew", "draws", "unrepresentative", "difference"];
            orders(&names, now, screens.people.descending)
        }
        Place::Points => {
            let now = match screens.points.by {
                points::By::Name => "name",
                points::By::Site => "site",
                points::By::Machine => "machine",
                points::By::Draws => "draws",
                points::By::Unrepresentative => "unrepresentative",
                points::By::Difference => "difference",
                points::By::Suited => "suited",
                points::By::Flow => "flow",
            };
            let names = [
                "name",
                "site",
                "machine",
                "draws",
                "unrepresentative",
                "difference",
                "suited",
                "flow",
            ];
            orders(&names, now, screens.points.descending)
        }
        Place::Topics if screens.topics.tab == topics::Tab::Heat => {
            let now = if screens.topics.by_id {
                "id"
            } else {
                "regained"
            };
            orders(&["regained", "id"], now, !screens.topics.by_id)
        }
        Place::Findings if screens.findings.tab == findings::Tab::Findings => {
            let now = match screens.findings.by {
                findings::By::Due => "due",
                findings::By::Number => "number",
                findings::By::State => "state",
                findings::By::Owner => "owner",
            };
            let is_turned = screens.findings.descending != (now == "number");
            orders(&["due", "number", "state", "owner"], now, is_turned)
        }
        Place::Resample if !screens.resample.opened => {
            let now = match screens.resample.by {
                resample::By::Urgency => "urgency",
                resample::By::Days => "days",
                resample::By::Compartment => "compartment",
                resample::By::Site => "site",
            };
            let falls = matches!(now, "urgency" | "days");
            let names = ["urgency", "days", "compartment", "site"];
            orders(&names, now, screens.resample.descending != falls)
        }
        Place::Records if screens.records.tab == records::Tab::Coverage => {
            let now = match screens.records.order {
                Order::Rank => "rank",
                Order::Fill => "filled",
                Order::Sheets => "sheets",
            };
            orders(&["rank", "filled", "sheets"], now, false)
        }
        _ => None,
    }
}

/// The order in a sentence.
pub(crate) fn sentence(app: &App) -> String {
    of(app).map_or_else(String::new, |orders| {
        let turned = if orders.descending {
            ", highest first"
        } else {
            ""
        };
        format!("Sorted by {}{turned}.", orders.now)
    })
}

/// The order that a word means: a name, what a name begins with, or another word for it.
pub(crate) fn meant(orders: &Orders, word: &str) -> Option<&'static str> {
    let word = word.trim().to_lowercase();
    let word = match word.as_str() {
        "date" | "time" if orders.names.contains(&"drawn") => "drawn",
        "person" if orders.names.contains(&"technician") => "technician",
        "" => return None,
        word => word,
    };
    let exact = orders.names.iter().find(|name| **name == word);
    exact
        .or_else(|| orders.names.iter().find(|name| name.starts_with(word)))
        .copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn orders_are_found_by_name_beginning_and_another_word() {
        let orders = Orders {
            names: Column::ALL.map(Column::title).to_vec(),
            now: "drawn",
            descending: true,
        };
        assert_eq!(meant(&orders, "date"), Some("drawn"));
        assert_eq!(meant(&orders, "Tech"), Some("technician"));
        assert_eq!(meant(&orders, "broken"), Some("broken"));
        assert_eq!(meant(&orders, "weight"), None);
        assert_eq!(meant(&orders, ""), None);
    }
}
