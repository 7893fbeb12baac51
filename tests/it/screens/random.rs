//! Whatever is pressed at whatever size, nothing panics.

use crossterm::event::{KeyCode, KeyModifiers};
use fairdraw::tui::Action;
use fairdraw::tui::keymap;
use proptest::prelude::*;
use ratatui::layout::Size;

use super::desk::Desk;

#[derive(Clone, Debug)]
enum Move {
    Bound(usize),
    Typed(char),
    Click(u16, u16),
    Wheel(u16, u16, i32),
    Resize(u16, u16),
    Paste(String),
}

fn any_move() -> impl Strategy<Value = Move> {
    prop_oneof![
        12 => (0..keymap::keys().count()).prop_map(Move::Bound),
        3 => prop_oneof![Just(':'), Just('"'), Just('-'), Just('油'), any::<char>()].prop_map(Move::Typed),
        2 => (0u16..250, 0u16..80).prop_map(|(x, y)| Move::Click(x, y)),
        2 => (0u16..250, 0u16..80, -9i32..9).prop_map(|(x, y, by)| Move::Wheel(x, y, by)),
        1 => (60u16..250, 20u16..80).prop_map(|(x, y)| Move::Resize(x, y)),
        1 => prop_oneof![
            Just("kind:sump ".to_owned()),
            Just("broken:flush-met".to_owned()),
            Just("point:NONE".to_owned()),
            any::<String>()
        ].prop_map(Move::Paste),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]
    #[test]
    fn random_moves_never_panic(
        width in 60u16..250, height in 20u16..80,
        moves in proptest::collection::vec(any_move(), 1..60)
    ) {
        let mut desk = Desk::new(width, height);
        let (mut width, mut height) = (width, height);
        for step in moves {
            match step {
                Move::Bound(at) => {
                    let event = keymap::keys().nth(at).unwrap().1.event();
                    if let Some(action) = desk.app.action_of(event) {
                        desk.act(action);
                    }
                }
                Move::Typed(sign) => desk.key(KeyCode::Char(sign), KeyModifiers::NONE),
                Move::Click(x, y) => desk.act(Action::Click(x, y)),
                Move::Wheel(x, y, by) => desk.act(Action::Wheel(x, y, by)),
                Move::Resize(x, y) => {
                    (width, height) = (x, y);
                    desk.act(Action::Resize(Size { width, height }));
                }
                Move::Paste(text) => desk.act(Action::Paste(text)),
            }
            desk.buffer(width, height);
        }
        prop_assert!(!desk.app.is_waiting());
    }
}
