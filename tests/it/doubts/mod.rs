//! Records that are hard to believe: how often honest programmes raise a doubt, and how often a
//! planted story is found.

mod found;
mod honest;
mod made;
mod page;
