//! Values stand in the cells they belong to, in every chart.

#![allow(clippy::unwrap_used)]

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::control::{Control, Mark, Slot};
use super::funnel::{Funnel, Toward};
use super::intervals::{self, Bar, Intervals};
use super::lanes::{Event, Lanes};
use super::scale::Scale;
use crate::tui::theme::Theme;

pub(super) const FINE: Theme = Theme::new(true, true);
pub(super) const PLAIN: Theme = Theme::new(true, false);

pub(super) fn slot(at: u32, share: Option<f64>, limits: Option<(f64, f64)>, mark: Mark) -> Slot {
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

/// A case of a file of reference values in tests/fixtures/reference/.
fn published(file: &str, id: &str) -> serde_json::Value {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/fixtures/reference/");
    let text = std::fs::read_to_string(format!("{folder}{file}")).unwrap();
    let file: serde_json::Value = serde_json::from_str(&text).unwrap();
    let cases = file["cases"].as_array().unwrap();
    let found = cases.iter().find(|case| case["id"] == id);
    found.unwrap()["expected"].clone()
}

/// Share, lower and upper limit of D. C. Montgomery, Introduction to Statistical Quality Control,
/// 6th ed. 2009, table 7.4 (25 weeks of purchase orders), and the centre.
fn purchase_orders() -> (f64, Vec<[f64; 3]>) {
    let expected = published("charts.json", "pchart_variable_n");
    let number = |name: &str, at: usize| expected[name][at].as_f64().unwrap();
    let weeks = expected["p"].as_array().unwrap().len();
    let rows = (0..weeks).map(|at| ["p", "lcl", "ucl"].map(|name| number(name, at)));
    (expected["pbar"].as_f64().unwrap(), rows.collect())
}

/// Under-one open heart surgery in twelve hospitals 1991-95 (Bristol Royal Infirmary Inquiry;
/// Spiegelhalter, The Art of Statistics, 2019) with the limits of their funnel.
#[test]
fn published_funnel_limits_are_drawn_where_they_belong() {
    let expected = published("funnel.json", "child_heart_1991_95");
    let mut units: Vec<(u64, f64, [f64; 4])> = (expected["units"].as_array().unwrap().iter())
        .map(|unit| {
            let number = |name: &str| unit[name].as_f64().unwrap();
            let limits = ["lo998", "lo95", "hi95", "hi998"].map(number);
            (unit["n"].as_u64().unwrap(), number("share"), limits)
        })
        .collect();
    units.sort_by_key(|unit| unit.0);
    let mut curve: Vec<(u64, [f64; 4])> = units.iter().map(|unit| (unit.0, unit.2)).collect();
    curve.dedup_by_key(|known| known.0);
    let chart = Funnel {
        centre: expected["theta"].as_f64().unwrap(),
        dots: units.iter().map(|unit| (unit.0, unit.1)).collect(),
        curve,
    };
    let area = Rect::new(0, 0, 120, 40);
    let mut buffer = Buffer::empty(area);
    let stand = chart.stand(area).unwrap();
    chart.draw(&mut buffer, area, None, FINE);
    let (width, height) = (stand.plot.width, stand.plot.height);
    let (least, most) = (units[0].0 as f64, units[units.len() - 1].0 as f64);
    let mut seen = 0;
    for (trials, share, limits) in &units {
        let part = (*trials as f64 / least).ln() / (most / least).ln();
        let column = (part * f64::from(2 * width - 1)).round() as u16;
        let row = |value: f64| {
            let part = (value - stand.up.from) / (stand.up.to - stand.up.from);
            let last = f64::from(4 * height - 1);
            (last - (part * last).round()) as u16
        };
        let at = (column / 2, row(*share) / 4);
        assert_eq!(stand.cell((*trials, *share)), at);
        for limit in &limits[1..3] {
            let near = [row(*limit).saturating_sub(1), row(*limit), row(*limit) + 1];
            let lit = near.iter().filter(|dot| **dot < 4 * height).any(|dot| {
                let cell = (stand.plot.x + column / 2, stand.plot.y + dot / 4);
                rows_lit(&buffer, cell)[usize::from(dot % 4)]
            });
            // Where a hospital stands on its limit, its mark covers the curve.
            let covered = row(*limit).abs_diff(row(*share)) < 5;
            assert!(lit || covered, "{trials}: {limit}");
            seen += usize::from(lit);
        }
    }
    assert!(seen >= 18, "{seen} of 24 limits seen");
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
    let row_of = |value: f64| (down - ((value - bottom) / (top - bottom) * down).round()) as u16;
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
        assert!((stand.up.from - 0.2).abs() < 1e-9 && (stand.up.to - 0.6).abs() < 1e-9);
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
    for (trials, wanted) in [
        (100.0, known.curve[1].1),
        (5.0, known.curve[0].1),
        (5000.0, known.curve[2].1),
    ] {
        let found = known.limits(trials).unwrap();
        let differ = found
            .iter()
            .zip(wanted)
            .map(|(found, wanted)| (found - wanted).abs());
        assert!(differ.fold(0.0, f64::max) < 1e-12, "{trials}: {found:?}");
    }
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

pub(super) fn bars(count: usize) -> Intervals {
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

pub(super) fn lanes(count: usize) -> Lanes {
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
