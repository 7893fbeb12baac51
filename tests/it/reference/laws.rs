//! Laws the crossed model keeps whatever the data, and what it is for.

use fairdraw::stats::crossed::{Cell, Data, Fit, Side, fit};
use proptest::prelude::*;

/// A history: levels of both factors and cells with one of two patterns.
fn history() -> impl Strategy<Value = ([usize; 2], Vec<Cell>)> {
    (2_usize..6, 2_usize..8).prop_flat_map(|(first, second)| {
        let cell = (0..first, 0..second, 0_u32..2, 1_u64..25, 0.0..1.0_f64).prop_map(
            |(a, b, pattern, trials, share)| Cell {
                levels: [a as u32, b as u32],
                pattern,
                events: (share * share * trials as f64).round() as u64,
                trials,
            },
        );
        (Just([first, second]), prop::collection::vec(cell, 6..40))
    })
}

fn fitted(levels: [usize; 2], cells: &[Cell]) -> Option<Fit> {
    let patterns = [vec![0.0], vec![1.0]];
    fit(&Data::new(levels, &patterns, cells.iter().copied()).unwrap()).ok()
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-7 * one.abs().max(1.0)
}

/// Standard errors come from differences of gradients: with two or three levels and a
/// huge spread rounding shows in the sixth digit.
fn near_enough(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-4 * one.abs()
}

