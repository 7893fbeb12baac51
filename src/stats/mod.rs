//! Statistics: pure functions, no words of the trade.
//!
//! One quantity a file, each with its formula, source and when it misleads. What has no
//! answer is `None` or an error, never a number. Events and trials are whole numbers;
//! sums run in a fixed order, so equal input gives equal digits.

pub mod beta;
pub mod beta_binomial;
pub mod binomial;
mod bisect;
pub mod chi_square;
pub mod concentration;
pub mod control;
pub mod crossed;
pub mod difference;
pub mod digits;
pub mod discovery;
pub mod estimation;
pub mod exact;
pub mod fisher;
pub mod funnel;
pub mod holm;
pub mod hypergeometric;
pub mod incomplete;
pub mod kappa;
pub mod multiple;
pub mod normal;
pub mod peers;
pub mod poisson;
pub mod stratified;
pub mod trend;
pub mod wilson;
