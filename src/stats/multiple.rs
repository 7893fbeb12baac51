//! Many comparisons at once: Benjamini and Hochberg's adjusted p-values.
//!
//! Formula: with the m p-values sorted, the adjusted i-th is the least over j ≥ i of
//! min(1, m p₍ⱼ₎/j). Listing those at most q keeps the expected share of false ones
//! among the listed at or below q. Source: Y. Benjamini, Y. Hochberg, Journal of the
//! Royal Statistical Society B 57 (1995) 289–300. One family is one list; adjusting again
//! after filtering undoes the promise.

/// The adjusted p-values in the order given; what is not a number stays so and does not
/// count.
#[must_use]
pub fn adjusted(p: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..p.len()).filter(|&i| !p[i].is_nan()).collect();
    order.sort_by(|&a, &b| p[a].total_cmp(&p[b]).then(a.cmp(&b)));
    let tests = order.len() as f64;
    let mut adjusted = vec![f64::NAN; p.len()];
    let mut least: f64 = 1.0;
    for (rank, &i) in order.iter().enumerate().rev() {
        // never below p itself, not even by a rounding
        least = least.min((tests * p[i] / (rank + 1) as f64).max(p[i]));
        adjusted[i] = least;
    }
    adjusted
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_number_does_not_count() {
        let q = adjusted(&[0.04, f64::NAN, 0.01]);
        assert_eq!((q[0], q[2]), (0.04, 0.02));
        assert!(q[1].is_nan());
        assert!(adjusted(&[]).is_empty());
    }
}