/// The same numbers but for rounding, after turning one fit's levels into the other's.
#[track_caller]
fn same(one: &Fit, other: &Fit, sides: [usize; 2], level: impl Fn(usize, usize) -> usize) {
    assert!(near(one.deviance.total(), other.deviance.total()));
    for (a, b) in one.coefficients.iter().zip(&other.coefficients) {
        assert!(
            near(a.value, b.value) && near_enough(a.se, b.se),
            "{a:?} {b:?}"
        );
    }
    for (side, turned) in sides.into_iter().enumerate() {
        let (a, b) = (&one.factors[side], &other.factors[turned]);
        assert!(near(a.sigma, b.sigma), "{} {}", a.sigma, b.sigma);
        assert!(near(a.gained, b.gained));
        for (i, x) in a.levels.iter().enumerate() {
            let y = &b.levels[level(side, i)];
            assert_eq!((x.trials, x.events), (y.trials, y.events));
            assert!(near(x.effect, y.effect), "{x:?} {y:?}");
            assert!(near(x.effect_se, y.effect_se) && near(x.expected, y.expected));
            assert_eq!(x.shared_trials, y.shared_trials);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_rows_and_their_grouping_change_nothing((levels, cells) in history()) {
        let whole = fitted(levels, &cells);
        let mut split: Vec<Cell> = Vec::new();
        for cell in cells.iter().rev() {
            let one = Cell { events: 1, trials: 1, ..*cell };
            let none = Cell { events: 0, trials: 1, ..*cell };
            split.extend((0..cell.events).map(|_| one));
            split.extend((cell.events..cell.trials).map(|_| none));
        }
        let mut again = fitted(levels, &split);
        if let (Some(whole), Some(again)) = (&whole, &mut again) {
            assert_eq!(again.log_coefficients, 0.0);
            again.log_coefficients = whole.log_coefficients;
        }
        prop_assert_eq!(whole, again);
    }

    #[test]
    fn names_of_levels_change_nothing((levels, cells) in history()) {
        let renamed: Vec<Cell> = cells
            .iter()
            .map(|cell| Cell {
                levels: [0, 1].map(|side| levels[side] as u32 - 1 - cell.levels[side]),
                ..*cell
            })
            .collect();
        match (fitted(levels, &cells), fitted(levels, &renamed)) {
            (Some(one), Some(other)) => {
                same(&one, &other, [0, 1], |side, i| levels[side] - 1 - i);
            }
            (one, other) => prop_assert_eq!(one.is_some(), other.is_some()),
        }
    }

    #[test]
    fn swapping_the_factors_swaps_the_answers((levels, cells) in history()) {
        let swapped: Vec<Cell> = cells
            .iter()
            .map(|cell| Cell { levels: [cell.levels[1], cell.levels[0]], ..*cell })
            .collect();
        match (fitted(levels, &cells), fitted([levels[1], levels[0]], &swapped)) {
            (Some(one), Some(other)) => same(&one, &other, [1, 0], |_, i| i),
            (one, other) => prop_assert_eq!(one.is_some(), other.is_some()),
        }
    }

    #[test]
    fn swapping_event_and_other_turns_the_signs((levels, cells) in history()) {
        let turned: Vec<Cell> = cells
            .iter()
            .map(|cell| Cell { events: cell.trials - cell.events, ..*cell })
            .collect();
        match (fitted(levels, &cells), fitted(levels, &turned)) {
            (Some(one), Some(other)) => {
                assert!(near(one.deviance.total(), other.deviance.total()));
                for (a, b) in one.coefficients.iter().zip(&other.coefficients) {
                    assert!(near(a.value, -b.value) && near_enough(a.se, b.se));
                }
                for (a, b) in one.factors.iter().zip(&other.factors) {
                    assert!(near(a.sigma, b.sigma));
                    for (x, y) in a.levels.iter().zip(&b.levels) {
                        assert!(near(x.effect, -y.effect) && near(x.effect_se, y.effect_se));
                        assert!(near(x.expected, x.trials as f64 - y.expected));
                    }
                }
            }
            (one, other) => prop_assert_eq!(one.is_some(), other.is_some()),
        }
    }

    #[test]
    fn what_is_answered_is_a_number((levels, cells) in history()) {
        if let Some(fit) = fitted(levels, &cells) {
            for factor in &fit.factors {
                prop_assert!(factor.sigma >= 0.0 && factor.median_odds_ratio >= 1.0);
                prop_assert!((0.0..1.0).contains(&factor.variance_share));
                prop_assert!((0.0..=1.0).contains(&factor.p));
                for level in &factor.levels {
                    prop_assert!(level.effect.is_finite() && level.effect_se.is_finite());
                    prop_assert!(level.expected <= level.trials as f64);
                    prop_assert_eq!(level.p.is_some(), level.trials > 0);
                    prop_assert!(level.p <= level.q);
                }
            }
            for coefficient in &fit.coefficients {
                prop_assert!(coefficient.se > 0.0 && coefficient.se.is_finite());
            }
        }
    }
}

/// Even numbers without a library (SplitMix64).
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn even(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, n: usize) -> usize {
        (self.even() * n as f64) as usize
    }

    fn normal(&mut self) -> f64 {
        fairdraw::stats::normal::quantile(self.even().max(1e-12))
    }
}

/// A history in areas: first-factor levels mostly meet the second-factor levels of their
/// own area.
struct Synthetic {
    truth: Vec<f64>,
    data: Data,
}

/// How areas come in.
struct Areas {
    count: usize,
    /// Standard deviation between them, on the log-odds scale; places within one differ
    /// by 0.5.
    between: f64,
    /// Whether the model is given them as fixed effects.
    known: bool,
}

fn synthetic(seed: u64, levels: [usize; 2], areas: &Areas, trials: usize) -> Synthetic {
    let mut numbers = Numbers(seed);
    let truth: Vec<f64> = (0..levels[0]).map(|_| 0.5 * numbers.normal()).collect();
    let of_area: Vec<f64> = (0..areas.count)
        .map(|_| areas.between * numbers.normal())
        .collect();
    let partners: Vec<f64> = (0..levels[1])
        .map(|i| of_area[i % areas.count] + 0.5 * numbers.normal())
        .collect();
    let cells: Vec<Cell> = (0..trials)
        .map(|_| {
            let first = numbers.below(levels[0]);
            let away = numbers.even() < 0.15;
            let own = first % areas.count;
            let area = if away {
                numbers.below(areas.count)
            } else {
                own
            };
            let second = area + areas.count * numbers.below(levels[1] / areas.count);
            let log_odds: f64 = -1.8 + truth[first] + partners[second];
            let share = 1.0 / (1.0 + (-log_odds).exp());
            Cell {
                levels: [first as u32, second as u32],
                pattern: area as u32,
                events: u64::from(numbers.even() < share),
                trials: 1,
            }
        })
        .collect();
    let columns = if areas.known { 1..areas.count } else { 0..0 };
    let indicators = |area: usize| {
        columns
            .clone()
            .map(|c| f64::from(u8::from(area == c)))
            .collect()
    };
    let patterns: Vec<Vec<f64>> = (0..areas.count).map(indicators).collect();
    let data = Data::new(levels, &patterns, cells).unwrap();
    Synthetic { truth, data }
}

fn correlation(x: &[f64], y: &[f64]) -> f64 {
    let n = x.len() as f64;
    let mean = |v: &[f64]| v.iter().sum::<f64>() / n;
    let (mx, my) = (mean(x), mean(y));
    let product = |a: &[f64], ma: f64, b: &[f64], mb: f64| -> f64 {
        a.iter().zip(b).map(|(p, q)| (p - ma) * (q - mb)).sum()
    };
    product(x, mx, y, my) / (product(x, mx, x, mx) * product(y, my, y, my)).sqrt()
}

/// The reason for the model: raw shares blame people for their places.
#[test]
fn effects_come_nearer_the_truth_than_raw_shares() {
    let areas = Areas {
        count: 6,
        between: 0.7,
        known: false,
    };
    for seed in [1, 2, 3] {
        let made = synthetic(seed, [24, 120], &areas, 15_000);
        let fit = fit(&made.data).unwrap();
        let levels = &fit.factors[Side::First.index()].levels;
        let effects: Vec<f64> = levels.iter().map(|level| level.effect).collect();
        let raw: Vec<f64> = levels
            .iter()
            .map(|level| (level.events as f64 / (level.trials - level.events) as f64).ln())
            .collect();
        let (by_model, by_share) = (
            correlation(&effects, &made.truth),
            correlation(&raw, &made.truth),
        );
        assert!(by_model > 0.85, "seed {seed}: {by_model}");
        assert!(
            by_model > by_share + 0.05,
            "seed {seed}: {by_model} {by_share}"
        );
        // observed against expected tells the same story
        let ratio: Vec<f64> = levels
            .iter()
            .map(|level| (level.events as f64 / level.expected).ln())
            .collect();
        assert!(
            correlation(&ratio, &made.truth) > by_share + 0.05,
            "seed {seed}"
        );
    }
}

/// Of 240 intervals at 95 %, the share that holds the truth. Effects are against the
/// average of the levels there are, so the truth is centred; the distance of that average
/// from the law's own mean goes into the intercept.
fn coverage(areas: &Areas) -> f64 {
    let (mut covered, mut all) = (0, 0);
    for seed in 10..22 {
        let made = synthetic(seed, [20, 60], areas, 5_000);
        let fit = fit(&made.data).unwrap();
        let levels = &fit.factors[Side::First.index()].levels;
        let average = made.truth.iter().sum::<f64>() / made.truth.len() as f64;
        for (level, truth) in levels.iter().zip(&made.truth) {
            let off = level.effect - (truth - average);
            all += 1;
            covered += u32::from(off.abs() < 1.96 * level.effect_se);
        }
    }
    f64::from(covered) / f64::from(all)
}

#[test]
fn intervals_of_effects_cover_the_truth_about_as_often_as_they_say() {
    let alike = coverage(&Areas {
        count: 4,
        between: 0.0,
        known: false,
    });
    assert!((0.92..0.985).contains(&alike), "{alike}");
}

/// Places of an area that differ together are not independent; the area as a fixed effect
/// makes them so.
#[test]
fn areas_that_differ_belong_into_the_model() {
    let known = coverage(&Areas {
        count: 4,
        between: 0.7,
        known: true,
    });
    let hidden = coverage(&Areas {
        count: 4,
        between: 0.7,
        known: false,
    });
    assert!((0.90..0.985).contains(&known), "{known}");
    assert!(hidden < known, "{hidden} {known}");
}
