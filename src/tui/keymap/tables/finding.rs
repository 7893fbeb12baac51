//! The keys of finding something by its name, and of choosing the period.

use super::super::key::{Binding, control, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Find, key(K::Enter), C::Open),
    (Z::Find, key(K::Tab), C::Only),
    (Z::Find, key(K::Down), C::Down),
    (Z::Find, control('j'), C::Down),
    (Z::Find, key(K::Up), C::Up),
    (Z::Find, control('k'), C::Up),
    (Z::Find, key(K::PageDown), C::PageDown),
    (Z::Find, key(K::PageUp), C::PageUp),
    (Z::Period, letter('t'), C::ThisMonth),
    (Z::Period, letter('m'), C::LastMonth),
    (Z::Period, letter('u'), C::LastQuarter),
    (Z::Period, letter('y'), C::LastYear),
    (Z::Period, letter('w'), C::LastTwelve),
    (Z::Period, letter('a'), C::AllDays),
    (Z::Period, letter('c'), C::OwnDays),
    (Z::Period, key(K::Enter), C::Open),
    (Z::PeriodLine, key(K::Enter), C::Apply),
];
