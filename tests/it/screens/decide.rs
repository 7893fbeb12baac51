//! Findings, picks and what to sample again: how the screens look on the way of a finding from
//! raising to closing, of a pick from drawing to its results, and what is kept of it.

use fairdraw::analysis::findings::State;
use fairdraw::model::decisions::pick::Outcome;

use fairdraw::tui::Action;
use fairdraw::tui::effect::Answer;

use super::desk::Desk;
use crate::support::assert_snapshot;

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

/// Raises a finding about the chosen technician.
const RAISE: &str = "3 F type:Flushes_short_of_what_the_points_ask_for Enter Enter \
                     type:flush-met Enter type:Bo_Tarn Enter";

/// Raises a finding about the technician below.
const RAISE_MORE: &str = "3 j F type:Bottles_filled_cold Enter Enter C-u Enter type:Cy_Marl \
                          C-u type:Cy_Marl C-s";

/// Fills in an answer.
const ANSWER: &str = "6 a type:No_jug_at_the_points Enter type:Drawn_again Enter \
                      type:A_jug_at_every_point Enter type:2026-12-15 Enter";

/// Every state of the screens, and the keys that lead there one after another.
const STATES: &[(&str, &str)] = &[
    ("findings-empty", "6"),
    ("picks-empty", "6 Tab"),
    ("finding-raise", "6 3 F"),
    (
        "finding-raise-blank",
        "3 F Enter Enter type:flush-meet Enter Enter C-u type:soon C-s",
    ),
    ("finding-leaving", "3 F type:half_a_word Esc"),
    ("finding-raised", "RAISE Enter 6"),
    ("finding-opened", "RAISE Enter 6 Enter"),
    (
        "finding-answer",
        "RAISE Enter 6 a type:No_jug_at_the_points",
    ),
    ("finding-answered", "RAISE Enter ANSWER"),
    (
        "finding-close",
        "RAISE Enter ANSWER c type:Four_rounds_watched Enter",
    ),
    (
        "finding-closed",
        "RAISE Enter ANSWER c type:Four_rounds_watched Enter Enter Enter",
    ),
    (
        "finding-withdrawn",
        "RAISE Enter 6 w type:The_jug_was_there Enter",
    ),
    ("finding-too-early", "RAISE Enter 6 c"),
    ("pick-form", "6 Tab n"),
    ("pick-wrong", "6 Tab n Tab C-u type:5 C-s"),
    ("pick-estimation", "6 Tab n Right"),
    ("pick-drawn", "6 Tab n C-s"),
    ("pick-for-verifier", "6 Tab n C-s w"),
    (
        "pick-opened",
        "6 Tab n C-s Enter a C-s d type:counter_reads_less Enter Right Enter u C-s",
    ),
    ("pack-form", "6 e"),
    ("resample", "8"),
    ("resample-second", "8 j j"),
    ("resample-opened", "8 Enter"),
    ("resample-further", "8 Enter PageDown"),
    ("resample-strict-by-site", "8 t s s s"),
    ("resample-none", "8 : type:verdict:representative Enter"),
    ("resample-sheets", "8 w"),
    ("resample-set-aside", "8 a"),
    ("resample-aside", "8 a type:tap_was_dirty Enter"),
    ("draw-set-aside", "2 j Enter a type:tap_was_dirty Enter"),
];

fn keys(desk: &mut Desk, keys: &str) {
    for part in keys.split(' ') {
        match part {
            "RAISE" => desk.keys(RAISE),
            "ANSWER" => desk.keys(ANSWER),
            other => desk.keys(other),
        };
    }
}

#[test]
fn every_state_at_three_sizes() {
    for (name, pressed) in STATES {
        for (width, height) in SIZES {
            let mut desk = Desk::on_file(width, height);
            keys(&mut desk, pressed);
            let text = desk.text(width, height);
            assert_snapshot("screens", &format!("{name}@{width}x{height}"), &text);
        }
    }
}

