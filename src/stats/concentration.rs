//! How concentrated counts are: Pareto shares and the Gini coefficient.
//!
//! Gini: Σ (2i − n − 1) x₍ᵢ₎ / (n Σ x) over the counts in rising order, units with 0
//! included: 0 if all are equal, (n − 1)/n if one has all (C. Gini, 1912; the form over
//! n/(n − 1) in G. Deltas, Review of Economics and Statistics 85 (2003) 226–234).
//! Misleads when units differ in size: a busy ordinary unit tops the list of counts.

/// The Gini coefficient, 0..1; `None` if there is nothing to share out.
#[must_use]
pub fn gini(counts: &[u64]) -> Option<f64> {
    let mut sorted = counts.to_vec();
    sorted.sort_unstable();
    let n = sorted.len() as f64;
    let total = sorted.iter().map(|&x| x as f64).sum::<f64>();
    if total == 0.0 {
        return None;
    }
    let weigh = |(i, &x): (usize, &u64)| (2.0 * (i + 1) as f64 - n - 1.0) * x as f64;
    Some(sorted.iter().enumerate().map(weigh).sum::<f64>() / (n * total))
}

/// The cumulative shares, largest count first; empty if there is nothing to share out.
#[must_use]
pub fn pareto(counts: &[u64]) -> Vec<f64> {
    let mut sorted = counts.to_vec();
    sorted.sort_unstable_by(|a, b| b.cmp(a));
    let total: u64 = sorted.iter().sum();
    if total == 0 {
        return Vec::new();
    }
    let cumulate = |sum: &mut u64, x: u64| {
        *sum += x;
        Some(*sum as f64 / total as f64)
    };
    sorted.into_iter().scan(0, cumulate).collect()
}

/// The smallest number of units whose counts, largest first, hold at least `percent`
/// (0..=100) of the total; `None` if there is nothing to share out.
#[must_use]
pub fn holding(counts: &[u64], percent: u64) -> Option<usize> {
    let mut sorted = counts.to_vec();
    sorted.sort_unstable_by(|a, b| b.cmp(a));
    let total: u128 = sorted.iter().map(|&x| u128::from(x)).sum();
    if total == 0 {
        return None;
    }
    let mut sum = 0_u128;
    for (i, &x) in sorted.iter().enumerate() {
        sum += u128::from(x);
        if sum * 100 >= total * u128::from(percent) {
            return Some(i + 1);
        }
    }
    Some(sorted.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_to_share_out_is_said() {
        assert_eq!(gini(&[]), None);
        assert_eq!(gini(&[0, 0]), None);
        assert!(pareto(&[0]).is_empty());
        assert_eq!(holding(&[0], 80), None);
    }

    #[test]
    fn exactly_four_fifths_is_enough() {
        assert_eq!(holding(&[1, 4], 80), Some(1));
        assert_eq!(holding(&[4, 1, 1], 80), Some(2));
    }
}
