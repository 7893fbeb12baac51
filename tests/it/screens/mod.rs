//! The screens: how they look, how they move, and that nothing breaks them.

mod back;
mod colours;
mod commands;
mod decide;
pub mod desk;
mod empty;
mod failed;
mod filtering;
mod find;
mod first_run;
mod hints;
mod kept;
mod looks;
mod made_up;
mod mouse;
mod moves;
mod period;
mod pictures;
mod random;
mod records;
mod sheet_entry;
mod taking_in;
mod whole;
