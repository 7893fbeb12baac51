//! The keys of the Findings screen.

use super::super::key::{Binding, control, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Findings, key(K::Enter), C::Open),
    (Z::Findings, key(K::Right), C::Open),
    (Z::Findings, letter('a'), C::AnswerFinding),
    (Z::Findings, letter('c'), C::CloseFinding),
    (Z::Findings, letter('w'), C::WithdrawFinding),
    (Z::Findings, letter('e'), C::Export),
    (Z::Findings, letter('s'), C::SortNext),
    (Z::Findings, letter('S'), C::SortTurn),
    (Z::Findings, key(K::Tab), C::PaneNext),
    (Z::Findings, key(K::BackTab), C::PaneBack),
    (Z::Finding, key(K::Left), C::Back),
    (Z::Finding, key(K::Enter), C::Open),
    (Z::Finding, letter('a'), C::AnswerFinding),
    (Z::Finding, letter('c'), C::CloseFinding),
    (Z::Finding, letter('w'), C::WithdrawFinding),
    (Z::Picks, key(K::Enter), C::Open),
    (Z::Picks, key(K::Right), C::Open),
    (Z::Picks, letter('n'), C::DrawPick),
    (Z::Picks, letter('w'), C::PickSheet),
    (Z::Picks, letter('F'), C::Raise),
    (Z::Picks, letter('e'), C::Export),
    (Z::Picks, key(K::Tab), C::PaneNext),
    (Z::Picks, key(K::BackTab), C::PaneBack),
    (Z::Pick, key(K::Left), C::Back),
    (Z::Pick, key(K::Enter), C::Open),
    (Z::Pick, letter('a'), C::Agree),
    (Z::Pick, letter('d'), C::Disagree),
    (Z::Pick, letter('u'), C::Unverified),
    (Z::Pick, letter('i'), C::EnterSheet),
    (Z::Pick, letter('w'), C::PickSheet),
    (Z::Pick, letter('F'), C::Raise),
    (Z::PickSheet, key(K::Enter), C::Open),
    (Z::PickSheet, key(K::Tab), C::Complete),
    (Z::PickSheet, key(K::Down), C::Down),
    (Z::PickSheet, key(K::Up), C::Up),
    (Z::PickSheet, key(K::PageDown), C::PageDown),
    (Z::PickSheet, key(K::PageUp), C::PageUp),
    (Z::PickSheet, control('w'), C::DeletePart),
    (Z::PickSheetRead, key(K::Enter), C::GoOn),
];
