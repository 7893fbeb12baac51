//! What a fitted model says.

use super::error::Side;
use super::islands::Islands;
use super::levels::Level;

/// The three parts of a deviance, for trials one by one.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Deviance {
    /// −2 ln f(y | modes), without binomial coefficients.
    pub conditional: f64,
    /// û'û + v̂'v̂.
    pub penalty: f64,
    /// ln det(I + A'WA).
    pub log_determinant: f64,
}

impl Deviance {
    /// Their sum: −2 times the log-likelihood by Laplace's approximation.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.conditional + self.penalty + self.log_determinant
    }
}

/// A fixed effect on the log-odds scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficient {
    /// The estimate.
    pub value: f64,
    /// Its standard error, from the Hessian over σ and β together.
    pub se: f64,
}

/// A random factor.
#[derive(Clone, Debug, PartialEq)]
pub struct Factor {
    /// Standard deviation of its levels on the log-odds scale; exactly 0 if they differ
    /// by no more than chance and the rest of the model explain.
    pub sigma: f64,
    /// Standard error of `sigma`; `None` at 0.
    pub sigma_se: Option<f64>,
    /// exp(√2 σ Φ⁻¹(¾)): of two levels picked at random, the median of the larger odds
    /// over the smaller (K. Larsen, J. Merlo, American Journal of Epidemiology 161 (2005)
    /// 81–88). At least 1.
    pub median_odds_ratio: f64,
    /// Share of the variance on the latent scale, σ²/(σ₁² + σ₂² + π²/3).
    pub variance_share: f64,
    /// Fall of the deviance by this factor, at least 0.
    pub gained: f64,
    /// p of no spread in this factor: half the upper chi-square tail of `gained`.
    pub p: f64,
    /// Its levels, in the order of their numbers.
    pub levels: Vec<Level>,
}

/// What to know before believing the numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Caution {
    /// The data fall apart into islands; levels on different ones can't be compared.
    Islands {
        /// How many.
        count: usize,
    },
    /// Only one level has trials: the factor can't be told from the intercept, σ is 0.
    OneLevel {
        /// Which factor.
        side: Side,
    },
    /// σ above 2: Laplace's approximation is off.
    WideSpread {
        /// Which factor.
        side: Side,
    },
    /// The median level has fewer than 5 trials: Laplace's approximation is off and σ
    /// usually too small.
    FewTrials {
        /// Which factor.
        side: Side,
        /// Trials of the median level.
        median: u64,
    },
}

/// A fitted model.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Trials with the event.
    pub events: u64,
    /// All trials.
    pub trials: u64,
    /// The intercept, then the fixed effects in the order of their columns.
    pub coefficients: Vec<Coefficient>,
    /// First and second factor.
    pub factors: [Factor; 2],
    /// For trials one by one. Subtract twice [`Fit::log_coefficients`] for grouped data.
    pub deviance: Deviance,
    /// Log of the binomial coefficients of the cells as given.
    pub log_coefficients: f64,
    /// Deviance of the model with fixed effects alone.
    pub deviance_fixed_only: f64,
    /// Parts of the data that never meet.
    pub islands: Islands,
    /// What to know before believing the numbers.
    pub cautions: Vec<Caution>,
    /// Evaluations of the deviance, over all models compared.
    pub evaluations: usize,
    /// Expected further fall of the deviance at the answer: the distance left.
    pub left: f64,
}
