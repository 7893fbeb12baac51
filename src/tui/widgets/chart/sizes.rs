//! What holds of every chart at any size: nothing leaves its area, ASCII stays ASCII, and a click
//! finds what was drawn.

#![allow(clippy::unwrap_used)]

use proptest::prelude::*;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use super::control::{Control, Mark};
use super::funnel::{Funnel, Toward};
use super::geometry::{FINE, PLAIN, bars, lanes, slot};
use super::intervals;
use crate::tui::theme::Theme;

/// Draws into a larger buffer; sees that nothing leaves the area, and ASCII only where asked.
fn within(area: Rect, theme: Theme, draw: impl FnOnce(&mut Buffer)) {
    let whole = Rect::new(0, 0, area.right() + 9, area.bottom() + 9);
    let mut buffer = Buffer::empty(whole);
    draw(&mut buffer);
    for y in 0..whole.height {
        for x in 0..whole.width {
            let symbol = buffer[(x, y)].symbol();
            let inside = area.contains(Position::new(x, y));
            assert!(
                inside || symbol == " ",
                "{x},{y}: {symbol:?} outside {area:?}"
            );
            if theme == PLAIN {
                // Where a name was cut, the last pass over the screen puts its stand-in.
                assert!(symbol.is_ascii() || symbol == "…", "{symbol:?}");
            }
        }
    }
}

fn any_slot() -> impl Strategy<Value = (Option<f64>, Option<(f64, f64)>, u8)> {
    let share = proptest::option::of(0.0f64..=1.0);
    let limits = proptest::option::of((0.0f64..0.5, 0.5f64..=1.0));
    (share, limits, 0u8..6)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]
    #[test]
    fn a_control_chart_of_any_size_stays_within_its_area(
        width in 1u16..200, height in 1u16..60, x in 0u16..9, y in 0u16..9,
        slots in proptest::collection::vec(any_slot(), 0..260), chosen in proptest::option::of(0usize..300)
    ) {
        let mark = [Mark::Inside, Mark::High, Mark::Low, Mark::RunHigh, Mark::RunLow, Mark::Few];
        let slots = (0..).zip(slots).map(|(at, (share, limits, which))| {
            slot(at, share, limits, mark[usize::from(which)])
        });
        let chart = Control { slots: slots.collect(), in_a_year: 12, centre: Some(0.5) };
        let area = Rect::new(x, y, width, height);
        for theme in [FINE, PLAIN] {
            within(area, theme, |buffer| chart.draw(buffer, area, chosen, theme));
        }
        if let Some(stand) = chart.stand(area, chosen) {
            let mut end = 0;
            for slot in stand.first..stand.first + stand.count {
                let (from, to) = stand.cells(slot);
                prop_assert!(from == end && to > from);
                prop_assert!((from..to).contains(&stand.middle(slot)));
                end = to;
                let at = Position::new(stand.plot.x + stand.middle(slot), stand.plot.y);
                prop_assert_eq!(chart.at(area, chosen, at), Some(slot));
            }
            prop_assert_eq!(end, stand.plot.width);
        }
    }

    #[test]
    fn a_funnel_of_any_size_stays_within_its_area(
        width in 1u16..200, height in 1u16..60, x in 0u16..9, y in 0u16..9,
        dots in proptest::collection::vec((1u64..100_000, 0.0f64..=1.0), 0..80),
        chosen in 0usize..90, name in "[a-z]{0,40}", wide in "[油温]{0,20}"
    ) {
        let (least, most) = dots.iter().fold((u64::MAX, 1), |(low, high), (trials, _)| {
            (low.min(*trials), high.max(*trials))
        });
        let curve = if dots.is_empty() { Vec::new() } else {
            vec![(least, [-0.2, 0.0, 0.9, 1.2]), (most.max(least + 1), [0.4, 0.45, 0.55, 0.6])]
        };
        let chart = Funnel { centre: 0.5, dots, curve };
        let area = Rect::new(x, y, width, height);
        for (theme, name) in [(FINE, &name), (PLAIN, &name), (FINE, &wide)] {
            within(area, theme, |buffer| chart.draw(buffer, area, Some((chosen, name)), theme));
        }
        if let Some(stand) = chart.stand(area) {
            for (at, dot) in chart.dots.iter().enumerate() {
                let cell = stand.cell(*dot);
                prop_assert!(cell.0 < stand.plot.width && cell.1 < stand.plot.height);
                let here = Position::new(stand.plot.x + cell.0, stand.plot.y + cell.1);
                let found = chart.at(area, here).unwrap();
                prop_assert_eq!(stand.cell(chart.dots[found]), cell);
                for side in [Toward::Left, Toward::Right, Toward::Up, Toward::Down] {
                    prop_assert!(chart.toward(area, at, side) != Some(at));
                }
            }
        }
    }

    #[test]
    fn bars_and_lanes_of_any_size_stay_within_their_area(
        width in 1u16..200, height in 1u16..60, x in 0u16..9, y in 0u16..9,
        count in 0usize..70, chosen in proptest::option::of(0usize..80)
    ) {
        let area = Rect::new(x, y, width, height);
        let shown = count.min(intervals::rows(area));
        for theme in [FINE, PLAIN] {
            within(area, theme, |buffer| {
                let mut chart = bars(shown);
                if theme == PLAIN {
                    chart.bars.iter_mut().for_each(|bar| bar.words.clear());
                }
                chart.draw(buffer, area, 12, chosen, theme);
            });
            within(area, theme, |buffer| lanes(count).draw(buffer, area, chosen, theme));
        }
        if let Some(stand) = intervals::stand(area, shown, 12) {
            for y in 0..height {
                let found = intervals::at(&stand, Position::new(stand.plot.x, area.y + y));
                prop_assert!(found.is_none_or(|bar| bar < shown.max(1)));
            }
        }
    }
}
