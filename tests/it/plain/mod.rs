//! The interface as linear text: through pipes, through a terminal, and against hostile texts.

mod everywhere;
mod first_run;
mod hostile;
mod journeys;
mod sitting;
mod tour;
