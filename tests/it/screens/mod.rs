//! The screens: how they look, how they move, and that nothing breaks them.

mod commands;
mod decide;
mod desk;
mod filtering;
mod kept;
mod looks;
mod made_up;
mod moves;
mod pictures;
mod random;
