//! The screens, one file or folder each.

pub(crate) mod adjust;
pub(crate) mod against;
pub(crate) mod beside;
pub(crate) mod builder;
pub(crate) mod compared_list;
pub(crate) mod copy;
pub(crate) mod decided_on;
pub mod draws;
pub mod find;
pub(crate) mod findings;
pub(crate) mod funnel;
pub(crate) mod help;
pub mod import;
pub(crate) mod narrow;
pub(crate) mod page;
pub mod people;
pub mod period;
pub(crate) mod picture;
pub mod points;
pub mod records;
pub(crate) mod refused_list;
pub(crate) mod resample;
pub(crate) mod saved;
pub mod share;
pub mod topics;
pub(crate) mod undo;
