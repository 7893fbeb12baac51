//! The list of signals: one line a signal.

use super::{Card, Signal};

macro_rules! registry {
    ($($module:ident::$signal:ident,)+) => {
        /// How many signals there are.
        pub const COUNT: usize = [$(stringify!($module)),+].len();

        static SIGNALS: [&dyn Signal; COUNT] = [$(&super::$module::$signal),+];
    };
}

registry! {
    carried_forward::CarriedForward,
    counter_still::CounterStill,
    counter_jumps::CounterJumps,
    impossible_time::ImpossibleTime,
    typed_in_bursts::TypedInBursts,
    no_variation::NoVariation,
    last_digits::LastDigits,
    sent_when_drawn::SentWhenDrawn,
    one_minute::OneMinute,
    swapped_bottles::SwappedBottles,
}

/// Every signal, in order.
pub(super) fn signals() -> &'static [&'static dyn Signal; COUNT] {
    &SIGNALS
}

/// The cards of all signals, in order.
#[must_use]
pub fn cards() -> [&'static Card; COUNT] {
    SIGNALS.map(Signal::card)
}

/// The place of the signal with this id.
#[must_use]
pub fn place_of(id: &str) -> Option<usize> {
    cards().iter().position(|card| card.id == id)
}
