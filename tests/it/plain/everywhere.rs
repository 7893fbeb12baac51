//! Every place and everything that can lie over one has something to say.

use std::collections::BTreeSet;

use fairdraw::model::trail::Who;
use fairdraw::programme::Programme;
use fairdraw::tui::keymap::Zone;
use fairdraw::tui::plain::{Session, Voice};

use super::sitting::Room;
use crate::support::fixture;

/// A sitting in this process, and what it said last.
struct Sitting {
    session: Session,
    seen: BTreeSet<String>,
    _room: Room,
}

impl Sitting {
    fn new() -> Self {
        let room = Room::new();
        let file = room.path("own.db");
        let programme = Programme::open(&file).unwrap();
        let who = Who::named("Ada Morn");
        let mut session = Session::new(programme, &file, who, Voice { unicode: true });
        session.begin(&mut |_| {}).unwrap();
        Sitting {
            session,
            seen: BTreeSet::new(),
            _room: room,
        }
    }

    fn hear(&mut self, line: &str) -> Vec<String> {
        let mut said = Vec::new();
        self.session
            .hear(line, &mut |line| said.push(line.to_owned()))
            .unwrap();
        said
    }

    /// Says a line, then looks that the place has a title, sentences or rows, commands by
    /// word, and help.
    fn walk(&mut self, line: &str) {
        let said = self.hear(line);
        let zone = self.session.zone();
        assert!(!said.is_empty(), "{line}: nothing was said in {zone:?}");
        self.seen.insert(format!("{zone:?}"));
        let dot = if zone.is_text() { "." } else { "" };
        let again = self.hear(&format!("{dot}again"));
        assert!(again.len() >= 2, "{zone:?} says only {again:?}");
        let place = self.hear(&format!("{dot}where"));
        assert!(
            place.len() >= 4,
            "{zone:?} has no commands by word: {place:?}"
        );
        let help = self.hear(&format!("{dot}help"));
        assert!(help.len() > 10, "{zone:?}: {help:?}");
        assert_eq!(
            self.session.zone(),
            zone,
            "asking where one is leads nowhere"
        );
    }
}

#[test]
fn every_place_and_all_that_lies_over_one_has_words() {
    let mut sitting = Sitting::new();
    let table = fixture("to-take-in").join("harbour log 2026.csv");
    let table = table.to_str().unwrap().to_owned();
    for line in [
        "share",
        "rules",
        "periods",
        "waiting",
        "draws",
        "copy",
        "back",
        "filter verdict:unrepresentative",
        "saved filters",
        "save",
        ".back",
        "back",
        "back",
        "narrow 1",
        "back",
        "open 1",
        "back",
        "people",
        "crews",
        "technicians",
        "adjust",
        "back",
        "points",
        "topics",
        "asks",
        "trainings",
        "view training",
        "tick 1",
        "undo",
        "back",
        "plans",
        ".back",
        "findings",
        "picks",
        "draw a pick",
        "3",
        "",
        "",
        "",
        "4",
        "",
        "one",
        "open 1",
        "enter a sheet",
        "nowhere",
        ".back",
        "back",
        "people",
        "technicians",
        "raise 1",
        "Flushes short",
        "",
        "",
        "Bo",
        "",
        "findings",
        "view findings",
        "open 1",
        "back",
        "resample",
        "open 1",
        "back",
        "records",
        "open 1",
        "back",
        "take back 1",
        ".back",
        "columns",
        "doubts",
        "ledger",
        "undo",
        "back",
        "find ada",
        ".back",
        "period",
        "back",
        "filter by",
        ".fields",
        "back",
        ":",
        ".back",
        "take a table in",
        ".clear",
        &table,
        "rows",
        "refused",
        "map",
        "open 2",
        "back",
    ] {
        sitting.walk(line);
    }
    let reached = |zone: &&Zone| !sitting.seen.contains(&format!("{zone:?}"));
    let lacking: Vec<Zone> = Zone::ALL.iter().filter(reached).copied().collect();
    assert_eq!(lacking, ELSEWHERE);
}

/// Kinds of zones, places before a programme is open, pictures, which say nothing, what only
/// some programmes have, what is under way while no line is read, and the page of what is told
/// whole here anyway.
const ELSEWHERE: &[Zone] = &[
    Zone::Everywhere,
    Zone::Start,
    Zone::StartBusy,
    Zone::StartFailed,
    Zone::ControlChart,
    Zone::Strip,
    Zone::Funnel,
    Zone::Bars,
    Zone::PickSheetRead,
    Zone::Doubt,
    Zone::Choices,
    Zone::ImportBusy,
    Zone::ImportTried,
    Zone::ImportDone,
    Zone::Page,
    Zone::PeriodLine,
    Zone::Help,
    Zone::Loading,
    Zone::TextLine,
    Zone::StartFile,
];
