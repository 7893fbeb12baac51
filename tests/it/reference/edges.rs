//! Where the crossed model has little or nothing to say, it says so.

use fairdraw::stats::crossed::{
    Caution, Cell, CrossedError, Data, Fit, Side, deviance_at, fit, fit_while, islands,
};

fn cell(first: u32, second: u32, pattern: u32, events: u64, trials: u64) -> Cell {
    Cell {
        levels: [first, second],
        pattern,
        events,
        trials,
    }
}

fn data(levels: [usize; 2], patterns: &[Vec<f64>], cells: &[Cell]) -> Data {
    Data::new(levels, patterns, cells.iter().copied()).unwrap()
}

fn plain(levels: [usize; 2], cells: &[Cell]) -> Result<Fit, CrossedError> {
    fit(&data(levels, &[vec![]], cells))
}

#[test]
fn nothing_and_constants_have_no_model() {
    assert_eq!(plain([0, 0], &[]).unwrap_err(), CrossedError::Empty);
    assert_eq!(
        plain([3, 3], &[cell(0, 0, 0, 0, 0)]).unwrap_err(),
        CrossedError::Empty
    );
    let one_row = plain([1, 1], &[cell(0, 0, 0, 1, 1)]).unwrap_err();
    assert_eq!(
        one_row,
        CrossedError::OneOutcome {
            events: 1,
            trials: 1
        }
    );
    let all_good = plain([2, 2], &[cell(0, 0, 0, 0, 9), cell(1, 1, 0, 0, 4)]).unwrap_err();
    assert_eq!(
        all_good.to_string(),
        "0 of 13 trials have the event: nothing varies, so nothing can be explained"
    );
}

#[test]
fn cells_that_contradict_themselves_are_refused() {
    for wrong in [
        cell(0, 0, 0, 5, 4),
        cell(2, 0, 0, 1, 4),
        cell(0, 2, 0, 1, 4),
        cell(0, 0, 1, 1, 4),
    ] {
        let refused = Data::new([2, 2], &[vec![]], [cell(0, 0, 0, 1, 2), wrong]).unwrap_err();
        assert_eq!(refused, CrossedError::Cell { cell: 1 });
    }
    let ragged = Data::new([1, 1], &[vec![1.0], vec![]], []).unwrap_err();
    assert_eq!(ragged, CrossedError::Pattern { pattern: 1 });
    let endless = Data::new([1, 1], &[vec![f64::NAN]], []).unwrap_err();
    assert_eq!(endless, CrossedError::Pattern { pattern: 0 });
}

#[test]
fn one_level_of_a_factor_is_no_factor() {
    let cells = [
        cell(0, 0, 0, 5, 40),
        cell(0, 1, 0, 20, 40),
        cell(0, 2, 0, 9, 40),
        cell(0, 3, 0, 1, 40),
    ];
    let found = plain([1, 4], &cells).unwrap();
    assert_eq!(found.factors[0].sigma, 0.0);
    assert!(found.factors[1].sigma > 0.5);
    assert_eq!(found.cautions, [Caution::OneLevel { side: Side::First }]);
    // levels that take no part don't count
    let padded: Vec<Cell> = cells
        .iter()
        .map(|c| Cell {
            levels: [3, c.levels[1]],
            ..*c
        })
        .collect();
    let padded = plain([5, 9], &padded).unwrap();
    assert!((padded.factors[1].sigma - found.factors[1].sigma).abs() < 1e-9);
    let absent = padded.factors[1].levels[8];
    assert_eq!(
        (absent.trials, absent.p, absent.q, absent.island),
        (0, None, None, None)
    );

    let one_pair = plain([1, 1], &[cell(0, 0, 0, 3, 10)]).unwrap();
    assert!((one_pair.coefficients[0].value - (0.3_f64 / 0.7).ln()).abs() < 1e-12);
    // the textbook standard error of log odds: the root of 1/3 + 1/7
    assert!((one_pair.coefficients[0].se - (1.0 / 3.0 + 1.0 / 7.0_f64).sqrt()).abs() < 1e-9);
    assert_eq!(one_pair.cautions.len(), 2);
}

#[test]
fn islands_are_found_and_said() {
    let cells = [
        cell(0, 0, 0, 3, 20),
        cell(1, 0, 0, 5, 20),
        cell(1, 1, 0, 8, 20),
        cell(2, 2, 0, 2, 20),
        cell(3, 2, 0, 9, 20),
    ];
    let found = plain([4, 3], &cells).unwrap();
    assert!(found.cautions.contains(&Caution::Islands { count: 2 }));
    let of = |side: usize| -> Vec<Option<usize>> {
        found.factors[side]
            .levels
            .iter()
            .map(|level| level.island)
            .collect()
    };
    assert_eq!(of(0), [Some(0), Some(0), Some(1), Some(1)]);
    assert_eq!(of(1), [Some(0), Some(0), Some(1)]);
    // point 1 is met by one level only, so its trials tell nothing apart
    let shared: Vec<u64> = found.factors[0]
        .levels
        .iter()
        .map(|level| level.shared_trials)
        .collect();
    assert_eq!(shared, [20, 20, 20, 20]);

    let bridged = [&cells[..], &[cell(0, 2, 0, 1, 2)]].concat();
    let bridged = data([4, 3], &[vec![]], &bridged);
    assert_eq!(islands(&bridged, 1).count, 1);
    assert_eq!(islands(&bridged, 3).count, 2);
    assert_eq!(islands(&bridged, 21).count, 0);
}

