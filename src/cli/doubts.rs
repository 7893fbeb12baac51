//! `fairdraw doubts`: records that are hard to believe.

use std::collections::BTreeSet;
use std::path::Path;

use clap::{Args, ValueEnum};

use super::args::{Format, Reading};
use super::ask::{Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::analysis::doubts::{Card, Doubts, cards};
use crate::report::doubt_rows::{
    BY_SIGNAL, BY_SITE, BY_TECHNICIAN, DOUBTS, Identities, by_group, by_signal, doubt, named_rows,
};

/// What `fairdraw doubts` takes.
#[derive(Args)]
pub struct DoubtsArgs {
    /// Count doubts by this instead of listing them
    #[arg(long, value_name = "KEY")]
    pub by: Option<DoubtsBy>,
    #[command(flatten)]
    pub reading: Reading,
}

/// What doubts are counted by.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum DoubtsBy {
    /// What each signal looked at and found
    Signal,
    /// Technicians whose draws are part of a doubt
    Technician,
    /// Sites where they were drawn
    Site,
}

/// Runs the command.
pub fn run(file: &Path, args: &DoubtsArgs, output: &mut Output) -> Result<Finish, Failure> {
    let Asked {
        programme,
        assessed,
        selection,
        watch,
        ..
    } = ask(file, &args.reading)?;
    let found = watch.over(true, |progress| {
        programme.doubts(&assessed, &selection, progress)
    })?;
    let format = args.reading.format.format;
    match args.by {
        None => {
            let mut identities = Identities::new();
            let rows = named_rows(&found);
            watch.over(true, |progress| {
                programme.name_each(&assessed, &rows, progress, &mut |named| {
                    identities.extend(named.iter().map(|named| {
                        let row = u32::try_from(named.row).expect("rows are counted in 32 bits");
                        (row, named.identity(&assessed))
                    }));
                    Ok(())
                })
            })?;
            let rows = found.list.iter();
            let rows = rows.map(|it| doubt(&assessed, it, &identities));
            output.report(format.into(), DOUBTS, rows)?;
        }
        Some(DoubtsBy::Signal) => output.report(format.into(), BY_SIGNAL, by_signal(&found))?,
        Some(DoubtsBy::Technician) => {
            output.report(
                format.into(),
                BY_TECHNICIAN,
                by_group(&assessed, &found, false),
            )?;
        }
        Some(DoubtsBy::Site) => {
            output.report(format.into(), BY_SITE, by_group(&assessed, &found, true))?;
        }
    }
    if matches!(format, Format::Table) {
        output.flush()?;
        explain(&found, args.by.is_none());
    }
    Ok(Finish::Done)
}

/// What the list means and, beside each signal in it, what else explains it.
fn explain(found: &Doubts, with_explanations: bool) {
    let (doubts, comparisons) = (found.list.len(), found.comparisons());
    if doubts == 0 {
        remark(&format!(
            "nothing here is hard to believe: {comparisons} comparisons over the whole programme"
        ));
        return;
    }
    remark(&format!(
        "a doubt is a reason to ask, never a charge. By accident: the chance that any of the \
         {comparisons} comparisons over the whole programme would show as much if all were as \
         others are"
    ));
    let listed: BTreeSet<&str> = found.list.iter().map(|doubt| doubt.signal.id).collect();
    let listed = |card: &&&'static Card| with_explanations && listed.contains(card.id);
    for card in cards().iter().filter(listed) {
        remark("");
        remark(&format!("{} ({})", card.title, card.id));
        for explanation in card.explanations {
            remark(&format!("  may be: {explanation}"));
        }
        for next in card.next {
            remark(&format!("  next: {next}"));
        }
    }
}
