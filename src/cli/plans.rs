//! `fairdraw topics --plans DIR`: a page for each technician.

use std::collections::BTreeSet;
use std::path::Path;

use super::args::TopicsArgs;
use super::ask::{Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::analysis::topics::{LEAST_REGAINED, Plan, Topics, Unit, peers_of, plan, topics};
use crate::analysis::{Assessed, nearest};
use crate::programme::plans;
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
    let examples = plans::examples(&plans);
    let shown = watch.over(true, |progress| {
        programme.shown_in_plans(&assessed, &examples, progress)
    })?;
    let files = plans::write(folder, &assessed, &plans, &shown, &filter.to_string())
        .map_err(|error| Failure::CouldNot(error.to_string()))?;
    let rows = plans.iter().zip(&files).map(|(plan, file)| {
        let id = &assessed.technicians[plan.technician].id;
        topic_rows::plan_written(id, plan.topics.len(), file.display().to_string())
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
