//! Whether last digits are as even as chance makes them.
//!
//! Pearson's χ² of counts against equal shares, on one degree of freedom less than there are
//! digits, divided by how much the counts of others exceed chance where they do: readings of
//! one source hang together. Source: K. Pearson, Philosophical Magazine (5) 50 (1900)
//! 157–175; the division is the usual one for overdispersed counts (P. McCullagh,
//! J. A. Nelder, Generalized Linear Models, 2nd ed. 1989, 4.5).
//!
//! Misleads below some five or ten expected in each cell.

use super::chi_square;

/// χ² of counts against equal shares; `None` without counts.
#[must_use]
pub fn unevenness(counts: &[u64]) -> Option<f64> {
    let all: u64 = counts.iter().sum();
    if all == 0 || counts.is_empty() {
        return None;
    }
    let expected = all as f64 / counts.len() as f64;
    let part = |count: &u64| (*count as f64 - expected).powi(2) / expected;
    Some(counts.iter().map(part).sum())
}

/// For each unit's χ² on `df` degrees of freedom the chance of one as large, with the others'
/// mean excess (1 at least) taken out; `None` where there are fewer than `least_others`.
#[must_use]
pub fn chances(uneven: &[f64], df: u64, least_others: usize) -> Vec<Option<f64>> {
    let sum: f64 = uneven.iter().sum();
    uneven
        .iter()
        .map(|own| {
            let others = uneven.len() - 1;
            if others < least_others || df == 0 {
                return None;
            }
            let excess = (sum - own) / (others as f64 * df as f64);
            chi_square::at_least(own / excess.max(1.0), df)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn even_counts_are_even_and_nothing_is_nothing() {
        assert_eq!(unevenness(&[5, 5, 5]), Some(0.0));
        assert_eq!(unevenness(&[0, 0]), None);
        assert_eq!(unevenness(&[]), None);
        // By hand: expected 10 each, (5² + 5²)/10 = 5.
        assert_eq!(unevenness(&[15, 5, 10]), Some(5.0));
    }

    #[test]
    fn what_is_usual_among_others_is_no_surprise() {
        let alone = chances(&[24.3, 1.0, 1.0, 1.0], 7, 3)[0].unwrap();
        // P(χ² ≥ 24.322) on 7 degrees of freedom is 0.001: Abramowitz and Stegun, table 26.8.
        assert!((alone - 0.001).abs() < 2e-5, "{alone}");
        let usual = chances(&[24.3, 24.3, 24.3, 24.3], 7, 3)[0].unwrap();
        assert!(usual > 0.4, "{usual}");
        assert_eq!(chances(&[24.3, 1.0], 7, 3), [None, None]);
    }
}
