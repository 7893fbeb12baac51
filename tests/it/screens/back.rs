//! Back and forward through where one has been.

use fairdraw::tui::Action;
use proptest::prelude::*;

use super::desk::Desk;

const WIDTH: u16 = 120;
const HEIGHT: u16 = 40;

/// All of the screen but the last line.
fn body(desk: &Desk) -> String {
    let text = desk.text(WIDTH, HEIGHT);
    let lines: Vec<&str> = text.lines().take(usize::from(HEIGHT) - 1).collect();
    lines.join("\n")
}

fn said(desk: &Desk) -> String {
    let text = desk.text(WIDTH, HEIGHT);
    text.lines().last().unwrap_or_default().trim().to_owned()
}

#[test]
fn a_step_back_can_be_taken_anew() {
    let mut desk = Desk::new(WIDTH, HEIGHT);
    desk.keys(": type:kind:sump Enter 3 j Enter");
    let draws = body(&desk);
    desk.keys("<");
    assert!(
        said(&desk).starts_with("Back in People, with the filter kind:sump."),
        "{}",
        said(&desk)
    );
    desk.keys("Alt-Left Alt-Left");
    assert!(
        said(&desk).starts_with("Back without the filter kind:sump."),
        "{}",
        said(&desk)
    );
    desk.keys(">");
    assert!(said(&desk).starts_with("Forward with the filter kind:sump."));
    desk.keys("Alt-Right");
    assert!(said(&desk).starts_with("Forward in People."));
    desk.keys(">");
    assert!(said(&desk).starts_with("Forward in Draws, with the filter kind:sump technician:"));
    assert_eq!(body(&desk), draws);
    desk.keys(">");
    assert!(said(&desk).contains("nothing ahead"));
    assert_eq!(body(&desk), draws);
}

#[test]
fn something_new_gives_up_what_was_taken_back() {
    for new in ["3", "f", ": type:kind:tank Enter", "[", "2 Enter"] {
        let mut desk = Desk::new(WIDTH, HEIGHT);
        desk.keys("2 4 < <").keys(new).keys(">");
        assert!(
            said(&desk).contains("nothing ahead"),
            "{new}: {}",
            said(&desk)
        );
    }
}

#[test]
fn an_opened_draw_lies_within_its_list() {
    let mut desk = Desk::new(80, 24);
    let body = |desk: &Desk| {
        let text = desk.text(80, 24);
        text.lines().take(23).collect::<Vec<_>>().join("\n")
    };
    desk.keys("4 2 j j Enter n");
    let opened = body(&desk);
    desk.keys("<");
    let list = body(&desk);
    assert_ne!(list, opened);
    desk.keys("<");
    assert!(desk.text(80, 24).contains("Back in Points."));
    desk.keys(">");
    assert_eq!(body(&desk), list);
    desk.keys(">");
    assert_eq!(body(&desk), opened);
    // The way back is as long as it was.
    desk.keys("< <");
    assert!(desk.text(80, 24).contains("Back in Points."));
}

/// Keys that lead somewhere or choose something. Panels within Findings, Records and Resample
/// close with the same key, which is no step.
const MOVES: [&str; 25] = [
    "1",
    "2",
    "3",
    "4",
    "5",
    "6",
    "7",
    "8",
    "j",
    "k",
    "G",
    "s",
    "S",
    "1 Enter",
    "2 Enter",
    "3 Enter",
    "4 Enter",
    "3 f",
    "2 c",
    "x",
    "[",
    "]",
    "m a",
    ": C-u type:kind:sump Enter",
    "/ type:press Enter",
];

/// A long message covers the last rows of the body.
fn take_message_away(desk: &mut Desk) {
    desk.act(Action::Click(0, HEIGHT - 1));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    #[test]
    fn n_steps_back_and_n_forward_lead_to_the_same_place_filter_and_rows(
        moves in proptest::collection::vec(prop::sample::select(&MOVES[..]), 1..14),
        steps in 1usize..9,
    ) {
        let mut desk = Desk::new(WIDTH, HEIGHT);
        for keys in moves {
            desk.keys(keys);
        }
        let mut seen = Vec::new();
        for _ in 0..steps {
            take_message_away(&mut desk);
            let here = body(&desk);
            desk.keys("<");
            if said(&desk).contains("where you began") {
                break;
            }
            seen.push(here);
        }
        while let Some(expected) = seen.pop() {
            desk.keys(">");
            take_message_away(&mut desk);
            prop_assert_eq!(body(&desk), expected);
        }
    }
}
