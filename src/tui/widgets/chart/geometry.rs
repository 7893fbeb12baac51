//! What holds of every chart: values stand in the cells they belong to, nothing leaves the
//! area, ASCII stays ASCII, and a click finds what was drawn.

#![allow(clippy::unwrap_used)]

use proptest::prelude::*;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::control::{Control, Mark, Slot};
use super::funnel::{Funnel, Toward};
use super::intervals::{self, Bar, Intervals};
use super::lanes::{Event, Lanes};
use super::scale::Scale;
use crate::tui::theme::Theme;

const FINE: Theme = Theme::new(true, true);
const PLAIN: Theme = Theme::new(true, false);

fn slot(at: u32, share: Option<f64>, limits: Option<(f64, f64)>, mark: Mark) -> Slot {
    Slot {
        key: format!("{}-{:02}", 2020 + at / 12, at % 12 + 1),
        ordinal: at % 12 + 1,
        share,
        limits,
        mark,
    }
}

/// The dots of the Braille sign in a cell, row by row; none for any other sign.
fn rows_lit(buffer: &Buffer, at: (u16, u16)) -> [bool; 4] {
    let sign = buffer[at].symbol().chars().next().unwrap();
    let bits = u32::from(sign)
        .checked_sub(0x2800)
        .filter(|bits| *bits < 256);
    let bits = bits.unwrap_or(0);
    [0x09, 0x12, 0x24, 0xc0].map(|row| bits & row != 0)
}

/// The upper and the lower limits and the shares of D. C. Montgomery, Introduction to
/// Statistical Quality Control, 6th ed. 2009, table 7.4 (25 weeks of purchase orders), as in
/// tests/fixtures/reference/charts.json, case `pchart_variable_n`.
fn purchase_orders() -> (f64, Vec<[f64; 3]>) {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/fixtures/reference/charts.json"
    );
    let file: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let cases = file["cases"].as_array().unwrap();
    let case = cases.iter().find(|case| case["id"] == "pchart_variable_n");
    let expected = &case.unwrap()["expected"];
    let numbers = |name: &str| -> Vec<f64> {
        let values = expected[name].as_array().unwrap();
        values.iter().map(|value| value.as_f64().unwrap()).collect()
    };
    let (shares, low, high) = (numbers("p"), numbers("lcl"), numbers("ucl"));
    let rows = (0..shares.len()).map(|at| [shares[at], low[at], high[at]]);
    (expected["pbar"].as_f64().unwrap(), rows.collect())
}

#[test]
fn published_limits_and_shares_are_drawn_where_they_belong() {
    let (centre, weeks) = purchase_orders();
    assert_eq!(weeks.len(), 25);
    let slots = (0..).zip(&weeks).map(|(at, [share, low, high])| {
        let mark = if share > high {
            Mark::High
        } else {
            Mark::Inside
        };
        slot(at, Some(*share), Some((*low, *high)), mark)
    });
    let chart = Control {
        slots: slots.collect(),
        in_a_year: 12,
        centre: Some(centre),
    };
    // Shares and limits lie between 0 and 0.1848: round numbers around them.
    let (bottom, top) = chart.ends();
    assert_eq!(bottom, 0.0);
    assert!((top - 0.2).abs() < 1e-9, "{top}");
    let area = Rect::new(0, 0, 120, 30);
    let mut buffer = Buffer::empty(area);
    chart.draw(&mut buffer, area, None, FINE);
    let stand = chart.stand(area, None).unwrap();
    let down = f64::from(stand.plot.height) * 4.0 - 1.0;
    let row_of = |value: f64| ((top - value) / (top - bottom) * down).round() as u16;
    for (at, [share, low, high]) in weeks.iter().enumerate() {
        let middle = stand.plot.x + stand.middle(at);
        let y = stand.plot.y + row_of(*share) / 4;
        let glyph = if share > high { "▲" } else { "•" };
        assert_eq!(buffer[(middle, y)].symbol(), glyph, "share {at}");
        let (from, to) = stand.cells(at);
        for limit in [low, high] {
            let dot = row_of(*limit);
            let lit = (from..to).filter(|cell| {
                let cell = (stand.plot.x + cell, stand.plot.y + dot / 4);
                rows_lit(&buffer, cell)[usize::from(dot % 4)]
            });
            // Marks and words may cover a cell or two of a limit, never all of it.
            assert!(lit.count() >= 1, "limit {limit} of {at}");
        }
    }
    // The book marks sample 11, and it alone.
    let drawn: String = buffer.content().iter().map(|cell| cell.symbol()).collect();
    assert_eq!(drawn.matches('▲').count(), 1);
    assert_eq!(drawn.matches("high").count(), 1);
}

