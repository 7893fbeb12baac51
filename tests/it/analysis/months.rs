//! The share month by month.

use fairdraw::analysis::{Filter, Tally, months};
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

/// D. C. Montgomery, Introduction to Statistical Quality Control, 2nd ed. (Wiley 1991),
/// pp. 152-155: 30 samples of 50 cans; centre 0.2313, limits 0.0524 and 0.4102, samples 15
/// and 23 outside. The same numbers stand in the NIST/SEMATECH e-Handbook of Statistical
/// Methods, section 6.3.3.2.
#[test]
fn montgomerys_cans_give_his_limits_and_signals() {
    let bad = [
        12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9,
        12, 7, 13, 9, 6,
    ];
    let assessed = programme_of(&bad.map(|bad| (bad, 50)));
    let line = months(&assessed, &Filter::default().select(&assessed));
    for month in &line {
        let limits = month.limits.unwrap();
        assert!((limits.centre - 0.2313).abs() < 5e-5, "{limits:?}");
        assert!((limits.low - 0.0524).abs() < 5e-5, "{limits:?}");
        assert!((limits.high - 0.4102).abs() < 5e-5, "{limits:?}");
    }
    let outside: Vec<usize> = (1..=line.len())
        .filter(|&sample| line[sample - 1].stands_out())
        .collect();
    assert_eq!(outside, [15, 23]);
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
