//! `fairdraw pick`: a random sample of draws to verify, and what the verification found.

use std::path::Path;

use super::args::{Format, PickArgs, PickCommand, PickDrawArgs, PlanWord, Reading};
use super::ask::{self, Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use super::watch::Watch;
use super::who::who;
use crate::analysis::picks::{Outcome, Pick, outcome, size};
use crate::analysis::{Assessed, Filter};
use crate::model::decisions::pick::{Plan, Verified};
use crate::model::trail::{Who, hexadecimal};
use crate::programme::{PickRequest, Programme};
use crate::report::pick_rows::{self, DRAWS, OUTCOME, PARTS, PICKS, achieved};
use crate::report::pick_words::{self, Now};
use crate::report::sections::{Section, write_json};

/// What stands for the share expected, the confidence, where none is given.
const HALF: &str = "0.5";
const USUAL_CONFIDENCE: &str = "0.95";

/// Problems of a sheet that are told one by one.
const TOLD: usize = 20;

/// Runs the command.
pub fn run(file: &Path, args: &PickArgs, output: &mut Output) -> Result<Finish, Failure> {
    match &args.command {
        None => draw(file, &args.draw, output),
        Some(PickCommand::List(format)) => list(file, format.format, output),
        Some(PickCommand::Show {
            number,
            confidence,
            format,
        }) => {
            let asked = everything(file)?;
            let pick = asked.programme.pick(*number)?;
            show(file, &asked, &pick, confidence.as_deref(), *format, output)?;
            Ok(Finish::Done)
        }
        Some(PickCommand::Enter {
            number,
            sheet,
            draw,
            result,
            verdict,
            note,
            who: named,
        }) => {
            let who = who(named.name.as_deref())?;
            match (sheet, draw, result) {
                (Some(sheet), ..) => enter_sheet(file, *number, sheet, &who),
                (None, Some(draw), Some(result)) => {
                    let verified = Verified {
                        draw: draw.clone(),
                        result: *result,
                        representative: verdict.as_ref().map(|word| word == "representative"),
                        note: note.clone().unwrap_or_default(),
                    };
                    let mut programme = ask::open(file)?;
                    let pick = programme.enter_results(&who, *number, vec![verified], None)?;
                    told(&pick);
                    Ok(Finish::Done)
                }
                _ => Err(Failure::WrongUse(
                    "give a sheet, or --draw and --result".to_owned(),
                )),
            }
        }
    }
}

fn everything(file: &Path) -> Result<Asked, Failure> {
    let format = super::args::FormatArgs {
        format: Format::Table,
    };
    ask(
        file,
        &Reading {
            format,
            filter: None,
        },
    )
}

fn draw(file: &Path, args: &PickDrawArgs, output: &mut Output) -> Result<Finish, Failure> {
    let plan = plan(args)?;
    let format = args.reading.format.format;
    // Read first: without a name nothing can be kept.
    let who = (!args.dry_run)
        .then(|| who(args.who.name.as_deref()))
        .transpose()?;
    let mut asked = ask(file, &args.reading)?;
    let population = asked.selection.len() as u64;
    let Some(who) = who else {
        let size = size(&plan, population).map_err(Failure::CouldNot)?;
        let words = achieved(&plan, size.marked, size.chance, size.size);
        output.text(&format!(
            "{} of {population} draws, plan {plan}.\n{words}\n",
            size.size
        ))?;
        output.flush()?;
        remark("tried out; nothing was picked");
        return Ok(Finish::Done);
    };
    let seed = args.seed.clone().map_or_else(fresh_seed, Ok)?;
    let request = PickRequest {
        plan,
        seed,
        filter: asked.filter.clone(),
        by: args.by,
        at_least: args.at_least.unwrap_or(0),
    };
    let Asked {
        programme,
        assessed,
        watch,
        ..
    } = &mut asked;
    let pick = watch.over(true, |progress| {
        programme.draw_pick(&who, &request, assessed, progress)
    })?;
    if args.seed.is_none() {
        remark(&format!(
            "the seed is {}, a fresh random one",
            pick.drawn.seed
        ));
    }
    show(file, &asked, &pick, None, format, output)?;
    Ok(Finish::Done)
}

fn plan(args: &PickDrawArgs) -> Result<Plan, Failure> {
    let word = args.plan.unwrap_or(PlanWord::Fixed);
    let given = [
        ("--share", args.share.is_some(), PlanWord::Discovery),
        ("--within", args.within.is_some(), PlanWord::Estimation),
        ("--expected", args.expected.is_some(), PlanWord::Estimation),
        ("--draws", args.draws.is_some(), PlanWord::Fixed),
    ];
    let name = |word| match word {
        PlanWord::Discovery => "discovery",
        PlanWord::Estimation => "estimation",
        PlanWord::Fixed => "fixed",
    };
    for (option, is_given, belongs) in given {
        if is_given && belongs != word {
            return Err(Failure::WrongUse(format!(
                "{option} belongs to --plan {}, not to --plan {}",
                name(belongs),
                name(word)
            )));
        }
    }
    if args.confidence.is_some() && word == PlanWord::Fixed {
        return Err(Failure::WrongUse(
            "--confidence belongs to --plan discovery and --plan estimation; `pick show` takes \
             one for the bounds"
                .to_owned(),
        ));
    }
    let missing = |option: &str, example: &str| {
        Failure::WrongUse(format!(
            "--plan {} needs {option}, such as {option} {example}",
            name(word)
        ))
    };
    let or =
        |given: &Option<String>, usual: &str| given.clone().unwrap_or_else(|| usual.to_owned());
    Ok(match word {
        PlanWord::Discovery => Plan::Discovery {
            share: args.share.clone().ok_or_else(|| missing("--share", "5%"))?,
            confidence: or(&args.confidence, USUAL_CONFIDENCE),
        },
        PlanWord::Estimation => Plan::Estimation {
            within: args
                .within
                .clone()
                .ok_or_else(|| missing("--within", "5%"))?,
            confidence: or(&args.confidence, USUAL_CONFIDENCE),
            expected: or(&args.expected, HALF),
        },
        PlanWord::Fixed => Plan::Fixed {
            draws: args.draws.ok_or_else(|| missing("--draws", "60"))?,
        },
    })
}

fn fresh_seed() -> Result<String, Failure> {
    let mut bytes = [0; 8];
    getrandom::fill(&mut bytes).map_err(|error| {
        Failure::CouldNot(format!(
            "could not get a random seed from the operating system ({error}); give one with --seed"
        ))
    })?;
    Ok(hexadecimal(&bytes))
}

fn list(file: &Path, format: Format, output: &mut Output) -> Result<Finish, Failure> {
    let programme = ask::open(file)?;
    let (picks, zone) = (programme.picks()?, programme.zone()?);
    let rows = picks.iter().map(|pick| {
        let counts = outcome(pick, confidence(pick, None)).counts;
        pick_rows::pick(pick, &counts, zone)
    });
    output.report(format.into(), PICKS, rows)?;
    if matches!(format, Format::Table) && picks.is_empty() {
        output.flush()?;
        remark("there is no pick yet; `fairdraw pick --plan …` draws one");
    }
    Ok(Finish::Done)
}

/// The confidence of the bounds, a part of one.
fn confidence(pick: &Pick, given: Option<&str>) -> f64 {
    let text = given.unwrap_or(pick.drawn.plan.confidence());
    text.parse().unwrap_or(0.95)
}

fn show(
    file: &Path,
    asked: &Asked,
    pick: &Pick,
    given: Option<&str>,
    format: Format,
    output: &mut Output,
) -> Result<(), Failure> {
    let Asked {
        programme,
        assessed,
        watch,
        ..
    } = asked;
    let found = outcome(pick, confidence(pick, given));
    let picked = programme.picked_draws(assessed, pick)?;
    let draws = picked.rows(pick, assessed.zone);
    match format {
        Format::Csv => output.report(format.into(), DRAWS, draws)?,
        Format::Json => {
            let mut json = Vec::new();
            let parts = parts_of(pick, &found);
            write_json(
                &mut json,
                &[
                    (
                        "pick",
                        Section::One(PICKS, pick_rows::pick(pick, &found.counts, assessed.zone)),
                    ),
                    ("outcome", Section::One(OUTCOME, pick_rows::outcome(&found))),
                    ("parts", Section::Many(PARTS, parts)),
                    ("draws", Section::Many(DRAWS, draws.collect())),
                ],
            )?;
            output.bytes(&json)?;
        }
        Format::Table => {
            let filter = Filter::parse(&pick.drawn.filter).unwrap_or_default();
            let population = watch.over(true, |progress| {
                programme.population(assessed, &filter, progress)
            })?;
            let as_now = Now {
                draws: population.draws,
                sha256: &population.sha256,
                is_plain: population.is_plain,
            };
            output.text(&pick_words::rule(
                pick,
                as_now,
                assessed.zone,
                &options(file),
            ))?;
            let words = pick_words::found(pick, &found);
            if !words.is_empty() {
                output.text(&format!("\n{words}"))?;
            }
            if !pick.drawn.by.is_empty() {
                output.text("\n")?;
                output.report(format.into(), PARTS, parts_of(pick, &found))?;
            }
            output.text("\n")?;
            output.report(format.into(), DRAWS, draws)?;
        }
    }
    output.flush()?;
    remark_on_change(assessed, pick);
    Ok(())
}

fn parts_of<'a>(pick: &'a Pick, found: &Outcome) -> Vec<Vec<crate::report::Cell<'a>>> {
    let parts = pick.drawn.strata.iter().zip(&found.parts);
    parts
        .map(|(stratum, counts)| pick_rows::part(stratum, counts))
        .collect()
}

