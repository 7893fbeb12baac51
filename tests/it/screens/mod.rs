//! The screens: how they look, how they move, and that nothing breaks them.

mod decide;
mod desk;
mod empty;
mod failed;
mod filtering;
mod first_run;
mod looks;
mod made_up;
mod moves;
mod pictures;
mod random;
mod sheet_entry;
