//! Findings, picks and what to sample again: how the screens look on the way of a finding from
//! raising to closing, of a pick from drawing to its results, and what is kept of it.

use fairdraw::analysis::findings::State;
use fairdraw::model::decisions::pick::Outcome;

use super::desk::Desk;
use crate::support::assert_snapshot;

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

/// Raises a finding about the chosen technician.
const RAISE: &str = "3 F type:Flushes_short_of_what_the_points_ask_for Enter Enter \
                     type:flush-met Enter type:Bo_Tarn Enter";

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
    ("pick-drawn", "6 Tab n C-s"),
    (
        "pick-opened",
        "6 Tab n C-s Enter a C-s j d type:counter_reads_less Enter Right Enter j u C-s",
    ),
    ("pack-form", "6 e"),
    ("resample", "8"),
    ("resample-second", "8 j j"),
    ("resample-opened", "8 Enter"),
    ("resample-further", "8 Enter PageDown"),
    ("resample-strict-by-site", "8 t s s s"),
    ("resample-none", "8 / type:verdict:representative Enter"),
    ("resample-sheets", "8 w"),
    ("resample-set-aside", "8 a"),
    ("resample-aside", "8 a type:tap_was_dirty Enter"),
    ("draw-set-aside", "2 j Enter a type:tap_was_dirty Enter"),
];

fn keys(desk: &mut Desk, keys: &str) {
    for part in keys.split_inclusive(' ') {
        match part.trim() {
            "RAISE" => desk.keys(RAISE),
            "ANSWER" => desk.keys(ANSWER),
            "" => continue,
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
