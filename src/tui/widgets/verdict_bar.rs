//! How a set of draws divides into the four verdicts, as one bar of their glyphs.

use ratatui::text::Span;

use crate::analysis::Tally;
use crate::model::Verdict;
use crate::tui::theme::Theme;

/// The count of a verdict.
pub(crate) const fn count_of(tally: &Tally, verdict: Verdict) -> u64 {
    match verdict {
        Verdict::Unrepresentative => tally.unrepresentative,
        Verdict::Unproven => tally.unproven,
        Verdict::Doubtful => tally.doubtful,
        Verdict::Representative => tally.representative,
    }
}

/// How many of `width` cells each verdict gets, in the order of [`Verdict::ALL`]. They sum
/// up to `width` (to 0 without draws), and no verdict that occurs goes without a cell while
/// there are enough.
pub(crate) fn cells(tally: &Tally, width: usize) -> [usize; 4] {
    let counts = Verdict::ALL.map(|verdict| count_of(tally, verdict));
    let all: u64 = counts.iter().sum();
    if all == 0 {
        return [0; 4];
    }
    let exact = counts.map(|count| count as f64 * width as f64 / all as f64);
    let mut cells = [0; 4];
    for at in 0..4 {
        let least = usize::from(counts[at] > 0 && width >= 4);
        cells[at] = (exact[at].floor() as usize).max(least);
    }
    loop {
        let sum: usize = cells.iter().sum();
        let gap = |at: &usize| exact[*at] - cells[*at] as f64;
        let compare = |a: &usize, b: &usize| gap(a).total_cmp(&gap(b));
        if sum < width {
            let Some(at) = (0..4).max_by(compare) else {
                break;
            };
            cells[at] += 1;
        } else if sum > width {
            let Some(at) = (0..4).filter(|at| cells[*at] > 1).min_by(compare) else {
                break;
            };
            cells[at] -= 1;
        } else {
            break;
        }
    }
    cells
}

/// `✗✗✗✗✗?~~~✓✓✓✓✓✓✓`: exactly `width` cells, or nothing without draws.
pub(crate) fn spans(tally: &Tally, width: usize, theme: Theme) -> Vec<Span<'static>> {
    Verdict::ALL
        .into_iter()
        .zip(cells(tally, width))
        .map(|(verdict, cells)| {
            let glyph = theme.verdict_glyph(verdict);
            Span::styled(glyph.repeat(cells), theme.verdict(verdict))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_bar_is_full_and_shows_every_verdict_that_occurs(
            counts in proptest::array::uniform4(0u64..2000), width in 4usize..200
        ) {
            let [unrepresentative, unproven, doubtful, representative] = counts;
            let draws = counts.iter().sum();
            let tally = Tally { draws, unrepresentative, doubtful, representative, unproven };
            let cells = cells(&tally, width);
            let sum: usize = cells.iter().sum();
            prop_assert_eq!(sum, if draws == 0 { 0 } else { width });
            for (cells, count) in cells.into_iter().zip(counts) {
                prop_assert_eq!(cells > 0, count > 0);
            }
        }
    }
}
