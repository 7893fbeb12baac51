//! The times of the record can have happened.
//!
//! A bottle is drawn, then sent, then received, and a draw cannot be typed in before it
//! was made. What runs backwards is a slip of the pen, a wrong clock or a wrong zone.

use serde::{Deserialize, Serialize};

use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Draw, Kind, Owner, Phrase};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "times-in-order",
    class: Class::Record,
    weight: 10,
    decisive: false,
    owner: Owner::Desk,
    kinds: Kind::ALL,
    parameters: &[],
    only_where: "",
    asks: "Do the recorded times run forward: drawn, then sent, then received, and not typed in \
           before they happened?",
    judged: "Broken if any known time runs backwards: sent or received before drawn, received \
             before sent, typed in before drawn. Unrecorded if neither sending nor arrival is \
             known. Otherwise met.",
    why: "Every age and interval rests on these times. If one of them is wrong, the draw may look \
          fresher or older than it was, and its place in the trend is wrong as well.",
    next_time: "Enter times as they were, with the zone, and check a record that comes back with \
                this fault against the paper. Differences of a whole hour or two point to the \
                clock change or the zone; a swapped day and month is the other usual cause.",
    caution: "",
    source: "ISO/IEC 17025:2017, 7.3.3 asks for date and, where relevant, time of sampling. The \
             order of the times is plain logic.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TimesInOrder {}

impl Rule for TimesInOrder {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let draw = situation.draw;
        let wanted = Phrase::Text("drawn, then sent, then received; typed in after the draw");
        if let Some(breach) = breach(draw) {
            return Answer::broken(Phrase::Text(breach), wanted);
        }
        if draw.dispatched_at.is_blank() && draw.received_at.is_blank() {
            return Answer::unrecorded(Phrase::Text("neither sending nor arrival"), wanted);
        }
        Answer::met(Phrase::Text("in order"), wanted)
    }
}

/// What runs backwards, if anything does.
fn breach(draw: &Draw) -> Option<&'static str> {
    let before_draw = |at: Option<i64>| at.is_some_and(|at| at < draw.drawn_at);
    let (sent, received) = (draw.dispatched_at.get(), draw.received_at.get());
    if before_draw(draw.recorded_at.get()) {
        Some("typed in before it was drawn")
    } else if before_draw(sent) {
        Some("sent before it was drawn")
    } else if before_draw(received) {
        Some("received before it was drawn")
    } else if matches!((sent, received), (Some(sent), Some(received)) if received < sent) {
        Some("received before it was sent")
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Moment;
    use crate::model::Outcome::{self, Broken, Met, Unrecorded};
    use crate::rules::testing::{Case, NOON};

    #[test]
    fn any_step_backwards_is_broken_and_equal_times_are_not() {
        type Row = (Option<i64>, Option<i64>, Option<i64>, Outcome);
        let table: [Row; 10] = [
            (None, None, None, Unrecorded),
            (Some(0), None, None, Unrecorded),
            (Some(-1), None, None, Broken),
            (Some(-1), Some(1), Some(2), Broken),
            (None, Some(0), Some(0), Met),
            (None, Some(-1), None, Broken),
            (None, None, Some(-1), Broken),
            (None, None, Some(0), Met),
            (None, Some(5), Some(4), Broken),
            (Some(9), Some(1), None, Met),
        ];
        let mut case = Case::of(Kind::Tank);
        for (typed, sent, received, outcome) in table {
            let at = |after: Option<i64>| Moment::from(after.map(|after| NOON + after));
            case.draw.recorded_at = at(typed);
            case.draw.dispatched_at = at(sent);
            case.draw.received_at = at(received);
            let answer = case.judge(&TimesInOrder::default());
            assert_eq!(answer.outcome, outcome, "{typed:?} {sent:?} {received:?}");
        }
    }
}
