//! What a rule answers: the outcome, the value seen and the value wanted.
//!
//! An answer is small and copyable; turning it into words is left to `Display`, so no
//! second method explains and drifts from the first.

pub use super::phrase::{Phrase, Unit, exact, tidy};
use super::verdict::Outcome;

/// What one rule says about one draw, and on what ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Answer {
    /// Met, broken, unrecorded or not applicable.
    pub outcome: Outcome,
    /// What the record shows.
    pub seen: Phrase,
    /// What the rule asks for.
    pub wanted: Phrase,
}

impl Answer {
    /// The rule does not speak about this draw.
    pub const NOT_APPLICABLE: Answer = Answer {
        outcome: Outcome::NotApplicable,
        seen: Phrase::Nothing,
        wanted: Phrase::Nothing,
    };

    /// The record shows that the practice was kept.
    #[must_use]
    pub const fn met(seen: Phrase, wanted: Phrase) -> Self {
        Answer {
            outcome: Outcome::Met,
            seen,
            wanted,
        }
    }

    /// The record shows that the practice was not kept.
    #[must_use]
    pub const fn broken(seen: Phrase, wanted: Phrase) -> Self {
        Answer {
            outcome: Outcome::Broken,
            seen,
            wanted,
        }
    }

    /// The record does not say; `wanted` tells what it would have to show.
    #[must_use]
    pub const fn unrecorded(seen: Phrase, wanted: Phrase) -> Self {
        Answer {
            outcome: Outcome::Unrecorded,
            seen,
            wanted,
        }
    }

    /// Met where `kept`, else broken.
    #[must_use]
    pub const fn met_if(kept: bool, seen: Phrase, wanted: Phrase) -> Self {
        if kept {
            Answer::met(seen, wanted)
        } else {
            Answer::broken(seen, wanted)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_stays_small() {
        assert!(size_of::<Answer>() <= 72, "{}", size_of::<Answer>());
    }
}
