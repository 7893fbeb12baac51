//! The forms of picks: how many draws are picked and how, told before anything is kept, and
//! where the sheet for the verifier goes.

use super::app::App;
use super::command_line::CommandLine;
use super::form::{Field, Form};
use super::forms::{self, Purpose, Sheet};
use super::text;
use crate::analysis::picks::{Parted, Pick, size};
use crate::model::decisions::pick::Plan;
use crate::programme::PickRequest;
use crate::report::pick_rows::achieved;

/// How the size of a pick is settled, in the order of the form's choice.
const PLANS: [&str; 3] = ["discovery", "estimation", "fixed"];

/// Asks for a pick.
pub(crate) fn draw(app: &mut App) {
    if !forms::may_decide(app) {
        return;
    }
    let mut parts = vec!["nothing"];
    parts.extend(Parted::ALL.map(Parted::as_str));
    let seed = forms::today(app).map_or_else(String::new, |day| day.to_string());
    let fields = vec![
        Field::choice(
            "plan",
            &PLANS,
            0,
            "discovery: meets a bad record if the share is bad; estimation: tells a share to \
             within the share; fixed: so many draws",
        ),
        Field::text("share", "5%", "of discovery and estimation, such as 5%"),
        Field::text("confidence", "95%", "of discovery and estimation"),
        Field::text(
            "expected",
            "50%",
            "of estimation: the share that is expected; 50% asks for the most draws",
        ),
        Field::text("draws", "30", "of a fixed pick: how many"),
        Field::choice(
            "parted by",
            &parts,
            0,
            "each part is picked from in proportion",
        ),
        Field::text(
            "seed",
            &seed,
            "any text; with it anyone can draw the same pick again",
        ),
    ];
    let about = if app.filter.is_empty() {
        "A random sample of all draws, to be verified against what can be found out otherwise."
            .to_owned()
    } else {
        format!("A random sample of the draws in view: {}.", app.filter)
    };
    let form = Form::new(Purpose::Pick, "Draw a pick", &about, fields);
    forms::show(app, form);
}

/// Asks where the sheet for the verifier of a pick goes.
pub(crate) fn sheet(app: &mut App, pick: &Pick) {
    let number = pick.drawn.pick;
    let about = format!(
        "{} of {}: what each record claims, and the columns result, verdict and note for what is \
         found. Filled in, it is entered with i in the opened pick.",
        text::count(pick.drawn.draws.len() as u64),
        text::plural(pick.drawn.population, "draw", "draws")
    );
    let file = format!("{}pick-{number}.csv", app.beside);
    let hint = "a new one in a folder that is there; no file is overwritten";
    let fields = vec![Field::text("file", &file, hint)];
    let title = format!("The sheet of pick {number} for the verifier");
    forms::show(
        app,
        Form::new(Purpose::PickSheet(number), &title, &about, fields),
    );
}

/// How many draws would be picked, of how many, and what that would show; where it can't be
/// told yet, why.
pub(crate) fn preview(app: &App, form: &Sheet) -> Vec<String> {
    let population = app.selection.len() as u64;
    let planned = plan(form).map_err(|(label, why)| format!("{label}: {why}"));
    let planned = planned.and_then(|plan| Ok((size(&plan, population)?, plan)));
    let mut said = match planned {
        Ok((size, plan)) => vec![
            format!(
                "Would pick {} of {}.",
                text::count(size.size),
                text::plural(population, "draw", "draws")
            ),
            achieved(&plan, size.marked, size.chance, size.size),
        ],
        Err(why) => vec![format!("No size yet. {}", text::sentence(&why))],
    };
    if let Some(line) = command_line(app, form) {
        said.push(format!("The same on the command line: {}", line.typed(app)));
    }
    said
}

/// The command line that draws the same pick; none while the form asks for none.
pub(crate) fn command_line(app: &App, form: &Sheet) -> Option<CommandLine> {
    let plan = plan(form).ok()?;
    let line = CommandLine::of("pick --plan").and(form.read("plan"));
    let line = match plan {
        Plan::Discovery { share, confidence } => line
            .and("--share")
            .and(&share)
            .and("--confidence")
            .and(&confidence),
        Plan::Estimation {
            within,
            confidence,
            expected,
        } => line
            .and("--within")
            .and(&within)
            .and("--confidence")
            .and(&confidence)
            .and("--expected")
            .and(&expected),
        Plan::Fixed { draws } => line.and("--draws").and(&draws.to_string()),
    };
    let line = match Parted::parse(form.read("parted by")) {
        Some(by) => line.and("--by").and(by.as_str()),
        None => line,
    };
    // A value that begins with a stroke would be taken for an option.
    let seed = format!("--seed={}", form.read("seed"));
    Some(line.and(&seed).on(&app.filter))
}

/// The plan that the form asks for, or the field that is wrong and why.
fn plan(form: &Sheet) -> Result<Plan, (&'static str, &'static str)> {
    let share = |label: &'static str| {
        let words = "write a share such as 5% or 0.05, above 0 and below 1";
        part(form.read(label)).ok_or((label, words))
    };
    match form.read("plan") {
        "discovery" => Ok(Plan::Discovery {
            share: share("share")?,
            confidence: share("confidence")?,
        }),
        "estimation" => Ok(Plan::Estimation {
            within: share("share")?,
            confidence: share("confidence")?,
            expected: share("expected")?,
        }),
        _ => match form.read("draws").parse::<u64>() {
            Ok(draws) if draws > 0 => Ok(Plan::Fixed { draws }),
            _ => Err(("draws", "write how many draws, 1 or more")),
        },
    }
}

/// The pick that the form asks for; what is wrong with it is said there.
pub(crate) fn request(app: &App, form: &mut Sheet) -> Option<PickRequest> {
    let plan = match plan(form) {
        Ok(plan) => plan,
        Err((label, words)) => {
            form.complain(label, &text::sentence(words));
            return None;
        }
    };
    Some(PickRequest {
        plan,
        seed: form.read("seed").to_owned(),
        filter: app.filter.clone(),
        by: Parted::parse(form.read("parted by")),
        at_least: 0,
    })
}

/// A part of one, written as `5%` or `0.05`, as a decimal text.
fn part(text: &str) -> Option<String> {
    let text = text.trim();
    let (number, percent) = match text.strip_suffix('%') {
        Some(number) => (number.trim_end(), true),
        None => (text, false),
    };
    let value: f64 = number.parse().ok()?;
    let part = if percent { value / 100.0 } else { value };
    let written = format!("{part:.8}");
    let written = written.trim_end_matches('0');
    (part > 0.0 && part < 1.0 && !written.ends_with('.')).then(|| written.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_written_in_percent_or_as_a_part_of_one() {
        for (given, read) in [
            ("5%", Some("0.05")),
            ("2.5 %", Some("0.025")),
            ("0.05", Some("0.05")),
            ("5", None),
            ("0%", None),
            ("100%", None),
            ("-5%", None),
            ("nan", None),
            ("", None),
            ("1e-12", None),
        ] {
            assert_eq!(part(given).as_deref(), read, "{given}");
        }
    }
}
