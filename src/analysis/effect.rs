//! Whether what a finding was about became rarer: the share of its rule broken before and
//! after an instant.
//!
//! Draws of [`WINDOW_DAYS`] days before are set against all
//! after, with Newcombe's interval of the difference. It is no experiment: a finding is
//! raised after a bad spell, and a bad spell passes by itself.

use super::training::WINDOW_DAYS;
use super::{Assessed, Selection};
use crate::model::Verdict;
use crate::model::decisions::finding::{Broken, Effect};
use crate::stats::difference::{self, Difference};
use crate::stats::wilson::Z_95;

const DAY: i64 = 86_400;

/// Counts how often the rule (its place in the registry; `None` for unrepresentative of
/// judged ones) was broken on the selected draws before and after the instant `from`.
#[must_use]
pub fn effect(
    assessed: &Assessed,
    selection: &Selection,
    filter: &str,
    rule: Option<usize>,
    from: i64,
) -> Effect {
    let judged = &assessed.judged;
    let none = || Broken {
        recorded: 0,
        broken: 0,
    };
    let (mut before, mut after) = (none(), none());
    for row in selection {
        let row = *row as usize;
        let at = judged.drawn_at[row];
        let side = if at >= from {
            &mut after
        } else if at >= from - i64::from(WINDOW_DAYS) * DAY {
            &mut before
        } else {
            continue;
        };
        let (is_recorded, is_broken) = match rule {
            Some(rule) => (
                judged.applicable[row].has(rule) && !judged.unrecorded[row].has(rule),
                judged.broken[row].has(rule),
            ),
            None => (
                judged.verdict[row] != Verdict::Unproven,
                judged.verdict[row] == Verdict::Unrepresentative,
            ),
        };
        side.recorded += u64::from(is_recorded);
        side.broken += u64::from(is_broken);
    }
    Effect {
        filter: filter.to_owned(),
        from,
        before,
        after,
    }
}

/// The share after less the share before, with Newcombe's 95 % interval; none if either
/// side has nothing recorded.
#[must_use]
pub fn change(effect: &Effect) -> Option<Difference> {
    let counts = |side: &Broken| (side.broken, side.recorded);
    difference::interval(counts(&effect.after), counts(&effect.before), Z_95)
}
