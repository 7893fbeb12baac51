//! The keys of the Draws screen.

use super::super::key::{Binding, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Draws, key(K::Enter), C::Open),
    (Z::Draws, key(K::Tab), C::Open),
    (Z::Draws, key(K::Right), C::Open),
    (Z::Draws, letter('s'), C::SortNext),
    (Z::Draws, letter('S'), C::SortTurn),
    (Z::Draws, letter('f'), C::AddTerm),
    (Z::Draws, letter('d'), C::Picture),
    (Z::Draws, letter('c'), C::Compartment),
    (Z::Draws, letter('a'), C::SetAside),
    (Z::Draws, letter('F'), C::Raise),
    (Z::Opened, letter('n'), C::DrawNext),
    (Z::Opened, letter('p'), C::DrawBack),
    (Z::Opened, letter('f'), C::AddTerm),
    (Z::Opened, letter('d'), C::Picture),
    (Z::Opened, letter('c'), C::Compartment),
    (Z::Opened, key(K::Tab), C::PaneNext),
    (Z::Opened, key(K::Left), C::PaneBack),
    (Z::Opened, key(K::BackTab), C::PaneBack),
    (Z::Opened, letter('a'), C::SetAside),
    (Z::Opened, letter('F'), C::Raise),
];
