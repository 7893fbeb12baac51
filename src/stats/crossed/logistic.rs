//! The fit without random intercepts, and what can be wrong with fixed effects.
//!
//! Columns are centred and scaled first, so that a year or a distance in metres cannot
//! spoil the digits; [`Scaling`] takes coefficients there and back.

use super::data::Data;
use super::dense::Square;
use super::error::CrossedError;

/// Beyond this log odds a fitted share is 0 or 1 for any data one could collect.
const BEYOND_BELIEF: f64 = 20.0;

/// Centre and scale of each column, the intercept (0 and 1) included.
#[derive(Clone, Debug)]
pub struct Scaling {
    mean: Vec<f64>,
    scale: Vec<f64>,
}

impl Scaling {
    /// Weighted by trials.
    ///
    /// # Errors
    ///
    /// If a column is constant or follows from the others.
    pub fn of(data: &Data) -> Result<Scaling, CrossedError> {
        let columns = data.columns();
        let counts = by_pattern(data);
        let trials: f64 = counts.iter().map(|count| count.1).sum();
        let rows = || data.patterns.iter().zip(&counts);
        let average = |value: &dyn Fn(&[f64]) -> f64| {
            rows().map(|(row, count)| count.1 * value(row)).sum::<f64>() / trials
        };
        let mut scaling = Scaling {
            mean: vec![0.0; columns],
            scale: vec![1.0; columns],
        };
        for j in 1..columns {
            let mean = average(&|row| row[j]);
            let variance = average(&|row| (row[j] - mean) * (row[j] - mean));
            if variance <= 1e-20 * mean * mean {
                return Err(CrossedError::Collinear { column: j - 1 });
            }
            (scaling.mean[j], scaling.scale[j]) = (mean, variance.sqrt());
        }
        let mut correlations = Square::zero(columns);
        let scaled = scaling.patterns(&data.patterns);
        for (row, count) in scaled.iter().zip(&counts) {
            for i in 0..columns {
                for j in 0..=i {
                    let product = count.1 / trials * row[i] * row[j];
                    correlations.values[i * columns + j] += product;
                }
            }
        }
        match correlations.factor(1e-9) {
            Ok(()) => Ok(scaling),
            Err(row) => Err(CrossedError::Collinear {
                column: row.saturating_sub(1),
            }),
        }
    }

    /// The rows of fixed effects, centred and scaled.
    pub fn patterns(&self, patterns: &[Vec<f64>]) -> Vec<Vec<f64>> {
        let scaled = |row: &Vec<f64>| {
            (0..row.len())
                .map(|j| (row[j] - self.mean[j]) / self.scale[j])
                .collect()
        };
        patterns.iter().map(scaled).collect()
    }

    /// Coefficients of the columns as given from those of the scaled columns.
    pub fn back(&self, scaled: &[f64]) -> Vec<f64> {
        let mut beta: Vec<f64> = (0..scaled.len())
            .map(|j| scaled[j] / self.scale[j])
            .collect();
        beta[0] -= (1..beta.len()).map(|j| beta[j] * self.mean[j]).sum::<f64>();
        beta
    }

    /// The other way.
    pub fn there(&self, beta: &[f64]) -> Vec<f64> {
        let mut scaled: Vec<f64> = (0..beta.len()).map(|j| beta[j] * self.scale[j]).collect();
        scaled[0] += (1..beta.len()).map(|j| beta[j] * self.mean[j]).sum::<f64>();
        scaled
    }

    /// Standard errors of the coefficients as given, from the covariance of the scaled
    /// ones, which starts at row `from` of the matrix.
    pub fn standard_errors(&self, covariance: &Square, from: usize) -> Vec<f64> {
        let columns = self.mean.len();
        let at = |i: usize, j: usize| {
            covariance.at(from + i, from + j) / (self.scale[i] * self.scale[j])
        };
        let weights: Vec<f64> = (0..columns)
            .map(|j| if j == 0 { 1.0 } else { -self.mean[j] })
            .collect();
        let intercept: f64 = (0..columns)
            .flat_map(|i| (0..columns).map(move |j| (i, j)))
            .map(|(i, j)| weights[i] * weights[j] * at(i, j))
            .sum();
        (0..columns)
            .map(|j| if j == 0 { intercept } else { at(j, j) })
            .map(|variance| variance.max(0.0).sqrt())
            .collect()
    }
}

/// The fit without random intercepts, on scaled columns.
pub struct Plain {
    pub beta: Vec<f64>,
    pub deviance: f64,
    /// Inverse of the information: the covariance of `beta`.
    pub covariance: Square,
}

/// Events and trials of each pattern.
fn by_pattern(data: &Data) -> Vec<(f64, f64)> {
    let mut counts = vec![(0.0, 0.0); data.patterns.len()];
    for cell in &data.cells {
        let count = &mut counts[cell.pattern as usize];
        count.0 += cell.events as f64;
        count.1 += cell.trials as f64;
    }
    counts
}

