//! Which colours the terminal interface wears.

use clap::Args;
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};

use crate::model::Colours;

#[derive(Args)]
pub struct ColoursArgs {
    /// Colours for a dark or a light background, or none; `auto` goes by the terminal
    #[arg(
        long,
        value_name = "WHICH",
        env = "FAIRDRAW_COLOURS",
        hide_env_values = true,
        default_value_t = Colours::Auto,
        value_parser = which()
    )]
    pub colours: Colours,
}

fn which() -> impl TypedValueParser<Value = Colours> {
    let words = Colours::ALL.map(|colours| PossibleValue::new(colours.as_str()));
    // A variable that is set to nothing is as good as none.
    let blank = PossibleValue::new("").hide(true);
    PossibleValuesParser::new(words.into_iter().chain([blank]))
        .map(|word| Colours::named(&word).unwrap_or_default())
}