/// How the programme file is named in a line of a shell.
fn options(file: &Path) -> String {
    match file.to_str() {
        Some("programme.db") => String::new(),
        _ => format!(
            " -p '{}'",
            file.display().to_string().replace('\'', "'\\''")
        ),
    }
}

fn remark_on_change(assessed: &Assessed, pick: &Pick) {
    if assessed.rulebook.fingerprint() != pick.drawn.rulebook {
        remark("the draws were picked under another rulebook than the one in force now");
    }
}

fn enter_sheet(file: &Path, number: u32, sheet: &Path, who: &Who) -> Result<Finish, Failure> {
    // Stops cleanly when the terminal says so.
    let _watch = Watch::new()?;
    let mut programme: Programme = ask::open(file)?;
    let read = programme.read_verification(number, sheet)?;
    if !read.problems.is_empty() {
        for problem in read.problems.iter().take(TOLD) {
            remark(&format!("{}: {problem}", sheet.display()));
        }
        let more = read.problems.len().saturating_sub(TOLD);
        if more > 0 {
            remark(&format!("{more} more"));
        }
        remark("nothing was entered; put this right and enter the sheet again");
        return Ok(Finish::Found);
    }
    let name = sheet.display().to_string();
    let from = Some((name.as_str(), read.sha256.as_str()));
    let pick = programme.enter_results(who, number, read.results, from)?;
    told(&pick);
    Ok(Finish::Done)
}

fn told(pick: &Pick) {
    let number = pick.drawn.pick;
    let open = pick.results.len() as u64 - pick.entered();
    remark(&format!(
        "pick {number}: {} of {} draws have a result; {}",
        pick.entered(),
        pick.results.len(),
        match open {
            0 => format!("`fairdraw pick show {number}` tells what they say"),
            1 => "1 is still to be verified".to_owned(),
            open => format!("{open} are still to be verified"),
        }
    ));
}