#[test]
fn a_finding_goes_from_raising_to_closing_and_all_of_it_is_kept() {
    let mut desk = Desk::on_file(120, 40);
    keys(&mut desk, "3 f");
    let filter = "technician:T003";
    assert!(
        desk.text(120, 40).contains(filter),
        "{}",
        desk.text(120, 40)
    );
    keys(
        &mut desk,
        "RAISE Enter ANSWER c type:Four_rounds_watched Enter Enter",
    );
    let findings = desk.programme().findings().unwrap();
    assert_eq!(findings.len(), 1);
    let finding = &findings[0];
    assert_eq!(finding.state, State::Closed);
    let raised = &finding.raised;
    assert_eq!(finding.told.who, "Ada Morn");
    assert_eq!(
        [&raised.rule, &raised.owner, &raised.due, &raised.filter],
        ["flush-met", "Bo Tarn", "2026-12-28", filter]
    );
    // The draws that speak for it are those that the filter language finds.
    let behind = fairdraw::analysis::Filter::parse("technician:T003 broken:flush-met");
    let behind = behind.unwrap().select(&desk.assessed).len() as u64;
    assert_eq!(raised.draws, behind);
    let (_, answer) = &finding.answers[0];
    assert_eq!(
        [
            &answer.cause,
            &answer.correction,
            &answer.action,
            &answer.by
        ],
        [
            "No jug at the points",
            "Drawn again",
            "A jug at every point",
            "2026-12-15"
        ]
    );
    let (_, closed) = finding.closed.as_ref().unwrap();
    assert_eq!(closed.effect, "Four rounds watched");
    let measured = closed.measured.as_ref().unwrap();
    assert_eq!(measured.after.recorded, 0, "nothing was drawn since");
    // Nothing more may be done about it.
    keys(&mut desk, "a");
    assert!(desk.text(120, 40).contains("it is closed"));
}

#[test]
fn what_was_chosen_stays_chosen_when_its_place_in_the_list_changes() {
    let mut desk = Desk::on_file(120, 40);
    keys(&mut desk, "RAISE Enter");
    desk.keys(RAISE_MORE);
    desk.keys("6 g");
    // Both are due on one day, so the first stands first; its action is due later.
    keys(
        &mut desk,
        "a type:No_jug Enter type:Drawn_again Enter type:A_jug Enter",
    );
    keys(&mut desk, "type:2027-03-01 Enter");
    assert!(desk.text(120, 40).contains("F-1 is answered"));
    keys(&mut desk, "c");
    let shown = desk.text(120, 40);
    assert!(shown.contains("Close finding F-1"), "{shown}");
    assert!(shown.contains("count draws"), "{shown}");
}

#[test]
fn what_was_decided_is_seen_with_the_message_that_says_so() {
    let mut desk = Desk::on_file(120, 40);
    keys(&mut desk, "RAISE Enter 6");
    // No question is answered any more: all that a decision changes comes with it.
    desk.holds_files = true;
    keys(&mut desk, "ANSWER c type:Four_rounds_watched Enter Enter");
    let shown = desk.text(120, 40);
    assert!(shown.contains("F-1 is closed"), "{shown}");
    assert!(shown.contains("0 open, 0 answered, 1 closed"), "{shown}");
}

#[test]
fn a_finding_is_not_closed_before_its_draws_are_counted() {
    let mut desk = Desk::on_file(120, 40);
    keys(&mut desk, "RAISE Enter ANSWER");
    desk.keys(RAISE_MORE);
    desk.keys("6 G");
    desk.holds_files = true;
    desk.keys("g c");
    let shown = desk.text(120, 40);
    assert!(shown.contains("F-1"), "{shown}");
    assert!(shown.contains("still being counted"), "{shown}");
}

#[test]
fn a_pack_that_is_being_written_can_be_stopped_from_the_screen() {
    let mut desk = Desk::on_file(80, 24);
    desk.keys("6");
    desk.holds_files = true;
    desk.keys("e C-s");
    desk.act(Action::PackProgress("judging", 300, 1000));
    let shown = desk.text(80, 24);
    let bar = "Pack: judging ━━━───────  30 %; Esc stops it";
    assert!(shown.contains(bar), "{shown}");
    // Other screens work meanwhile; a second pack waits.
    desk.keys("2 6 e");
    assert!(desk.text(80, 24).contains("one at a time"));
    desk.keys("Esc");
    assert!(desk.text(80, 24).contains("Stopping the pack."));
    assert!(desk.stopped_pack);
    desk.act(Action::Answered(Answer::Packed(Err("Stopped.".to_owned()))));
    let shown = desk.text(80, 24);
    assert!(shown.contains("Stopped."), "{shown}");
    assert!(shown.contains("0 open"), "{shown}");
}

