//! The share month by month.

use fairdraw::analysis::{Every, Filter, Tally, months, trend};
use fairdraw::model::Verdict;

use super::{Row, programme, six_draws, utc};

#[test]
fn a_month_without_draws_stands_in_the_line() {
    let assessed = programme(six_draws());
    let line = months(&assessed, &Filter::default().select(&assessed));
    let keys: Vec<&str> = line.iter().map(|month| month.key.as_str()).collect();
    assert_eq!(keys, ["2026-01", "2026-02", "2026-03", "2026-04"]);
    assert_eq!(line[2].tally, Tally::default());
    assert_eq!((line[2].limits, line[2].share.share), (None, None));
    assert!(!line[2].stands_out());
    assert_eq!(line[1].share.share, Some(0.5));
    assert!(months(&assessed, &Vec::new()).is_empty());
}

/// One month a sample: its draws are at one instant, the first of them unrepresentative.
fn programme_of(samples: &[(u64, u64)]) -> fairdraw::analysis::Assessed {
    let template = six_draws().swap_remove(5);
    let mut rows = Vec::new();
    for (month, &(bad, draws)) in samples.iter().enumerate() {
        let text = format!("{}-{:02}-15T12:00:00Z", 2020 + month / 12, month % 12 + 1);
        for draw in 0..draws {
            rows.push(Row {
                drawn_at: utc(&text),
                verdict: if draw < bad {
                    Verdict::Unrepresentative
                } else {
                    Verdict::Representative
                },
                ..template.clone()
            });
        }
    }
    programme(rows)
}

/// D. C. Montgomery, Introduction to Statistical Quality Control: 25 samples of purchase
/// orders with variable n (tests/fixtures/reference/pchart_variable_n.csv), which vary no
/// more than chance. Of 80 to 120 orders 9.55 % have errors; sample 11 lies outside.
#[test]
fn months_have_the_limits_of_the_trend() {
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
    let assessed = programme_of(&samples);
    let all = Filter::default().select(&assessed);
    let line = months(&assessed, &all);
    let outside: Vec<usize> = (1..=line.len())
        .filter(|&sample| line[sample - 1].stands_out())
        .collect();
    assert_eq!(outside, [11]);
    let first = line[0].limits.unwrap();
    assert!((first.centre - 0.095_510_204_081_632_65).abs() < 1e-15);
    // 0.0955 + 3 √(0.0955 · 0.9045/100)
    assert!((first.high - 0.183_7).abs() < 5e-5, "{first:?}");
    for (month, period) in line
        .iter()
        .zip(trend(&assessed, &all, Every::Month).periods)
    {
        let (limits, point) = (month.limits.unwrap(), period.point.unwrap());
        assert_eq!((limits.low, limits.high), (point.low, point.high));
        assert_eq!((&month.key, month.tally), (&period.key, period.tally));
    }
}

#[test]
fn months_that_are_all_alike_do_not_stand_out() {
    for bad in [0, 3] {
        let assessed = programme_of(&[(bad, 3), (bad, 3)]);
        let line = months(&assessed, &Filter::default().select(&assessed));
        let ends = line[0].limits.map(|limits| (limits.low, limits.high));
        let all = f64::from(u8::try_from(bad / 3).unwrap());
        assert_eq!(ends, Some((all, all)));
        assert!(line.iter().all(|month| !month.stands_out()));
    }
}
