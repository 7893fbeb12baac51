//! How far the records of each site reach.

use fairdraw::analysis::reach::reach;

use super::{programme, six_draws, utc};

/// The six draws lie at points without a site, at North and at North pit; the newest of all, the
/// sixth, is at the first point again where it is not moved.
#[test]
fn the_site_that_lags_most_stands_first_with_its_days_and_months() {
    let mut rows = six_draws();
    rows.truncate(5);
    let assessed = programme(rows);
    let found: Vec<_> = reach(&assessed)
        .into_iter()
        .map(|reach| (reach.site, reach.draws, reach.behind, reach.months))
        .collect();
    // Paris is two hours ahead on 1 April: the newest draw is of that day, the second of North
    // already of 1 February, 59 days before; that of North pit of 28 February, 32 days before.
    assert_eq!(
        found,
        [
            (Some("North".to_owned()), 2, 59, vec![1, 1, 0, 0]),
            (Some("North pit, upper".to_owned()), 2, 32, vec![0, 2, 0, 0]),
            (None, 1, 0, vec![0, 0, 0, 1]),
        ]
    );
}

#[test]
fn no_more_than_twelve_months_are_counted_and_no_draw_is_no_site() {
    let mut rows = six_draws();
    rows.truncate(2);
    rows[0].drawn_at = utc("2024-01-15T12:00:00Z");
    let found = reach(&programme(rows));
    assert_eq!(found[0].draws, 2);
    assert_eq!(found[0].months.len(), 12);
    assert_eq!(found[0].months.iter().sum::<u64>(), 1);
    assert_eq!(reach(&programme(Vec::new())), []);
}
