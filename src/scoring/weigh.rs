//! Weights W, B, U per class; the scores; the verdict.
//!
//! All in whole numbers, so that a draw exactly at a cut is judged alike everywhere.

use crate::model::{Class, RuleSet, Verdict};
use crate::rules::InForce;

/// The scores of one class of rules on one draw, in percent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scores {
    /// `100·(W − U − B)/(W − U)`; none if `W = U`.
    pub score: Option<f64>,
    /// `100·(W − U − B)/W`; none if `W = 0`.
    pub low: Option<f64>,
    /// `100·(W − B)/W`; none if `W = 0`.
    pub high: Option<f64>,
    /// `100·(W − U)/W`; none if `W = 0`.
    pub evidence: Option<f64>,
}

/// Sums of weights over the rules of one class on one draw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Sums {
    /// W: the applicable rules.
    applicable: u64,
    /// B: the broken ones among them.
    broken: u64,
    /// U: the unrecorded ones among them.
    unrecorded: u64,
}

/// Adds up the weights of the rules in the set.
fn weight_of(in_force: &InForce, rules: RuleSet) -> u64 {
    rules
        .iter()
        .map(|rule| u64::from(in_force.weights[rule]))
        .sum()
}

impl Sums {
    fn new(
        in_force: &InForce,
        class: RuleSet,
        applicable: RuleSet,
        broken: RuleSet,
        unrecorded: RuleSet,
    ) -> Self {
        let applicable = applicable.and(class);
        Sums {
            applicable: weight_of(in_force, applicable),
            broken: weight_of(in_force, applicable.and(broken)),
            unrecorded: weight_of(in_force, applicable.and(unrecorded)),
        }
    }

    /// W − U − B: the weight of the rules that are met.
    const fn met(self) -> u64 {
        self.applicable - self.unrecorded - self.broken
    }

    const fn scores(self) -> Scores {
        let recorded = self.applicable - self.unrecorded;
        Scores {
            score: percent(self.met(), recorded),
            low: percent(self.met(), self.applicable),
            high: percent(self.applicable - self.broken, self.applicable),
            evidence: percent(recorded, self.applicable),
        }
    }
}

/// `100·part/whole`, none of nothing.
const fn percent(part: u64, whole: u64) -> Option<f64> {
    if whole == 0 {
        None
    } else {
        Some(100.0 * part as f64 / whole as f64)
    }
}

/// Whether `part` is less than `cut` percent of `whole`.
fn is_below(part: u64, cut: u32, whole: u64) -> bool {
    100 * part < u64::from(cut) * whole
}

/// The scores over the rules in `class` (see [`InForce::of_class`]).
#[must_use]
pub fn scores(
    in_force: &InForce,
    class: RuleSet,
    applicable: RuleSet,
    broken: RuleSet,
    unrecorded: RuleSet,
) -> Scores {
    Sums::new(in_force, class, applicable, broken, unrecorded).scores()
}

/// The verdict from the rules of class sample: the first line of the scoring contract's
/// list that holds.
#[must_use]
pub fn verdict(
    in_force: &InForce,
    applicable: RuleSet,
    broken: RuleSet,
    unrecorded: RuleSet,
) -> Verdict {
    let sample = InForce::of_class(Class::Sample);
    verdict_within(in_force, sample, applicable, broken, unrecorded)
}

/// As [`verdict`], with the rules of class sample at hand, since looking them up for each
/// of a million draws takes longer than judging.
pub(crate) fn verdict_within(
    in_force: &InForce,
    sample: RuleSet,
    applicable: RuleSet,
    broken: RuleSet,
    unrecorded: RuleSet,
) -> Verdict {
    let sums = Sums::new(in_force, sample, applicable, broken, unrecorded);
    let decisive = in_force.decisive.and(applicable).and(sample);
    let cuts = in_force.cuts;
    let whole = sums.applicable;
    if whole == 0 {
        Verdict::Unproven
    } else if !decisive.and(broken).is_empty()
        || is_below(whole - sums.broken, cuts.unrepresentative, whole)
    {
        Verdict::Unrepresentative
    } else if !decisive.and(unrecorded).is_empty()
        || is_below(sums.met(), cuts.unrepresentative, whole)
    {
        Verdict::Unproven
    } else if is_below(sums.met(), cuts.doubtful, whole) {
        Verdict::Doubtful
    } else {
        Verdict::Representative
    }
}

