//! The keys of the People screen.

use super::super::key::{Binding, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::People, key(K::Enter), C::Open),
    (Z::People, letter('c'), C::Crews),
    (Z::People, letter('o'), C::Whole),
    (Z::People, letter('v'), C::Columns),
    (Z::People, letter('a'), C::AdjustFor),
    (Z::People, letter('d'), C::Picture),
    (Z::People, letter('s'), C::SortNext),
    (Z::People, letter('S'), C::SortTurn),
    (Z::People, letter('f'), C::AddTerm),
    (Z::People, letter('F'), C::Raise),
];
