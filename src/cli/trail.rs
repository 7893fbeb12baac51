//! `fairdraw trail`: what people decided, link by link.

use std::path::Path;

use super::args::{Format, TrailArgs};
use super::ask;
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::model::decisions;
use crate::report::trail_rows;

/// Runs the command.
pub fn run(file: &Path, args: &TrailArgs, output: &mut Output) -> Result<Finish, Failure> {
    let programme = ask::open(file)?;
    if let Some(kind) = &args.kind
        && !decisions::is_known(kind)
    {
        return Err(Failure::WrongUse(format!(
            "--kind: there is no kind {kind:?}; the kinds are: {}",
            decisions::kinds().collect::<Vec<_>>().join(", ")
        )));
    }
    let links = programme.trail()?;
    let zone = programme.zone()?;
    let asked = |kind: &str| args.kind.as_deref().is_none_or(|asked| asked == kind);
    let rows = links.iter().filter(|link| asked(&link.kind));
    output.report(
        args.format.format.into(),
        trail_rows::TRAIL,
        rows.map(|link| trail_rows::trail(link, zone)),
    )?;
    if matches!(args.format.format, Format::Table) {
        output.flush()?;
        match links.last() {
            None => remark("nothing was decided yet"),
            Some(last) => remark(&format!(
                "the head of the trail is link {}, {}; note it elsewhere, and \
                 `fairdraw check --head` tells later whether it still stands",
                last.number, last.hash
            )),
        }
    }
    Ok(Finish::Done)
}
