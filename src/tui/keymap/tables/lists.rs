//! The keys of lists that lie over a screen.

use super::super::key::{Binding, key, letter};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::Page, letter('o'), C::Back),
    (Z::Narrow, key(K::Enter), C::Open),
    (Z::Narrow, letter('f'), C::Open),
    (Z::Adjust, key(K::Enter), C::Open),
    (Z::Adjust, letter(' '), C::TickLevel),
    (Z::Copy, key(K::Enter), C::CopyNow),
    (Z::Copy, letter('y'), C::CopyNow),
    (Z::Copy, letter('c'), C::CopyCell),
    (Z::Copy, key(K::Right), C::CellNext),
    (Z::Copy, key(K::Tab), C::CellNext),
    (Z::Copy, key(K::Left), C::CellBack),
    (Z::Copy, key(K::BackTab), C::CellBack),
    (Z::Copy, letter('r'), C::CopyRow),
    (Z::Copy, letter('l'), C::CopyList),
    (Z::Copy, letter('f'), C::CopyFilter),
    (Z::Copy, letter('o'), C::CopyCommand),
    (Z::Saved, key(K::Enter), C::Open),
    (Z::Saved, letter('a'), C::SaveFilter),
    (Z::Saved, key(K::Delete), C::ForgetFilter),
    (Z::Saved, letter('x'), C::ForgetFilter),
    (Z::Saved, letter('n'), C::RenameFilter),
    (Z::Undo, key(K::Enter), C::Open),
];
