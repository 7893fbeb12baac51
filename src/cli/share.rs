//! `fairdraw share`: shares with intervals and bounds.

use std::cmp::Reverse;
use std::path::Path;

use super::args::{Format, ShareArgs, Sort};
use super::ask::{Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::analysis::{Group, Key, by, tally};
use crate::report::share_rows;

const OF_DRAWS: &str = "share: unrepresentative of judged draws, with its 95 % interval (from, \
                        to); least and most: what it can be over all draws, unproven ones included";
const OF_RULES: &str = "share: broken of recorded, with its 95 % interval (from, to); least and \
                        most: what it can be over all draws the rule applies to";

/// Runs the command.
pub fn run(file: &Path, args: &ShareArgs, output: &mut Output) -> Result<Finish, Failure> {
    let Asked {
        assessed,
        selection,
        ..
    } = ask(file, &args.reading)?;
    let mut groups = match args.by {
        Some(key) => by(&assessed, &selection, key),
        None => vec![Group {
            key: "all".to_owned(),
            tally: tally(&assessed, &selection),
        }],
    };
    sort(&mut groups, args.sort);
    let rows = groups
        .iter()
        .map(|group| share_rows::share(&group.key, &group.tally));
    let format = args.reading.format.format;
    let by_rule = args.by == Some(Key::Rule);
    let columns = if by_rule {
        share_rows::SHARE_BY_RULE
    } else {
        share_rows::SHARE
    };
    output.report(format.into(), columns, rows)?;
    if matches!(format, Format::Table) {
        output.flush()?;
        remark(if by_rule { OF_RULES } else { OF_DRAWS });
    }
    Ok(Finish::Done)
}

/// Sorts groups; those without a share come last, and equal ones keep the order of the key.
fn sort(groups: &mut [Group], order: Sort) {
    match order {
        Sort::Key => {}
        Sort::Draws => groups.sort_by_key(|group| Reverse(group.tally.draws)),
        Sort::Share => groups.sort_by(|a, b| {
            let share = |group: &Group| group.tally.share().share.unwrap_or(-1.0);
            share(b).total_cmp(&share(a))
        }),
    }
}
