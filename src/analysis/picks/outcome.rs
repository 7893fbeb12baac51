//! What the verification of a pick says about the whole.
//!
//! The error rate is the share of draws whose record turned out not to be so. Its bounds
//! are exact: Clopper and Pearson's for a process that goes on for ever, the
//! hypergeometric one for the draws of the population. What could not be verified is shown
//! both ways, left out and counted as error: the truth lies between.

use super::{Pick, allot};
use crate::model::Verdict;
use crate::model::decisions::pick::{Outcome as Result, Stratum};
use crate::stats::kappa::{Kappa, Weights, agreement_on, kappa};
use crate::stats::{discovery, exact};

/// How many draws have which result.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Draws picked.
    pub picked: u64,
    /// The record agrees with what was found.
    pub agree: u64,
    /// It does not.
    pub disagree: u64,
    /// It could not be verified.
    pub unverified: u64,
}

impl Counts {
    /// Draws without a result yet.
    #[must_use]
    pub fn open(&self) -> u64 {
        self.picked - self.agree - self.disagree - self.unverified
    }

    fn add(&mut self, result: Option<Result>) {
        self.picked += 1;
        match result {
            Some(Result::Agree) => self.agree += 1,
            Some(Result::Disagree) => self.disagree += 1,
            Some(Result::Unverified) => self.unverified += 1,
            None => {}
        }
    }
}

/// An error rate with its bounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Draws that count.
    pub checked: u64,
    /// Errors among them.
    pub errors: u64,
    /// Errors of checked ones; `None` if nothing counts.
    pub rate: Option<f64>,
    /// The one-sided upper bound on the rate of a process that goes on (Clopper-Pearson).
    pub upper: Option<f64>,
    /// The one-sided upper bound on the errors in the population (hypergeometric).
    pub most: Option<u64>,
    /// The two-sided interval of the errors in the population (hypergeometric).
    pub between: Option<(u64, u64)>,
}

/// What a pick says.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// The confidence of the bounds, a part of one.
    pub confidence: f64,
    /// Counts over all parts.
    pub counts: Counts,
    /// Counts of each part, in their order.
    pub parts: Vec<Counts>,
    /// Whether the parts were picked in proportion. Where `--at-least` bent that, one draw
    /// stands for more than another and the bounds say nothing about the whole.
    pub in_proportion: bool,
    /// With what could not be verified left out; none where the parts are out of
    /// proportion.
    pub left_out: Option<Bounds>,
    /// With it counted as error.
    pub as_errors: Option<Bounds>,
    /// The error rate over the population with each part weighted by its size, unverified
    /// ones left out; none where a part has no result.
    pub weighted: Option<f64>,
    /// The verifier's word on the sample against the record's verdict: rows are the record
    /// (unrepresentative, else), columns the verifier.
    pub verdicts: [[u64; 2]; 2],
    /// Draws with the verifier's word whose verdict is unproven; they are left out above.
    pub unproven: u64,
    /// Cohen's kappa of that table; none without any.
    pub kappa: Option<Kappa>,
    /// Agreement on unrepresentative ones, and on the others.
    pub agreement_on: [Option<f64>; 2],
}

/// What a pick says, at this confidence (a part of one).
#[must_use]
pub fn outcome(pick: &Pick, confidence: f64) -> Outcome {
    let drawn = &pick.drawn;
    let (mut counts, mut parts) = (Counts::default(), Vec::new());
    let mut results = pick.results.iter();
    for stratum in &drawn.strata {
        let mut part = Counts::default();
        for result in results.by_ref().take(stratum.picked as usize) {
            let result = result.as_ref().map(|(_, verified)| verified.result);
            counts.add(result);
            part.add(result);
        }
        parts.push(part);
    }
    let in_proportion = is_in_proportion(&drawn.strata);
    let bounds = |checked, errors| {
        in_proportion.then(|| bounds(drawn.population, checked, errors, confidence))
    };
    let verified = counts.agree + counts.disagree;
    let (verdicts, unproven) = verdict_table(pick);
    let table: Vec<Vec<u64>> = verdicts.iter().map(|row| row.to_vec()).collect();
    Outcome {
        confidence,
        counts,
        in_proportion,
        left_out: bounds(verified, counts.disagree),
        as_errors: bounds(
            verified + counts.unverified,
            counts.disagree + counts.unverified,
        ),
        weighted: weighted(pick, &parts),
        parts,
        verdicts,
        unproven,
        kappa: kappa(&table, Weights::Equal),
        agreement_on: [agreement_on(&table, 0), agreement_on(&table, 1)],
    }
}

/// Whether the parts were picked as they would have been without `--at-least`.
fn is_in_proportion(strata: &[Stratum]) -> bool {
    let draws: Vec<u64> = strata.iter().map(|stratum| stratum.draws).collect();
    let picked: Vec<u64> = strata.iter().map(|stratum| stratum.picked).collect();
    allot(&draws, picked.iter().sum(), 0) == picked
}

fn bounds(population: u64, checked: u64, errors: u64, confidence: f64) -> Bounds {
    let sided = |confidence| discovery::bad_in_all(population, checked, errors, confidence);
    Bounds {
        checked,
        errors,
        rate: (checked > 0).then(|| errors as f64 / checked as f64),
        upper: exact::upper_bound(errors, checked, confidence),
        most: sided(confidence).map(|(_, most)| most),
        between: sided(f64::midpoint(1.0, confidence)),
    }
}

/// Σ N_h d_h / n_h over N.
fn weighted(pick: &Pick, parts: &[Counts]) -> Option<f64> {
    let mut errors = 0.0;
    for (stratum, part) in pick.drawn.strata.iter().zip(parts) {
        let checked = part.agree + part.disagree;
        if checked == 0 {
            return None;
        }
        errors += stratum.draws as f64 * part.disagree as f64 / checked as f64;
    }
    (pick.drawn.population > 0).then(|| errors / pick.drawn.population as f64)
}

/// The verifier's word against the record's verdict, and how many of those are unproven.
fn verdict_table(pick: &Pick) -> ([[u64; 2]; 2], u64) {
    let (mut table, mut unproven) = ([[0; 2]; 2], 0);
    for (seen, result) in pick.drawn.draws.iter().zip(&pick.results) {
        let said = result.as_ref().and_then(|(_, said)| said.representative);
        let Some(representative) = said else { continue };
        match Verdict::parse(&seen.verdict) {
            Some(Verdict::Unproven) | None => unproven += 1,
            Some(verdict) => {
                let row = usize::from(verdict != Verdict::Unrepresentative);
                table[row][usize::from(representative)] += 1;
            }
        }
    }
    (table, unproven)
}
