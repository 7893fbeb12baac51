//! Cohen's kappa: how far two judges agree beyond chance.
//!
//! κ = (p_o − p_e)/(1 − p_e) with p_o the observed and p_e the chance agreement, each
//! weighted for ordered categories; the interval is κ ± z times the large-sample standard
//! error. Sources: J. Cohen, Educational and Psychological Measurement 20 (1960) 37–46
//! and Psychological Bulletin 70 (1968) 213–220; J. L. Fleiss, J. Cohen, B. S. Everitt,
//! Psychological Bulletin 72 (1969) 323–327.
//!
//! Misleads alone when one category is rare: agreement 0.85 can go with κ 0.32. Show the
//! raw agreement and the agreement within each category beside it.

/// How much a disagreement counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weights {
    /// Every disagreement alike.
    Equal,
    /// By the distance of the categories.
    Linear,
    /// By the squared distance.
    Quadratic,
}

/// Agreement of two judges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kappa {
    /// Things judged by both.
    pub n: u64,
    /// Observed agreement, 0..=1.
    pub observed: f64,
    /// Agreement expected by chance, 0..=1.
    pub chance: f64,
    /// What lies beyond chance; `None` if chance agreement is 1 (both used one category).
    pub beyond: Option<Beyond>,
}

/// Kappa with its standard errors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beyond {
    /// Kappa, at most 1.
    pub kappa: f64,
    /// Its standard error, for an interval.
    pub se: f64,
    /// Its standard error if there were no agreement beyond chance, for a test.
    pub se_by_chance: f64,
}

impl Beyond {
    /// κ ± `z` standard errors.
    #[must_use]
    pub fn interval(&self, z: f64) -> (f64, f64) {
        (self.kappa - z * self.se, self.kappa + z * self.se)
    }
}

/// Kappa of a square table, rows the first judge's category and columns the second's;
/// `None` if the table is empty or not square.
#[must_use]
pub fn kappa(table: &[Vec<u64>], weights: Weights) -> Option<Kappa> {
    let k = table.len();
    let n: u64 = table.iter().flatten().sum();
    if n == 0 || table.iter().any(|row| row.len() != k) {
        return None;
    }
    let total = n as f64;
    let p = |i: usize, j: usize| table[i][j] as f64 / total;
    let w = |i: usize, j: usize| weight(weights, i, j, k);
    let rows: Vec<f64> = (0..k).map(|i| (0..k).map(|j| p(i, j)).sum()).collect();
    let columns: Vec<f64> = (0..k).map(|j| (0..k).map(|i| p(i, j)).sum()).collect();
    let cells = || (0..k).flat_map(move |i| (0..k).map(move |j| (i, j)));
    let observed: f64 = cells().map(|(i, j)| w(i, j) * p(i, j)).sum();
    let chance: f64 = cells().map(|(i, j)| w(i, j) * rows[i] * columns[j]).sum();
    if 1.0 - chance < 1e-12 {
        return Some(Kappa {
            n,
            observed,
            chance,
            beyond: None,
        });
    }
    let kappa = (observed - chance) / (1.0 - chance);
    let row_mean: Vec<f64> = (0..k)
        .map(|i| (0..k).map(|j| columns[j] * w(i, j)).sum())
        .collect();
    let column_mean: Vec<f64> = (0..k)
        .map(|j| (0..k).map(|i| rows[i] * w(i, j)).sum())
        .collect();
    let spread: f64 = cells()
        .map(|(i, j)| {
            let off = w(i, j) - (row_mean[i] + column_mean[j]) * (1.0 - kappa);
            p(i, j) * off * off
        })
        .sum();
    let spread_by_chance: f64 = cells()
        .map(|(i, j)| {
            let off = w(i, j) - (row_mean[i] + column_mean[j]);
            rows[i] * columns[j] * off * off
        })
        .sum();
    let centre = kappa - chance * (1.0 - kappa);
    let se = |variance: f64| variance.max(0.0).sqrt() / ((1.0 - chance) * total.sqrt());
    Some(Kappa {
        n,
        observed,
        chance,
        beyond: Some(Beyond {
            kappa,
            se: se(spread - centre * centre),
            se_by_chance: se(spread_by_chance - chance * chance),
        }),
    })
}

fn weight(weights: Weights, i: usize, j: usize, categories: usize) -> f64 {
    let distance = i.abs_diff(j) as f64 / (categories.max(2) - 1) as f64;
    match weights {
        Weights::Equal => f64::from(i == j),
        Weights::Linear => 1.0 - distance,
        Weights::Quadratic => 1.0 - distance * distance,
    }
}

/// Agreement within one category: twice the things both put there, by all puttings
/// there; `None` if neither used it or the table has no such category.
#[must_use]
pub fn agreement_on(table: &[Vec<u64>], category: usize) -> Option<f64> {
    let both = *table.get(category)?.get(category)?;
    let by_first: u64 = table[category].iter().sum();
    let by_second: u64 = table.iter().filter_map(|row| row.get(category)).sum();
    let puttings = by_first + by_second;
    (puttings > 0).then(|| 2.0 * both as f64 / puttings as f64)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn one_category_has_agreement_but_no_kappa() {
        let found = kappa(&[vec![9, 0], vec![0, 0]], Weights::Equal).unwrap();
        assert_eq!((found.observed, found.beyond), (1.0, None));
        assert_eq!(agreement_on(&[vec![9, 0], vec![0, 0]], 1), None);
        assert_eq!(kappa(&[vec![0, 0], vec![0, 0]], Weights::Equal), None);
        assert_eq!(kappa(&[vec![1, 0]], Weights::Equal), None);
    }

    #[test]
    fn full_agreement_is_one_without_error() {
        let found = kappa(&[vec![9, 0], vec![0, 4]], Weights::Equal).unwrap();
        let beyond = found.beyond.unwrap();
        assert!((beyond.kappa - 1.0).abs() < 1e-15 && beyond.se < 1e-7);
    }
}
