//! The keys of the filter builder.

use super::super::key::{Binding, control, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Builder, key(K::Enter), C::Open),
    (Z::Builder, key(K::Right), C::Open),
    (Z::Builder, key(K::Tab), C::Open),
    (Z::Builder, letter('x'), C::TakeTermOut),
    (Z::Builder, key(K::Delete), C::TakeTermOut),
    (Z::Builder, letter('-'), C::Exclude),
    (Z::Builder, letter('a'), C::Apply),
    (Z::Values, key(K::Enter), C::Apply),
    (Z::Values, letter(' '), C::TickValue),
    (Z::Values, letter('-'), C::Exclude),
    (Z::Values, key(K::Tab), C::FieldNext),
    (Z::Values, key(K::BackTab), C::FieldBack),
    (Z::Values, key(K::Left), C::PaneBack),
    (Z::Values, control('s'), C::ValuesInOrder),
    (Z::Values, key(K::Down), C::Down),
    (Z::Values, key(K::Up), C::Up),
    (Z::Values, key(K::PageDown), C::PageDown),
    (Z::Values, key(K::PageUp), C::PageUp),
    (Z::Values, key(K::Home), C::First),
    (Z::Values, key(K::End), C::Last),
];
