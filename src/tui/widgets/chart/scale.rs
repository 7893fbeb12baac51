//! From a value to its place on an axis, and back.

/// How far apart values stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shape {
    /// Equal differences are equally far apart.
    Even,
    /// Equal factors are equally far apart.
    Factors,
}

/// An axis from its lower to its upper end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Scale {
    pub(crate) from: f64,
    pub(crate) to: f64,
    shape: Shape,
}

impl Scale {
    /// Equal differences equally far apart. Without a span of its own it gets one of 1.
    pub(crate) fn even(from: f64, to: f64) -> Self {
        Scale {
            from,
            to: if to > from { to } else { from + 1.0 },
            shape: Shape::Even,
        }
    }

    /// Equal factors equally far apart; both ends above 0. Without a span of its own it reaches
    /// as far again as half and double.
    pub(crate) fn factors(from: f64, to: f64) -> Self {
        let from = from.max(f64::MIN_POSITIVE);
        let (from, to) = if to > from {
            (from, to)
        } else {
            (from / 2.0, from * 2.0)
        };
        Scale {
            from,
            to,
            shape: Shape::Factors,
        }
    }

    /// The part of the axis below a value: 0 at its lower end, 1 at its upper one.
    pub(crate) fn part(self, value: f64) -> f64 {
        match self.shape {
            Shape::Even => (value - self.from) / (self.to - self.from),
            Shape::Factors => (value / self.from).ln() / (self.to / self.from).ln(),
        }
    }

    /// The value of which so large a part of the axis lies below.
    pub(crate) fn value(self, part: f64) -> f64 {
        match self.shape {
            Shape::Even => self.from + part * (self.to - self.from),
            Shape::Factors => self.from * (self.to / self.from).powf(part),
        }
    }

    /// Which of so many places along the axis a value falls into, if it is on it.
    pub(crate) fn place(self, value: f64, places: usize) -> Option<usize> {
        let part = self.part(value);
        // A hair of rounding must not drop a value that lies on an end.
        let inside = (-1e-9..=1.0 + 1e-9).contains(&part);
        (inside && places > 0).then(|| self.nearest(value, places))
    }

    /// The same, at the end of the axis for a value beyond it.
    pub(crate) fn nearest(self, value: f64, places: usize) -> usize {
        let last = places.saturating_sub(1);
        let part = self.part(value);
        let part = if part.is_nan() { 0.0 } else { part };
        ((part.clamp(0.0, 1.0) * last as f64).round() as usize).min(last)
    }

    /// As [`place`](Self::place), counted from the upper end down.
    pub(crate) fn place_down(self, value: f64, places: usize) -> Option<usize> {
        Some(places - 1 - self.place(value, places)?)
    }

    /// As [`nearest`](Self::nearest), counted from the upper end down.
    pub(crate) fn nearest_down(self, value: f64, places: usize) -> usize {
        places.saturating_sub(1) - self.nearest(value, places)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn values_stand_where_they_belong() {
        let even = Scale::even(0.2, 0.6);
        for (value, place) in [
            (0.2, Some(0)),
            (0.4, Some(20)),
            (0.6, Some(40)),
            (0.7, None),
        ] {
            assert_eq!(even.place(value, 41), place, "{value}");
        }
        assert_eq!(even.place_down(0.6, 41), Some(0));
        assert_eq!(even.nearest_down(0.7, 41), 0);
        assert_eq!(even.nearest(0.1, 41), 0);
        // Between 10 and 1000 lies 100 in the middle.
        let factors = Scale::factors(10.0, 1000.0);
        assert_eq!(factors.place(100.0, 41), Some(20));
        assert_eq!(even.place(f64::NAN, 41), None);
        assert_eq!(even.place(0.4, 0), None);
    }

    #[test]
    fn a_single_value_still_has_an_axis() {
        assert_eq!(Scale::even(3.0, 3.0).place(3.0, 11), Some(0));
        assert_eq!(Scale::factors(7.0, 7.0).place(7.0, 11), Some(5));
    }

    proptest! {
        #[test]
        fn a_place_read_back_is_the_value_to_half_a_place(
            from in 0.001f64..100.0, span in 0.001f64..1000.0, part in 0.0f64..=1.0,
            places in 2usize..500
        ) {
            for scale in [Scale::even(from, from + span), Scale::factors(from, from + span)] {
                let value = scale.value(part);
                let place = scale.place(value, places).unwrap();
                let read = place as f64 / (places - 1) as f64;
                prop_assert!((read - part).abs() <= 0.5 / (places - 1) as f64 + 1e-9);
                prop_assert_eq!(scale.place_down(value, places), Some(places - 1 - place));
            }
        }
    }
}
