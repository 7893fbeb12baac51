//! The models that are compared: each searched, the chosen one finished.

use super::answer::{Coefficient, Deviance};
use super::data::Data;
use super::dense::Square;
use super::error::{CrossedError, Side};
use super::inner::Inner;
use super::logistic::{Plain, Scaling};
use super::search::{Point, Search};

/// A start for σ where the model without the other factor suggests less.
const LEAST_START: f64 = 0.3;

/// A model that was searched, not yet finished.
pub struct Candidate {
    pub sides: Vec<Side>,
    pub point: Point,
}

/// The chosen model.
pub struct Best {
    pub sigma: [f64; 2],
    pub sigma_se: [Option<f64>; 2],
    pub coefficients: Vec<Coefficient>,
    pub modes: [Vec<(f64, f64)>; 2],
    pub deviance: Deviance,
    pub left: f64,
}

impl Best {
    pub fn beta(&self) -> Vec<f64> {
        self.coefficients
            .iter()
            .map(|coefficient| coefficient.value)
            .collect()
    }
}

/// All models of one set of data.
pub struct Models<'a> {
    pub data: &'a Data,
    pub scaling: &'a Scaling,
    pub plain: &'a Plain,
    pub keep_going: &'a mut dyn FnMut() -> bool,
    pub evaluations: usize,
}

impl Models<'_> {
    fn inner(&self, sides: &[Side]) -> Inner {
        Inner::new(self.data, self.scaling.patterns(&self.data.patterns), sides)
    }

    fn search<T>(
        &mut self,
        inner: &mut Inner,
        act: impl FnOnce(&mut Search) -> Result<T, CrossedError>,
    ) -> Result<T, CrossedError> {
        let mut search = Search {
            inner,
            evaluations: 0,
            keep_going: self.keep_going,
        };
        let answer = act(&mut search);
        self.evaluations += search.evaluations;
        answer
    }

    /// The model with one factor.
    pub fn alone(&mut self, side: Side) -> Result<Candidate, CrossedError> {
        let mut inner = self.inner(&[side]);
        let start = [&[1.0], self.plain.beta.as_slice()].concat();
        let point = self.search(&mut inner, |search| search.minimise(start))?;
        Ok(Candidate {
            sides: vec![side],
            point,
        })
    }

    /// The model with both, started from those with one.
    pub fn together(
        &mut self,
        first: &Candidate,
        second: &Candidate,
    ) -> Result<Candidate, CrossedError> {
        let mut inner = self.inner(&Side::BOTH);
        let alone = [first, second];
        let sigma = |side: Option<Side>| {
            side.map(|side| alone[side.index()].point.at[0].abs().max(LEAST_START))
        };
        let mut start: Vec<f64> = [inner.layout.small, inner.layout.large]
            .into_iter()
            .filter_map(sigma)
            .collect();
        start.extend_from_slice(&first.point.at[1..]);
        let point = self.search(&mut inner, |search| search.minimise(start))?;
        Ok(Candidate {
            sides: Side::BOTH.to_vec(),
            point,
        })
    }

    /// Standard errors and modes of the chosen model.
    pub fn finish(&mut self, sides: &[Side], start: Option<&Point>) -> Result<Best, CrossedError> {
        let levels = self.data.levels;
        let mut modes = levels.map(|levels| vec![(0.0, 0.0); levels]);
        let Some(start) = start else {
            return Ok(Best {
                sigma: [0.0; 2],
                sigma_se: [None; 2],
                coefficients: self.coefficients(&self.plain.beta, &self.plain.covariance, 0, 1.0),
                modes,
                deviance: Deviance {
                    conditional: self.plain.deviance,
                    ..Deviance::default()
                },
                left: 0.0,
            });
        };
        let mut inner = self.inner(sides);
        let start = start.clone();
        let (point, sigmas) = self.search(&mut inner, |search| {
            Ok((search.finish(start)?, search.sigmas()))
        })?;
        let mut sigma = [0.0; 2];
        let mut sigma_se = [None; 2];
        for (i, side) in [inner.layout.small, inner.layout.large]
            .into_iter()
            .flatten()
            .enumerate()
        {
            sigma[side.index()] = point.at[i].abs();
            sigma_se[side.index()] = Some((2.0 * point.inverse.at(i, i)).sqrt());
        }
        for side in Side::BOTH {
            if let Some(found) = inner.modes(side) {
                modes[side.index()] = found;
            }
        }
        let mut full = [0.0; 2];
        for (i, side) in [inner.layout.small, inner.layout.large]
            .into_iter()
            .enumerate()
        {
            full[i] = side.map_or(0.0, |side| sigma[side.index()]);
        }
        let scaled = &point.at[sigmas..];
        let deviance = inner.deviance(full, scaled)?;
        Ok(Best {
            sigma,
            sigma_se,
            coefficients: self.coefficients(scaled, &point.inverse, sigmas, 2.0),
            modes,
            deviance,
            left: point.left,
        })
    }

    /// Coefficients as given; `factor` times the matrix from row `from` on is the
    /// covariance of the scaled ones.
    fn coefficients(
        &self,
        scaled: &[f64],
        inverse: &Square,
        from: usize,
        factor: f64,
    ) -> Vec<Coefficient> {
        let errors = self.scaling.standard_errors(inverse, from);
        let values = self.scaling.back(scaled);
        let each = values.into_iter().zip(errors);
        each.map(|(value, se)| Coefficient {
            value,
            se: se * factor.sqrt(),
        })
        .collect()
    }
}
