//! The joint mode of all random intercepts at given σ and β, and the deviance there.
//!
//! Newton's method on the penalised log-likelihood, by block elimination: the factor
//! with more levels has a diagonal block, so what remains is a dense system in the
//! smaller factor only. With w = nμ(1 − μ) in each cell, `small` s and `large` l:
//!
//! ```text
//! D_s = 1 + σ_s² Σ w,  D_l = 1 + σ_l² Σ w,  C_sl = σ_s σ_l Σ w
//! S = D_s − C D_l⁻¹ C',  ln det H = Σ ln D_l + ln det S
//! ```
//!
//! A factor left out has one level and σ = 0: it drops out of every formula by itself.

use super::answer::Deviance;
use super::data::Data;
use super::dense::{Square, dot};
use super::error::{CrossedError, Side};
use super::layout::Layout;
use super::logistic::share_and_log;

/// The squared distance to the mode, in standard deviations, at which it is reached.
const AT_THE_MODE: f64 = 1e-24;
/// Newton steps after which something is wrong.
const MOST_STEPS: usize = 200;

/// A vector over the levels of both factors.
#[derive(Clone, Debug)]
pub struct Both {
    pub small: Vec<f64>,
    pub large: Vec<f64>,
}

impl Both {
    pub(super) fn zero(small: usize, large: usize) -> Both {
        Both {
            small: vec![0.0; small],
            large: vec![0.0; large],
        }
    }

    pub(super) fn dot(&self, other: &Both) -> f64 {
        dot(&self.small, &other.small) + dot(&self.large, &other.large)
    }

    fn add(&mut self, factor: f64, other: &Both) {
        for (x, y) in self.small.iter_mut().zip(&other.small) {
            *x += factor * y;
        }
        for (x, y) in self.large.iter_mut().zip(&other.large) {
            *x += factor * y;
        }
    }
}

/// One model: its cells, and where the last evaluation left the mode.
pub struct Inner {
    pub(super) layout: Layout,
    /// σ of the smaller and the larger factor.
    pub(super) sigma: [f64; 2],
    pub(super) beta: Vec<f64>,
    pub(super) mode: Both,
    /// μ of each cell.
    pub(super) share: Vec<f64>,
    gradient: Both,
    log_likelihood: f64,
    pub(super) diagonal_large: Vec<f64>,
    /// C of each pair.
    pub(super) cross: Vec<f64>,
    /// S, factored.
    pub(super) schur: Square,
    /// The σ at which it was factored.
    factored_at: Option<[f64; 2]>,
}

impl Inner {
    /// The model with random intercepts for `sides`, on scaled `rows`.
    pub fn new(data: &Data, rows: Vec<Vec<f64>>, sides: &[Side]) -> Inner {
        let layout = Layout::new(data, rows, sides);
        let [small, large] = layout.sizes;
        Inner {
            sigma: [0.0; 2],
            beta: vec![0.0; data.columns()],
            mode: Both::zero(small, large),
            share: vec![0.0; layout.events.len()],
            gradient: Both::zero(small, large),
            log_likelihood: 0.0,
            diagonal_large: vec![1.0; large],
            cross: vec![0.0; layout.pair_small.len()],
            schur: Square::zero(small),
            factored_at: None,
            layout,
        }
    }

