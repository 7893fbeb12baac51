//! Pictures of numbers: drawn from plain values, knowing no screen.
//!
//! A chart is given the area it has and draws itself there: a [`canvas`] for lines, a
//! [`scale`] from values to places, [`axes`] with round numbers, and a [`legend`] that says in
//! words what each sign means. Where things stand is worked out by the same functions for
//! drawing and for a click, so that a click finds what was drawn.

pub(crate) mod as_lines;
pub(crate) mod axes;
pub(crate) mod canvas;
pub(crate) mod control;
mod control_view;
pub(crate) mod funnel;
mod funnel_view;
#[cfg(test)]
mod geometry;
pub(crate) mod intervals;
pub(crate) mod lanes;
pub(crate) mod legend;
pub(crate) mod scale;
pub(crate) mod shades;
#[cfg(test)]
mod sizes;
pub(crate) mod ticks;
