//! Two crossed factors behind an event, told apart: a logistic model with a random
//! intercept for each level of both, and fixed effects.
//!
//! ```text
//! events ~ Binomial(trials, μ),  logit μ = β₀ + x'β + σ₁ u[first] + σ₂ v[second],
//! u and v independent standard normal
//! ```
//!
//! σ and β by maximum likelihood, the u and v integrated out by Laplace's approximation
//! around their joint mode: what `glmer` of lme4 does (D. Bates and others, Journal of
//! Statistical Software 67 (2015) 1–48; N. E. Breslow, D. G. Clayton, Journal of the
//! American Statistical Association 88 (1993) 9–25). The deviance −2 ln f(y | û, v̂) +
//! û'û + v̂'v̂ + ln det(I + A'WA) is minimised over σ and β together, with its exact
//! gradient.
//!
//! How the work is divided:
//!
//! ```text
//! data      rows → cells of equal levels and fixed effects
//! logistic  the fit without random intercepts; separation and collinearity
//! layout    the cells of one model in the order its sums run
//! inner     the joint mode and the deviance at given σ and β
//! slope     the exact gradient there, and what is known of each level
//! dense     Cholesky and friends
//! search    the minimum over σ and β, standard errors
//! models    those compared: none, one or both factors
//! fit       which holds, and what it says
//! answer    the types it is said in
//! levels    each level's effect, observed and expected
//! islands   parts of the data that never meet
//! ```
//!
//! When it misleads. With few trials a level and large σ Laplace's approximation is off
//! ([`Caution`]). Levels on different islands are compared by assumption only. A level
//! met by one partner alone says nothing about either. Fixed effects that go with one
//! factor's levels rest on the number of levels, not of trials; the model knows that, if
//! the levels are independent. Where they are not, as places of one area that differ
//! together, give the area as a fixed effect: without it 95 % intervals held the truth in
//! 88 % of simulated cases, with it in 94 %.

mod answer;
mod data;
mod dense;
mod error;
mod fit;
mod inner;
mod islands;
mod layout;
mod levels;
mod logistic;
mod models;
mod search;
mod slope;

pub use answer::{Caution, Coefficient, Deviance, Factor, Fit};
pub use data::{Cell, Data};
pub use error::{CrossedError, Side};
pub use fit::{deviance_at, fit, fit_while};
pub use islands::{Islands, islands};
pub use levels::Level;