/// The broken rules of which each alone, had it been met, would have kept an
/// unrepresentative draw from being so. What is unrecorded has no part in that line of the
/// verdict.
pub(crate) fn each_alone_regains(
    in_force: &InForce,
    sample: RuleSet,
    applicable: RuleSet,
    broken: RuleSet,
) -> RuleSet {
    let sums = Sums::new(in_force, sample, applicable, broken, RuleSet::NONE);
    let decisive = in_force.decisive.and(applicable).and(sample).and(broken);
    let mut regaining = RuleSet::NONE;
    for rule in broken.and(applicable).and(sample).iter() {
        let kept = sums.met() + u64::from(in_force.weights[rule]);
        let decided = !decisive.without(RuleSet::of(rule)).is_empty();
        if !decided && !is_below(kept, in_force.cuts.unrepresentative, sums.applicable) {
            regaining.insert(rule);
        }
    }
    regaining
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use proptest::prelude::*;

    use super::*;
    use crate::rules::rulebook::Standing;
    use crate::rules::{COUNT, Cuts};

    /// All rules in one class; the set of the first `count` of them.
    const ALL: RuleSet = RuleSet((1 << COUNT) - 1);

    fn book(weights: &[u32], decisive: RuleSet) -> InForce {
        let cuts = Cuts {
            unrepresentative: 60,
            doubtful: 85,
        };
        let mut book = InForce::build(Standing::defaults(), cuts);
        book.weights = [0; COUNT];
        book.weights[..weights.len()].copy_from_slice(weights);
        book.decisive = decisive;
        book
    }

    /// Rule 0 broken with weight B, rule 1 unrecorded with weight U, rule 2 met with the
    /// rest of W.
    fn sums(applicable: u32, broken: u32, unrecorded: u32, decisive: RuleSet) -> Verdict {
        let book = book(
            &[broken, unrecorded, applicable - broken - unrecorded],
            decisive,
        );
        let applies = RuleSet(0b111);
        verdict_within(&book, ALL, applies, RuleSet::of(0), RuleSet::of(1))
    }

    #[test]
    fn the_first_line_that_holds_decides() {
        use Verdict::*;
        let none = RuleSet::NONE;
        let (broken, unrecorded, met) = (RuleSet::of(0), RuleSet::of(1), RuleSet::of(2));
        let cases = [
            // line 0: nothing applies, not even with a decisive rule of no weight broken
            (0, 0, 0, none, Unproven),
            (0, 0, 0, broken, Unproven),
            // line 1: 100·(W − B) < 60·W, at the cut and one step past it
            (100, 40, 0, none, Doubtful),
            (100, 41, 0, none, Unrepresentative),
            (100, 1, 0, broken, Unrepresentative),
            (100, 41, 59, none, Unrepresentative),
            // line 2: the record leaves too much open
            (100, 0, 40, none, Doubtful),
            (100, 0, 41, none, Unproven),
            (100, 0, 1, unrecorded, Unproven),
            (100, 40, 1, none, Unproven),
            (100, 1, 1, broken.or(unrecorded), Unrepresentative),
            // line 3: 100·(W − U − B) < 85·W
            (100, 15, 0, none, Representative),
            (100, 16, 0, none, Doubtful),
            (100, 10, 5, none, Representative),
            (100, 10, 6, none, Doubtful),
            // a decisive rule that is met decides nothing
            (100, 0, 0, met, Representative),
            // thirds: W = 3, B = 1 gives 200 < 180, which does not hold; 200 < 255 does
            (3, 1, 0, none, Doubtful),
        ];
        for (w, b, u, decisive, expected) in cases {
            assert_eq!(sums(w, b, u, decisive), expected, "W {w} B {b} U {u}");
        }
    }

    #[test]
    fn scores_are_percentages_of_weights() {
        let book = book(&[20, 30, 50, 7], RuleSet::NONE);
        let class = RuleSet(0b0111);
        let all = RuleSet(0b1111);
        let found = scores(&book, class, all, RuleSet::of(0), RuleSet::of(1));
        assert_eq!(found.score, Some(100.0 * 50.0 / 70.0));
        assert_eq!(found.low, Some(50.0));
        assert_eq!(found.high, Some(80.0));
        assert_eq!(found.evidence, Some(70.0));
    }

    #[test]
    fn no_score_without_evidence_and_none_at_all_without_weight() {
        let book = book(&[20], RuleSet::NONE);
        let all_open = scores(&book, ALL, RuleSet::of(0), RuleSet::NONE, RuleSet::of(0));
        assert_eq!(all_open.score, None);
        assert_eq!(
            (all_open.low, all_open.high, all_open.evidence),
            (Some(0.0), Some(100.0), Some(0.0))
        );
        let nothing = scores(&book, ALL, RuleSet::NONE, RuleSet::NONE, RuleSet::NONE);
        assert_eq!((nothing.score, nothing.low), (None, None));
        assert_eq!((nothing.high, nothing.evidence), (None, None));
    }

    #[test]
    fn the_largest_weights_do_not_overflow() {
        let book = book(&[u32::MAX; COUNT], RuleSet::NONE);
        let found = verdict_within(&book, ALL, ALL, RuleSet::NONE, RuleSet::NONE);
        assert_eq!(found, Verdict::Representative);
    }

    /// The rules that apply, and for each whether it is broken, unrecorded or met.
    #[derive(Debug)]
    struct Case {
        weights: Vec<u32>,
        decisive: RuleSet,
        applies: RuleSet,
        broken: RuleSet,
        open: RuleSet,
    }

    prop_compose! {
        fn cases()(
            weights in prop::collection::vec(0u32..30, COUNT),
            decisive in any::<u32>(),
            applies in any::<u32>(),
            broken in any::<u32>(),
            open in any::<u32>(),
        ) -> Case {
            let applies = RuleSet(applies).and(ALL);
            let broken = RuleSet(broken & broken.rotate_left(5)).and(applies);
            let open = RuleSet(open & open.rotate_left(3)).and(applies).without(broken);
            // Decisive ones kept few, or the other lines would hardly ever be reached.
            let decisive = RuleSet(decisive & decisive.rotate_left(7) & decisive.rotate_left(13));
            Case { weights, decisive, applies, broken, open }
        }
    }

    impl Case {
        fn book(&self) -> InForce {
            book(&self.weights, self.decisive)
        }

        fn scores(&self, book: &InForce, broken: RuleSet, open: RuleSet) -> Scores {
            scores(book, ALL, self.applies, broken, open)
        }

        fn verdict(&self, book: &InForce, broken: RuleSet, open: RuleSet) -> Verdict {
            verdict_within(book, ALL, self.applies, broken, open)
        }
    }

    proptest! {
        #[test]
        fn the_score_lies_between_its_bounds(case in cases()) {
            let book = case.book();
            let found = case.scores(&book, case.broken, case.open);
            if let (Some(low), Some(high)) = (found.low, found.high) {
                let score = found.score.unwrap_or(low);
                prop_assert!(0.0 <= low && low <= score && score <= high && high <= 100.0);
            } else {
                prop_assert_eq!(found.score, None);
            }
        }

        #[test]
        fn settling_one_unrecorded_rule_never_widens_the_bounds(case in cases()) {
            let book = case.book();
            let before = case.scores(&book, case.broken, case.open);
            for rule in case.open.iter().map(RuleSet::of) {
                for broken in [case.broken, case.broken.or(rule)] {
                    let after = case.scores(&book, broken, case.open.without(rule));
                    prop_assert!(after.low >= before.low && after.high <= before.high);
                    prop_assert!(after.evidence >= before.evidence);
                }
            }
        }

        #[test]
        fn a_better_outcome_never_worsens_the_verdict(case in cases()) {
            let book = case.book();
            let before = case.verdict(&book, case.broken, case.open);
            for rule in case.broken.iter().map(RuleSet::of) {
                let kept = case.broken.without(rule);
                let blank = case.verdict(&book, kept, case.open.or(rule));
                prop_assert!(before <= blank && blank <= case.verdict(&book, kept, case.open));
            }
        }

        #[test]
        fn a_rule_regains_what_the_verdict_without_its_breach_says(case in cases()) {
            let book = case.book();
            if case.verdict(&book, case.broken, case.open) != Verdict::Unrepresentative {
                return Ok(());
            }
            let regaining = each_alone_regains(&book, ALL, case.applies, case.broken);
            for rule in case.broken.iter() {
                let then = case.verdict(&book, case.broken.without(RuleSet::of(rule)), case.open);
                prop_assert_eq!(regaining.has(rule), then != Verdict::Unrepresentative);
            }
        }
    }
}
