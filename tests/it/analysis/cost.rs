//! What each rule costs.

use fairdraw::analysis::{Filter, cost};
use fairdraw::model::{RuleSet, Verdict};
use proptest::prelude::*;

use super::{Row, any_rows, programme, rules, six_draws};

#[test]
fn a_draw_is_regained_only_by_the_rule_that_is_alone_behind_it() {
    let row = |broken: &[&str], met: &[&str], verdict| Row {
        broken: rules(broken),
        met: rules(met),
        unrecorded: RuleSet::NONE,
        verdict,
        ..six_draws().swap_remove(0)
    };
    use Verdict::*;
    let rows = vec![
        // bottle-fit alone is decisive: met instead, 12 + 16 of 12 + 16 is all met
        row(&["bottle-fit"], &["flush-met"], Unrepresentative),
        // two decisive breaches: neither alone regains it
        row(
            &["bottle-fit", "flush-met"],
            &["same-point"],
            Unrepresentative,
        ),
        // by weight: W 12 + 10 + 8 + 12 = 42, B 18, 24 of 42 is below 60 %; without
        // same-method 34, without fill-level 32 of 42: both above 60 %
        row(
            &["same-method", "fill-level"],
            &["same-point", "point-suited"],
            Unrepresentative,
        ),
        // a broken rule on a draw that is not unrepresentative costs no draw
        row(
            &["fill-level"],
            &["same-point", "point-suited", "flush-met"],
            Doubtful,
        ),
    ];
    let assessed = programme(rows);
    let costs = cost(&assessed, &Filter::default().select(&assessed));
    let found: Vec<_> = costs
        .iter()
        .filter(|cost| cost.broken > 0)
        .map(|cost| {
            (
                cost.id(),
                cost.draws,
                cost.broken,
                cost.unrepresentative,
                cost.regained,
            )
        })
        .collect();
    assert_eq!(
        found,
        [
            ("flush-met", 3, 1, 1, 0),
            ("same-method", 1, 1, 1, 1),
            ("bottle-fit", 2, 2, 2, 1),
            ("fill-level", 2, 2, 1, 1),
        ]
    );
}

proptest! {
    #[test]
    fn no_rule_regains_more_than_it_is_broken_on(rows in any_rows()) {
        let assessed = programme(rows);
        let costs = cost(&assessed, &Filter::default().select(&assessed));
        for cost in costs {
            prop_assert!(cost.regained <= cost.unrepresentative);
            prop_assert!(cost.unrepresentative <= cost.broken && cost.broken <= cost.draws);
        }
    }
}
