//! What can be found, and what narrows a filter to its draws.

use crate::analysis::{Assessed, Filter, FilterKey};
use crate::rules;
use crate::tui::app::Place;
use crate::tui::frame;
use crate::tui::narrower::Narrower;
use crate::tui::subject::Subject;

/// Something that can be gone to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Goal {
    /// A technician, crew or point.
    Subject(Subject),
    /// A compartment, by name.
    Compartment(String),
    /// A site, area or machine: the value of this key of a filter.
    Value(FilterKey, String),
    /// A draw, by its row in the judged programme.
    Draw(u32),
    /// A rule, by its place in the registry.
    Rule(usize),
    /// A screen of the header.
    Screen(Place),
    /// Where one has been: the place and the filter there.
    Step(Place, Filter),
}

impl Goal {
    /// What narrows a filter to its draws; none where no term says that.
    pub(super) fn narrower(&self, assessed: &Assessed) -> Option<Narrower> {
        match self {
            Goal::Subject(subject) => Some(subject.narrower(assessed)),
            Goal::Compartment(name) => Some(Narrower::one(FilterKey::Compartment, name)),
            Goal::Value(key, name) => Some(Narrower::one(*key, name)),
            Goal::Rule(place) => {
                let id = rules::cards()[*place].id;
                Some(Narrower::one(FilterKey::Broken, id))
            }
            Goal::Draw(_) | Goal::Screen(_) | Goal::Step(..) => None,
        }
    }

    /// What Enter and Tab do with it, in one line.
    pub(super) fn about(&self) -> &'static str {
        match self {
            Goal::Subject(Subject::Point(_)) => {
                "Enter shows it on Points; Tab narrows to its draws."
            }
            Goal::Subject(_) => "Enter shows it on People; Tab narrows to its draws.",
            Goal::Compartment(_) => "Enter shows its draws; Tab narrows to them and stays here.",
            Goal::Value(..) => "Enter shows its draws; Tab narrows to them and stays here.",
            Goal::Draw(_) => "Enter opens the draw.",
            Goal::Rule(_) => "Enter shows the draws on which it is broken; Tab narrows to them.",
            Goal::Screen(_) => "Enter goes there.",
            Goal::Step(..) => "Enter goes there again, with the filter of then.",
        }
    }

    /// The screens of the header: where each begins, its name, and what is on it.
    pub(super) fn screens() -> impl Iterator<Item = (Place, &'static str, &'static str)> {
        frame::SCREENS.iter().filter_map(|tab| {
            let about = tab.command.text();
            let about = about.split_once(": ").map_or(about, |(_, about)| about);
            Some((*tab.places.first()?, tab.name, about))
        })
    }
}