/// Fits by Newton's method.
///
/// # Errors
///
/// If a fixed effect parts events from others completely, so that no finite fit exists.
pub fn fit(data: &Data, scaling: &Scaling) -> Result<Plain, CrossedError> {
    let counts = by_pattern(data);
    refuse_separated(data, &counts)?;
    let rows = scaling.patterns(&data.patterns);
    let columns = data.columns();
    let (events, trials) = data.totals();
    let mut beta = vec![0.0; columns];
    beta[0] = libm::log(events as f64 / (trials - events) as f64);
    let mut local = Local::at(&rows, &counts, &beta)?;
    for _ in 0..100 {
        let mut step = local.gradient.clone();
        local.information.solve(&mut step);
        let gain: f64 = step.iter().zip(&local.gradient).map(|(s, g)| s * g).sum();
        if gain < 1e-20 * local.deviance.max(1.0) {
            return Ok(Plain {
                beta,
                deviance: local.deviance,
                covariance: local.information.inverse(),
            });
        }
        let mut scale = 1.0;
        loop {
            let next: Vec<f64> = beta.iter().zip(&step).map(|(b, s)| b + scale * s).collect();
            let there = Local::at(&rows, &counts, &next)?;
            if there.deviance <= local.deviance + 1e-12 * local.deviance.abs() || scale < 1e-6 {
                (beta, local) = (next, there);
                break;
            }
            scale /= 2.0;
        }
    }
    Err(CrossedError::NotConverged { evaluations: 100 })
}

/// An indicator one of whose sides has no events, or only events.
fn refuse_separated(data: &Data, counts: &[(f64, f64)]) -> Result<(), CrossedError> {
    for j in 1..data.columns() {
        let used = || {
            data.patterns
                .iter()
                .zip(counts)
                .filter(|(_, count)| count.1 > 0.0)
        };
        let values = used().map(|(row, _)| row[j]);
        let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
            (low.min(value), high.max(value))
        });
        if used().any(|(row, _)| row[j] != low && row[j] != high) {
            continue;
        }
        for side in [low, high] {
            let (events, trials) = used()
                .filter(|(row, _)| row[j] == side)
                .fold((0.0, 0.0), |sum, (_, count)| {
                    (sum.0 + count.0, sum.1 + count.1)
                });
            if events == 0.0 || events == trials {
                return Err(CrossedError::Separated {
                    column: j - 1,
                    pattern: None,
                });
            }
        }
    }
    Ok(())
}

struct Local {
    deviance: f64,
    gradient: Vec<f64>,
    /// Factored.
    information: Square,
}

impl Local {
    fn at(rows: &[Vec<f64>], counts: &[(f64, f64)], beta: &[f64]) -> Result<Local, CrossedError> {
        let columns = beta.len();
        let mut local = Local {
            deviance: 0.0,
            gradient: vec![0.0; columns],
            information: Square::zero(columns),
        };
        let mut furthest = (0.0, 0);
        for (pattern, (row, &(events, trials))) in rows.iter().zip(counts).enumerate() {
            if trials == 0.0 {
                continue;
            }
            let terms = || row.iter().zip(beta).map(|(x, b)| x * b);
            let eta: f64 = terms().sum();
            if eta.abs() > BEYOND_BELIEF && columns > 1 {
                return Err(separated(terms(), pattern));
            }
            if eta.abs() > furthest.0 {
                furthest = (eta.abs(), pattern);
            }
            let (share, log) = share_and_log(eta);
            local.deviance -= 2.0 * (events * eta - trials * log);
            let weight = trials * share * (1.0 - share);
            for i in 0..columns {
                local.gradient[i] += row[i] * (events - trials * share);
                for j in 0..=i {
                    local.information.values[i * columns + j] += weight * row[i] * row[j];
                }
            }
        }
        match local.information.factor(1e-13) {
            Ok(()) => Ok(local),
            Err(_) => Err(separated(beta.iter().copied(), furthest.1)),
        }
    }
}

/// The column that contributes most, the intercept aside, and the row that goes furthest.
fn separated(terms: impl Iterator<Item = f64>, pattern: usize) -> CrossedError {
    let largest = terms
        .enumerate()
        .skip(1)
        .fold((0, 0.0), |best: (usize, f64), (j, term)| {
            if term.abs() > best.1 {
                (j - 1, term.abs())
            } else {
                best
            }
        });
    CrossedError::Separated {
        column: largest.0,
        pattern: Some(pattern),
    }
}

/// 1/(1 + e^−η) and ln(1 + e^η), without overflow.
pub fn share_and_log(eta: f64) -> (f64, f64) {
    let small = libm::exp(-eta.abs());
    let log = eta.max(0.0) + libm::log1p(small);
    if eta >= 0.0 {
        (1.0 / (1.0 + small), log)
    } else {
        (small / (1.0 + small), log)
    }
}

/// 1/(1 + e^−η).
pub fn share(eta: f64) -> f64 {
    let small = libm::exp(-eta.abs());
    (if eta >= 0.0 { 1.0 } else { small }) / (1.0 + small)
}
