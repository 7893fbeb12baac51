//! What to ask of others in the order in which it is worth asking.

use super::topics::{self, Ask};
use super::{Assessed, Selection};

/// The lines of [`topics::asks`], what costs most draws first, of whomever; of equals the one
/// with most broken and unrecorded draws first, then as there. Many lines of one owner that cost
/// nothing would else stand before all others.
#[must_use]
pub fn asks_by_cost(assessed: &Assessed, selection: &Selection) -> Vec<Ask> {
    let mut asks = topics::asks(assessed, selection);
    asks.sort_by(|a, b| {
        let open = |ask: &Ask| ask.broken + ask.unrecorded;
        b.cost.total_cmp(&a.cost).then(open(b).cmp(&open(a)))
    });
    asks
}
