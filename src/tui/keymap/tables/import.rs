//! The keys of taking tables in.

use super::super::key::{Binding, control, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::ImportFile, key(K::Enter), C::Open),
    (Z::ImportFile, key(K::Tab), C::Complete),
    (Z::ImportFile, key(K::Down), C::Down),
    (Z::ImportFile, key(K::Up), C::Up),
    (Z::ImportFile, key(K::PageDown), C::PageDown),
    (Z::ImportFile, key(K::PageUp), C::PageUp),
    (Z::ImportFile, control('w'), C::DeletePart),
    (Z::ImportMap, key(K::Enter), C::Open),
    (Z::ImportMap, letter('t'), C::TakeIn),
    (Z::ImportMap, letter('d'), C::TryAll),
    (Z::ImportMap, key(K::Tab), C::PaneNext),
    (Z::ImportMap, key(K::BackTab), C::PaneBack),
    (Z::ImportMap, key(K::Delete), C::LeaveOut),
    (Z::ImportMap, letter('x'), C::LeaveOut),
    (Z::ImportMap, letter('w'), C::SaveMap),
    (Z::ImportRows, letter('t'), C::TakeIn),
    (Z::ImportRows, letter('d'), C::TryAll),
    (Z::ImportRows, key(K::Tab), C::PaneNext),
    (Z::ImportRows, key(K::BackTab), C::PaneBack),
    (Z::ImportRows, key(K::Right), C::RowsNext),
    (Z::ImportRows, key(K::Left), C::RowsBack),
    (Z::ImportRows, letter('n'), C::SheetNext),
    (Z::ImportRows, letter('p'), C::SheetBack),
    (Z::ImportRows, letter('w'), C::SaveMap),
    (Z::Choices, key(K::Enter), C::Open),
    (Z::ImportTried, letter('t'), C::TakeIn),
    (Z::ImportTried, key(K::Enter), C::TakeIn),
    (Z::ImportDone, key(K::Enter), C::Open),
];
