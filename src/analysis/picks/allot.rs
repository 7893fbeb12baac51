//! How a pick is shared out among the parts of its population.

/// How many draws are picked of each part, in the order of the parts: first `at_least` of
/// each (or all it has), then the rest of `size` in proportion to the draws left in each
/// part, by largest remainder; of equal remainders the first part's goes first. Where
/// `at_least` of each come to more than `size`, the pick is as large as that.
#[must_use]
pub fn allot(parts: &[u64], size: u64, at_least: u64) -> Vec<u64> {
    let mut picked: Vec<u64> = parts.iter().map(|draws| at_least.min(*draws)).collect();
    let left: Vec<u128> = parts
        .iter()
        .zip(&picked)
        .map(|(draws, picked)| u128::from(draws - picked))
        .collect();
    let all_left: u128 = left.iter().sum();
    let given: u64 = picked.iter().sum();
    let rest = u128::from(size.saturating_sub(given)).min(all_left);
    if rest == 0 {
        return picked;
    }
    let mut still = rest;
    let mut remainders: Vec<(u128, usize)> = Vec::new();
    for (place, left) in left.iter().enumerate() {
        let whole = rest * left / all_left;
        picked[place] += whole as u64;
        still -= whole;
        remainders.push((rest * left % all_left, place));
    }
    remainders.sort_by_key(|(remainder, place)| (std::cmp::Reverse(*remainder), *place));
    for (_, place) in remainders.iter().take(still as usize) {
        picked[*place] += 1;
    }
    picked
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Worked by hand: quotas of 10 are 5.0, 3.3, 1.7 (of 30, 20, 10 draws: 5, 3.33, 1.67).
    #[test]
    fn the_largest_remainder_is_rounded_up() {
        assert_eq!(allot(&[30, 20, 10], 10, 0), [5, 3, 2]);
        assert_eq!(allot(&[1, 1, 1], 2, 0), [1, 1, 0]);
        assert_eq!(allot(&[1000, 2], 10, 0), [10, 0]);
        assert_eq!(allot(&[1000, 2], 10, 1), [9, 1]);
        assert_eq!(allot(&[1000, 2], 10, 5), [8, 2]);
        assert_eq!(allot(&[5, 5, 5], 2, 1), [1, 1, 1]);
        assert_eq!(allot(&[], 2, 1), Vec::<u64>::new());
    }

    proptest! {
        #[test]
        fn nothing_is_lost_and_no_part_gives_more_than_it_has(
            parts in prop::collection::vec(0..2_000_u64, 0..30),
            size in 0..3_000_u64,
            at_least in 0..4_u64,
        ) {
            let picked = allot(&parts, size, at_least);
            let all: u64 = parts.iter().sum();
            let least: u64 = parts.iter().map(|draws| at_least.min(*draws)).sum();
            prop_assert_eq!(picked.iter().sum::<u64>(), size.max(least).min(all));
            for (picked, draws) in picked.iter().zip(&parts) {
                prop_assert!(picked <= draws && *picked >= at_least.min(*draws));
            }
            if at_least == 0 && size <= all && all > 0 {
                for (picked, draws) in picked.iter().zip(&parts) {
                    let quota = size as f64 * *draws as f64 / all as f64;
                    prop_assert!((*picked as f64 - quota).abs() < 1.0);
                }
            }
        }
    }
}
