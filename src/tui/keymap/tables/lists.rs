//! The keys of lists that lie over a screen.

use super::super::key::{Binding, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Narrow, key(K::Enter), C::Open),
    (Z::Narrow, letter('f'), C::Open),
];
