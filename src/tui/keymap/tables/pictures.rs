//! The keys of the large pictures.

use super::super::key::{Binding, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::ControlChart, key(K::Left), C::Leftward),
    (Z::ControlChart, letter('h'), C::Leftward),
    (Z::ControlChart, key(K::Right), C::Rightward),
    (Z::ControlChart, letter('l'), C::Rightward),
    (Z::ControlChart, key(K::Enter), C::Open),
    (Z::ControlChart, letter('f'), C::AddTerm),
    (Z::ControlChart, letter('t'), C::Periods),
    (Z::ControlChart, letter('d'), C::Picture),
    (Z::Strip, key(K::Left), C::Leftward),
    (Z::Strip, letter('h'), C::Leftward),
    (Z::Strip, key(K::Right), C::Rightward),
    (Z::Strip, letter('l'), C::Rightward),
    (Z::Strip, key(K::Enter), C::Open),
    (Z::Strip, letter('f'), C::AddTerm),
    (Z::Strip, letter('c'), C::Compartment),
    (Z::Strip, letter('n'), C::DrawNext),
    (Z::Strip, letter('p'), C::DrawBack),
    (Z::Strip, letter('d'), C::Picture),
    (Z::Funnel, key(K::Left), C::Leftward),
    (Z::Funnel, letter('h'), C::Leftward),
    (Z::Funnel, key(K::Right), C::Rightward),
    (Z::Funnel, letter('l'), C::Rightward),
    (Z::Funnel, letter('n'), C::MarkNext),
    (Z::Funnel, letter('p'), C::MarkBack),
    (Z::Funnel, key(K::Enter), C::Open),
    (Z::Funnel, letter('f'), C::AddTerm),
    (Z::Funnel, key(K::Tab), C::OtherPicture),
    (Z::Funnel, key(K::BackTab), C::OtherPicture),
    (Z::Funnel, letter('F'), C::Raise),
    (Z::Funnel, letter('d'), C::Picture),
    (Z::Bars, key(K::Enter), C::Open),
    (Z::Bars, letter('f'), C::AddTerm),
    (Z::Bars, letter('v'), C::Columns),
    (Z::Bars, letter('s'), C::SortNext),
    (Z::Bars, letter('S'), C::SortTurn),
    (Z::Bars, key(K::Tab), C::OtherPicture),
    (Z::Bars, key(K::BackTab), C::OtherPicture),
    (Z::Bars, letter('F'), C::Raise),
    (Z::Bars, letter('d'), C::Picture),
];