#[test]
fn a_long_chart_shows_whole_windows_with_the_chosen_period_in_one_of_them() {
    let slots = (0..500).map(|at| slot(at, Some(0.3), None, Mark::Inside));
    let chart = Control {
        slots: slots.collect(),
        in_a_year: 12,
        centre: Some(0.3),
    };
    let area = Rect::new(0, 0, 108, 20);
    for chosen in [0, 99, 100, 250, 399, 400, 499] {
        let stand = chart.stand(area, Some(chosen)).unwrap();
        assert_eq!(stand.count, 100);
        assert!((stand.first..stand.first + 100).contains(&chosen));
        let at = Position::new(stand.plot.x + stand.middle(chosen), 3);
        assert_eq!(chart.at(area, Some(chosen), at), Some(chosen));
    }
    assert_eq!(chart.stand(area, None).unwrap().first, 400);
}

fn funnel() -> Funnel {
    Funnel {
        centre: 0.4,
        dots: vec![(10, 0.2), (100, 0.4), (1000, 0.45), (1000, 0.45)],
        curve: vec![
            (10, [-0.1, 0.1, 0.7, 0.9]),
            (100, [0.25, 0.3, 0.5, 0.55]),
            (1000, [0.35, 0.37, 0.43, 0.45]),
        ],
    }
}

#[test]
fn every_dot_stands_where_it_belongs() {
    let area = Rect::new(0, 0, 49, 12);
    for (theme, one, two, chosen) in [(FINE, "•", "●", "◆"), (PLAIN, "o", "O", "#")] {
        let mut buffer = Buffer::empty(area);
        funnel().draw(&mut buffer, area, Some((1, "GEAR-2")), theme);
        let stand = funnel().stand(area).unwrap();
        assert_eq!(stand.plot, Rect::new(8, 0, 41, 10));
        // 100 is in the middle between 10 and 1000 where equal factors are equally far.
        let cell = |x: u16, y: u16| buffer[(8 + x, y)].symbol().to_owned();
        assert_eq!((stand.up.from, stand.up.to), (0.2, 0.6));
        assert_eq!(cell(20, stand.cell((100, 0.4)).1), chosen);
        assert_eq!(cell(0, 9), one);
        assert_eq!(cell(40, stand.cell((1000, 0.45)).1), two);
        let text: String = buffer.content().iter().map(|cell| cell.symbol()).collect();
        assert!(text.contains("GEAR-2") && text.contains("1,000") && text.contains("40 %"));
        assert_eq!(funnel().crowd(area, 2), 2);
        assert_eq!(funnel().crowd(area, 0), 1);
    }
}

#[test]
fn limits_between_known_numbers_lie_between_theirs() {
    let known = funnel();
    assert_eq!(known.limits(100.0), Some([0.25, 0.3, 0.5, 0.55]));
    assert_eq!(known.limits(5.0), Some([-0.1, 0.1, 0.7, 0.9]));
    assert_eq!(known.limits(5000.0), Some([0.35, 0.37, 0.43, 0.45]));
    let between = known.limits(55.0).unwrap();
    assert!((between[1] - 0.2).abs() < 1e-9 && (between[3] - 0.725).abs() < 1e-9);
}

#[test]
fn arrows_go_to_the_nearest_dot_on_their_side() {
    let area = Rect::new(0, 0, 60, 20);
    let toward = |from, side| funnel().toward(area, from, side);
    assert_eq!(toward(1, Toward::Left), Some(0));
    assert_eq!(toward(1, Toward::Right), Some(2));
    assert_eq!(toward(0, Toward::Left), None);
    assert_eq!(toward(0, Toward::Up), Some(1));
    assert_eq!(toward(2, Toward::Up), None);
    assert_eq!(toward(9, Toward::Up), None);
}

fn bars(count: usize) -> Intervals {
    let bar = |at: usize| {
        let value = at as f64 / count as f64;
        Bar {
            name: format!("T{at}"),
            count: "12".to_owned(),
            value: Some(value),
            low: Some((value - 0.2).max(0.0)),
            high: Some((value + 0.2).min(1.0)),
            words: "12.0, 1.0–30.0 %".to_owned(),
        }
    };
    let ticks = [0.0, 0.5, 1.0];
    Intervals {
        bars: (0..count).map(bar).collect(),
        scale: Scale::even(0.0, 1.0),
        ticks: ticks
            .map(|at| (at, format!("{:.0} %", at * 100.0)))
            .to_vec(),
        line: Some(0.5),
        headings: ("technician", "judged"),
    }
}

