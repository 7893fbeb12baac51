//! `fairdraw demo`: the invented programme.

use std::path::Path;

use super::Interface;
use super::args::DemoArgs;
use super::exit::{Failure, Finish};
use super::import::standing;
use super::open::is_interactive;
use super::output::{Output, remark};
use super::watch::Watch;
use crate::analysis::{Assessed, Filter, Group, Key, by, tally};
use crate::demo::{self, Size};
use crate::model::{Class, Progress, time};
use crate::programme::{ImportRequest, Programme};
use crate::report::{Format, rows};
use crate::rules;

/// How many rules the summary names.
const TOP_RULES: usize = 5;

/// Runs the command.
pub fn run(args: &DemoArgs, interface: Interface, output: &mut Output) -> Result<Finish, Failure> {
    let size = size(args)?;
    let watch = Watch::new()?;
    if let Some(folder) = &args.write {
        return write(folder, &size, &watch);
    }
    // The folder goes when the command ends, and the programme with it.
    let scratch = tempfile::tempdir()?;
    let file = match &args.to {
        Some(file) if file.exists() => {
            return Err(Failure::CouldNot(format!(
                "could not make the demo programme: {} is there already; name another file, or \
                 open it with `fairdraw open`",
                file.display()
            )));
        }
        Some(file) => file.clone(),
        None => scratch.path().join("demo.db"),
    };
    let mut programme = make(&file, &scratch.path().join("sheets"), &size, &watch)?;
    if is_interactive() {
        watch.retire();
        interface(programme, &file).map_err(Failure::Interface)?;
    } else {
        let assessed = watch.over(true, |progress| programme.assess(progress))?;
        summary(&assessed, output)?;
    }
    if args.to.is_some() {
        remark(&format!("kept: fairdraw open {}", file.display()));
    }
    Ok(Finish::Done)
}

fn size(args: &DemoArgs) -> Result<Size, Failure> {
    let usual = Size::default();
    let size = Size {
        draws: args.draws.map_or(usual.draws, u64::from),
        points: args.points.map_or(usual.points, |points| points as usize),
        technicians: args
            .technicians
            .map_or(usual.technicians, |technicians| technicians as usize),
        seed: args.seed.unwrap_or(usual.seed),
    };
    if size.draws == 0 || size.points == 0 || size.technicians == 0 {
        return Err(Failure::WrongUse(
            "--draws, --points and --technicians: must be 1 or more".to_owned(),
        ));
    }
    Ok(size)
}

fn write(folder: &Path, size: &Size, watch: &Watch) -> Result<Finish, Failure> {
    let written = sheets(folder, size, watch)?;
    remark(&format!(
        "{}: {} points, {} technicians, {} trainings, {} draws",
        folder.display(),
        written.points,
        written.technicians,
        written.trainings,
        written.draws
    ));
    remark(&format!(
        "next: fairdraw import {} --zone {}",
        folder.display(),
        demo::ZONE
    ));
    Ok(Finish::Done)
}

fn sheets(folder: &Path, size: &Size, watch: &Watch) -> Result<demo::Written, Failure> {
    let written = watch.over(true, |progress| demo::write(folder, size, progress));
    written.map_err(|error| {
        Failure::CouldNot(format!(
            "could not write the demo sheets to {}: {error}",
            folder.display()
        ))
    })
}

/// The demo programme, taken in from its sheets as any other.
fn make(file: &Path, folder: &Path, size: &Size, watch: &Watch) -> Result<Programme, Failure> {
    sheets(folder, size, watch)?;
    let request = ImportRequest {
        sheets: vec![folder.to_path_buf()],
        kind: None,
        zone: time::zone(demo::ZONE),
        dry_run: false,
        ..ImportRequest::default()
    };
    let mut programme = Programme::open_or_create(file)?;
    watch.over(true, |progress: &Progress| {
        programme.import(&request, progress)
    })?;
    Ok(programme)
}

/// The share, and the rules of class sample that break most, as plain text.
fn summary(assessed: &Assessed, output: &mut Output) -> Result<(), Failure> {
    let all = Filter::default().select(assessed);
    output.text(&format!("{}\n\n", standing(&tally(assessed, &all))))?;
    output.text("Rules that break most:\n\n")?;
    let mut groups = by(assessed, &all, Key::Rule);
    groups.retain(is_about_the_sample);
    groups.sort_by_key(|group| std::cmp::Reverse(group.tally.unrepresentative));
    groups.truncate(TOP_RULES);
    let rows = groups
        .iter()
        .map(|group| rows::share(&group.key, &group.tally));
    output.report(Format::Table, rows::SHARE_BY_RULE, rows)?;
    output.flush()?;
    remark(
        "no terminal here, so this is a summary; in a terminal `fairdraw demo` opens the interface",
    );
    Ok(())
}

fn is_about_the_sample(group: &Group) -> bool {
    rules::place_of(&group.key).is_some_and(|place| rules::cards()[place].class == Class::Sample)
}
