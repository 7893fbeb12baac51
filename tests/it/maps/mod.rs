//! Column maps: what is understood and refused, what rows become, what is proposed.

mod checked;
mod preview;
mod proposed;
mod rows;
mod sheets;
mod units;
