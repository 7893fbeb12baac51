//! The screens: how they look, how they move, and that nothing breaks them.

mod decide;
mod desk;
mod filtering;
mod looks;
mod made_up;
mod moves;
mod pictures;
mod random;
