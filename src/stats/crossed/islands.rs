//! Parts of the data that never meet: levels joined by the cells they share.
//!
//! Across islands a comparison rests on assumption alone: the model splits the gap in
//! proportion to σ² over levels, and can call the better side worse.

use super::data::Data;

/// Which island each level is on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Islands {
    /// How many there are.
    pub count: usize,
    /// For each factor, the island of each level, numbered in the order of the first
    /// factor's levels; `None` for a level that takes no part.
    pub of: [Vec<Option<usize>>; 2],
}

/// Joins the levels of the cells in which two levels share at least `least` trials. With
/// `least` 1 these are the islands proper; more islands at a larger `least` mean that
/// parts hang together by a few trials only.
#[must_use]
pub fn islands(data: &Data, least: u64) -> Islands {
    let [first, second] = data.levels;
    let mut parent: Vec<usize> = (0..first + second).collect();
    let mut takes_part = vec![false; first + second];
    for pair in data.cells.chunk_by(|a, b| a.levels == b.levels) {
        if pair.iter().map(|cell| cell.trials).sum::<u64>() < least {
            continue;
        }
        let ends = [
            pair[0].levels[0] as usize,
            first + pair[0].levels[1] as usize,
        ];
        ends.iter().for_each(|&end| takes_part[end] = true);
        let [a, b] = ends.map(|end| root(&mut parent, end));
        parent[a.max(b)] = a.min(b);
    }
    let mut number = vec![None; first + second];
    let mut count = 0;
    let mut islands = Vec::new();
    for (level, takes_part) in takes_part.into_iter().enumerate() {
        let root = root(&mut parent, level);
        islands.push(takes_part.then(|| {
            *number[root].get_or_insert_with(|| {
                count += 1;
                count - 1
            })
        }));
    }
    let seconds = islands.split_off(first);
    Islands {
        count,
        of: [islands, seconds],
    }
}

/// The smallest level joined with this one; shortens the way there.
fn root(parent: &mut [usize], mut level: usize) -> usize {
    while parent[level] != level {
        parent[level] = parent[parent[level]];
        level = parent[level];
    }
    level
}
