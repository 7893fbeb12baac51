//! `fairdraw demo`: the invented programme.

use std::fs::{self, File};
use std::io::{BufRead as _, BufReader, BufWriter, Write as _};
use std::path::{Path, PathBuf};

use super::Interface;
use super::args::DemoArgs;
use super::demo_decisions::{self, AUDIT, FOLLOW_UP, LATELY};
use super::exit::{Failure, Finish};
use super::import::standing;
use super::open::is_interactive;
use super::output::{Output, remark};
use super::watch::Watch;
use super::who::who;
use crate::analysis::{Assessed, Filter, Group, Key, by, tally};
use crate::demo::{self, Size};
use crate::model::trail::Who;
use crate::model::{Class, Progress, time};
use crate::programme::{ImportRequest, Programme};
use crate::report::{Format, share_rows};
use crate::rules;

/// An hour, in seconds.
const HOUR: i64 = 3600;

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
        interface(programme, &file, who(None).ok(), args.colours.colours)
            .map_err(Failure::Interface)?;
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
        sheets: Vec::new(),
        kind: None,
        zone: time::zone(demo::ZONE),
        dry_run: false,
        who: Who::named(demo::SUPERVISOR),
        named_from: Some(folder.to_owned()),
        ..ImportRequest::default()
    };
    let mut programme = Programme::open_or_create(file)?;
    let folders = in_parts(folder)?;
    let take = |programme: &mut Programme, at: i64, folder: &Path| {
        programme.set_clock(at);
        let request = ImportRequest {
            sheets: vec![folder.to_owned()],
            ..request.clone()
        };
        watch.over(true, |progress: &Progress| {
            programme.import(&request, progress)
        })?;
        watch.over(true, |progress| programme.assess(progress))
    };
    let assessed = take(&mut programme, AUDIT - HOUR, &folders[0])?;
    let pending = watch.over(true, |progress| {
        demo_decisions::audit(&mut programme, &assessed, progress)
    })?;
    let assessed = take(&mut programme, FOLLOW_UP - HOUR, &folders[1])?;
    watch.over(true, |progress| {
        demo_decisions::follow_up(&mut programme, &assessed, pending, progress)
    })?;
    let assessed = take(&mut programme, LATELY, &folders[2])?;
    watch.over(true, |progress| {
        demo_decisions::lately(&mut programme, &assessed, progress)
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
        .map(|group| share_rows::share(&group.key, &group.tally));
    output.report(Format::Table, share_rows::SHARE_BY_RULE, rows)?;
    output.flush()?;
    remark(
        "no terminal here, so this is a summary; in a terminal `fairdraw demo` opens the interface",
    );
    Ok(())
}

fn is_about_the_sample(group: &Group) -> bool {
    rules::place_of(&group.key).is_some_and(|place| rules::cards()[place].class == Class::Sample)
}

/// The sheets in three folders, as they came with time: what stood when the audit took
/// place, what came until its follow-up, and what came since.
fn in_parts(folder: &Path) -> Result<[PathBuf; 3], Failure> {
    let folders = ["audit", "follow-up", "lately"].map(|name| folder.join(name));
    let days = [AUDIT, FOLLOW_UP].map(|at| time::utc_text(at)[..10].to_owned());
    for into in &folders {
        fs::create_dir_all(into)?;
    }
    for sheet in ["points.csv", "technicians.csv"] {
        fs::rename(folder.join(sheet), folders[0].join(sheet))?;
    }
    for (sheet, column) in [("draws.csv", "drawn_at"), ("trainings.csv", "held_on")] {
        let mut lines = BufReader::new(File::open(folder.join(sheet))?).lines();
        let header = lines.next().transpose()?.unwrap_or_default();
        let place = header.split(',').position(|name| name == column);
        let mut parts = Vec::new();
        for into in &folders {
            let mut part = BufWriter::new(File::create(into.join(sheet))?);
            writeln!(part, "{header}")?;
            parts.push(part);
        }
        for line in lines {
            let line = line?;
            let at = place.and_then(|place| line.split(',').nth(place));
            let part = days.iter().filter(|day| at >= Some(day.as_str())).count();
            writeln!(parts[part], "{line}")?;
        }
        for part in &mut parts {
            part.flush()?;
        }
        fs::remove_file(folder.join(sheet))?;
    }
    Ok(folders)
}
