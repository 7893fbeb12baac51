//! Conversions against a table from outside the project, and back again.

use std::fs;

use fairdraw::intake::maps::unit::{UNITS, Unit, named};
use proptest::prelude::*;

use crate::support::fixture;

#[test]
fn units_convert_as_another_library_converts_them() {
    // tests/fixtures/maps/units.py: pint 0.25.3 (PyPI).
    let table = fs::read_to_string(fixture("maps/units.csv")).unwrap();
    let mut seen = 0;
    for line in table.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let (from, to) = (named(cells[0]).unwrap(), named(cells[2]).unwrap());
        let (value, expected): (f64, f64) = (cells[1].parse().unwrap(), cells[3].parse().unwrap());
        let result = from.convert(value, to);
        // Twelve digits are kept; pint's own sums are off in the fifteenth, and near 0 °C in
        // the last digits of the 273.15 it adds and takes away.
        let close = 1e-11 * expected.abs().max(0.1);
        assert!((result - expected).abs() <= close, "{line}: {result}");
        seen += 1;
    }
    assert_eq!(seen, table.lines().count() - 1);
    for unit in UNITS {
        let named = table
            .lines()
            .any(|line| line.starts_with(&format!("{},", unit.name)));
        let is_ours = ["°C", "bar", "L/min", "%", "mm²/s", "cm", "mm"].contains(&unit.name);
        assert!(named || is_ours, "{} is not compared", unit.name);
    }
}

fn any_pair() -> impl Strategy<Value = (&'static Unit, &'static Unit)> {
    (0..UNITS.len(), any::<prop::sample::Index>()).prop_map(|(one, other)| {
        let one = &UNITS[one];
        let same: Vec<&'static Unit> = (UNITS.iter())
            .filter(|unit| unit.quantity == one.quantity)
            .collect();
        (one, same[other.index(same.len())])
    })
}

proptest! {
    #[test]
    fn a_value_of_a_sheet_comes_back_from_another_unit((one, other) in any_pair(), tenths in 0i32..100_000) {
        let value = f64::from(tenths) / 10.0;
        let back = one.convert(value, other);
        let again = other.convert(back, one);
        // A temperature loses what stands behind the twelfth digit of its kelvins.
        prop_assert!((again - value).abs() <= 1e-9 * value.max(1.0), "{value} {back} {again}");
    }
}
