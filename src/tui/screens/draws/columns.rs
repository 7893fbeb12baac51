//! The columns of the list of draws and how it sorts by them.

use crate::analysis::{Assessed, row_score};

/// What the list of draws can be sorted by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Column {
    /// The verdict, worst first.
    Verdict,
    /// When it was drawn.
    #[default]
    Date,
    /// The name of the point.
    Point,
    /// The technician's name.
    Technician,
    /// The score of class sample; draws without one come first.
    Score,
    /// How many rules are broken.
    Broken,
}

impl Column {
    /// Every column, from left to right.
    pub const ALL: [Column; 6] = [
        Column::Verdict,
        Column::Date,
        Column::Point,
        Column::Technician,
        Column::Score,
        Column::Broken,
    ];

    /// Its heading.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Column::Verdict => "verdict",
            Column::Date => "drawn",
            Column::Point => "point",
            Column::Technician => "technician",
            Column::Score => "score",
            Column::Broken => "broken",
        }
    }

    /// The column to its right, from the last to the first.
    #[must_use]
    pub fn next(self) -> Self {
        let at = Self::ALL.iter().position(|column| *column == self);
        Self::ALL[(at.unwrap_or(0) + 1) % Self::ALL.len()]
    }

    /// Whether the list begins with the highest value when it is first sorted this way.
    #[must_use]
    pub const fn begins_high(self) -> bool {
        matches!(self, Column::Date | Column::Broken)
    }

    /// For columns of names: the rank of each point or technician by name.
    pub(crate) fn ranks(self, assessed: &Assessed) -> Vec<u32> {
        match self {
            Column::Point => ranks(assessed.points.iter().map(|point| point.id.clone())),
            Column::Technician => ranks(assessed.technicians.iter().map(|technician| {
                technician
                    .name
                    .clone()
                    .unwrap_or_else(|| technician.id.clone())
            })),
            _ => Vec::new(),
        }
    }

    /// What the draw in this row is sorted by, as a whole number.
    pub(crate) fn key(self, assessed: &Assessed, ranks: &[u32], row: usize) -> u32 {
        let judged = &assessed.judged;
        match self {
            Column::Verdict => u32::from(judged.verdict[row].index()),
            Column::Date => u32::try_from(row).unwrap_or(u32::MAX),
            Column::Point => ranks[judged.point[row] as usize],
            Column::Technician => ranks[judged.technician[row] as usize],
            Column::Score => row_score(assessed, row).score.map_or(0, |score| {
                // Scores lie in 0..=100 and are parts of whole weights, so nothing is lost at
                // some hundred-millionth.
                (score * 4e7) as u32 + 1
            }),
            Column::Broken => judged.broken[row].len(),
        }
    }
}

fn ranks(names: impl Iterator<Item = String>) -> Vec<u32> {
    let mut named: Vec<(String, usize)> = names
        .map(|name| name.to_lowercase())
        .enumerate()
        .map(|(place, name)| (name, place))
        .collect();
    named.sort();
    let mut ranks = vec![0; named.len()];
    for (rank, (_, place)) in named.into_iter().enumerate() {
        ranks[place] = u32::try_from(rank).unwrap_or(u32::MAX);
    }
    ranks
}
