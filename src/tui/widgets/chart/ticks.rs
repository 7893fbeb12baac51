//! Round numbers along an axis: 1, 2 and 5 times a power of ten.

/// The round steps of one power of ten.
const STEPS: [f64; 3] = [1.0, 2.0, 5.0];

/// The smallest round step of which at most `most` fit into a span above 0.
pub(crate) fn step(span: f64, most: usize) -> f64 {
    let least = span / most.max(1) as f64;
    let power = 10f64.powf(least.log10().floor());
    let found = STEPS.iter().map(|step| step * power);
    // A hair of rounding must not make the next larger one of a step that fits.
    let fits = |step: &f64| *step >= least * (1.0 - 1e-9);
    found.into_iter().find(fits).unwrap_or(10.0 * power)
}

/// Round numbers from one end to the other, both ends counted in; about `most` at most.
pub(crate) fn even(from: f64, to: f64, most: usize) -> Vec<f64> {
    // Ends that are no numbers span nothing.
    let spans = to > from;
    if !spans || most == 0 {
        return Vec::new();
    }
    let step = step(to - from, most);
    let first = (from / step - 1e-9).ceil() as i64;
    let last = (to / step + 1e-9).floor() as i64;
    (first..=last).map(|at| at as f64 * step).collect()
}

/// The ends drawn outwards to the next round numbers of which about `most` lie between.
pub(crate) fn ends(from: f64, to: f64, most: usize) -> (f64, f64) {
    let spans = to > from;
    if !spans {
        return (from, to);
    }
    let step = step(to - from, most);
    let down = (from / step + 1e-9).floor() * step;
    let up = (to / step - 1e-9).ceil() * step;
    (down, up)
}

/// Round whole numbers where equal factors are equally far apart: 1, 2, 5, 10, or powers of
/// ten only where those are too many, or even ones where the span is short.
pub(crate) fn factors(from: f64, to: f64, most: usize) -> Vec<f64> {
    let powers = |steps: &[f64], every: usize| -> Vec<f64> {
        let all = (0..16).step_by(every);
        let all = all.flat_map(|power| steps.iter().map(move |step| step * 10f64.powi(power)));
        all.filter(|value| (from..=to).contains(value)).collect()
    };
    let fine = powers(&STEPS, 1);
    if fine.len() < 3 {
        let mut whole = even(from, to, most);
        whole.retain(|value| value.fract() == 0.0);
        return whole;
    }
    for (steps, every) in [(&STEPS[..], 1), (&STEPS[..1], 1), (&STEPS[..1], 2)] {
        let found = powers(steps, every);
        if found.len() <= most.max(1) {
            return found;
        }
    }
    powers(&STEPS[..1], 3)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn ticks_are_round_numbers() {
        let close = |found: Vec<f64>, wanted: &[f64]| {
            assert_eq!(found.len(), wanted.len(), "{found:?} {wanted:?}");
            for (found, wanted) in found.iter().zip(wanted) {
                assert!((found - wanted).abs() < 1e-12, "{found} {wanted}");
            }
        };
        close(even(0.2, 0.6, 4), &[0.2, 0.3, 0.4, 0.5, 0.6]);
        close(even(0.0, 1.0, 5), &[0.0, 0.2, 0.4, 0.6, 0.8, 1.0]);
        close(even(0.013, 0.047, 4), &[0.02, 0.03, 0.04]);
        close(even(3.0, 3.0, 4), &[]);
        close(factors(8.0, 13.0, 5), &[8.0, 9.0, 10.0, 11.0, 12.0, 13.0]);
        close(
            factors(3.0, 300.0, 9),
            &[5.0, 10.0, 20.0, 50.0, 100.0, 200.0],
        );
        close(factors(3.0, 30_000.0, 5), &[10.0, 100.0, 1000.0, 10_000.0]);
        assert_eq!(ends(0.23, 0.47, 5), (0.2, 0.5));
    }

    proptest! {
        #[test]
        fn ticks_are_few_rising_and_within_the_axis(
            from in -1000.0f64..1000.0, span in 0.0001f64..10_000.0, most in 1usize..20
        ) {
            let to = from + span;
            let ticks = even(from, to, most);
            prop_assert!(ticks.len() <= most + 1, "{ticks:?}");
            prop_assert!(ticks.windows(2).all(|pair| pair[0] < pair[1]));
            let slack = span * 1e-6;
            prop_assert!(ticks.iter().all(|at| *at >= from - slack && *at <= to + slack));
            let (low, high) = ends(from, to, most);
            prop_assert!(low <= from + slack && high >= to - slack);
        }
    }
}
