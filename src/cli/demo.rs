//! `fairdraw demo`: the invented programme.

use std::path::Path;

use super::Faces;
use super::args::DemoArgs;
use super::demo_making;
use super::exit::{Failure, Finish};
use super::import::standing;
use super::open::face;
use super::output::{Output, remark};
use super::watch::Watch;
use super::who::who;
use crate::analysis::{Assessed, Filter, Group, Key, by, tally};
use crate::demo::{self, Size};
use crate::model::Class;
use crate::programme::Beginning;
use crate::report::{Format, share_rows};
use crate::rules;

/// How many rules the summary names.
const TOP_RULES: usize = 5;

/// Runs the command.
pub fn run(
    file: &Path,
    args: &DemoArgs,
    faces: Faces,
    output: &mut Output,
) -> Result<Finish, Failure> {
    let size = size(args)?;
    let watch = Watch::new()?;
    if let Some(folder) = &args.write {
        return write(folder, &size, &watch);
    }
    if let Some(file) = args.to.as_ref().filter(|file| file.exists()) {
        return Err(Failure::CouldNot(format!(
            "could not make the demo programme: {} is there already; name another file, or \
             open it with `fairdraw open`",
            file.display()
        )));
    }
    let make = demo_making::maker(size, args.to.clone());
    if let Some(interface) = face(&args.face, faces) {
        watch.retire();
        interface(Beginning {
            file: args.to.clone().unwrap_or_else(|| file.to_owned()),
            is_demo: true,
            who: who(None).ok(),
            colours: args.colours.colours,
            demo: make,
        })
        .map_err(Failure::Interface)?;
    } else {
        let mut made = watch.over(true, |progress| make(progress))?;
        let assessed = watch.over(true, |progress| made.programme.assess(progress))?;
        summary(&assessed, output)?;
    }
    if let Some(file) = args.to.as_ref().filter(|file| file.exists()) {
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
        .map(|group| share_rows::share(&group.key, &group.tally));
    output.report(Format::Table, share_rows::SHARE_BY_RULE, rows)?;
    output.flush()?;
    remark(
        "no terminal here, so this is a summary; in a terminal `fairdraw demo` opens the interface, \
         and with --plain it does so anywhere",
    );
    Ok(())
}

fn is_about_the_sample(group: &Group) -> bool {
    rules::place_of(&group.key).is_some_and(|place| rules::cards()[place].class == Class::Sample)
}
