//! What is known at the mode: the exact gradient of the deviance, the information on β,
//! and each level's effect.
//!
//! The gradient follows from implicit differentiation of the mode: with h the variance of
//! a cell's log odds given the data, k = w(1 − 2μ)h and z = H⁻¹A'k, one more solution of
//! the factored system gives all of it. Only entries of H⁻¹ for levels that meet are
//! needed.

use super::dense::Square;
use super::error::Side;
use super::inner::{Both, Inner};

impl Inner {
    /// Entries of the inverse of H: the diagonals, and those of the pairs that meet.
    fn inverse(&self) -> (Both, Vec<f64>) {
        let inverse = self.schur.inverse();
        let mut diagonal = Both::zero(self.schur.size, self.mode.large.len());
        for s in 0..self.schur.size {
            diagonal.small[s] = inverse.at(s, s);
        }
        let mut mixed = vec![0.0; self.cross.len()];
        for l in 0..self.mode.large.len() {
            let pairs = self.layout.pairs(l);
            let smalls = &self.layout.pair_small[pairs.clone()];
            let cross = &self.cross[pairs.clone()];
            let mut explained = 0.0;
            for ((&s, c), entry) in smalls.iter().zip(cross).zip(&mut mixed[pairs]) {
                let row = inverse.row(s as usize);
                let sum: f64 = smalls
                    .iter()
                    .zip(cross)
                    .map(|(&o, c)| row[o as usize] * c)
                    .sum();
                *entry = -sum / self.diagonal_large[l];
                explained += c * *entry;
            }
            diagonal.large[l] = (1.0 - explained) / self.diagonal_large[l];
        }
        (diagonal, mixed)
    }

    /// After [`Inner::deviance`]: its exact gradient over σ (smaller, larger) and β, by
    /// implicit differentiation of the mode.
    pub fn slope(&self) -> Vec<f64> {
        let [sigma_small, sigma_large] = self.sigma;
        let (diagonal, mixed) = self.inverse();
        let mut toward = Both::zero(self.schur.size, self.mode.large.len());
        let mut bend = vec![0.0; self.share.len()];
        let mut spread = vec![[0.0; 2]; mixed.len()];
        for l in 0..self.mode.large.len() {
            for pair in self.layout.pairs(l) {
                let s = self.layout.pair_small[pair] as usize;
                let own_small = sigma_small * diagonal.small[s] + sigma_large * mixed[pair];
                let own_large = sigma_small * mixed[pair] + sigma_large * diagonal.large[l];
                spread[pair] = [own_small, own_large];
                let of_eta = sigma_small * own_small + sigma_large * own_large;
                let mut sum = 0.0;
                let cells = self.layout.cells(pair);
                for (i, bend) in cells.clone().zip(&mut bend[cells]) {
                    *bend = self.weight(i) * (1.0 - 2.0 * self.share[i]) * of_eta;
                    sum += *bend;
                }
                toward.small[s] += sigma_small * sum;
                toward.large[l] += sigma_large * sum;
            }
        }
        let shift = self.solve(&toward);
        let mut by_pattern = vec![0.0; self.layout.rows.len()];
        let mut slope_sigma = [0.0; 2];
        for l in 0..self.mode.large.len() {
            for pair in self.layout.pairs(l) {
                let s = self.layout.pair_small[pair] as usize;
                let moved = sigma_small * shift.small[s] + sigma_large * shift.large[l];
                let (mut direct, mut excess, mut weights) = (0.0, 0.0, 0.0);
                for i in self.layout.cells(pair) {
                    let residual = self.layout.events[i] - self.layout.trials[i] * self.share[i];
                    let weight = self.weight(i);
                    let part = bend[i] - weight * moved - 2.0 * residual;
                    by_pattern[self.layout.pattern[i] as usize] += part;
                    direct += part;
                    excess += residual;
                    weights += weight;
                }
                slope_sigma[0] += direct * self.mode.small[s]
                    + excess * shift.small[s]
                    + 2.0 * weights * spread[pair][0];
                slope_sigma[1] += direct * self.mode.large[l]
                    + excess * shift.large[l]
                    + 2.0 * weights * spread[pair][1];
            }
        }
        let mut slope = slope_sigma.to_vec();
        for j in 0..self.beta.len() {
            let sum = self
                .layout
                .rows
                .iter()
                .zip(&by_pattern)
                .map(|(row, part)| row[j] * part)
                .sum();
            slope.push(sum);
        }
        slope
    }

    /// After [`Inner::deviance`]: the information on β at fixed σ, random intercepts
    /// swept out.
    pub fn information(&self) -> Square {
        let columns = self.beta.len();
        let [sigma_small, sigma_large] = self.sigma;
        let mut information = Square::zero(columns);
        let mut reach = vec![Both::zero(self.schur.size, self.mode.large.len()); columns];
        let mut by_pattern = vec![0.0; self.layout.rows.len()];
        for l in 0..self.mode.large.len() {
            for pair in self.layout.pairs(l) {
                let s = self.layout.pair_small[pair] as usize;
                for i in self.layout.cells(pair) {
                    let weight = self.weight(i);
                    let pattern = self.layout.pattern[i] as usize;
                    by_pattern[pattern] += weight;
                    for (x, reach) in self.layout.rows[pattern].iter().zip(&mut reach) {
                        reach.small[s] += sigma_small * weight * x;
                        reach.large[l] += sigma_large * weight * x;
                    }
                }
            }
        }
        for (row, weight) in self.layout.rows.iter().zip(&by_pattern) {
            for i in 0..columns {
                for j in 0..columns {
                    information.values[i * columns + j] += weight * row[i] * row[j];
                }
            }
        }
        for i in 0..columns {
            let swept = self.solve(&reach[i]);
            for (entry, reach) in information.row_mut(i).iter_mut().zip(&reach) {
                *entry -= swept.dot(reach);
            }
        }
        information
    }

    /// After [`Inner::deviance`]: mode and conditional standard deviation of each level
    /// of a factor on the log-odds scale; `None` if the model leaves the factor out.
    pub fn modes(&self, side: Side) -> Option<Vec<(f64, f64)>> {
        let (diagonal, _) = self.inverse();
        let scaled = |sigma: f64, mode: &[f64], variance: &[f64]| {
            let each = mode.iter().zip(variance);
            each.map(|(m, v)| (sigma * m, sigma.abs() * v.sqrt()))
                .collect()
        };
        if self.layout.small == Some(side) {
            Some(scaled(self.sigma[0], &self.mode.small, &diagonal.small))
        } else if self.layout.large == Some(side) {
            Some(scaled(self.sigma[1], &self.mode.large, &diagonal.large))
        } else {
            None
        }
    }
}
