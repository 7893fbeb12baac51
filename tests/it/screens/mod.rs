//! The screens: how they look, how they move, and that nothing breaks them.

mod colours;
mod decide;
mod desk;
mod filtering;
mod hints;
mod looks;
mod made_up;
mod mouse;
mod moves;
mod pictures;
mod random;
