//! Records that are hard to believe: signals, each with its evidence and the chance of seeing
//! it by accident. A doubt is a reason to ask, never a charge.
//!
//! Every signal compares each technician (or site) with all others of the
//! programme and gives a chance. All chances of all signals stand together in one family and
//! are adjusted by Holm's procedure, so that where everything is honest the chance that
//! anything at all is listed is at most [`ALPHA`], as far as the assumptions hold;
//! `docs/doubts.md` says how often it was in made-up honest programmes.
//!
//! A selection chooses which doubts are shown. What is usual, and so every chance, is always
//! that of the whole programme: whoever narrows the draws until something stands out has found
//! luck.

mod against_peers;
pub mod card;
mod carried_forward;
mod counter_jumps;
mod counter_still;
mod impossible_time;
mod last_digits;
mod no_variation;
mod one_minute;
pub mod page;
pub mod registry;
mod seen;
mod sent_when_drawn;
mod swapped_bottles;
#[cfg(test)]
mod testing;
mod typed_in_bursts;

use rayon::prelude::*;

use super::filter::BLANK;
use super::{Assessed, Selection};
use crate::model::Progress;
use crate::model::progress::Stage;
use crate::stats::holm;

pub use card::Card;
pub use registry::{COUNT, cards, place_of};
pub use seen::{Ground, Written};

/// Doubts whose adjusted chance is at most this are listed.
pub const ALPHA: f64 = 0.01;
/// At most so many draws of a doubt are put into words.
const EXAMPLES: usize = 12;

/// A signal: what it counts and how it tells of it.
pub trait Signal: Sync {
    /// Its facts and texts.
    fn card(&self) -> &'static Card;

    /// Every comparison that the draws allow.
    fn look(&self, ground: &Ground<'_>) -> Looked;

    /// What is to be seen on a draw of the evidence, in a few words.
    fn tells(&self, ground: &Ground<'_>, column: Option<&'static str>, seen: Evidence) -> String;
}

/// What a signal found.
#[derive(Clone, Debug, Default)]
pub struct Looked {
    /// One for each unit with enough data.
    pub comparisons: Vec<Comparison>,
    /// Units about which nothing can be said: too few draws, or too few others.
    pub silent: u64,
}

impl Looked {
    fn add(&mut self, (comparisons, silent): (Vec<Comparison>, Vec<u32>)) {
        self.comparisons.extend(comparisons);
        self.silent += silent.len() as u64;
    }
}

/// One unit compared with the others.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// The unit.
    pub about: About,
    /// The column, where a signal looks at several.
    pub column: Option<&'static str>,
    /// How many were counted.
    pub events: u64,
    /// Out of how many.
    pub of: u64,
    /// How many would be usual.
    pub expected: f64,
    /// The chance of so many or more by accident.
    pub chance: f64,
    /// The draws, in the order of time.
    pub evidence: Vec<Evidence>,
}

/// Whom or what a doubt is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum About {
    /// The technician at this place of the programme's list.
    Technician(u32),
    /// The site of this point, by the point's place in the programme's list.
    SiteOf(u32),
}

impl About {
    /// The kind of thing it is, in one word.
    #[must_use]
    pub const fn kind(self) -> &'static str {
        match self {
            About::Technician(_) => "technician",
            About::SiteOf(_) => "site",
        }
    }

    /// The id of the technician or the name of the site as sheets write it (`(blank)` for a
    /// blank).
    #[must_use]
    pub fn name(self, assessed: &Assessed) -> &str {
        match self {
            About::Technician(place) => &assessed.technicians[place as usize].id,
            About::SiteOf(point) => {
                let site = assessed.points[point as usize].site.as_deref();
                site.unwrap_or(BLANK)
            }
        }
    }
}

/// A draw that is part of a doubt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Evidence {
    /// Its row in the assessed programme.
    pub row: u32,
    /// The row of the draw it is set against, if there is one.
    pub other: Option<u32>,
}

/// A record that is hard to believe.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubt {
    /// The signal.
    pub signal: &'static Card,
    /// Whom or what it is about.
    pub about: About,
    /// The column, where the signal looks at several.
    pub column: Option<&'static str>,
    /// How many were counted.
    pub events: u64,
    /// Out of how many.
    pub of: u64,
    /// How many would be usual.
    pub expected: f64,
    /// The chance of so many by accident, in this comparison alone.
    pub chance: f64,
    /// The same, adjusted for all comparisons of all signals; at most [`ALPHA`].
    pub adjusted: f64,
    /// The draws of the evidence that are selected, in the order of time.
    pub evidence: Vec<Evidence>,
    /// The first of them in words, at most 12.
    pub examples: Vec<(Evidence, String)>,
}

