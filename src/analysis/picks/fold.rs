//! Picks as they stand, from the trail.

use rustc_hash::FxHashMap;

use crate::analysis::told::Told;
use crate::model::decisions::pick::{PickDrawn, PickVerified, Verified};
use crate::model::trail::Link;

/// A pick with its verification.
#[derive(Clone, Debug, PartialEq)]
pub struct Pick {
    /// Where it was drawn.
    pub told: Told,
    /// What was drawn.
    pub drawn: PickDrawn,
    /// For each of its draws, the result entered last and where; `None` if there is none
    /// yet.
    pub results: Vec<Option<(Told, Verified)>>,
    /// How many results took the place of an earlier one.
    pub entered_again: u64,
}

impl Pick {
    /// How many of its draws have a result.
    #[must_use]
    pub fn entered(&self) -> u64 {
        self.results.iter().flatten().count() as u64
    }

    /// The place of a draw in the pick.
    #[must_use]
    pub fn place_of(&self, identity: &str) -> Option<usize> {
        self.drawn
            .draws
            .iter()
            .position(|seen| seen.draw == identity)
    }
}

/// The picks of a trail, the first first, and what in the trail makes no sense, in words.
#[must_use]
pub fn fold(links: &[Link]) -> (Vec<Pick>, Vec<String>) {
    let (mut picks, mut wrong): (Vec<Pick>, Vec<String>) = (Vec::new(), Vec::new());
    for link in links {
        if let Some((told, drawn)) = Told::read::<PickDrawn>(link) {
            if drawn.pick as usize != picks.len() + 1 {
                wrong.push(format!(
                    "link {} draws pick {}, but the next pick is {}",
                    link.number,
                    drawn.pick,
                    picks.len() + 1
                ));
                continue;
            }
            picks.push(Pick {
                told,
                results: vec![None; drawn.draws.len()],
                drawn,
                entered_again: 0,
            });
        } else if let Some((told, entered)) = Told::read::<PickVerified>(link) {
            let place = (entered.pick as usize).checked_sub(1);
            match place.and_then(|place| picks.get_mut(place)) {
                Some(pick) => enter(pick, &told, entered, &mut wrong),
                None => wrong.push(format!(
                    "link {} verifies pick {}, which was never drawn",
                    link.number, entered.pick
                )),
            }
        }
    }
    (picks, wrong)
}

fn enter(pick: &mut Pick, told: &Told, entered: PickVerified, wrong: &mut Vec<String>) {
    let places: FxHashMap<&str, usize> = pick
        .drawn
        .draws
        .iter()
        .enumerate()
        .map(|(place, seen)| (seen.draw.as_str(), place))
        .collect();
    for verified in entered.results {
        match places.get(verified.draw.as_str()) {
            Some(place) => {
                let before = pick.results[*place].replace((told.clone(), verified));
                pick.entered_again += u64::from(before.is_some());
            }
            None => wrong.push(format!(
                "link {} verifies draw {}, which is not in pick {}",
                told.link, verified.draw, entered.pick
            )),
        }
    }
}
