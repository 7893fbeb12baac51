//! The keys of the Records screen.

use super::super::key::{Binding, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Ledger, key(K::Enter), C::Open),
    (Z::Ledger, key(K::Right), C::Open),
    (Z::Ledger, letter('i'), C::Import),
    (Z::Ledger, letter('b'), C::TakeBack),
    (Z::Ledger, letter('e'), C::ExportRefused),
    (Z::Ledger, key(K::Tab), C::PaneNext),
    (Z::Ledger, key(K::BackTab), C::PaneBack),
    (Z::Batch, letter('e'), C::ExportRefused),
    (Z::Batch, letter('b'), C::TakeBack),
    (Z::Batch, key(K::Tab), C::PaneNext),
    (Z::Batch, key(K::BackTab), C::PaneBack),
    (Z::Batch, key(K::Left), C::Back),
    (Z::Coverage, key(K::Enter), C::Open),
    (Z::Coverage, letter('f'), C::AddTerm),
    (Z::Coverage, letter('s'), C::SortNext),
    (Z::Coverage, letter('i'), C::Import),
    (Z::Coverage, key(K::Tab), C::PaneNext),
    (Z::Coverage, key(K::BackTab), C::PaneBack),
    (Z::Doubts, key(K::Enter), C::Open),
    (Z::Doubts, key(K::Right), C::Open),
    (Z::Doubts, letter('f'), C::AddTerm),
    (Z::Doubts, key(K::Tab), C::PaneNext),
    (Z::Doubts, key(K::BackTab), C::PaneBack),
    (Z::Doubt, key(K::Enter), C::Open),
    (Z::Doubt, letter('f'), C::AddTerm),
    (Z::Doubt, key(K::Left), C::Back),
];
