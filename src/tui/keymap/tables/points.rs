//! The keys of the Points screen.

use super::super::key::{Binding, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Points, key(K::Enter), C::Open),
    (Z::Points, letter('o'), C::Whole),
    (Z::Points, letter('v'), C::Columns),
    (Z::Points, letter('a'), C::AdjustFor),
    (Z::Points, letter('d'), C::Picture),
    (Z::Points, letter('s'), C::SortNext),
    (Z::Points, letter('S'), C::SortTurn),
    (Z::Points, letter('f'), C::AddTerm),
    (Z::Points, letter('F'), C::Raise),
];
