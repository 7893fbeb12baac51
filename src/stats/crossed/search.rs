//! The minimum of the deviance over σ and β: quasi-Newton (BFGS) with backtracking, then
//! Newton with a Hessian from differences of the exact gradient.
//!
//! J. Nocedal, S. J. Wright, Numerical Optimization, 2nd ed. 2006, 6.1. σ may be of
//! either sign on the way, since the deviance is even in it.

use super::dense::{Square, dot};
use super::error::{CrossedError, Side};
use super::inner::Inner;

/// Beyond this a standard deviation of log odds means that levels have all or nothing.
const SIGMA_BEYOND_BELIEF: f64 = 10.0;
const MOST_ITERATIONS: usize = 200;

/// A point of the search: σ of the factors in the model, then β.
#[derive(Clone, Debug)]
pub struct Point {
    pub at: Vec<f64>,
    pub deviance: f64,
    /// Approximate inverse of the Hessian.
    pub inverse: Square,
    /// Expected further fall of the deviance.
    pub left: f64,
}

/// The model as a function, counting its evaluations and asking whether to go on.
pub struct Search<'a> {
    pub inner: &'a mut Inner,
    pub evaluations: usize,
    pub keep_going: &'a mut dyn FnMut() -> bool,
}

impl Search<'_> {
    /// Which of σ small, σ large are parameters.
    fn free(&self) -> [bool; 2] {
        [
            self.inner.layout.small.is_some(),
            self.inner.layout.large.is_some(),
        ]
    }

    /// How many σ are parameters.
    pub fn sigmas(&self) -> usize {
        self.free().iter().filter(|free| **free).count()
    }

    /// The factor of the σ at a place.
    fn side(&self, sigma: usize) -> Side {
        let layout = &self.inner.layout;
        let sides = [layout.small, layout.large];
        sides
            .into_iter()
            .flatten()
            .nth(sigma)
            .unwrap_or(Side::First)
    }

    /// σ small and large at a point.
    pub fn sigma(&self, at: &[f64]) -> [f64; 2] {
        match self.free() {
            [true, true] => [at[0], at[1]],
            [false, true] => [0.0, at[0]],
            _ => [0.0, 0.0],
        }
    }

    /// The deviance; leaves the model there.
    pub fn value(&mut self, at: &[f64]) -> Result<f64, CrossedError> {
        if !(self.keep_going)() {
            return Err(CrossedError::Stopped);
        }
        let sigmas = self.sigmas();
        if let Some(i) = (0..sigmas).find(|&i| at[i].abs() > SIGMA_BEYOND_BELIEF) {
            return Err(CrossedError::Unbounded { side: self.side(i) });
        }
        self.evaluations += 1;
        let sigma = self.sigma(at);
        Ok(self.inner.deviance(sigma, &at[sigmas..])?.total())
    }

    /// The gradient where the last [`Search::value`] was.
    fn slope(&self) -> Vec<f64> {
        let slope = self.inner.slope();
        let free = self.free();
        let kept = |i: usize| i >= 2 || free[i];
        (0..slope.len())
            .filter(|&i| kept(i))
            .map(|i| slope[i])
            .collect()
    }

    fn lost(&self) -> CrossedError {
        CrossedError::NotConverged {
            evaluations: self.evaluations,
        }
    }

    /// A first inverse Hessian: for β the information, for σ what levels known exactly
    /// would give, 4 levels/σ².
    fn first_inverse(&self, at: &[f64]) -> Result<Square, CrossedError> {
        let sigmas = self.sigmas();
        let mut inverse = Square::zero(at.len());
        let sizes = self.inner.layout.sizes;
        let free = self.free();
        let sizes = (0..2).filter(|&i| free[i]).map(|i| sizes[i]);
        for (i, levels) in sizes.enumerate() {
            inverse.set(i, i, at[i] * at[i] / (4.0 * levels as f64));
        }
        let mut information = self.inner.information();
        information.factor(0.0).map_err(|_| self.lost())?;
        let covariance = information.inverse();
        for i in 0..covariance.size {
            for j in 0..covariance.size {
                inverse.set(sigmas + i, sigmas + j, covariance.at(i, j) / 2.0);
            }
        }
        Ok(inverse)
    }

    /// Quasi-Newton from a start with σ away from 0.
    pub fn minimise(&mut self, start: Vec<f64>) -> Result<Point, CrossedError> {
        let deviance = self.value(&start)?;
        let inverse = self.first_inverse(&start)?;
        let mut point = Point {
            at: start,
            deviance,
            inverse,
            left: f64::INFINITY,
        };
        let mut slope = self.slope();
        for _ in 0..MOST_ITERATIONS {
            let mut step: Vec<f64> = point.inverse.times(&slope).iter().map(|s| -s).collect();
            let fall = -dot(&slope, &step);
            point.left = fall / 2.0;
            if fall < 1e-9 + 1e-13 * point.deviance.abs() {
                return Ok(point);
            }
            let longest = step[..self.sigmas()]
                .iter()
                .fold(0.0, |m: f64, s| m.max(s.abs()));
            if longest > 1.0 {
                step.iter_mut().for_each(|s| *s /= longest);
            }
            let fall = -dot(&slope, &step);
            let Some((at, deviance)) = self.downhill(&point, &step, fall)? else {
                // rounding hides what little is left
                let rounding = 1e-11 * point.deviance.abs() + 1e-8;
                return if point.left < rounding {
                    Ok(point)
                } else {
                    Err(self.lost())
                };
            };
            let next = self.slope();
            let moved: Vec<f64> = at.iter().zip(&point.at).map(|(a, b)| a - b).collect();
            let turned: Vec<f64> = next.iter().zip(&slope).map(|(a, b)| a - b).collect();
            update(&mut point.inverse, &moved, &turned);
            (point.at, point.deviance, slope) = (at, deviance, next);
        }
        Err(self.lost())
    }

    /// Shortens a step until the deviance falls; `None` if it never does.
    fn downhill(
        &mut self,
        from: &Point,
        step: &[f64],
        fall: f64,
    ) -> Result<Option<(Vec<f64>, f64)>, CrossedError> {
        let rounding = 1e-14 * from.deviance.abs();
        let mut length = 1.0;
        while length > 1e-8 {
            let at: Vec<f64> = from
                .at
                .iter()
                .zip(step)
                .map(|(x, s)| x + length * s)
                .collect();
            let deviance = self.value(&at)?;
            if deviance <= from.deviance - 1e-4 * length * fall + rounding {
                return Ok(Some((at, deviance)));
            }
            // where the parabola through both values and the slope has its bottom
            let curve = deviance - from.deviance + length * fall;
            let bottom = fall * length / (2.0 * curve);
            length *= bottom.clamp(0.1, 0.5);
        }
        Ok(None)
    }

    /// The Hessian by central differences of the gradient. The steps, a small part of
    /// what [`Search::first_inverse`] expects of each standard error, depend on the point
    /// alone: however the search came here, the digits are the same.
    fn hessian(&mut self, point: &Point) -> Result<Square, CrossedError> {
        let size = point.at.len();
        self.value(&point.at)?;
        let expected = self.first_inverse(&point.at)?;
        let mut hessian = Square::zero(size);
        for i in 0..size {
            let reach = (3e-3 * expected.at(i, i).sqrt()).clamp(1e-6, 1e-2);
            let mut at = point.at.clone();
            at[i] = point.at[i] + reach;
            self.value(&at)?;
            let after = self.slope();
            at[i] = point.at[i] - reach;
            self.value(&at)?;
            let before = self.slope();
            for j in 0..size {
                hessian.set(i, j, (after[j] - before[j]) / (2.0 * reach));
            }
        }
        for i in 0..size {
            for j in 0..i {
                let mean = f64::midpoint(hessian.at(i, j), hessian.at(j, i));
                hessian.set(i, j, mean);
                hessian.set(j, i, mean);
            }
        }
        Ok(hessian)
    }

    /// Newton from a point near the minimum; afterwards `inverse` is the inverse of the
    /// Hessian proper, and the model stands at the point.
    ///
    /// # Errors
    ///
    /// If the Hessian is not positive there, or the steps don't arrive.
    pub fn finish(&mut self, mut point: Point) -> Result<Point, CrossedError> {
        self.polish(&mut point)?;
        for _ in 0..4 {
            let mut hessian = self.hessian(&point)?;
            hessian.factor(1e-12).map_err(|_| self.lost())?;
            point.inverse = hessian.inverse();
            point.left = f64::INFINITY;
            for _ in 0..6 {
                point.deviance = self.value(&point.at)?;
                let slope = self.slope();
                let step = point.inverse.times(&slope);
                let before = point.left;
                point.left = dot(&slope, &step) / 2.0;
                // the second case is the floor that rounding sets
                let little = 1e-10 + 1e-15 * point.deviance.abs();
                if point.left < 1e-18 || (point.left < little && point.left > 0.1 * before) {
                    return Ok(point);
                }
                for (x, s) in point.at.iter_mut().zip(&step) {
                    *x -= s;
                }
            }
        }
        Err(self.lost())
    }

    /// Full quasi-Newton steps, too short for the deviance to tell them apart, so that
    /// the Hessian is taken at the minimum and not near it.
    fn polish(&mut self, point: &mut Point) -> Result<(), CrossedError> {
        point.deviance = self.value(&point.at)?;
        let mut slope = self.slope();
        let mut before = f64::INFINITY;
        for _ in 0..10 {
            let step: Vec<f64> = point.inverse.times(&slope).iter().map(|s| -s).collect();
            let left = -dot(&slope, &step) / 2.0;
            if left < 1e-16 || left > before {
                break;
            }
            before = left;
            let at: Vec<f64> = point.at.iter().zip(&step).map(|(x, s)| x + s).collect();
            point.deviance = self.value(&at)?;
            let next = self.slope();
            let turned: Vec<f64> = next.iter().zip(&slope).map(|(a, b)| a - b).collect();
            update(&mut point.inverse, &step, &turned);
            (point.at, slope) = (at, next);
        }
        Ok(())
    }
}

/// The BFGS update of an inverse Hessian; left alone if the curvature is not positive.
fn update(inverse: &mut Square, moved: &[f64], turned: &[f64]) {
    let curvature = dot(moved, turned);
    let scale = (dot(moved, moved) * dot(turned, turned)).sqrt();
    if curvature <= 1e-10 * scale {
        return;
    }
    let through = inverse.times(turned);
    let factor = (1.0 + dot(turned, &through) / curvature) / curvature;
    for i in 0..inverse.size {
        for j in 0..inverse.size {
            let mixed = (through[i] * moved[j] + moved[i] * through[j]) / curvature;
            let value = inverse.at(i, j) + factor * moved[i] * moved[j] - mixed;
            inverse.set(i, j, value);
        }
    }
}
