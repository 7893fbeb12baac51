//! Two groups compared within strata: Cochran, Mantel and Haenszel.
//!
//! χ² = (|Σ (a − E a)| − ½)²/Σ Var a over the strata, the common odds ratio is
//! Σ (ad/n)/Σ (bc/n), its interval from the variance of Robins, Breslow and Greenland.
//! Sources: N. Mantel, W. Haenszel, Journal of the National Cancer Institute 22 (1959)
//! 719–748; J. Robins, N. Breslow, S. Greenland, Biometrics 42 (1986) 311–323.
//!
//! Answers "did it help?" when the mix of places moved. Misleads when the effect has
//! opposite signs in different strata: look at them one by one as well.

use super::{chi_square, fisher::OddsRatio, fisher::Table};

/// What the strata say together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stratified {
    /// χ² on one degree of freedom, without continuity correction; `None` if no stratum
    /// can tell the groups apart.
    pub chi2: Option<f64>,
    /// Its p-value.
    pub p: Option<f64>,
    /// χ² with the continuity correction of ½.
    pub chi2_corrected: Option<f64>,
    /// Its p-value.
    pub p_corrected: Option<f64>,
    /// The common odds ratio; `None` if it is not a finite number above 0.
    pub odds: Option<OddsRatio>,
    /// Standard error of the logarithm of the odds ratio, with it.
    pub se_log_odds: Option<f64>,
}

/// Compares the rows of the strata's tables; the interval for a normal quantile `z`.
/// Strata with an empty margin carry no information and change nothing.
#[must_use]
pub fn test(strata: &[Table], z: f64) -> Stratified {
    let mut sums = Sums::default();
    strata.iter().for_each(|&table| sums.add(table));
    let chi2 = |correction: f64| {
        let excess = (sums.excess.abs() - correction).max(0.0);
        (sums.variance > 0.0).then(|| excess * excess / sums.variance)
    };
    let p = |chi2: Option<f64>| chi2.and_then(|chi2| chi_square::at_least(chi2, 1));
    let (plain, corrected) = (chi2(0.0), chi2(0.5));
    let se = sums.se_log_odds();
    Stratified {
        chi2: plain,
        p: p(plain),
        chi2_corrected: corrected,
        p_corrected: p(corrected),
        odds: se.map(|se| OddsRatio {
            ratio: sums.with / sums.against,
            low: sums.with / sums.against * libm::exp(-z * se),
            high: sums.with / sums.against * libm::exp(z * se),
        }),
        se_log_odds: se,
    }
}

#[derive(Default)]
struct Sums {
    excess: f64,
    variance: f64,
    /// R = Σ ad/n and S = Σ bc/n of the paper.
    with: f64,
    against: f64,
    /// Σ PR, Σ (PS + QR), Σ QS.
    parts: [f64; 3],
}

impl Sums {
    fn add(&mut self, table: Table) {
        let [[a, b], [c, d]] = table.map(|row| row.map(|count| count as f64));
        let n = a + b + c + d;
        if n < 2.0 {
            return;
        }
        let (row, other_row, column, other_column) = (a + b, c + d, a + c, b + d);
        self.excess += a - row * column / n;
        self.variance += row * other_row * column * other_column / (n * n * (n - 1.0));
        let (p, q) = ((a + d) / n, (b + c) / n);
        let (r, s) = (a * d / n, b * c / n);
        self.with += r;
        self.against += s;
        self.parts[0] += p * r;
        self.parts[1] += p * s + q * r;
        self.parts[2] += q * s;
    }

    fn se_log_odds(&self) -> Option<f64> {
        let (r, s) = (self.with, self.against);
        let [both, mixed, none] = self.parts;
        let variance = both / (2.0 * r * r) + mixed / (2.0 * r * s) + none / (2.0 * s * s);
        (r > 0.0 && s > 0.0).then(|| variance.sqrt())
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn strata_without_information_change_nothing() {
        let informative = [[[3, 9], [7, 5]], [[2, 2], [8, 1]]];
        let with_empty = [
            [[3, 9], [7, 5]],
            [[0, 0], [4, 4]],
            [[2, 2], [8, 1]],
            [[0, 0], [0, 0]],
            [[5, 0], [3, 0]],
        ];
        assert_eq!(test(&informative, 1.96), test(&with_empty, 1.96));
    }

    #[test]
    fn nothing_to_compare_is_said() {
        let nothing = test(&[], 1.96);
        assert_eq!((nothing.chi2, nothing.odds), (None, None));
        // all of one row with the event, none of the other: no finite ratio
        let apart = test(&[[[5, 0], [0, 5]]], 1.96);
        assert!(apart.chi2.unwrap() > 8.0 && apart.odds.is_none());
    }
}