#[test]
fn results_of_a_pick_are_entered_one_after_the_other() {
    let mut desk = Desk::on_file(120, 40);
    keys(
        &mut desk,
        "6 Tab n Down Down Down Down C-u type:4 Up Up Up Up",
    );
    keys(&mut desk, "Right Right C-s Enter");
    keys(
        &mut desk,
        "a C-s d type:less_on_the_counter Enter Right Right C-s u C-s",
    );
    let picks = desk.programme().picks().unwrap();
    let pick = &picks[0];
    assert_eq!(pick.drawn.draws.len(), 4);
    let told: Vec<_> = pick
        .results
        .iter()
        .map(|result| {
            let verified = result.as_ref().map(|(_, verified)| verified)?;
            Some((
                verified.result,
                verified.representative,
                verified.note.as_str(),
            ))
        })
        .collect();
    assert_eq!(
        told,
        [
            Some((Outcome::Agree, None, "")),
            Some((Outcome::Disagree, Some(false), "less on the counter")),
            Some((Outcome::Unverified, None, "")),
            None
        ]
    );
    keys(
        &mut desk,
        "F type:Records_differ Enter Enter Enter type:Desk C-s 6 Tab",
    );
    let findings = desk.programme().findings().unwrap();
    assert_eq!(findings[0].raised.subject.to_string(), "pick 1");
    assert_eq!(findings[0].raised.draws, 1, "the one that disagrees");
}

#[test]
fn a_result_is_set_aside_on_three_screens_and_counts_again() {
    for (way, screen) in [("2", "2"), ("2 Enter", "2"), ("8", "8")] {
        let mut desk = Desk::on_file(120, 40);
        keys(&mut desk, &format!("{way} a type:tap_was_dirty Enter"));
        let set = desk.programme().set_asides().unwrap();
        assert_eq!(set.len(), 1, "{way}");
        let decided = &set[0].decided;
        assert_eq!(
            (decided.who.as_str(), decided.because.as_str()),
            ("Ada Morn", "tap was dirty")
        );
        let shown = desk.text(120, 40);
        assert!(shown.contains("set aside by Ada"), "{way}\n{shown}");
        keys(&mut desk, &format!("{screen} a"));
        assert!(desk.text(120, 40).contains("count again"), "{way}");
        keys(&mut desk, "type:another_tap Enter");
        let set = desk.programme().set_asides().unwrap();
        assert_eq!(set[0].taken_back.as_ref().unwrap().because, "another tap");
        assert!(!desk.text(120, 40).contains("set aside by"), "{way}");
    }
}

#[test]
fn a_form_that_fails_keeps_what_was_written() {
    let mut desk = Desk::on_file(120, 40);
    keys(&mut desk, "8 w C-u");
    let taken = desk.folder().join("taken");
    std::fs::write(&taken, "").unwrap();
    desk.act(Action::Paste(taken.display().to_string()));
    keys(&mut desk, "Enter");
    let shown = desk.text(120, 40);
    assert!(shown.contains("could not make the folder"), "{shown}");
    assert!(shown.contains("taken"), "{shown}");
    let sheets = desk.folder().join("sheets");
    desk.keys("C-u");
    desk.act(Action::Paste(sheets.display().to_string()));
    desk.keys("Enter");
    assert!(desk.text(120, 40).contains("1 sheet is in"));
    let page = std::fs::read_to_string(sheets.join("resample-Quellmar_Quay.html")).unwrap();
    assert!(page.starts_with("<!DOCTYPE html>"));
}

#[test]
fn the_pack_is_written_from_the_screen() {
    let mut desk = Desk::on_file(120, 40);
    let folder = desk.folder().join("pack");
    desk.keys("6 e C-u");
    desk.act(Action::Paste(folder.display().to_string()));
    desk.keys("C-s");
    let shown = desk.text(120, 40);
    assert!(shown.contains("The pack is in"), "{shown}");
    assert!(folder.join("SHA256SUMS").exists());
    desk.keys("e C-u");
    desk.act(Action::Paste(folder.display().to_string()));
    desk.keys("C-s");
    let shown = desk.text(120, 40);
    assert!(
        shown.contains("Write the findings pack"),
        "left alone: {shown}"
    );
}

