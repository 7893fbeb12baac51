//! The list of rules, in the contract's order: one line a rule. From that line come its
//! place, its card, its entry in the default rulebook and the way it is built.

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::{Card, Rule};

/// The parameters of one rule by name.
pub type Settings = serde_json::Map<String, serde_json::Value>;

/// How a rule is made from its parameters.
#[derive(Clone, Copy)]
pub struct Maker {
    /// The default parameters.
    pub defaults: fn() -> Settings,
    /// The rule with these parameters.
    pub build: fn(&Settings) -> Box<dyn Rule>,
}

macro_rules! registry {
    ($($module:ident::$rule:ident,)+) => {
        /// How many rules there are.
        pub const COUNT: usize = [$(stringify!($module)),+].len();

        static CARDS: [&Card; COUNT] = [$(&super::$module::CARD),+];

        static MAKERS: [Maker; COUNT] = [$(maker_of::<super::$module::$rule>()),+];
    };
}

registry! {
    running_or_hot::RunningOrHot,
    flush_met::FlushMet,
    same_point::SamePoint,
    same_method::SameMethod,
    point_suited::PointSuited,
    point_cleaned::PointCleaned,
    tube_depth::TubeDepth,
    fresh_tube::FreshTube,
    bottle_fit::BottleFit,
    capped_at_once::CappedAtOnce,
    fill_level::FillLevel,
    oil_worked_in::OilWorkedIn,
    age_at_dispatch::AgeAtDispatch,
    looked_at::LookedAt,
    second_fill::SecondFill,
    level_set::LevelSet,
    grease_midway::GreaseMidway,
    label_complete::LabelComplete,
    bottle_unique::BottleUnique,
    times_in_order::TimesInOrder,
    hours_forward::HoursForward,
    registered::Registered,
    age_at_receipt::AgeAtReceipt,
    interval_kept::IntervalKept,
    safety_confirmed::SafetyConfirmed,
}

/// The cards of all rules, in the contract's order.
#[must_use]
pub fn cards() -> &'static [&'static Card; COUNT] {
    &CARDS
}

/// How the rule at this place of the order is made.
#[must_use]
pub fn maker(place: usize) -> Maker {
    MAKERS[place]
}

/// The place of the rule with this id in the contract's order.
#[must_use]
pub fn place_of(id: &str) -> Option<usize> {
    cards().iter().position(|card| card.id == id)
}

const fn maker_of<R>() -> Maker
where
    R: Rule + Default + Serialize + DeserializeOwned + 'static,
{
    Maker {
        defaults: defaults::<R>,
        build: build::<R>,
    }
}

fn defaults<R: Default + Serialize>() -> Settings {
    match serde_json::to_value(R::default()) {
        Ok(serde_json::Value::Object(settings)) => settings,
        _ => unreachable!("the parameters of a rule are a map of finite numbers and words"),
    }
}

fn build<R: Rule + DeserializeOwned + 'static>(settings: &Settings) -> Box<dyn Rule> {
    let value = serde_json::Value::Object(settings.clone());
    let rule: R = serde_json::from_value(value)
        .expect("a rulebook was checked against the rule's parameters before");
    Box::new(rule)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn every_rule_is_built_from_its_defaults_and_every_parameter_is_described() {
        for (place, card) in cards().iter().enumerate() {
            let settings = (maker(place).defaults)();
            let _ = (maker(place).build)(&settings);
            let described: Vec<&str> = card.parameters.iter().map(|p| p.name).collect();
            let mut held: Vec<&str> = settings.keys().map(String::as_str).collect();
            let mut sorted = described.clone();
            sorted.sort_unstable();
            held.sort_unstable();
            assert_eq!(held, sorted, "{}", card.id);
            for parameter in card.parameters {
                if let Some(other) = parameter.not_above {
                    assert!(described.contains(&other), "{}", card.id);
                }
            }
        }
    }
}