    /// The deviance at σ (smaller, larger) and β; leaves the mode and the factored
    /// system there.
    ///
    /// # Errors
    ///
    /// If the mode is not reached, which concavity rules out but for numbers out of range.
    pub fn deviance(&mut self, sigma: [f64; 2], beta: &[f64]) -> Result<Deviance, CrossedError> {
        const LOST: CrossedError = CrossedError::NotConverged {
            evaluations: MOST_STEPS,
        };
        self.sigma = sigma;
        self.beta.copy_from_slice(beta);
        let mut objective = self.look();
        let near =
            |before: [f64; 2]| (0..2).all(|i| (before[i] - sigma[i]).abs() <= 0.2 * sigma[i].abs());
        let mut fresh = false;
        if !self.factored_at.is_some_and(near) {
            self.factor()?;
            fresh = true;
        }
        let mut before = f64::INFINITY;
        let mut stepped_fresh = false;
        for _ in 0..MOST_STEPS {
            let step = self.solve(&self.gradient);
            let gain = self.gradient.dot(&step);
            let slow = !fresh && gain > 0.05 * before;
            // if even a full Newton step gains no more, that is the floor rounding sets
            if gain < AT_THE_MODE || (slow && stepped_fresh && gain < 1e-12) {
                if !fresh {
                    self.factor()?;
                }
                return Ok(self.parts());
            }
            // an old system still gives steps uphill; renew it once they gain too little
            if slow {
                self.factor()?;
                fresh = true;
                continue;
            }
            if !gain.is_finite() {
                return Err(LOST);
            }
            let mut taken = 1.0;
            self.mode.add(taken, &step);
            let mut there = self.look();
            // near the mode full steps are safe, and rounding would refuse them
            let far = gain > 1e-6 + 1e-12 * objective.abs();
            while far && there < objective && taken > 1e-10 {
                taken /= 2.0;
                self.mode.add(-taken, &step);
                there = self.look();
            }
            objective = there;
            stepped_fresh = fresh;
            fresh = false;
            before = gain;
        }
        Err(LOST)
    }

    /// Shares, likelihood and the gradient of the penalised log-likelihood at the mode
    /// as it stands; returns the penalised log-likelihood.
    fn look(&mut self) -> f64 {
        let fixed: Vec<f64> = self
            .layout
            .rows
            .iter()
            .map(|row| dot(row, &self.beta))
            .collect();
        let [sigma_small, sigma_large] = self.sigma;
        let mut log_likelihood = 0.0;
        self.gradient.small.fill(0.0);
        for l in 0..self.mode.large.len() {
            let from_large = sigma_large * self.mode.large[l];
            let mut excess_large = 0.0;
            for pair in self.layout.pairs(l) {
                let s = self.layout.pair_small[pair] as usize;
                let random = from_large + sigma_small * self.mode.small[s];
                let mut excess = 0.0;
                for i in self.layout.cells(pair) {
                    let eta = fixed[self.layout.pattern[i] as usize] + random;
                    let (share, log) = share_and_log(eta);
                    self.share[i] = share;
                    excess += self.layout.events[i] - self.layout.trials[i] * share;
                    log_likelihood += self.layout.events[i] * eta - self.layout.trials[i] * log;
                }
                self.gradient.small[s] += sigma_small * excess;
                excess_large += excess;
            }
            self.gradient.large[l] = sigma_large * excess_large;
        }
        self.gradient.add(-1.0, &self.mode);
        self.log_likelihood = log_likelihood;
        log_likelihood - self.mode.dot(&self.mode) / 2.0
    }

    pub(super) fn weight(&self, cell: usize) -> f64 {
        self.layout.trials[cell] * self.share[cell] * (1.0 - self.share[cell])
    }

    /// Builds and factors the system at the mode as it stands.
    fn factor(&mut self) -> Result<(), CrossedError> {
        let [sigma_small, sigma_large] = self.sigma;
        let size = self.schur.size;
        self.schur.values.fill(0.0);
        for s in 0..size {
            self.schur.values[s * size + s] = 1.0;
        }
        for l in 0..self.mode.large.len() {
            let pairs = self.layout.pairs(l);
            let mut total = 0.0;
            for pair in pairs.clone() {
                let cells = self.layout.cells(pair);
                let weight: f64 = cells.map(|i| self.weight(i)).sum();
                total += weight;
                self.cross[pair] = sigma_small * sigma_large * weight;
                let s = self.layout.pair_small[pair] as usize;
                self.schur.values[s * size + s] += sigma_small * sigma_small * weight;
            }
            let diagonal = 1.0 + sigma_large * sigma_large * total;
            self.diagonal_large[l] = diagonal;
            let smalls = &self.layout.pair_small[pairs.clone()];
            let cross = &self.cross[pairs];
            for (i, &s) in smalls.iter().enumerate() {
                let row = self.schur.row_mut(s as usize);
                let factor = cross[i] / diagonal;
                for (&other, c) in smalls[..=i].iter().zip(&cross[..=i]) {
                    row[other as usize] -= factor * c;
                }
            }
        }
        self.factored_at = Some(self.sigma);
        let lost = |_| CrossedError::NotConverged {
            evaluations: MOST_STEPS,
        };
        self.schur.factor(0.0).map_err(lost)
    }