#[test]
fn what_is_due_does_not_hang_on_the_period_looked_at() {
    let count = |shown: &str| {
        let line = shown
            .lines()
            .find(|line| line.contains("to sample again of"));
        line.unwrap().trim().to_owned()
    };
    let mut whole = Desk::on_file(120, 40);
    whole.keys("8");
    let expected = count(&whole.text(120, 40));
    let mut desk = Desk::on_file(120, 40);
    desk.keys(": type:from:2026-02_to:2026-02 Enter 8");
    let shown = desk.text(120, 40);
    assert_eq!(count(&shown), expected);
    assert_snapshot("screens", "resample-any-period@120x40", &shown);
    desk.keys("y o Enter");
    let copied = desk.copied.last().unwrap();
    assert!(copied.ends_with(" resample"), "{copied}");
    // The draws of the chosen compartment are of all days too.
    desk.keys("Enter Enter");
    let shown = desk.text(120, 40);
    assert!(!shown.contains("from:2026-02"), "{shown}");
}

#[test]
fn in_a_file_that_cannot_be_written_nothing_is_decided() {
    let mut desk = Desk::on_file(120, 40);
    desk.without_a_name(true);
    for way in ["3 F", "6 Tab n", "8 a", "2 a", "4 F"] {
        desk.keys(way);
        let shown = desk.text(120, 40);
        assert!(shown.contains("can't be written to"), "{way}\n{shown}");
    }
    // Reading, and writing beside the programme, work.
    desk.keys("8 w");
    assert!(desk.text(120, 40).contains("Sheets to print"));
}

#[test]
fn where_nobody_is_named_a_form_asks_for_the_name_first_and_keeps_it() {
    let mut desk = Desk::on_file(120, 40);
    desk.without_a_name(false);
    desk.keys("2 a");
    assert_snapshot("screens", "decide-who@120x40", &desk.text(120, 40));
    // Without a name nothing is sent, whatever else is written.
    desk.keys("Tab type:sent_in_twice Enter");
    let shown = desk.text(120, 40);
    assert!(shown.contains("Write 1 to 100 characters"), "{shown}");
    desk.keys("type:Ada_Morn C-s");
    let shown = desk.text(120, 40);
    assert!(shown.contains("is set aside"), "{shown}");
    // It is not asked for again.
    desk.keys("a");
    let shown = desk.text(120, 40);
    assert!(!shown.contains("for all of this sitting"), "{shown}");
    assert!(shown.contains("Kept in the trail as Ada Morn."), "{shown}");
}

#[test]
fn what_is_not_decided_in_a_form_asks_for_the_name_all_the_same() {
    let mut desk = Desk::new(120, 40);
    desk.without_a_name(false);
    desk.keys("7 G b");
    assert!(desk.text(120, 40).contains("Who decides?"));
    desk.keys("type:Ines_Falk Enter");
    assert!(desk.text(120, 40).contains("press the key again"));
    desk.keys("b");
    assert!(desk.text(120, 40).contains("because"));
}

#[test]
fn what_was_found_is_read_to_its_end_where_rows_are_left() {
    let mut desk = Desk::on_file(120, 40);
    desk.keys(RAISE).keys("C-s").keys(RAISE_MORE).keys("6");
    let shown = desk.text(120, 40);
    // What stands beside the list holds it too.
    let left: Vec<&str> = shown
        .lines()
        .map(|line| line.split('│').next().unwrap_or_default())
        .collect();
    let row = left
        .iter()
        .position(|line| line.contains("Flushes short"))
        .unwrap();
    // In words of its own lines, beside the columns before and behind it.
    let words: Vec<&str> = left[row..row + 3]
        .iter()
        .flat_map(|line| line.split_whitespace())
        .collect();
    for word in "Flushes short of what the points ask for".split(' ') {
        assert!(words.contains(&word), "{word}: {shown}");
    }
    // A click on the second line of a finding chooses it.
    let row = u16::try_from(row).unwrap();
    desk.keys("j k");
    desk.act(Action::Click(31, row + 1));
    let shown = desk.text(120, 40);
    assert!(shown.contains("│ F-1 nonconformity"), "{shown}");
    // The draws that speak for it are told in full numbers.
    assert!(!shown.contains("D0000…"), "{shown}");
}

#[test]
fn a_form_shows_what_is_decided_about() {
    let mut desk = Desk::on_file(120, 40);
    desk.keys("2 Enter a");
    let shown = desk.text(120, 40);
    assert!(shown.contains("; wanted: "), "{shown}");
    desk.keys("Esc F");
    assert_snapshot("screens", "decide-about-draw@120x40", &desk.text(120, 40));
}
