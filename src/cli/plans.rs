//! `fairdraw topics --plans DIR`: a page for each technician.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, OpenOptions};
use std::io::Write as _;
use std::path::{Path, PathBuf};

use super::args::TopicsArgs;
use super::ask::{Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::analysis::topics::{LEAST_REGAINED, Plan, Topics, Unit, peers_of, plan, topics};
use crate::analysis::{Assessed, Selection, nearest};
use crate::report::plan::{Shown, page};
use crate::report::topic_rows;

/// Runs the command.
pub fn run(
    file: &Path,
    args: &TopicsArgs,
    folder: &Path,
    output: &mut Output,
) -> Result<Finish, Failure> {
    let Asked {
        programme,
        assessed,
        filter,
        selection,
        watch,
    } = ask(file, &args.reading)?;
    let asked = named(&assessed, &args.technicians)?;
    let peers = peers_of(&filter).select(&assessed);
    let wanted = |of: &Topics| match &asked {
        Some(places) => of.technician.is_some_and(|place| places.contains(&place)),
        None => (of.topics.first()).is_some_and(|topic| topic.regained() >= LEAST_REGAINED),
    };
    let plans: Vec<Plan> = topics(&assessed, &selection, &peers, Unit::Technician)
        .iter()
        .filter(|of| wanted(of))
        .map(|of| plan(&assessed, &selection, of))
        .collect();
    if let Some(places) = &asked {
        all_have_draws(&assessed, places, &plans)?;
    }
    if plans.is_empty() {
        remark("no technician has a topic worth half a draw, so no plan was written");
    }
    let examples: BTreeSet<u32> = plans
        .iter()
        .flat_map(|plan| &plan.topics)
        .flat_map(|topic| topic.examples.iter().copied())
        .collect();
    let examples: Selection = examples.into_iter().collect();
    let mut shown = BTreeMap::new();
    watch.over(true, |progress| {
        programme.explain_each(&assessed, &examples, progress, &mut |answered| {
            for (named, explained) in answered {
                let row = u32::try_from(named.row).expect("rows are counted in 32 bits");
                shown.insert(row, Shown::of(&assessed, named.row, explained));
            }
            Ok(())
        })
    })?;
    let filter = filter.to_string();
    let pages: Vec<(PathBuf, String)> = file_names(&assessed, &plans)
        .into_iter()
        .zip(&plans)
        .map(|(name, plan)| (folder.join(name), page(&assessed, plan, &shown, &filter)))
        .collect();
    write(folder, &pages)?;
    let rows = plans.iter().zip(&pages).map(|(plan, (path, _))| {
        let id = &assessed.technicians[plan.technician].id;
        topic_rows::plan_written(id, plan.topics.len(), path.display().to_string())
    });
    output.report(args.reading.format.format.into(), topic_rows::PLANS, rows)?;
    Ok(Finish::Done)
}

/// The places of the technicians with these ids; none if no id is given.
fn named(assessed: &Assessed, ids: &[String]) -> Result<Option<BTreeSet<usize>>, Failure> {
    let all = || assessed.technicians.iter().map(|it| it.id.as_str());
    let place_of = |id: &String| {
        all().position(|other| other == id).ok_or_else(|| {
            let meant =
                nearest(id, all()).map_or_else(String::new, |id| format!("; did you mean {id}?"));
            Failure::WrongUse(format!("--for: there is no technician {id}{meant}"))
        })
    };
    let places: BTreeSet<usize> = ids.iter().map(place_of).collect::<Result<_, _>>()?;
    Ok((!ids.is_empty()).then_some(places))
}

fn all_have_draws(
    assessed: &Assessed,
    places: &BTreeSet<usize>,
    plans: &[Plan],
) -> Result<(), Failure> {
    let without = places
        .iter()
        .find(|place| !plans.iter().any(|plan| plan.technician == **place));
    match without {
        None => Ok(()),
        Some(&place) => Err(Failure::WrongUse(format!(
            "--for: technician {} has no draw among those asked for; widen --where or leave the \
             technician out",
            assessed.technicians[place].id
        ))),
    }
}

/// A name for each plan that is safe on any file system: letters, digits, `-` and `_` of the
/// id, a number behind it where two come out alike in any case.
fn file_names(assessed: &Assessed, plans: &[Plan]) -> Vec<String> {
    const LONGEST: usize = 60;
    let mut taken = BTreeSet::new();
    let name = |plan: &Plan| {
        let id = &assessed.technicians[plan.technician].id;
        let safe: String = id
            .chars()
            .map(|c| {
                if c.is_ascii_alphanumeric() || c == '-' || c == '_' {
                    c
                } else {
                    '_'
                }
            })
            .take(LONGEST)
            .collect();
        let names = (1..).map(|number| match number {
            1 => format!("plan-{safe}.md"),
            number => format!("plan-{safe}-{number}.md"),
        });
        names
            .into_iter()
            .find(|name: &String| taken.insert(name.to_lowercase()))
            .expect("numbers go on and on")
    };
    plans.iter().map(name).collect()
}

/// Writes all pages or, if one of the files is there already, none.
fn write(folder: &Path, pages: &[(PathBuf, String)]) -> Result<(), Failure> {
    if let Some((path, _)) = pages.iter().find(|(path, _)| path.exists()) {
        return Err(Failure::CouldNot(format!(
            "{} is there already and is left as it is; no plan was written; choose another folder",
            path.display()
        )));
    }
    if pages.is_empty() {
        return Ok(());
    }
    fs::create_dir_all(folder).map_err(|error| {
        Failure::CouldNot(format!(
            "could not make the folder {}: {error}",
            folder.display()
        ))
    })?;
    for (path, page) in pages {
        OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(path)
            .and_then(|mut file| file.write_all(page.as_bytes()))
            .map_err(|error| {
                Failure::CouldNot(format!("could not write {}: {error}", path.display()))
            })?;
    }
    Ok(())
}
