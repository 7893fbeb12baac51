//! Rows to cells: everything the model needs, in an order of its own.

use super::error::CrossedError;

/// Trials that share both levels and the fixed effects. One trial a cell is fine:
/// [`Data::new`] sums equal ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cell {
    /// Level of the first and of the second factor, from 0. With one factor only, the
    /// second has one level, 0.
    pub levels: [u32; 2],
    /// Index of the pattern of fixed effects.
    pub pattern: u32,
    /// Trials with the event.
    pub events: u64,
    /// All trials.
    pub trials: u64,
}

/// What a model is fitted to.
#[derive(Clone, Debug)]
pub struct Data {
    pub(super) levels: [usize; 2],
    /// Rows of fixed effects, the intercept first.
    pub(super) patterns: Vec<Vec<f64>>,
    pub(super) cells: Vec<Cell>,
    log_coefficients: f64,
}

impl Data {
    /// Takes cells in any order, sorts them and sums equal ones, so that the order of
    /// rows cannot matter. `levels` are the numbers of levels of the two factors;
    /// `patterns` are the rows of fixed effects, without the intercept (one empty
    /// pattern if there are none). Cells without trials are dropped.
    ///
    /// # Errors
    ///
    /// If a cell contradicts itself or the sizes, or a pattern is not finite or not as
    /// long as the first.
    pub fn new(
        levels: [usize; 2],
        patterns: &[Vec<f64>],
        cells: impl IntoIterator<Item = Cell>,
    ) -> Result<Data, CrossedError> {
        for (i, pattern) in patterns.iter().enumerate() {
            let finite = pattern.iter().all(|value| value.is_finite());
            if !finite || pattern.len() != patterns[0].len() {
                return Err(CrossedError::Pattern { pattern: i });
            }
        }
        let mut taken: Vec<Cell> = Vec::new();
        for (i, cell) in cells.into_iter().enumerate() {
            let inside = (0..2).all(|side| (cell.levels[side] as usize) < levels[side])
                && (cell.pattern as usize) < patterns.len();
            if cell.events > cell.trials || !inside {
                return Err(CrossedError::Cell { cell: i });
            }
            if cell.trials > 0 {
                taken.push(cell);
            }
        }
        taken.sort_unstable();
        let log_coefficients = taken.iter().map(log_coefficient).sum();
        taken.dedup_by(|next, kept| {
            let same = next.levels == kept.levels && next.pattern == kept.pattern;
            if same {
                kept.events += next.events;
                kept.trials += next.trials;
            }
            same
        });
        let with_intercept = |row: &Vec<f64>| [&[1.0], row.as_slice()].concat();
        Ok(Data {
            levels,
            patterns: patterns.iter().map(with_intercept).collect(),
            cells: taken,
            log_coefficients,
        })
    }

    /// The cells, sorted, each combination once.
    #[must_use]
    pub fn cells(&self) -> &[Cell] {
        &self.cells
    }

    /// Numbers of levels, those without trials included.
    #[must_use]
    pub fn levels(&self) -> [usize; 2] {
        self.levels
    }

    /// The log of the binomial coefficients of the cells as they were given. Deviances
    /// here are those of trials one by one; minus twice this turns them into those of
    /// grouped data. Nothing else differs between the two.
    #[must_use]
    pub fn log_coefficients(&self) -> f64 {
        self.log_coefficients
    }

    /// Events and trials of all cells.
    #[must_use]
    pub fn totals(&self) -> (u64, u64) {
        let add = |(events, trials), cell: &Cell| (events + cell.events, trials + cell.trials);
        self.cells.iter().fold((0, 0), add)
    }

    /// Columns of fixed effects with the intercept.
    pub(super) fn columns(&self) -> usize {
        self.patterns.first().map_or(1, Vec::len)
    }
}

fn log_coefficient(cell: &Cell) -> f64 {
    let log_factorial = |n: u64| libm::lgamma(n as f64 + 1.0);
    if cell.trials < 2 {
        return 0.0;
    }
    log_factorial(cell.trials)
        - log_factorial(cell.events)
        - log_factorial(cell.trials - cell.events)
}
