//! Last digits of counters.

use super::card::Card;
use super::seen::{Ground, MACHINE_HOURS, Measure, NONE, OIL_HOURS};
use super::{About, Comparison, Evidence, Looked, Signal};
use crate::model::phrase::exact;
use crate::stats::digits;

const MEASURES: [Measure; 2] = [MACHINE_HOURS, OIL_HOURS];
/// Digits that rounding does not favour.
const DIGITS: [u8; 8] = [1, 2, 3, 4, 6, 7, 8, 9];
/// Fewer readings than ten a digit say nothing.
const READINGS: u64 = 80;
/// Fewer others than this say nothing.
const OTHERS: usize = 4;
/// A counter that has moved less says nothing new.
const MOVED_H: f64 = 10.0;

pub const CARD: Card = Card {
    id: "last-digits",
    title: "Last digits that no counter shows",
    looks_at: "The last digits of whole machine_hours and oil_hours, each by itself, of readings at \
               least 10 hours off the one before on the compartment. Who rounds writes 0 and 5, \
               which is honest; so only 1 to 4 and 6 to 9 are counted. Read from a counter they \
               come up equally often; made up, some come up far too often. At least 80 such \
               readings are asked for.",
    counts: "readings that end neither in 0 nor in 5 end in one and the same digit",
    chance: "Pearson's chi-square of the eight digits against equal shares, on seven degrees of \
             freedom, divided by the mean excess of the other technicians where they show one: \
             readings of one machine hang together.",
    explanations: &[
        "the counter is read to even numbers, or its last wheel is hard to read",
        "a machine that runs round the clock, visited at a fixed interval, shows the same digits",
        "hours are worked out from a log instead of read",
    ],
    next: &[
        "ask where and how the hours are read",
        "compare some readings with the machine's own log",
    ],
    source: "Last digits of honest readings are even: J. E. Mosimann and others, Accountability in \
             Research 4 (1995) 31-55 (the paper itself was not consulted).",
};

pub struct LastDigits;

/// The last digit of a whole number.
fn last_digit(value: f64) -> Option<u8> {
    let is_counted = value.fract() == 0.0 && (0.0..1e15).contains(&value);
    is_counted.then_some((value as u64 % 10) as u8)
}

impl Signal for LastDigits {
    fn card(&self) -> &'static Card {
        &CARD
    }

    fn look(&self, ground: &Ground<'_>) -> Looked {
        let mut looked = Looked::default();
        for measure in MEASURES {
            let (comparisons, silent) = look(ground, measure);
            looked.comparisons.extend(comparisons);
            looked.silent += silent;
        }
        looked
    }

    fn tells(&self, ground: &Ground<'_>, column: Option<&'static str>, seen: Evidence) -> String {
        let measure = MEASURES.iter().find(|it| Some(it.name) == column);
        let value = measure.and_then(|it| (it.of)(ground.draw(seen.row)).get());
        format!(
            "{} {}",
            column.unwrap_or_default(),
            value.map_or(String::new(), exact)
        )
    }
}

fn look(ground: &Ground<'_>, measure: Measure) -> (Vec<Comparison>, u64) {
    let mut digits: Vec<Vec<(u8, u32)>> = vec![Vec::new(); ground.technicians()];
    for row in 0..ground.rows() {
        let draw = ground.draw(row);
        let Some(value) = (measure.of)(draw).get() else {
            continue;
        };
        let before = ground.previous[row as usize];
        let stood = before != NONE
            && (measure.of)(ground.draw(before))
                .get()
                .is_some_and(|before| (value - before).abs() < MOVED_H);
        if let Some(digit) = last_digit(value)
            && !stood
            && DIGITS.contains(&digit)
        {
            digits[draw.technician as usize].push((digit, row));
        }
    }
    let counts = |of: &[(u8, u32)]| {
        DIGITS.map(|digit| of.iter().filter(|(other, _)| *other == digit).count() as u64)
    };
    let enough: Vec<(u32, [u64; DIGITS.len()])> = (0..)
        .zip(&digits)
        .filter(|(_, of)| of.len() as u64 >= READINGS)
        .map(|(technician, of)| (technician, counts(of)))
        .collect();
    let drew = digits.iter().filter(|of| !of.is_empty()).count();
    let uneven: Vec<f64> = enough
        .iter()
        .filter_map(|(_, counts)| digits::unevenness(counts))
        .collect();
    let chances = digits::chances(&uneven, DIGITS.len() as u64 - 1, OTHERS);
    let comparisons: Vec<Comparison> = enough
        .iter()
        .zip(chances)
        .filter_map(|((technician, counts), chance)| {
            let (most, events) = (DIGITS.iter().zip(counts))
                .rev()
                .max_by_key(|(_, count)| **count)?;
            let of: u64 = counts.iter().sum();
            let evidence = digits[*technician as usize]
                .iter()
                .filter(|(digit, _)| digit == most)
                .map(|(_, row)| Evidence {
                    row: *row,
                    other: None,
                })
                .collect();
            Some(Comparison {
                about: About::Technician(*technician),
                column: Some(measure.name),
                events: *events,
                of,
                expected: of as f64 / DIGITS.len() as f64,
                chance: chance?,
                evidence,
            })
        })
        .collect();
    let silent = (drew - comparisons.len()) as u64;
    (comparisons, silent)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::analysis::doubts::testing::{DAY, Made, of};
    use crate::model::Number;

    /// Six people at a point each, so many draws; counters gain 37 hours and end as they will,
    /// those of the first end as told.
    fn made(draws: i64, first: impl Fn(i64) -> i64) -> Made {
        let mut made = Made::new(6, 6);
        for who in 0..6 {
            for number in 0..draws {
                let draw = made.draw(who, who, number * 2 * DAY);
                let hours = 1000 + 37 * number + i64::from(who);
                let hours = if who == 0 {
                    hours / 10 * 10 + first(number)
                } else {
                    hours
                };
                draw.machine_hours = Number::new(hours as f64);
            }
        }
        made
    }

    #[test]
    fn a_digit_that_comes_up_far_too_often_is_counted() {
        let looked = made(100, |number| [7, 3, 7, 8][(number % 4) as usize]).look(&LastDigits);
        let first = of(&looked, 0).unwrap();
        assert_eq!((first.events, first.of, first.expected), (50, 100, 12.5));
        assert_eq!(first.evidence.len(), 50);
        assert!(first.chance < 1e-9);
        assert!(of(&looked, 1).unwrap().chance > 0.9);
    }

    #[test]
    fn rounding_and_too_few_readings_say_nothing() {
        let rounded = made(100, |number| number % 2 * 5).look(&LastDigits);
        assert!(of(&rounded, 0).is_none());
        // 100 draws leave 80 readings that end neither in 0 nor in 5; 98 leave fewer.
        assert_eq!(
            made(100, |number| number % 10)
                .look(&LastDigits)
                .comparisons
                .len(),
            6
        );
        let few = made(98, |number| number % 10).look(&LastDigits);
        assert_eq!((few.comparisons.len(), few.silent), (0, 6));
    }

    #[test]
    fn a_counter_that_has_hardly_moved_is_read_once() {
        let mut still = made(100, |_| 7);
        for (draw, _) in &mut still.draws {
            draw.machine_hours = Number::new(1007.0);
        }
        assert!(still.look(&LastDigits).comparisons.is_empty());
        assert_eq!(last_digit(12.5), None);
        assert_eq!(last_digit(0.0), Some(0));
        assert_eq!(last_digit(19.0), Some(9));
    }
}
