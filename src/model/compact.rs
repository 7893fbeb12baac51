//! Optional values in eight bytes, so that a million draws fit in memory.
//!
//! `Option<f64>` takes sixteen bytes. Both types here keep one value that no sheet can
//! hold to mean "blank" and hand out a plain `Option`; nothing else can see it.

use std::fmt;

/// A decimal quantity that may be blank.
#[derive(Clone, Copy)]
pub struct Number(f64);

impl Number {
    /// Not recorded.
    pub const BLANK: Number = Number(f64::NAN);

    /// A recorded value. A value that is not a number counts as blank.
    #[must_use]
    pub const fn new(value: f64) -> Self {
        Number(value)
    }

    /// The value, if one was recorded.
    #[must_use]
    pub const fn get(self) -> Option<f64> {
        if self.0.is_nan() { None } else { Some(self.0) }
    }

    /// Whether nothing was recorded.
    #[must_use]
    pub const fn is_blank(self) -> bool {
        self.0.is_nan()
    }
}

impl Default for Number {
    fn default() -> Self {
        Number::BLANK
    }
}

impl From<Option<f64>> for Number {
    fn from(value: Option<f64>) -> Self {
        value.map_or(Number::BLANK, Number::new)
    }
}

impl PartialEq for Number {
    fn eq(&self, other: &Self) -> bool {
        self.get() == other.get()
    }
}

impl fmt::Debug for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.get().fmt(f)
    }
}

/// An instant in seconds since 1970-01-01T00:00:00Z that may be blank.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Moment(i64);

impl Moment {
    /// Not recorded.
    pub const BLANK: Moment = Moment(i64::MIN);

    /// A recorded instant, in seconds since 1970 UTC.
    #[must_use]
    pub const fn new(seconds: i64) -> Self {
        Moment(seconds)
    }

    /// The instant in seconds since 1970 UTC, if one was recorded.
    #[must_use]
    pub const fn get(self) -> Option<i64> {
        if self.0 == i64::MIN {
            None
        } else {
            Some(self.0)
        }
    }

    /// Whether nothing was recorded.
    #[must_use]
    pub const fn is_blank(self) -> bool {
        self.0 == i64::MIN
    }
}

impl Default for Moment {
    fn default() -> Self {
        Moment::BLANK
    }
}

impl From<Option<i64>> for Moment {
    fn from(value: Option<i64>) -> Self {
        value.map_or(Moment::BLANK, Moment::new)
    }
}

impl fmt::Debug for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.get().fmt(f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_take_eight_bytes_and_give_back_what_they_got() {
        assert_eq!(size_of::<Number>(), 8);
        assert_eq!(size_of::<Moment>(), 8);
        assert_eq!(Number::new(0.0).get(), Some(0.0));
        assert_eq!(Number::BLANK.get(), None);
        assert_eq!(Number::from(None), Number::BLANK);
        assert_eq!(Moment::new(-1).get(), Some(-1));
        assert_eq!(Moment::from(None), Moment::BLANK);
        assert!(Moment::BLANK.is_blank() && Number::BLANK.is_blank());
    }
}
