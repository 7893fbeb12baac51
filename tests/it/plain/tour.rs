//! The paths of `docs/tour.md` in linear text, on the same programme: where the screens lead, words
//! lead too.

use fairdraw::model::trail::Who;
use fairdraw::programme::Programme;
use fairdraw::tui::plain::{Session, Voice};

use super::sitting::Room;
use crate::tour::demo;

/// A line, and what is said to it then.
type Step = (&'static str, &'static [&'static str]);

const SUPERVISOR: &[Step] = &[
    ("again", &["unrepresentative", "Breaks most:", "Waiting:"]),
    // The large picture in words: month by month, with the limits of chance.
    (
        "d",
        &["View periods", "Months, newest first", "within its limits"],
    ),
    ("item 2", &["2. 2026-09"]),
    ("open 2", &["Draws.", "from:2026-09 to:2026-09"]),
    (
        "filter by",
        &["Filter builder, values of verdict.", "1. unrepresentative"],
    ),
    ("1", &["unrepresentative, ticked"]),
    ("", &["verdict:unrepresentative", "Draws 1 to 10"]),
    ("open 1", &["It is unrepresentative.", "broken", "wanted"]),
    ("more", &["Why:", "Next time:", "Draws of compartment"]),
    ("next draw", &["Draw D"]),
    (
        "set aside",
        &["Set the result of draw", "unrepresentative", "Because:"],
    ),
    ("tap was dirty", &["is set aside", "tap was dirty"]),
    ("undo", &["was set aside"]),
    ("back", &[]),
    ("resample", &["compartments to sample again", "QUE-12"]),
    ("more 1", &["Next time"]),
    ("sheets", &["Sheets to print", "Folder"]),
    (".back", &["Resample."]),
    ("find que 01", &["QUE-01A"]),
    ("", &["Points.", "QUE-01A"]),
    ("more", &["flush:", "flow:"]),
];

const TRAINER: &[Step] = &[
    ("topics", &["draws to regain", "View training"]),
    ("more 1", &["Next time"]),
    ("tick 1", &["1 ticked"]),
    ("tick 2", &["2 ticked"]),
    ("plans", &["Folder for plans", "2 plans"]),
    (".back", &["Topics."]),
    ("trainings", &["9 trainings.", "before", "after"]),
    ("people", &["no verdict on a person", "expected"]),
    // The funnel is told for the chosen one.
    ("more 1", &["In the funnel"]),
    ("crews", &["View crews"]),
    ("period", &["last month"]),
    ("2", &["from:2026-09 to:2026-09"]),
    ("[", &["from:2026-08 to:2026-08"]),
    ("]", &["from:2026-09 to:2026-09"]),
];

const AUDITOR: &[Step] = &[
    ("findings", &["6 findings.", "overdue"]),
    ("open 1", &["Finding F-", "speak for it"]),
    ("back", &["Findings."]),
    ("picks", &["pick 1"]),
    (
        "open 1",
        &["58 of 58 entered.", "with 95 % confidence at most"],
    ),
    ("back", &["Findings."]),
    (
        "draw a pick",
        &["Would pick 58 of 4,962 draws.", "fairdraw -p"],
    ),
    (".back", &["Findings."]),
    ("sheet 1", &["58 of 2,470 draws", "pick-1.csv"]),
    (".back", &["Findings."]),
    ("records", &["3 batches", "by Orla Vantreight"]),
    ("doubts", &["never a charge"]),
    ("more 1", &["What else explains it"]),
    ("findings", &["Findings."]),
    ("pack", &["Write the findings pack", "Folder", "folder"]),
    (".back", &["Findings."]),
    ("draws", &["Draws 1 to 10 of 4,962"]),
    ("copy", &["Copying.", "4. filter", "score"]),
    ("3", &["verdict; drawn; point"]),
];

#[test]
fn the_tour_can_be_walked_in_words() {
    for walk in [SUPERVISOR, TRAINER, AUDITOR] {
        let room = Room::empty();
        let file = room.path("demo.db");
        std::fs::copy(demo(), &file).unwrap();
        let programme = Programme::open(&file).unwrap();
        let voice = Voice { unicode: true };
        let mut session = Session::new(programme, &file, Who::named("Ines Falk"), voice);
        session.begin(&mut |_| {}).unwrap();
        for (line, wanted) in walk {
            let mut said = Vec::new();
            let mut say = |line: &str| said.push(line.to_owned());
            assert!(session.hear(line, &mut say).unwrap(), "{line} leaves");
            let said = said.join("\n");
            assert!(!said.contains("is no command here"), "{said}");
            for words in *wanted {
                assert!(
                    said.to_lowercase().contains(&words.to_lowercase()),
                    "{line}: no {words:?} in\n{said}"
                );
            }
        }
    }
}
