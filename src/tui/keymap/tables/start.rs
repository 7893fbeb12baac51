//! The keys of the time before a programme is open.

use super::super::key::{Binding, control, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Start, letter('d'), C::MakeDemo),
    (Z::Start, letter('i'), C::Import),
    (Z::Start, letter('o'), C::OtherFile),
    (Z::Start, key(K::Enter), C::Open),
    (Z::Start, key(K::Down), C::Down),
    (Z::Start, letter('j'), C::Down),
    (Z::Start, key(K::Up), C::Up),
    (Z::Start, letter('k'), C::Up),
    (Z::Start, key(K::Esc), C::Back),
    (Z::Start, letter('?'), C::Help),
    (Z::Start, key(K::F(1)), C::Help),
    (Z::Start, control('z'), C::Suspend),
    (Z::Start, letter('q'), C::Quit),
    (Z::Start, control('c'), C::Quit),
    (Z::StartFailed, letter('r'), C::Reload),
    (Z::StartFile, key(K::Enter), C::Open),
    (Z::StartFile, key(K::Tab), C::Complete),
    (Z::StartFile, key(K::Down), C::Down),
    (Z::StartFile, key(K::Up), C::Up),
    (Z::StartFile, key(K::PageDown), C::PageDown),
    (Z::StartFile, key(K::PageUp), C::PageUp),
    (Z::StartFile, control('w'), C::DeletePart),
];
