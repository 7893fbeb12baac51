//! `fairdraw set-aside`: laboratory results that nobody is to act on.

use std::path::Path;

use clap::Args;

use super::args::{AsArgs, Format, FormatArgs};
use super::ask;
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use super::watch::Watch;
use super::who::who;
use crate::programme::set_aside::{By, SetAside};
use crate::report::resample_rows;

#[derive(Args)]
pub struct SetAsideArgs {
    /// The identity of the draw, as `fairdraw score` prints it
    #[arg(value_name = "DRAW", required_unless_present = "list")]
    pub draw: Option<String>,
    /// Why; kept in the trail
    #[arg(long, value_name = "TEXT", required_unless_present = "list")]
    pub because: Option<String>,
    /// Let a result that was set aside count again
    #[arg(long)]
    pub take_back: bool,
    /// List all results ever set aside
    #[arg(long, conflicts_with_all = ["draw", "because", "take_back"])]
    pub list: bool,
    #[command(flatten)]
    pub deciding: AsArgs,
    #[command(flatten)]
    pub format: FormatArgs,
}

/// Runs the command.
pub fn run(file: &Path, args: &SetAsideArgs, output: &mut Output) -> Result<Finish, Failure> {
    let (Some(draw), Some(because)) = (&args.draw, &args.because) else {
        return list(file, args, output);
    };
    let who = who(args.deciding.name.as_deref())?;
    let mut programme = ask::open(file)?;
    let link = if args.take_back {
        programme.take_back_set_aside(&who, draw, because)
    } else {
        let assessed = Watch::new()?.over(true, |progress| programme.assess(progress))?;
        programme.set_result_aside(&assessed, &who, draw, because)
    }?;
    let done = if args.take_back {
        "counts again"
    } else {
        "is set aside"
    };
    remark(&format!(
        "the result of draw {draw} {done}; kept in the trail as link {link} by {who}"
    ));
    Ok(Finish::Done)
}

fn list(file: &Path, args: &SetAsideArgs, output: &mut Output) -> Result<Finish, Failure> {
    let programme = ask::open(file)?;
    let zone = programme.zone()?;
    let all = programme.set_asides()?;
    let rows = all.iter().map(|set: &SetAside| {
        let draw = [&set.draw, &set.point, &set.drawn_at, &set.verdict].map(String::as_str);
        let back = set.taken_back.as_ref().map(decision);
        resample_rows::set_aside(draw, decision(&set.decided), back, zone)
    });
    let format = args.format.format;
    output.report(format.into(), resample_rows::SET_ASIDE, rows)?;
    if matches!(format, Format::Table) && all.is_empty() {
        output.flush()?;
        remark("no result was set aside");
    }
    Ok(Finish::Done)
}

fn decision(by: &By) -> resample_rows::Decision<'_> {
    (&by.who, by.at, &by.because, by.link)
}
