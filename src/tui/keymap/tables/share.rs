//! The keys of the Share screen.

use super::super::key::{Binding, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Share, key(K::Enter), C::Open),
    (Z::Share, letter('f'), C::AddTerm),
    (Z::Share, letter('d'), C::Picture),
    (Z::Share, letter('t'), C::Periods),
    (Z::Share, letter('s'), C::SortNext),
    (Z::Share, key(K::Tab), C::PaneNext),
    (Z::Share, key(K::Right), C::PaneNext),
    (Z::Share, key(K::BackTab), C::PaneBack),
    (Z::Share, key(K::Left), C::PaneBack),
];
