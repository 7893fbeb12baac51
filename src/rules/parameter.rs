//! What may be set on a rule: the name, the unit, the allowed values, the meaning.

use crate::model::Unit;

/// One thing a rulebook may set on a rule.
#[derive(Clone, Copy, Debug)]
pub struct Parameter {
    /// Its name in rulebooks.
    pub name: &'static str,
    /// What its value looks like and what is allowed.
    pub form: Form,
    /// The unit of a number.
    pub unit: Unit,
    /// What it means, in a few words.
    pub meaning: &'static str,
    /// A parameter of the same rule that must not be below this one.
    pub not_above: Option<&'static str>,
}

/// What the value of a parameter looks like.
#[derive(Clone, Copy, Debug)]
pub enum Form {
    /// A number from the first to the second, both included.
    Number(f64, f64),
    /// A list of words out of these.
    Words(&'static [&'static str]),
}

impl Parameter {
    /// A number from `low` to `high`, both included.
    #[must_use]
    pub const fn number(
        name: &'static str,
        unit: Unit,
        low: f64,
        high: f64,
        meaning: &'static str,
    ) -> Self {
        Parameter {
            name,
            form: Form::Number(low, high),
            unit,
            meaning,
            not_above: None,
        }
    }

    /// A list of words out of `words`.
    #[must_use]
    pub const fn words(
        name: &'static str,
        words: &'static [&'static str],
        meaning: &'static str,
    ) -> Self {
        Parameter {
            name,
            form: Form::Words(words),
            unit: Unit::None,
            meaning,
            not_above: None,
        }
    }

    /// The same parameter, which must not exceed another of the rule.
    #[must_use]
    pub const fn not_above(self, other: &'static str) -> Self {
        Parameter {
            not_above: Some(other),
            ..self
        }
    }
}
