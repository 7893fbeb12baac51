//! The keys of the Resample screen.

use super::super::key::{Binding, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Resample, key(K::Enter), C::Open),
    (Z::Resample, key(K::Right), C::Open),
    (Z::Resample, letter('a'), C::SetAside),
    (Z::Resample, letter('w'), C::Sheets),
    (Z::Resample, letter('t'), C::Strict),
    (Z::Resample, letter('f'), C::AddTerm),
    (Z::Resample, letter('s'), C::SortNext),
    (Z::Resample, letter('S'), C::SortTurn),
    (Z::Compartment, key(K::Left), C::Back),
    (Z::Compartment, key(K::Enter), C::Open),
    (Z::Compartment, letter('n'), C::CompartmentNext),
    (Z::Compartment, letter('p'), C::CompartmentBack),
    (Z::Compartment, letter('a'), C::SetAside),
    (Z::Compartment, letter('w'), C::Sheets),
    (Z::Compartment, letter('f'), C::AddTerm),
];