#[test]
fn two_names_for_one_factor_are_refused() {
    let cells = [
        cell(0, 2, 0, 3, 20),
        cell(1, 0, 0, 9, 20),
        cell(2, 1, 0, 1, 20),
    ];
    assert_eq!(
        plain([3, 3], &cells).unwrap_err(),
        CrossedError::Inseparable
    );
    let one_more = [&cells[..], &[cell(2, 2, 0, 4, 20)]].concat();
    assert!(plain([3, 3], &one_more).is_ok());
}

#[test]
fn fixed_effects_that_cannot_be_estimated_are_named() {
    let cells = [
        cell(0, 0, 0, 3, 20),
        cell(1, 0, 1, 5, 20),
        cell(0, 1, 0, 8, 20),
        cell(1, 1, 2, 0, 20),
    ];
    let with = |patterns: &[Vec<f64>]| fit(&data([2, 2], patterns, &cells)).unwrap_err();
    let constant = with(&[vec![2.0, 1.0], vec![2.0, 0.0], vec![2.0, 3.0]]);
    assert_eq!(constant, CrossedError::Collinear { column: 0 });
    let doubled = with(&[vec![1.0, 2.0], vec![0.0, 0.0], vec![3.0, 6.0]]);
    assert_eq!(doubled, CrossedError::Collinear { column: 1 });
    // pattern 2 has no events at all
    let separated = with(&[vec![0.0, 0.0], vec![1.0, 0.0], vec![0.0, 1.0]]);
    assert_eq!(
        separated,
        CrossedError::Separated {
            column: 1,
            pattern: None
        }
    );
    // the same, hidden in a column of three values
    let hidden = fit(&data(
        [2, 2],
        &[vec![1.0], vec![2.0], vec![7.0]],
        &[
            cell(0, 0, 0, 0, 20),
            cell(1, 0, 1, 0, 20),
            cell(0, 1, 2, 20, 20),
        ],
    ));
    let hidden = hidden.unwrap_err();
    assert!(
        matches!(
            hidden,
            CrossedError::Separated {
                column: 0,
                pattern: Some(_)
            }
        ),
        "{hidden:?}"
    );
}

#[test]
fn levels_with_all_or_nothing_have_no_finite_spread() {
    let cells: Vec<Cell> = (0..8)
        .flat_map(|a| (0..6).map(move |b| cell(a, b, 0, if a < 3 { 400 } else { 0 }, 400)))
        .collect();
    assert_eq!(
        plain([8, 6], &cells).unwrap_err(),
        CrossedError::Unbounded { side: Side::First }
    );
}

#[test]
fn too_many_levels_are_refused_before_the_work() {
    // a hundred thousand would need 80 GB
    let vast = data(
        [100_000; 2],
        &[vec![]],
        &[
            cell(9, 0, 0, 1, 2),
            cell(9, 7, 0, 0, 2),
            cell(8, 7, 0, 1, 2),
        ],
    );
    assert_eq!(
        fit(&vast).unwrap_err(),
        CrossedError::TooManyLevels {
            levels: 100_000,
            most: 3_000
        }
    );
    assert!(deviance_at(&vast, [1.0; 2], &[0.0]).is_err());
    let cells: Vec<Cell> = (0..6_002)
        .map(|i| cell(i / 2, i * 7 % 3_001, 0, u64::from(i % 3 == 0), 2))
        .collect();
    assert_eq!(
        plain([3_001, 3_001], &cells).unwrap_err(),
        CrossedError::TooManyLevels {
            levels: 3_001,
            most: 3_000
        }
    );
}

#[test]
fn long_work_can_be_stopped() {
    let cells: Vec<Cell> = (0..200)
        .map(|i| cell(i % 10, i % 7, 0, u64::from(i) % 4, 5))
        .collect();
    let data = data([10, 7], &[vec![]], &cells);
    let mut left = 5;
    let stopped = fit_while(&data, &mut || {
        left -= 1;
        left > 0
    });
    assert_eq!(stopped.unwrap_err(), CrossedError::Stopped);
}

#[test]
fn few_trials_a_level_are_pointed_out() {
    let cells: Vec<Cell> = (0..60)
        .map(|i| cell(i % 20, i % 3, 0, u64::from(i % 7 < 3), 1))
        .collect();
    let found = plain([20, 3], &cells).unwrap();
    assert!(found.cautions.contains(&Caution::FewTrials {
        side: Side::First,
        median: 3
    }));
}
