//! What can be typed after `fairdraw finding`.

use chrono::NaiveDate;
use clap::{ArgGroup, Args, Subcommand, ValueEnum};

use super::choices::filter_help;
use super::{AsArgs, FormatArgs};
use crate::analysis::findings::State;
use crate::model::decisions::finding::Grade;

#[derive(Args)]
pub struct FindingArgs {
    #[command(subcommand)]
    pub command: FindingCommand,
}

#[derive(Subcommand)]
pub enum FindingCommand {
    /// Raises a finding, with the draws that speak for it as they stand now
    #[command(group(ArgGroup::new("subject").required(true)), after_help = "\
Examples:
  fairdraw finding raise --draw D-17 --text 'No hour meter reading' --owner 'Bo Tarn' --due 2026-05-01
  fairdraw finding raise --technician T-4 --rule flush-met --text 'Flushes short' --owner 'Crew B' --due 2026-05-01
  fairdraw finding raise --pick 1 --text 'Records differ from the log' --owner 'Desk' --due 2026-05-01")]
    Raise(Box<RaiseArgs>),
    /// Answers a finding: its cause, the correction, the action against recurrence
    #[command(after_help = "\
Example:
  fairdraw finding answer 1 --cause 'No measuring jug at P-7' --correction 'Resampled on 3 May' --action 'A jug at every point' --by 2026-06-01")]
    Answer {
        #[command(flatten)]
        finding: Numbered,
        /// Why it came about
        #[arg(long, value_name = "TEXT")]
        cause: String,
        /// What was done about what was found
        #[arg(long, value_name = "TEXT")]
        correction: String,
        /// The corrective action: what is done so that it does not come back
        #[arg(long, value_name = "TEXT")]
        action: String,
        /// The day by which the action is done; leave it out if it is done
        #[arg(long, value_name = "DATE", value_parser = day)]
        by: Option<NaiveDate>,
        #[command(flatten)]
        who: AsArgs,
    },
    /// Closes a finding after a check of effect
    ///
    /// Beside your words it keeps how often the finding's rule was broken before and after, on
    /// the draws of its technician or point, or of --checked-draws. Of a finding without a
    /// rule it is the share of unrepresentative draws.
    #[command(after_help = "\
Examples:
  fairdraw finding close 1 --effect 'Four rounds watched, all flushed'
  fairdraw finding close 1 --effect 'Jugs in use' --checked-draws 'crew:B' --from 2026-06-01")]
    Close {
        #[command(flatten)]
        finding: Numbered,
        /// How it was seen that the action was effective
        #[arg(long, value_name = "TEXT")]
        effect: String,
        /// Count before and after on these draws instead of the subject's
        #[arg(long, value_name = "FILTER", long_help = filter_help())]
        checked_draws: Option<String>,
        /// The day that parts before from after [default: that of the action, else of the answer]
        #[arg(long, value_name = "DATE", value_parser = day)]
        from: Option<NaiveDate>,
        #[command(flatten)]
        who: AsArgs,
    },
    /// Withdraws a finding that should not have been raised
    #[command(after_help = "\
Example:
  fairdraw finding withdraw 2 --because 'The meter was replaced that day; the record is right'")]
    Withdraw {
        #[command(flatten)]
        finding: Numbered,
        /// Why
        #[arg(long, value_name = "TEXT")]
        because: String,
        #[command(flatten)]
        who: AsArgs,
    },
    /// Lists findings, overdue ones marked
    #[command(after_help = "\
Examples:
  fairdraw finding list
  fairdraw finding list --state overdue --format csv > overdue.csv")]
    List {
        /// Only findings in this state
        #[arg(long, value_name = "STATE")]
        state: Option<StateWord>,
        #[command(flatten)]
        format: FormatArgs,
    },
    /// Shows a finding: its story, and the evidence then and now
    #[command(after_help = "\
Examples:
  fairdraw finding show 1
  fairdraw finding show F-1 --format json")]
    Show {
        #[command(flatten)]
        finding: Numbered,
        #[command(flatten)]
        format: FormatArgs,
    },
}

/// The finding meant.
#[derive(Args)]
pub struct Numbered {
    /// The number of the finding, such as 1 or F-1
    #[arg(value_name = "N", value_parser = number)]
    pub number: u32,
}

#[derive(Args)]
pub struct RaiseArgs {
    /// A draw, by its identity; several with several --draw
    #[arg(long, value_name = "ID", group = "subject")]
    pub draw: Vec<String>,
    /// A technician, by id; the draws on which the rule is broken speak for it
    #[arg(long, value_name = "ID", group = "subject")]
    pub technician: Option<String>,
    /// A point, by id
    #[arg(long, value_name = "ID", group = "subject")]
    pub point: Option<String>,
    /// A pick, by number; the draws that disagree speak for it
    #[arg(long, value_name = "N", group = "subject")]
    pub pick: Option<u32>,
    /// The rule that is not kept
    #[arg(long, value_name = "ID")]
    pub rule: Option<String>,
    /// What was found
    #[arg(long, value_name = "TEXT")]
    pub text: String,
    /// Who is to answer
    #[arg(long, value_name = "NAME")]
    pub owner: String,
    /// The day by which
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub due: NaiveDate,
    /// How much weight it has
    #[arg(long, value_name = "GRADE", default_value = "nonconformity")]
    pub grade: GradeWord,
    /// Of a technician or point: only these of its draws
    #[arg(long = "where", value_name = "FILTER", long_help = filter_help())]
    pub filter: Option<String>,
    #[command(flatten)]
    pub who: AsArgs,
}

/// How much weight a finding has.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum GradeWord {
    /// A requirement is not fulfilled
    Nonconformity,
    /// Nothing is broken yet, but it should be looked at
    Observation,
    /// An opportunity for improvement: it could be done better
    Opportunity,
}

impl From<GradeWord> for Grade {
    fn from(word: GradeWord) -> Self {
        match word {
            GradeWord::Nonconformity => Grade::Nonconformity,
            GradeWord::Observation => Grade::Observation,
            GradeWord::Opportunity => Grade::Opportunity,
        }
    }
}

/// Which findings are listed.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum StateWord {
    /// Raised, not answered
    Open,
    /// Answered, effect not checked yet
    Answered,
    /// Closed
    Closed,
    /// Withdrawn
    Withdrawn,
    /// Open or answered, and past its day
    Overdue,
}

impl StateWord {
    /// The state; none for overdue ones.
    pub fn state(self) -> Option<State> {
        match self {
            StateWord::Open => Some(State::Open),
            StateWord::Answered => Some(State::Answered),
            StateWord::Closed => Some(State::Closed),
            StateWord::Withdrawn => Some(State::Withdrawn),
            StateWord::Overdue => None,
        }
    }
}

fn number(text: &str) -> Result<u32, String> {
    let digits = text
        .strip_prefix("F-")
        .or_else(|| text.strip_prefix("f-"))
        .unwrap_or(text);
    digits
        .parse()
        .map_err(|_| "give the number of a finding, such as 1 or F-1".to_owned())
}

fn day(text: &str) -> Result<NaiveDate, String> {
    text.parse()
        .map_err(|_| "give a day as YYYY-MM-DD, such as 2026-05-01".to_owned())
}
