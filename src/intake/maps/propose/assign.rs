//! Which header goes to which column: the pairs of greatest total, one to one.

/// For each row the column that it goes to, so that the sum of the weights is greatest; pairs
/// of weight 0 are left out. The Hungarian method in its shortest-path form (Kuhn 1955,
/// Jonker and Volgenant 1987), in time rows² · columns.
pub fn assign(weights: &[Vec<f64>]) -> Vec<Option<usize>> {
    let rows = weights.len();
    let columns = weights.first().map_or(0, Vec::len);
    // A row that goes nowhere goes to a column of its own of weight 0.
    let width = columns + rows;
    let cost = |row: usize, column: usize| -weights[row].get(column).copied().unwrap_or(0.0);
    let mut row_price = vec![0.0; rows + 1];
    let mut column_price = vec![0.0; width + 1];
    // Counted from 1; 0 is nobody.
    let mut taken_by = vec![0; width + 1];
    for row in 1..=rows {
        let mut least = vec![f64::INFINITY; width + 1];
        let mut came_from = vec![0; width + 1];
        let mut seen = vec![false; width + 1];
        taken_by[0] = row;
        let mut at = 0;
        loop {
            seen[at] = true;
            let from = taken_by[at];
            let (mut step, mut next) = (f64::INFINITY, 0);
            for column in 1..=width {
                if seen[column] {
                    continue;
                }
                let reduced = cost(from - 1, column - 1) - row_price[from] - column_price[column];
                if reduced < least[column] {
                    least[column] = reduced;
                    came_from[column] = at;
                }
                if least[column] < step {
                    step = least[column];
                    next = column;
                }
            }
            for column in 0..=width {
                if seen[column] {
                    row_price[taken_by[column]] += step;
                    column_price[column] -= step;
                } else {
                    least[column] -= step;
                }
            }
            at = next;
            if taken_by[at] == 0 {
                break;
            }
        }
        while at != 0 {
            let before = came_from[at];
            taken_by[at] = taken_by[before];
            at = before;
        }
    }
    let mut places = vec![None; rows];
    for column in 1..=columns {
        let row = taken_by[column];
        if row != 0 && weights[row - 1][column - 1] > 0.0 {
            places[row - 1] = Some(column - 1);
        }
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn total(weights: &[Vec<f64>], places: &[Option<usize>]) -> f64 {
        let pairs = places.iter().enumerate();
        pairs
            .filter_map(|(row, place)| Some(weights[row][(*place)?]))
            .sum()
    }

    /// The best total by trying everything.
    fn best(weights: &[Vec<f64>], row: usize, used: u32) -> f64 {
        if row == weights.len() {
            return 0.0;
        }
        let mut top = best(weights, row + 1, used);
        for (column, weight) in weights[row].iter().enumerate() {
            if used & (1 << column) == 0 {
                top = top.max(weight + best(weights, row + 1, used | 1 << column));
            }
        }
        top
    }

    #[test]
    fn the_whole_counts_and_not_the_first_come() {
        let weights = vec![vec![0.9, 0.8], vec![0.85, 0.0]];
        assert_eq!(assign(&weights), [Some(1), Some(0)]);
        assert_eq!(assign(&[vec![0.0, 0.0]]), [None]);
        assert_eq!(assign(&[]), []);
        assert_eq!(assign(&[vec![], vec![]]), [None, None]);
    }

    proptest! {
        #[test]
        fn no_other_pairing_has_a_greater_total(
            weights in (1usize..6, 1usize..6).prop_flat_map(|(rows, columns)| {
                prop::collection::vec(prop::collection::vec(0u8..20, columns), rows)
            })
        ) {
            let weights: Vec<Vec<f64>> = (weights.iter())
                .map(|row| row.iter().map(|weight| f64::from(*weight)).collect())
                .collect();
            let places = assign(&weights);
            let mut used: Vec<usize> = places.iter().flatten().copied().collect();
            used.sort_unstable();
            let count = used.len();
            used.dedup();
            prop_assert_eq!(used.len(), count);
            prop_assert!((total(&weights, &places) - best(&weights, 0, 0)).abs() < 1e-9);
        }
    }
}
