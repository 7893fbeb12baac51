//! A trend of shares across ordered groups: Cochran and Armitage.
//!
//! z = Σ xᵢ(sᵢ − s̄)/√(p(1 − p) Σ nᵢ(sᵢ − s̄)²) with scores s, s̄ weighted by n, and the
//! variance with N (with N − 1 χ² would shrink by (N − 1)/N). Sources: W. G. Cochran,
//! Biometrics 10 (1954) 417–451; P. Armitage, Biometrics 11 (1955) 375–386.
//!
//! For a slow drift over months. Misleads on a rise and fall that cancel: look at the
//! departure from the trend beside it, and stratify if the mix changed.

use super::{chi_square, normal};

/// One ordered group.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Group {
    /// Trials with the event.
    pub events: u64,
    /// All trials.
    pub trials: u64,
    /// Its place in the order, evenly spaced or measured.
    pub score: f64,
}

/// A trend and what it leaves over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trend {
    /// Standard normal if there is no trend; above 0 if shares rise with the score.
    pub z: f64,
    /// Two-sided p-value.
    pub p: f64,
    /// Change of the share for one step of the score, by weighted least squares.
    pub slope: f64,
    /// Pearson's χ² of the groups against one common share.
    pub homogeneity: f64,
    /// Its p-value.
    pub homogeneity_p: f64,
    /// What of it the trend does not explain.
    pub departure: f64,
    /// Its p-value; `None` with two groups, where a line explains all.
    pub departure_p: Option<f64>,
}

/// The trend over groups; groups without trials are passed over. `None` if fewer than two
/// remain, all scores are equal, or the event happened never or always.
#[must_use]
pub fn test(groups: &[Group]) -> Option<Trend> {
    let used: Vec<&Group> = groups.iter().filter(|group| group.trials > 0).collect();
    let n = |group: &Group| group.trials as f64;
    let trials: f64 = used.iter().map(|group| n(group)).sum();
    let events: f64 = used.iter().map(|group| group.events as f64).sum();
    let centre = used.iter().map(|group| n(group) * group.score).sum::<f64>() / trials;
    let share = events / trials;
    let spread: f64 = used
        .iter()
        .map(|group| n(group) * (group.score - centre) * (group.score - centre))
        .sum();
    let variance = share * (1.0 - share);
    // also false for the NaN of no trials at all
    if used.len() < 2 || !(variance > 0.0 && spread > 0.0) {
        return None;
    }
    let product: f64 = used
        .iter()
        .map(|group| (group.events as f64 - n(group) * share) * (group.score - centre))
        .sum();
    let z = product / (variance * spread).sqrt();
    let homogeneity: f64 = used
        .iter()
        .map(|group| {
            let off = group.events as f64 - n(group) * share;
            off * off / (n(group) * variance)
        })
        .sum();
    let df = used.len() as u64 - 1;
    let departure = (homogeneity - z * z).max(0.0);
    Some(Trend {
        z,
        p: normal::two_sided(z),
        slope: product / spread,
        homogeneity,
        homogeneity_p: chi_square::at_least(homogeneity, df)?,
        departure,
        departure_p: chi_square::at_least(departure, df - 1),
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn group(events: u64, trials: u64, score: f64) -> Group {
        Group {
            events,
            trials,
            score,
        }
    }

    #[test]
    fn moving_and_stretching_the_scores_changes_only_the_slope() {
        let groups = [group(3, 30, 1.0), group(6, 40, 2.0), group(9, 35, 4.0)];
        let moved = groups.map(|g| group(g.events, g.trials, 100.0 + 12.0 * g.score));
        let (one, other) = (test(&groups).unwrap(), test(&moved).unwrap());
        assert!((one.z - other.z).abs() < 1e-11);
        assert!((one.slope - 12.0 * other.slope).abs() < 1e-12);
        assert!(one.z > 0.0);
    }

    #[test]
    fn no_trend_can_be_seen_without_two_groups_or_outcomes() {
        assert_eq!(test(&[]), None);
        assert_eq!(test(&[group(1, 3, 1.0), group(0, 0, 2.0)]), None);
        assert_eq!(test(&[group(1, 3, 1.0), group(2, 3, 1.0)]), None);
        assert_eq!(test(&[group(0, 3, 1.0), group(0, 3, 2.0)]), None);
        let two = test(&[group(1, 3, 1.0), group(2, 3, 2.0)]).unwrap();
        assert_eq!(two.departure_p, None);
    }
}
