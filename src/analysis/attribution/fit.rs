//! The model fitted, and its answer in the words of this trade.

use super::adjust::in_order;
use super::counts::Counts;
use super::design::{Design, named};
use super::given_way::GivenWay;
use super::{Adjust, Attribution, Caution, Island, NoAnswer, Part, Unit};
use crate::analysis::{Assessed, Selection};
use crate::stats::crossed::{self, Factor, Fit, Level};
use crate::stats::wilson::Z_95;

/// Tells people and points apart over the judged draws of a selection, adjusted for what is
/// given (in any order; doubles count once).
///
/// `keep_going` is asked before every evaluation of the model, some thirty to a hundred in
/// all. A million draws take seconds: keep it off the thread that draws the screen.
///
/// # Errors
/// Why there is no answer.
pub fn attribute(
    assessed: &Assessed,
    selection: &Selection,
    adjust: &[Adjust],
    keep_going: &mut dyn FnMut() -> bool,
) -> Result<Attribution, NoAnswer> {
    let adjust = in_order(adjust);
    let counts = Counts::of(assessed, selection, &adjust)?;
    has_an_answer(assessed, &counts)?;
    if !keep_going() {
        return Err(NoAnswer::Stopped);
    }
    let mut given_way = GivenWay::nothing(counts.counts.len());
    loop {
        let design = Design::new(assessed, &counts, &adjust, &given_way)?;
        match crossed::fit_while(&design.data, keep_going) {
            Ok(fit) => return Ok(answer(assessed, counts.unproven, design, &fit)),
            Err(error) if given_way.to(&error, &design, &counts) => {}
            Err(error) => return Err(named(error, &design.columns)),
        }
    }
}

/// Whether the question has an answer at all.
fn has_an_answer(assessed: &Assessed, counts: &Counts) -> Result<(), NoAnswer> {
    let (events, draws) = counts.totals();
    let Some(first) = counts.counts.first() else {
        return Err(NoAnswer::NoDraws);
    };
    if events == 0 {
        return Err(NoAnswer::AllRepresentative { draws });
    }
    if events == draws {
        return Err(NoAnswer::AllUnrepresentative { draws });
    }
    if counts
        .counts
        .iter()
        .all(|count| count.technician == first.technician)
    {
        let id = assessed.technicians[first.technician as usize].id.clone();
        return Err(NoAnswer::OneTechnician { id, draws });
    }
    Ok(())
}

fn answer(assessed: &Assessed, unproven: u64, design: Design, fit: &Fit) -> Attribution {
    let Design {
        technicians,
        points,
        mut columns,
        references,
        left_out,
        follows,
        ..
    } = design;
    for (column, effect) in columns.iter_mut().zip(&fit.coefficients[1..]) {
        column.effect = *effect;
    }
    let (islands, place_of) = islands(fit, &technicians, &points);
    let mut attribution = Attribution {
        draws: fit.trials,
        unrepresentative: fit.events,
        unproven,
        intercept: fit.coefficients[0],
        deviance: fit.deviance.total(),
        references,
        adjusted: columns,
        left_out,
        follows,
        technicians: part(&fit.factors[0], &technicians, &place_of),
        points: part(&fit.factors[1], &points, &place_of),
        islands,
        cautions: Vec::new(),
    };
    attribution.cautions = Caution::all(assessed, &attribution, &fit.cautions);
    attribution
}

fn part(factor: &Factor, places: &[u32], island_of: &[usize]) -> Part {
    let units = factor.levels.iter().zip(places);
    Part {
        sigma: factor.sigma,
        sigma_se: factor.sigma_se,
        median_odds_ratio: factor.median_odds_ratio,
        variance_share: factor.variance_share,
        p: factor.p,
        units: units
            .map(|(level, place)| unit(level, *place, island_of))
            .collect(),
    }
}

fn unit(level: &Level, place: u32, island_of: &[usize]) -> Unit {
    let (odds_ratio, low, high) = level.odds_ratio(Z_95);
    Unit {
        place,
        draws: level.trials,
        unrepresentative: level.events,
        expected: level.expected,
        effect: level.effect,
        effect_se: level.effect_se,
        odds_ratio,
        low,
        high,
        // Every unit of the model has draws, and with them a p, a q and an island.
        p: level.p.unwrap_or(1.0),
        q: level.q.unwrap_or(1.0),
        shared: level.shared_trials,
        island: level.island.map_or(0, |island| island_of[island]),
    }
}

/// The islands, the one with most draws first, and the new place of each of the model's.
fn islands(fit: &Fit, technicians: &[u32], points: &[u32]) -> (Vec<Island>, Vec<usize>) {
    let mut found = vec![Island::default(); fit.islands.count];
    for (level, place) in fit.factors[0].levels.iter().zip(technicians) {
        if let Some(island) = level.island {
            found[island].technicians.push(*place);
            found[island].draws += level.trials;
        }
    }
    for (level, place) in fit.factors[1].levels.iter().zip(points) {
        if let Some(island) = level.island {
            found[island].points.push(*place);
        }
    }
    let mut order: Vec<usize> = (0..found.len()).collect();
    order.sort_by_key(|island| (std::cmp::Reverse(found[*island].draws), *island));
    let mut place_of = vec![0; found.len()];
    for (place, island) in order.iter().enumerate() {
        place_of[*island] = place;
    }
    (
        order
            .into_iter()
            .map(|island| found[island].clone())
            .collect(),
        place_of,
    )
}
