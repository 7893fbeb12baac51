//! The cells of one model in the order its sums run: by level of the larger factor, then
//! pair of levels, then cell.

use std::ops::Range;

use super::data::Data;
use super::error::Side;

/// Cells of a model with none, one or both of the factors. A factor left out has one
/// level.
pub struct Layout {
    /// The factor with fewer levels, if the model has two.
    pub small: Option<Side>,
    /// The factor with more levels, if the model has any.
    pub large: Option<Side>,
    /// Numbers of levels, smaller and larger.
    pub sizes: [usize; 2],
    /// Patterns of fixed effects, scaled.
    pub rows: Vec<Vec<f64>>,
    pub events: Vec<f64>,
    pub trials: Vec<f64>,
    pub pattern: Vec<u32>,
    /// Level of the smaller factor of each pair.
    pub pair_small: Vec<u32>,
    /// First cell of each pair, and the end.
    pair_start: Vec<usize>,
    /// First pair of each level of the larger factor, and the end.
    large_start: Vec<usize>,
}

impl Layout {
    pub fn new(data: &Data, rows: Vec<Vec<f64>>, sides: &[Side]) -> Layout {
        let mut by_size = sides.to_vec();
        by_size.sort_by_key(|side| (data.levels[side.index()], *side));
        let large = by_size.pop();
        let small = by_size.pop();
        let level = |side: Option<Side>, levels: [u32; 2]| side.map_or(0, |s| levels[s.index()]);
        let size = |side: Option<Side>| side.map_or(1, |s| data.levels[s.index()]);
        let mut cells: Vec<(u32, u32, u32, u64, u64)> = data
            .cells
            .iter()
            .map(|cell| {
                let (l, s) = (level(large, cell.levels), level(small, cell.levels));
                (l, s, cell.pattern, cell.events, cell.trials)
            })
            .collect();
        cells.sort_unstable();
        cells.dedup_by(|next, kept| {
            let same = (next.0, next.1, next.2) == (kept.0, kept.1, kept.2);
            if same {
                kept.3 += next.3;
                kept.4 += next.4;
            }
            same
        });
        let mut pair_start = Vec::new();
        let mut pair_small = Vec::new();
        let mut large_start = vec![0];
        let mut before = None;
        for (i, &(l, s, ..)) in cells.iter().enumerate() {
            if before != Some((l, s)) {
                large_start.resize(l as usize + 1, pair_start.len());
                pair_start.push(i);
                pair_small.push(s);
                before = Some((l, s));
            }
        }
        large_start.resize(size(large) + 1, pair_start.len());
        pair_start.push(cells.len());
        Layout {
            small,
            large,
            sizes: [size(small), size(large)],
            rows,
            events: cells.iter().map(|cell| cell.3 as f64).collect(),
            trials: cells.iter().map(|cell| cell.4 as f64).collect(),
            pattern: cells.iter().map(|cell| cell.2).collect(),
            pair_small,
            pair_start,
            large_start,
        }
    }

    /// The pairs of a level of the larger factor.
    pub fn pairs(&self, large: usize) -> Range<usize> {
        self.large_start[large]..self.large_start[large + 1]
    }

    /// The cells of a pair.
    pub fn cells(&self, pair: usize) -> Range<usize> {
        self.pair_start[pair]..self.pair_start[pair + 1]
    }
}
