//! The screens, one file or folder each.

pub(crate) mod against;
pub(crate) mod beside;
pub(crate) mod compared_list;
pub mod draws;
pub(crate) mod funnel;
pub(crate) mod help;
pub(crate) mod narrow;
pub mod people;
pub mod points;
pub mod records;
pub mod share;
pub mod topics;
