//! `fairdraw export`: the findings pack.

use std::path::{Path, PathBuf};

use clap::Args;

use super::args::{AsArgs, Reading};
use super::ask;
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use super::watch::Watch;
use super::who::who;
use crate::programme::{ExportRequest, SUMS};
use crate::report::pack::rows;

#[derive(Args)]
pub struct ExportArgs {
    /// The folder to be made
    #[arg(long, value_name = "DIR")]
    pub to: PathBuf,
    /// Codes in place of technicians, crews and those who decided
    ///
    /// Free texts are left out, since they may name people. Codes stay the same from pack to
    /// pack; the key behind them stays in the programme file.
    #[arg(long)]
    pub anonymous: bool,
    /// Replace a pack that stands there
    #[arg(long)]
    pub replace: bool,
    #[command(flatten)]
    pub who: AsArgs,
    #[command(flatten)]
    pub reading: Reading,
}

/// Runs the command.
pub fn run(file: &Path, args: &ExportArgs, output: &mut Output) -> Result<Finish, Failure> {
    let (mut programme, filter) = ask::open_for(file, &args.reading)?;
    let who = who(args.who.name.as_deref())?;
    let request = ExportRequest {
        to: args.to.clone(),
        filter,
        is_anonymous: args.anonymous,
        replace: args.replace,
        who: Some(who),
    };
    let watch = Watch::new()?;
    let made = watch.over(true, |progress| programme.export(&request, progress))?;
    let format = args.reading.format.format;
    let files = made.files.iter().map(|file| {
        let (path, sum) = (file.path.as_str(), file.sha256.as_str());
        rows::exported(path, file.rows, file.bytes, sum)
    });
    output.report(format.into(), rows::EXPORTED, files)?;
    output.flush()?;
    if made.link.is_none() {
        remark("the programme file is read-only, so its trail does not note this pack");
    }
    remark(&format!(
        "{}: {} files on {} draws; SHA-256 of its {SUMS}: {}",
        args.to.display(),
        made.files.len(),
        made.draws,
        made.sums_sha256
    ));
    Ok(Finish::Done)
}
