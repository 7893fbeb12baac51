//! The situations of draws handed out, for whoever asks what the rules would say if
//! something were otherwise.

use rayon::prelude::*;

use super::groundwork::Groundwork;
use super::judge::Groups;
use super::order;
use super::surroundings::Surroundings;
use crate::model::progress::Stage;
use crate::model::{History, Progress, RuleSet};
use crate::rules::{InForce, Rulebook, Situation};

/// Draws between two looks at whether someone asked to stop.
const PIECE: usize = 4096;

/// One draw as judging sees it.
pub struct Open<'a> {
    /// The draw and its surroundings.
    pub situation: Situation<'a>,
    /// The rules in force at its point.
    pub in_force: &'a InForce,
    /// The rules that are on and whose kinds list the point's kind.
    pub rules: RuleSet,
}

/// Asks of every wanted draw of a history, in parallel. Each answer stands with the draw's
/// place in the history, compartment after compartment; `None` if `progress` asked to stop.
pub fn ask_each<T: Send>(
    history: &History,
    rulebook: &Rulebook,
    wanted: impl Fn(usize) -> bool + Sync,
    progress: &Progress,
    ask: impl Fn(&Open<'_>) -> T + Sync,
) -> Option<Vec<(u32, T)>> {
    progress.begin(Stage::Judging, history.draws.len() as u64);
    let (order, groundwork) = rayon::join(
        || order::of_all(history),
        || Groundwork::new(history, rulebook),
    );
    let groups = Groups::new(history, &groundwork, &order);
    let answers: Option<Vec<Vec<(u32, T)>>> = groups
        .each()
        .into_par_iter()
        .map_init(Surroundings::default, |surroundings, draws| {
            if progress.is_stopped() {
                return None;
            }
            let is_wanted = |place: &u32| wanted(*place as usize);
            if !draws.iter().any(is_wanted) {
                progress.advance(draws.len() as u64);
                return Some(Vec::new());
            }
            surroundings.look_at(history, &groundwork.bearers, draws);
            let surroundings = &*surroundings;
            let pieces: Option<Vec<Vec<(u32, T)>>> = draws
                .par_chunks(PIECE)
                .enumerate()
                .map(|(piece, draws)| {
                    if progress.is_stopped() {
                        return None;
                    }
                    let answers = (piece * PIECE..)
                        .zip(draws)
                        .filter(|(_, place)| is_wanted(place))
                        .map(|(inside, &place)| {
                            let point = surroundings.draw(inside).point;
                            let ground = &groundwork.points[point as usize];
                            let open = Open {
                                situation: surroundings.situation(inside, &ground.prepared),
                                in_force: ground.in_force,
                                rules: ground.rules,
                            };
                            (place, ask(&open))
                        })
                        .collect();
                    progress.advance(draws.len() as u64);
                    Some(answers)
                })
                .collect();
            Some(pieces?.into_iter().flatten().collect())
        })
        .collect();
    Some(answers?.into_iter().flatten().collect())
}
