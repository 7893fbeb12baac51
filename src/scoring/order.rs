//! The order of draws: by `drawn_at`, then by identity.

use std::cmp::Ordering;

use rayon::prelude::*;

use crate::model::History;

/// A draw to be ordered: when it was drawn, its place in the history.
pub(super) type Dated = (i64, u32);

/// By `drawn_at`, then by identity in byte order; then by place, so that the order is the
/// same however the work is split.
fn compare(history: &History, one: &Dated, other: &Dated) -> Ordering {
    let identity = |dated: &Dated| history.identities.get(dated.1 as usize);
    one.0
        .cmp(&other.0)
        .then_with(|| identity(one).cmp(identity(other)))
        .then(one.1.cmp(&other.1))
}

/// All draws of a history in order.
pub(super) fn of_all(history: &History) -> Vec<Dated> {
    let mut order: Vec<Dated> = history
        .draws
        .par_iter()
        .enumerate()
        .map(|(place, draw)| (draw.drawn_at, number(place)))
        .collect();
    order.par_sort_unstable_by(|one, other| compare(history, one, other));
    order
}

/// Puts the draws at these places of a history in order.
pub(super) fn sort(history: &History, places: &mut [u32]) {
    let dated = |place: u32| (history.draws[place as usize].drawn_at, place);
    places.par_sort_unstable_by(|&one, &other| compare(history, &dated(one), &dated(other)));
}

/// A place in a list of draws, in the 32 bits it is kept in.
pub(super) fn number(place: usize) -> u32 {
    u32::try_from(place).expect("draws are counted in 32 bits")
}
