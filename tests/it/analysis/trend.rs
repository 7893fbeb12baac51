//! The share over time, its chart and signals.

use fairdraw::analysis::trend::Signal;
use fairdraw::analysis::{Assessed, Every, Filter, Tally, Trend, trend};
use fairdraw::model::Verdict;
use fairdraw::stats::control::Side;

use super::{Row, programme, six_draws, utc};

/// One month a sample: its draws are at one instant, the first of them unrepresentative.
fn programme_of(samples: &[(u64, u64)]) -> Assessed {
    let template = six_draws().swap_remove(5);
    let mut rows = Vec::new();
    for (month, &(bad, draws)) in samples.iter().enumerate() {
        let text = format!("{}-{:02}-15T12:00:00Z", 2020 + month / 12, month % 12 + 1);
        rows.extend((0..draws).map(|draw| Row {
            drawn_at: utc(&text),
            verdict: if draw < bad {
                Verdict::Unrepresentative
            } else {
                Verdict::Representative
            },
            ..template.clone()
        }));
    }
    programme(rows)
}

fn of_all(assessed: &Assessed, every: Every) -> Trend {
    trend(assessed, &Filter::default().select(assessed), every)
}

fn signals(trend: &Trend) -> Vec<(usize, Signal)> {
    let numbered = (1..).zip(&trend.periods);
    numbered
        .filter_map(|(number, period)| Some((number, period.point?.signal?)))
        .collect()
}

/// D. C. Montgomery, Introduction to Statistical Quality Control, 2nd ed. (Wiley 1991),
/// pp. 152-155: 30 samples of 50 cans; centre 0.2313, limits 0.0524 and 0.4102. They vary
/// more than chance (χ² 85.4 on 29 degrees of freedom), so that Laney's chart is used, with
/// a mean moving range of z of 1.873458 (tests/fixtures/reference/charts.json).
#[test]
fn montgomerys_cans_vary_more_than_chance_and_keep_his_plain_limits() {
    let bad = [
        12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9,
        12, 7, 13, 9, 6,
    ];
    let found = of_all(&programme_of(&bad.map(|bad| (bad, 50))), Every::Month);
    let chart = found.chart.unwrap();
    assert!((chart.centre - 0.2313).abs() < 5e-5);
    assert!((chart.dispersion.unwrap().chi2 - 85.409_319_379_841_08).abs() < 1e-9);
    assert!((chart.widened - 1.873_457_659_870_372_7 / 1.128).abs() < 1e-9);
    assert!(
        chart.is_widened() && chart.words().contains("1.66-fold"),
        "{}",
        chart.words()
    );
    for period in &found.periods {
        let point = period.point.unwrap();
        assert!((point.plain_low - 0.0524).abs() < 5e-5);
        assert!((point.plain_high - 0.4102).abs() < 5e-5);
        assert_eq!(point.low, 0.0);
        assert!(point.high > point.plain_high);
    }
    assert_eq!(signals(&found), []);
}

/// The same book, 3rd ed. example 6-2, p chart with variable n: 25 weeks of purchase
/// orders, centre 0.096; χ² 28.56 on 24, no more than chance. Sample 11 lies above its
/// limit (tests/fixtures/reference/pchart_variable_n.csv and charts.json).
#[test]
fn purchase_orders_stay_on_the_plain_chart() {
    let csv = std::fs::read_to_string(crate::support::fixture("reference/pchart_variable_n.csv"));
    let samples: Vec<(u64, u64)> = csv
        .unwrap()
        .lines()
        .skip(1)
        .map(|line| {
            let cells: Vec<u64> = line.split(',').map(|cell| cell.parse().unwrap()).collect();
            (cells[1], cells[2])
        })
        .collect();
    let found = of_all(&programme_of(&samples), Every::Month);
    let chart = found.chart.unwrap();
    assert!((chart.centre - 0.095_510_204_081_632_65).abs() < 1e-15);
    assert!(!chart.is_widened(), "{chart:?}");
    assert!(
        chart.words().starts_with("p chart: centre 9.6 %"),
        "{}",
        chart.words()
    );
    assert_eq!(signals(&found), [(11, Signal::Outside(Side::Above))]);
}

