//! The lists of all places, with their cells whole and as a table says them.

mod compared;
mod draws;
mod findings;
mod records;
mod resample;
mod share;
mod topics;

pub(super) use draws::missing_records;

use super::listing::Listing;
use crate::tui::app::{App, Place};

/// The list that the keys act on; none while it is not known, or where there is none.
pub(super) fn of(app: &App) -> Option<Listing<'_>> {
    match app.place {
        Place::Share => share::of(app),
        Place::Draws => draws::list(app),
        Place::Opened => draws::rules_of_opened(app),
        Place::People => compared::people(app),
        Place::Points => compared::points(app),
        Place::Topics => topics::of(app),
        Place::Findings => findings::of(app),
        Place::Resample => resample::of(app),
        Place::Records => records::of(app),
        Place::Import => None,
    }
}