    /// Solves the factored system.
    pub(super) fn solve(&self, right: &Both) -> Both {
        let mut answer = right.clone();
        for l in 0..answer.large.len() {
            let scaled = right.large[l] / self.diagonal_large[l];
            for pair in self.layout.pairs(l) {
                answer.small[self.layout.pair_small[pair] as usize] -= self.cross[pair] * scaled;
            }
        }
        self.schur.solve(&mut answer.small);
        for l in 0..answer.large.len() {
            let pairs = self.layout.pairs(l);
            let known: f64 = pairs
                .map(|pair| self.cross[pair] * answer.small[self.layout.pair_small[pair] as usize])
                .sum();
            answer.large[l] = (right.large[l] - known) / self.diagonal_large[l];
        }
        answer
    }

    fn parts(&self) -> Deviance {
        let large: f64 = self.diagonal_large.iter().map(|d| libm::log(*d)).sum();
        Deviance {
            conditional: -2.0 * self.log_likelihood,
            penalty: self.mode.dot(&self.mode),
            log_determinant: large + self.schur.log_determinant(),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::super::data::Cell;
    use super::*;

    fn example() -> Inner {
        let cells = (0..40_u32).map(|i| Cell {
            levels: [i * 7 % 5, i * 11 % 8],
            pattern: i % 3,
            events: u64::from(i * i % 4),
            trials: 4 + u64::from(i % 3),
        });
        let patterns = vec![vec![0.3, 1.0], vec![-1.0, 0.0], vec![0.4, 2.0]];
        let data = Data::new([5, 8], &patterns, cells).unwrap();
        let rows = data.patterns.clone();
        Inner::new(&data, rows, &Side::BOTH)
    }

    #[test]
    fn the_gradient_is_that_of_the_deviance() {
        let mut inner = example();
        let at = [0.7, -1.1, -0.4, 0.5, 0.2];
        let mut value = |at: &[f64]| inner.deviance([at[0], at[1]], &at[2..]).unwrap().total();
        let reach = 3e-3;
        let differences: Vec<f64> = (0..at.len())
            .map(|i| {
                let moved = |by: f64| {
                    let mut there = at;
                    there[i] += by;
                    there
                };
                // fourth order, so that the gradient is what is tested
                let near = value(&moved(reach)) - value(&moved(-reach));
                let far = value(&moved(2.0 * reach)) - value(&moved(-2.0 * reach));
                (8.0 * near - far) / (12.0 * reach)
            })
            .collect();
        value(&at);
        for (exact, difference) in inner.slope().iter().zip(&differences) {
            assert!((exact - difference).abs() < 1e-6, "{exact} {difference}");
        }
    }

    #[test]
    fn the_path_to_a_point_does_not_matter() {
        let mut there = example();
        let mut back = example();
        let far = back.deviance([2.0, 0.1], &[1.0, -1.0, 0.3]).unwrap();
        let one = there.deviance([0.7, 1.1], &[-0.4, 0.5, 0.2]).unwrap();
        let other = back.deviance([0.7, 1.1], &[-0.4, 0.5, 0.2]).unwrap();
        assert!(far.total() > one.total());
        assert!((one.total() - other.total()).abs() < 1e-9);
    }

    #[test]
    fn a_factor_without_spread_drops_out() {
        let mut inner = example();
        let both = inner.deviance([0.0, 0.0], &[-0.4, 0.5, 0.2]).unwrap();
        assert_eq!((both.penalty, both.log_determinant), (0.0, 0.0));
        let slope = inner.slope();
        assert_eq!(&slope[..2], [0.0, 0.0]);
    }
}