#[test]
fn eight_in_a_row_on_one_side_are_a_signal() {
    let samples: Vec<(u64, u64)> = (0..18)
        .map(|month| (if month < 9 { 22 } else { 18 }, 100))
        .collect();
    let found = of_all(&programme_of(&samples), Every::Month);
    use Side::{Above, Below};
    assert_eq!(
        signals(&found),
        [
            (8, Signal::Run(Above)),
            (9, Signal::Run(Above)),
            (17, Signal::Run(Below)),
            (18, Signal::Run(Below))
        ]
    );
}

#[test]
fn small_periods_are_said_to_be_small() {
    // centre 1/10: 49 draws expect 4.9 unrepresentative ones, 50 expect 5
    let found = of_all(
        &programme_of(&[(5, 49), (5, 50), (0, 1), (0, 0), (10, 100)]),
        Every::Month,
    );
    let small: Vec<_> = found
        .periods
        .iter()
        .map(|period| period.point.map(|point| point.is_small))
        .collect();
    assert_eq!(
        small,
        [Some(true), Some(false), Some(true), None, Some(false)]
    );
    assert_eq!(found.periods[3].tally, Tally::default());
}

#[test]
fn a_mistyped_year_does_not_fill_the_list_with_empty_months() {
    let mut rows = Vec::new();
    for text in [
        "2026-01-15T12:00:00Z",
        "2026-03-15T12:00:00Z",
        "9026-04-15T12:00:00Z",
    ] {
        rows.push(Row {
            drawn_at: utc(text),
            ..six_draws().swap_remove(5)
        });
    }
    let found = of_all(&programme(rows), Every::Month);
    let keys: Vec<&str> = found.periods.iter().map(|period| &*period.key).collect();
    assert_eq!(keys, ["2026-01", "2026-03", "9026-04"]);
}

#[test]
fn with_few_draws_the_spread_is_not_tested() {
    // 0 of 3 and 1 of 1 look unlike, but four draws prove nothing.
    let few = of_all(&programme_of(&[(0, 3), (1, 1)]), Every::Month);
    let chart = few.chart.unwrap();
    assert_eq!((chart.dispersion, chart.widened), (None, 1.0));
    assert!(chart.words().contains("too few draws to test"));
    // one small period in five is still tested, two in five are not
    let tested = |small: usize| {
        let mut samples = vec![(50, 100); 5 - small];
        samples.extend(vec![(1, 2); small]);
        let chart = of_all(&programme_of(&samples), Every::Month).chart.unwrap();
        chart.dispersion.is_some()
    };
    assert!(tested(1) && !tested(2));
}

#[test]
fn draws_fall_into_the_week_month_and_quarter_of_the_zone() {
    let assessed = programme(six_draws());
    let counts = |every| -> Vec<(String, u64)> {
        of_all(&assessed, every)
            .periods
            .into_iter()
            .map(|period| (period.key, period.tally.draws))
            .collect()
    };
    let named = |pairs: &[(&str, u64)]| -> Vec<(String, u64)> {
        pairs
            .iter()
            .map(|(key, draws)| ((*key).to_owned(), *draws))
            .collect()
    };
    assert_eq!(
        counts(Every::Month),
        named(&[
            ("2026-01", 1),
            ("2026-02", 3),
            ("2026-03", 0),
            ("2026-04", 2)
        ])
    );
    assert_eq!(
        counts(Every::Quarter),
        named(&[("2026-Q1", 4), ("2026-Q2", 2)])
    );
    let weeks = counts(Every::Week);
    assert_eq!(weeks.len(), 10);
    assert_eq!(weeks[0], ("2026-W05".to_owned(), 2));
    assert_eq!(weeks[9], ("2026-W14".to_owned(), 2));
}

#[test]
fn nothing_has_no_chart() {
    let assessed = programme(six_draws());
    let none = trend(&assessed, &Vec::new(), Every::Week);
    assert_eq!((none.periods.len(), none.chart), (0, None));
    let unproven = Filter::parse("verdict:unproven").unwrap().select(&assessed);
    let found = trend(&assessed, &unproven, Every::Month);
    assert_eq!((found.periods.len(), found.chart), (1, None));
    assert_eq!(found.periods[0].point, None);
}
