//! What can be typed after `fairdraw pick`.

use std::path::PathBuf;

use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, Subcommand, ValueEnum};

use super::{AsArgs, Format, Reading};
use crate::analysis::picks::Parted;
use crate::model::decisions::pick::Outcome;

#[derive(Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true)]
pub struct PickArgs {
    #[command(subcommand)]
    pub command: Option<PickCommand>,
    #[command(flatten)]
    pub draw: PickDrawArgs,
}

#[derive(Args)]
pub struct PickDrawArgs {
    /// How the size is settled
    #[arg(long, value_name = "PLAN", required = true)]
    pub plan: Option<PlanWord>,
    /// Discovery: the share of bad records that must not go unseen, such as 5%
    #[arg(long, value_name = "SHARE", value_parser = part)]
    pub share: Option<String>,
    /// Estimation: how close to the true share, such as 5%
    #[arg(long, value_name = "DISTANCE", value_parser = part)]
    pub within: Option<String>,
    /// Estimation: the share expected [default: 50%, which asks for the most draws]
    #[arg(long, value_name = "SHARE", value_parser = part)]
    pub expected: Option<String>,
    /// Discovery and estimation: how sure to be [default: 95%]
    #[arg(long, value_name = "SHARE", value_parser = part)]
    pub confidence: Option<String>,
    /// Fixed: how many draws
    #[arg(long, value_name = "N")]
    pub draws: Option<u64>,
    /// Part the draws by this and pick from each part in proportion
    #[arg(long, value_name = "KEY", value_parser = parted())]
    pub by: Option<Parted>,
    /// At least so many of each part
    #[arg(long, value_name = "N", requires = "by")]
    pub at_least: Option<u64>,
    /// The seed by which draws are ranked [default: a fresh random one, which is told]
    #[arg(long, value_name = "TEXT")]
    pub seed: Option<String>,
    /// Say how many draws the plan asks for; pick and keep nothing
    #[arg(long)]
    pub dry_run: bool,
    #[command(flatten)]
    pub who: AsArgs,
    #[command(flatten)]
    pub reading: Reading,
}

/// How the size of a pick is settled.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PlanWord {
    /// Large enough to meet a bad record if --share of them are bad
    Discovery,
    /// Large enough to tell a share --within so much
    Estimation,
    /// So many --draws
    Fixed,
}

#[derive(Subcommand)]
pub enum PickCommand {
    /// Lists the picks and how far their verification has come
    #[command(after_help = "\
Example:
  fairdraw pick list")]
    List(super::FormatArgs),
    /// Shows a pick: the rule by which anyone can draw it again, its draws, what was found
    ///
    /// With --format csv it is the sheet for the verifier: what the record claims, and blank
    /// columns for what is found (result: agree, disagree or unverified; verdict:
    /// representative or unrepresentative, if you want to say; note).
    #[command(after_help = "\
Examples:
  fairdraw pick show 1
  fairdraw pick show 1 --format csv > verify.csv")]
    Show {
        /// The number of the pick
        #[arg(value_name = "N")]
        number: u32,
        /// How sure the bounds are [default: that of the plan, else 95%]
        #[arg(long, value_name = "SHARE", value_parser = part)]
        confidence: Option<String>,
        /// How it is written
        #[arg(long, value_name = "FORMAT", default_value = "table")]
        format: Format,
    },
    /// Enters what the verification found, from a sheet or for one draw
    ///
    /// A sheet is taken as a whole or, if anything in it can't be taken, not at all. A draw
    /// entered again takes the place of its earlier result; both stay in the trail.
    #[command(after_help = "\
Examples:
  fairdraw pick enter 1 verified.csv
  fairdraw pick enter 1 --draw D-17 --result disagree --note 'hour meter read 40 h less'")]
    Enter {
        /// The number of the pick
        #[arg(value_name = "N")]
        number: u32,
        /// The sheet, as `pick show N --format csv` writes it
        #[arg(value_name = "SHEET", required_unless_present = "draw", conflicts_with_all = ["draw", "result", "verdict", "note"])]
        sheet: Option<PathBuf>,
        /// One draw, by its identity
        #[arg(long, value_name = "ID", requires = "result")]
        draw: Option<String>,
        /// What was found
        #[arg(long, value_name = "RESULT", value_parser = results(), requires = "draw")]
        result: Option<Outcome>,
        /// Whether the verifier holds the sample for representative
        #[arg(long, value_name = "VERDICT", value_parser = ["representative", "unrepresentative"], requires = "draw")]
        verdict: Option<String>,
        /// A note
        #[arg(long, value_name = "TEXT", requires = "draw")]
        note: Option<String>,
        #[command(flatten)]
        who: AsArgs,
    },
}

fn parted() -> impl TypedValueParser<Value = Parted> {
    PossibleValuesParser::new(Parted::ALL.map(Parted::as_str))
        .map(|word| Parted::parse(&word).expect("only words of keys are offered"))
}

fn results() -> impl TypedValueParser<Value = Outcome> {
    PossibleValuesParser::new(Outcome::ALL.map(Outcome::as_str))
        .map(|word| Outcome::parse(&word).expect("only words of results are offered"))
}

/// A part of one, given as `5%` or `0.05`, as a decimal text.
fn part(text: &str) -> Result<String, String> {
    let text = text.trim();
    let (number, percent) = match text.strip_suffix('%') {
        Some(number) => (number.trim_end(), true),
        None => (text, false),
    };
    let value: Option<f64> = number.parse().ok().filter(|value: &f64| value.is_finite());
    let value = value.ok_or_else(|| "give a share such as 5% or 0.05".to_owned())?;
    if !percent && value >= 1.0 {
        return Err(format!("give a share such as {number}% or 0.05"));
    }
    let part = if percent { value / 100.0 } else { value };
    if part <= 0.0 || part >= 1.0 {
        return Err("it must lie above 0 % and below 100 %".to_owned());
    }
    let text = format!("{part:.8}");
    let text = text.trim_end_matches('0');
    if text.ends_with('.') {
        return Err("it is too near 0 % or 100 %".to_owned());
    }
    Ok(text.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_given_in_percent_or_as_a_part_of_one() {
        for (given, read) in [
            ("5%", "0.05"),
            ("5 %", "0.05"),
            ("0.05", "0.05"),
            ("99.9%", "0.999"),
            ("2.5%", "0.025"),
            ("0.5%", "0.005"),
        ] {
            assert_eq!(part(given).as_deref(), Ok(read), "{given}");
        }
        for wrong in [
            "5", "0", "0%", "100%", "1", "-5%", "five", "nan", "inf%", "", "1e-9",
        ] {
            assert!(part(wrong).is_err(), "{wrong}");
        }
    }
}
