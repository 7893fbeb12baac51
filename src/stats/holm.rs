//! Holm's step-down adjustment: the chance of even one false alarm among many tests.
//!
//! The p-values in ascending order are multiplied by m, m − 1, …, 1, each at least the one
//! before. Listing what stays below α keeps the chance that anything is listed where nothing
//! is the matter at or below α, however the tests hang together.
//!
//! Source: S. Holm, "A simple sequentially rejective multiple test procedure",
//! Scandinavian Journal of Statistics 6 (1979) 65–70.

/// The adjusted p-values of `tests` tests, in the order given; tests that are not given count
/// as having p = 1. What is not a number stays so.
#[must_use]
pub fn adjusted(p: &[f64], tests: u64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..p.len()).filter(|&i| !p[i].is_nan()).collect();
    order.sort_by(|&a, &b| p[a].total_cmp(&p[b]).then(a.cmp(&b)));
    let tests = tests.max(order.len() as u64);
    let mut adjusted = vec![f64::NAN; p.len()];
    let mut most: f64 = 0.0;
    for (rank, &i) in order.iter().enumerate() {
        let factor = (tests - rank as u64) as f64;
        most = most.max((factor * p[i]).min(1.0));
        adjusted[i] = most;
    }
    adjusted
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `p.adjust(c(0.01, 0.04, 0.03, 0.005), "holm")` in R gives 0.03, 0.06, 0.06, 0.02; by
    /// hand: 0.005·4, 0.01·3, 0.03·2, then the larger of that and 0.04·1.
    #[test]
    fn each_step_multiplies_by_one_less() {
        let found = adjusted(&[0.01, 0.04, 0.03, 0.005], 4);
        for (found, expected) in found.iter().zip([0.03, 0.06, 0.06, 0.02]) {
            assert!((found - expected).abs() < 1e-15, "{found}");
        }
    }

    #[test]
    fn tests_that_are_not_given_count_and_nothing_exceeds_one() {
        assert_eq!(adjusted(&[0.001, 0.5], 100), [0.1, 1.0]);
        assert!(adjusted(&[], 5).is_empty());
        assert!(adjusted(&[f64::NAN], 1)[0].is_nan());
    }
}
