//! The keys of lines of text and forms.

use super::super::key::{Binding, control, key};
use super::super::zone::Zone as Z;
use crate::tui::action::Command as C;
use crossterm::event::KeyCode as K;

pub(super) const KEYS: &[Binding] = &[
    (Z::TextLine, key(K::Esc), C::Back),
    (Z::TextLine, control('u'), C::DeleteAll),
    (Z::TextLine, control('w'), C::DeleteWord),
    (Z::TextLine, key(K::Backspace), C::DeleteBefore),
    (Z::TextLine, control('h'), C::DeleteBefore),
    (Z::TextLine, key(K::Delete), C::DeleteAfter),
    (Z::TextLine, key(K::Left), C::CharLeft),
    (Z::TextLine, key(K::Right), C::CharRight),
    (Z::TextLine, key(K::Home), C::LineStart),
    (Z::TextLine, control('a'), C::LineStart),
    (Z::TextLine, key(K::End), C::LineEnd),
    (Z::TextLine, control('e'), C::LineEnd),
    (Z::TextLine, key(K::F(1)), C::Help),
    (Z::TextLine, key(K::F(2)), C::Colours),
    (Z::TextLine, control('c'), C::Quit),
    (Z::FilterLine, key(K::Enter), C::Apply),
    (Z::FilterLine, key(K::Tab), C::Complete),
    (Z::FilterLine, key(K::Down), C::Down),
    (Z::FilterLine, key(K::Up), C::Up),
    (Z::FilterLine, key(K::PageDown), C::PageDown),
    (Z::FilterLine, key(K::PageUp), C::PageUp),
    (Z::FolderLine, key(K::Enter), C::WritePlans),
    (Z::Form, key(K::Enter), C::Send),
    (Z::Form, control('s'), C::SendNow),
    (Z::Form, control('y'), C::CopyCommand),
    (Z::Form, key(K::Tab), C::FieldNext),
    (Z::Form, key(K::Down), C::FieldNext),
    (Z::Form, key(K::BackTab), C::FieldBack),
    (Z::Form, key(K::Up), C::FieldBack),
    (Z::SavedName, key(K::Enter), C::GoOn),
    (Z::Asked, key(K::Enter), C::GoOn),
];