#[test]
fn a_bar_reaches_over_its_interval() {
    let area = Rect::new(0, 0, 57, 12);
    let mut buffer = Buffer::empty(area);
    let chart = bars(4);
    chart.draw(&mut buffer, area, 10, Some(1), FINE);
    let stand = intervals::stand(area, 4, 10).unwrap();
    let line = |y: u16| -> String {
        let cells = stand.plot.left()..stand.plot.right();
        cells.map(|x| buffer[(x, y)].symbol()).collect()
    };
    assert_eq!(stand.plot.width, 37);
    // 0.25 with 0.05 to 0.45 on 37 cells: cell 9, from 2 to 16; the line of all in cell 18.
    assert_eq!(
        line(stand.plot.y + 2),
        "  ├──────●──────┤ ┊                  "
    );
    assert_eq!(
        intervals::at(&stand, Position::new(30, stand.plot.y + 2)),
        Some(1)
    );
    assert_eq!(
        intervals::at(&stand, Position::new(30, stand.plot.y + 1)),
        Some(0)
    );
}

#[test]
fn an_interval_that_goes_on_has_an_arrow_and_a_value_beyond_the_axis_no_mark() {
    let chart = Intervals {
        scale: Scale::factors(0.125, 8.0),
        bars: vec![
            Bar {
                value: Some(30.0),
                low: Some(4.0),
                high: Some(200.0),
                ..Bar::default()
            },
            Bar {
                value: Some(0.01),
                low: Some(0.001),
                high: Some(0.5),
                ..Bar::default()
            },
        ],
        line: Some(1.0),
        ..bars(1)
    };
    let area = Rect::new(0, 0, 29, 9);
    let mut buffer = Buffer::empty(area);
    chart.draw(&mut buffer, area, 6, None, FINE);
    let stand = intervals::stand(area, 2, 6).unwrap();
    let line = |y: u16| -> String {
        let cells = stand.plot.left()..stand.plot.right();
        cells.map(|x| buffer[(x, y)].symbol()).collect()
    };
    assert_eq!(stand.plot.width, 13);
    assert_eq!(line(stand.plot.y), "      ┊   ├─▸");
    assert_eq!(line(stand.plot.y + 2), "◂───┤ ┊      ");
}

fn lanes(count: usize) -> Lanes {
    let day = 86_400;
    let event = |at: usize| Event {
        at: at as i64 * 13 * day,
        lane: usize::from(at % 5 == 3),
        glyph: "x",
        style: Style::new(),
        changed: at % 5 == 3,
    };
    Lanes {
        names: vec!["tube-pump".to_owned(), "drain".to_owned()],
        events: (0..count).map(event).collect(),
        moments: vec![
            (30 * day, "1970-02".to_owned()),
            (59 * day, "1970-03".to_owned()),
        ],
    }
}

#[test]
fn an_event_stands_in_its_lane_at_its_time() {
    let area = Rect::new(0, 0, 80, 8);
    let mut buffer = Buffer::empty(area);
    let chart = lanes(8);
    chart.draw(&mut buffer, area, Some(7), FINE);
    let text = |y: u16| -> String { (0..80).map(|x| buffer[(x, y)].symbol()).collect() };
    assert!(text(0).starts_with("tube-pump") && text(2).starts_with("drain"));
    assert_eq!(text(0).matches('x').count(), 7);
    assert_eq!(text(2).matches('x').count(), 1);
    assert_eq!(text(4).matches('◆').count(), 1);
    assert!(text(4).starts_with("changes"));
    let column = |y: u16, sign: char| text(y).chars().position(|found| found == sign);
    assert_eq!(column(2, 'x'), column(4, '◆'));
    let stand = chart.stand(area).unwrap();
    let at = Position::new(stand.plot.right() - 1, 0);
    assert_eq!(chart.at(area, at), Some(7));
}

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
                assert!(symbol.is_ascii(), "{symbol:?}");
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
        chosen in 0usize..90, name in "[a-z油]{0,40}"
    ) {
        let (least, most) = dots.iter().fold((u64::MAX, 1), |(low, high), (trials, _)| {
            (low.min(*trials), high.max(*trials))
        });
        let curve = if dots.is_empty() { Vec::new() } else {
            vec![(least, [-0.2, 0.0, 0.9, 1.2]), (most.max(least + 1), [0.4, 0.45, 0.55, 0.6])]
        };
        let chart = Funnel { centre: 0.5, dots, curve };
        let area = Rect::new(x, y, width, height);
        for theme in [FINE, PLAIN] {
            within(area, theme, |buffer| chart.draw(buffer, area, Some((chosen, &name)), theme));
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
