//! Why a draw has its verdict, in one sentence.

use crate::model::{Class, Outcome, RuleSet, Verdict};
use crate::programme::OpenedDraw;
use crate::rules::{self, COUNT, Cuts};

/// The sentence: which decisive rule spoke, or how the weights stand against the cuts.
pub(crate) fn verdict_sentence(opened: &OpenedDraw, cuts: Cuts) -> String {
    let explained = &opened.explained;
    let weights = Weights::of(opened);
    let decisive = |outcome: Outcome| {
        let mut set = RuleSet::NONE;
        for place in explained.decisive.iter().filter(|place| *place < COUNT) {
            if explained.answers[place].outcome == outcome {
                set.insert(place);
            }
        }
        set
    };
    match explained.verdict {
        Verdict::Unrepresentative => {
            let broken = decisive(Outcome::Broken);
            if broken.is_empty() {
                format!(
                    "Even if all that is unrecorded were met, only {} of the weight would be; under {} % a draw is unrepresentative.",
                    weights.part(weights.all - weights.broken),
                    cuts.unrepresentative
                )
            } else {
                let verdict = if broken.len() == 1 {
                    "is broken, which alone makes"
                } else {
                    "are broken, each of which alone makes"
                };
                format!("{} {verdict} a draw unrepresentative.", names(broken))
            }
        }
        Verdict::Unproven if weights.all == 0 => {
            "No rule about representativeness applies to it.".to_owned()
        }
        Verdict::Unproven => {
            let open = decisive(Outcome::Unrecorded);
            if open.is_empty() {
                format!(
                    "Only {} of the weight is shown met, and {} is unrecorded; {} % must be shown.",
                    weights.part(weights.met()),
                    weights.part(weights.unrecorded),
                    cuts.unrepresentative
                )
            } else {
                let verb = if open.len() == 1 { "is" } else { "are" };
                format!(
                    "The record does not show whether {} {verb} met, which alone could decide.",
                    names(open)
                )
            }
        }
        Verdict::Doubtful => format!(
            "{} of the weight is shown met; under {} % a draw is doubtful.",
            weights.part(weights.met()),
            cuts.doubtful
        ),
        Verdict::Representative => format!(
            "{} of the weight is shown met, and {} % is asked for.",
            weights.part(weights.met()),
            cuts.doubtful
        ),
    }
}

struct Weights {
    all: u32,
    broken: u32,
    unrecorded: u32,
}

impl Weights {
    fn of(opened: &OpenedDraw) -> Self {
        let explained = &opened.explained;
        let mut weights = Weights {
            all: 0,
            broken: 0,
            unrecorded: 0,
        };
        for (place, card) in rules::cards().iter().enumerate() {
            let weight = explained.weights[place];
            let outcome = explained.answers[place].outcome;
            if card.class != Class::Sample || outcome == Outcome::NotApplicable {
                continue;
            }
            weights.all += weight;
            match outcome {
                Outcome::Broken => weights.broken += weight,
                Outcome::Unrecorded => weights.unrecorded += weight,
                Outcome::Met | Outcome::NotApplicable => {}
            }
        }
        weights
    }

    fn met(&self) -> u32 {
        self.all - self.broken - self.unrecorded
    }

    fn part(&self, weight: u32) -> String {
        format!(
            "{:.1} %",
            100.0 * f64::from(weight) / f64::from(self.all.max(1))
        )
    }
}

/// `flush-met`, `flush-met and bottle-fit`, `a, b and c`.
fn names(set: RuleSet) -> String {
    let ids: Vec<&str> = set.iter().map(|place| rules::cards()[place].id).collect();
    match ids.as_slice() {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
