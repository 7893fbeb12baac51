//! Things that are drawn from plain values and know no screen.

pub(crate) mod big_figure;
pub(crate) mod boxed;
pub(crate) mod cells;
pub(crate) mod chart;
pub(crate) mod control_line;
pub(crate) mod fill_bar;
pub(crate) mod interval_bar;
pub(crate) mod odds_bar;
pub(crate) mod progress_bar;
pub(crate) mod table;
pub(crate) mod verdict_bar;