impl Doubt {
    /// What was counted, in a sentence without a full stop.
    #[must_use]
    pub fn says(&self) -> String {
        let usual = match self.expected {
            few if few < 0.1 => "hardly any".to_owned(),
            few if few < 9.95 => format!("{few:.1}"),
            many => format!("{many:.0}"),
        };
        let column = self
            .column
            .map_or(String::new(), |name| format!("{name}: "));
        format!(
            "{column}{} of {} {}; usual would be {usual}",
            self.events, self.of, self.signal.counts
        )
    }
}

/// What one signal looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reach {
    /// The signal.
    pub signal: &'static Card,
    /// Comparisons made.
    pub comparisons: u64,
    /// Units about which nothing can be said.
    pub silent: u64,
    /// Doubts over the whole programme.
    pub doubts: u64,
}

/// The doubts of a programme.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Doubts {
    /// Those with a selected draw among their evidence, the least likely first.
    pub list: Vec<Doubt>,
    /// What each signal looked at, in the order of the registry.
    pub reach: Vec<Reach>,
}

impl Doubts {
    /// How many comparisons were made in all.
    #[must_use]
    pub fn comparisons(&self) -> u64 {
        self.reach.iter().map(|reach| reach.comparisons).sum()
    }
}

/// Looks at a whole programme and lists the doubts about selected draws. `written` holds one
/// draw for each row of `assessed`. `None` if `progress` asked to stop.
///
/// # Panics
/// When `written` holds another number of draws.
#[must_use]
pub fn doubts(
    assessed: &Assessed,
    written: &Written,
    selection: &Selection,
    progress: &Progress,
) -> Option<Doubts> {
    assert_eq!(
        assessed.judged.len(),
        written.draws.len(),
        "one written draw a row"
    );
    let signals = registry::signals();
    progress.begin(Stage::Fitting, 0);
    let ground = Ground::of(assessed, written);
    let looked: Vec<Looked> = signals
        .par_iter()
        .map(|signal| (!progress.is_stopped()).then(|| signal.look(&ground)))
        .collect::<Option<_>>()?;
    let all: Vec<(usize, &Comparison)> = looked
        .iter()
        .enumerate()
        .flat_map(|(signal, looked)| looked.comparisons.iter().map(move |it| (signal, it)))
        .collect();
    let chances: Vec<f64> = all
        .iter()
        .map(|(_, comparison)| comparison.chance)
        .collect();
    let adjusted = holm::adjusted(&chances, chances.len() as u64);
    let mut selected = vec![false; assessed.judged.len()];
    for row in selection {
        selected[*row as usize] = true;
    }
    let mut found = vec![0; signals.len()];
    let mut list = Vec::new();
    for ((signal, comparison), adjusted) in all.into_iter().zip(adjusted) {
        if adjusted > ALPHA {
            continue;
        }
        found[signal] += 1;
        let evidence: Vec<Evidence> = comparison
            .evidence
            .iter()
            .filter(|it| selected[it.row as usize])
            .copied()
            .collect();
        if evidence.is_empty() {
            continue;
        }
        let tells = |seen: &Evidence| signals[signal].tells(&ground, comparison.column, *seen);
        let examples = evidence.iter().take(EXAMPLES);
        list.push(Doubt {
            signal: signals[signal].card(),
            about: comparison.about,
            column: comparison.column,
            events: comparison.events,
            of: comparison.of,
            expected: comparison.expected,
            chance: comparison.chance,
            adjusted,
            examples: examples.map(|seen| (*seen, tells(seen))).collect(),
            evidence,
        });
    }
    list.sort_by(|one, other| {
        let key = |doubt: &Doubt| (doubt.adjusted, doubt.chance);
        key(one)
            .partial_cmp(&key(other))
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    let reach = signals
        .iter()
        .zip(&looked)
        .zip(found)
        .map(|((signal, looked), doubts)| Reach {
            signal: signal.card(),
            comparisons: looked.comparisons.len() as u64,
            silent: looked.silent,
            doubts,
        })
        .collect();
    Some(Doubts { list, reach })
}
