//! The keys of everywhere but in lines of text.

use super::super::key::{Binding, alt, control, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Everywhere, letter('1'), C::ShowShare),
    (Z::Everywhere, letter('2'), C::ShowDraws),
    (Z::Everywhere, letter('3'), C::ShowPeople),
    (Z::Everywhere, letter('4'), C::ShowPoints),
    (Z::Everywhere, letter('5'), C::ShowTopics),
    (Z::Everywhere, letter('6'), C::ShowFindings),
    (Z::Everywhere, letter('7'), C::ShowRecords),
    (Z::Everywhere, letter('8'), C::ShowResample),
    (Z::Everywhere, key(K::Down), C::Down),
    (Z::Everywhere, letter('j'), C::Down),
    (Z::Everywhere, key(K::Up), C::Up),
    (Z::Everywhere, letter('k'), C::Up),
    (Z::Everywhere, key(K::PageDown), C::PageDown),
    (Z::Everywhere, letter(' '), C::PageDown),
    (Z::Everywhere, key(K::PageUp), C::PageUp),
    (Z::Everywhere, key(K::Home), C::First),
    (Z::Everywhere, letter('g'), C::First),
    (Z::Everywhere, key(K::End), C::Last),
    (Z::Everywhere, letter('G'), C::Last),
    (Z::Everywhere, key(K::Esc), C::Back),
    (Z::Everywhere, alt(K::Left), C::Back),
    (Z::Everywhere, letter('/'), C::EditFilter),
    (Z::Everywhere, letter(':'), C::EditFilter),
    (Z::Everywhere, letter('+'), C::BuildFilter),
    (Z::Everywhere, letter('='), C::BuildFilter),
    (Z::Everywhere, letter('x'), C::DropTerm),
    (Z::Everywhere, letter('i'), C::Import),
    (Z::Everywhere, letter('r'), C::Reload),
    (Z::Everywhere, letter('?'), C::Help),
    (Z::Everywhere, key(K::F(1)), C::Help),
    (Z::Everywhere, key(K::F(2)), C::Colours),
    (Z::Everywhere, control('z'), C::Suspend),
    (Z::Everywhere, letter('q'), C::Quit),
    (Z::Everywhere, control('c'), C::Quit),
];
