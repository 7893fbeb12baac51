//! The keys of help.

use super::super::key::{Binding, key};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Help, key(K::Tab), C::PaneNext),
    (Z::Help, key(K::Right), C::PaneNext),
    (Z::Help, key(K::BackTab), C::PaneBack),
    (Z::Help, key(K::Left), C::PaneBack),
];
