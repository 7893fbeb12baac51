//! In how many sets each rule is.

use rayon::prelude::*;

use super::Selection;
use super::share::CHUNK;
use crate::model::RuleSet;
use crate::rules::COUNT;

/// For each byte the number that has its bits as bytes, the lowest first.
const SPREAD: [u64; 256] = spread();

/// Counts in how many sets each rule is.
///
/// Eight rules at a time: each byte of a set becomes a number with one byte a rule, and these
/// are added up until a byte could overflow.
#[derive(Clone, Copy)]
pub(super) struct HowOften {
    counts: [u64; COUNT],
    sums: [u64; 4],
    /// How many sets can be added before a byte could overflow.
    left: u8,
}

impl HowOften {
    pub(super) const NEVER: HowOften = HowOften {
        counts: [0; COUNT],
        sums: [0; 4],
        left: u8::MAX,
    };

    pub(super) fn of(sets: impl Iterator<Item = RuleSet>) -> Self {
        // Added in place: what is handed on from set to set would be copied each time.
        let mut counted = HowOften::NEVER;
        sets.for_each(|set| counted.add(set));
        counted
    }

    #[inline]
    pub(super) fn add(&mut self, set: RuleSet) {
        for (sum, byte) in self.sums.iter_mut().zip(set.0.to_le_bytes()) {
            *sum += SPREAD[usize::from(byte)];
        }
        self.left -= 1;
        if self.left == 0 {
            *self = HowOften {
                counts: self.each(),
                ..HowOften::NEVER
            };
        }
    }

    /// For each rule the number of sets it is in.
    pub(super) fn each(&self) -> [u64; COUNT] {
        let mut counts = self.counts;
        let bytes = self.sums.iter().flat_map(|sum| sum.to_le_bytes());
        for (count, byte) in counts.iter_mut().zip(bytes) {
            *count += u64::from(byte);
        }
        counts
    }
}

/// In how many of each of the selected draws' sets each rule is.
pub(super) fn how_often<const SETS: usize>(
    selection: &Selection,
    sets_of: impl Fn(usize) -> [RuleSet; SETS] + Sync,
) -> [[u64; COUNT]; SETS] {
    let counted = |rows: &[u32]| {
        let mut counted = [HowOften::NEVER; SETS];
        for row in rows {
            for (counted, set) in counted.iter_mut().zip(sets_of(*row as usize)) {
                counted.add(set);
            }
        }
        counted.map(|counted| counted.each())
    };
    let none = || [[0; COUNT]; SETS];
    (selection.par_chunks(CHUNK).map(counted)).reduce(none, |mut one, other| {
        for (one, other) in one.iter_mut().flatten().zip(other.iter().flatten()) {
            *one += other;
        }
        one
    })
}

const fn spread() -> [u64; 256] {
    let mut table = [0; 256];
    let mut byte = 0;
    while byte < 256 {
        let mut bit = 0;
        while bit < 8 {
            table[byte] |= ((byte as u64 >> bit) & 1) << (8 * bit);
            bit += 1;
        }
        byte += 1;
    }
    table
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn rules_are_counted_as_one_by_one(sets in prop::collection::vec(0_u32..1 << COUNT, 0..900)) {
            let counted = HowOften::of(sets.iter().copied().map(RuleSet)).each();
            for (rule, count) in counted.into_iter().enumerate() {
                let one_by_one = sets.iter().filter(|set| RuleSet(**set).has(rule)).count();
                prop_assert_eq!(count, one_by_one as u64);
            }
        }
    }
}
