//! The keys of the Topics screen.

use super::super::key::{Binding, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Topics, key(K::Enter), C::Open),
    (Z::Topics, key(K::Right), C::PersonNext),
    (Z::Topics, letter('l'), C::PersonNext),
    (Z::Topics, key(K::Left), C::PersonBack),
    (Z::Topics, letter('h'), C::PersonBack),
    (Z::Topics, letter(' '), C::Tick),
    (Z::Topics, letter('w'), C::Plans),
    (Z::Topics, letter('c'), C::Crews),
    (Z::Topics, letter('s'), C::ByRegained),
    (Z::Topics, letter('o'), C::Whole),
    (Z::Topics, letter('f'), C::AddTerm),
    (Z::Topics, letter('d'), C::Picture),
    (Z::Topics, key(K::Tab), C::PaneNext),
    (Z::Topics, key(K::BackTab), C::PaneBack),
    (Z::Asks, key(K::Enter), C::Open),
    (Z::Asks, letter('o'), C::Whole),
    (Z::Asks, letter('f'), C::AddTerm),
    (Z::Asks, key(K::Tab), C::PaneNext),
    (Z::Asks, key(K::BackTab), C::PaneBack),
    (Z::Trainings, key(K::Enter), C::Open),
    (Z::Trainings, letter('o'), C::Whole),
    (Z::Trainings, letter('f'), C::AddTerm),
    (Z::Trainings, key(K::Tab), C::PaneNext),
    (Z::Trainings, key(K::BackTab), C::PaneBack),
];
