//! `fairdraw finding`: raised, answered, closed, withdrawn.

use std::path::Path;

use chrono::NaiveDate;

use super::args::{FindingCommand, Format, FormatArgs, RaiseArgs, Reading, StateWord};
use super::ask::{self, Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use super::who::who;
use crate::analysis::findings::{self, Act, Finding};
use crate::analysis::{Filter, FilterKey, effect};
use crate::model::decisions::finding::{Effect, Subject};
use crate::model::time;
use crate::programme::{Answer, EVIDENCE_KEPT, FindingRequest, Programme};
use crate::report::finding_rows::{self, EVIDENCE, FINDINGS};
use crate::report::sections::{Section, write_json};
use crate::rules::place_of;

/// Runs the command.
pub fn run(file: &Path, command: &FindingCommand, output: &mut Output) -> Result<Finish, Failure> {
    match command {
        FindingCommand::Raise(args) => raise(file, args),
        FindingCommand::Answer {
            finding,
            cause,
            correction,
            action,
            by,
            who: named,
        } => {
            let who = who(named.name.as_deref())?;
            let answer = Answer {
                cause: cause.clone(),
                correction: correction.clone(),
                action: action.clone(),
                by: *by,
            };
            let mut programme = ask::open(file)?;
            let answered = programme.answer_finding(&who, finding.number, &answer)?;
            told(&programme, &answered)
        }
        FindingCommand::Close {
            finding,
            effect,
            checked_draws,
            from,
            who: named,
        } => {
            let who = who(named.name.as_deref())?;
            let mut asked = ask(file, &reading(checked_draws.clone()))?;
            let before = asked.programme.finding(finding.number)?;
            // Nothing is counted for what can't be closed.
            findings::after(before.state, before.raised.grade, Act::Close)
                .map_err(|why| Failure::CouldNot(format!("finding F-{}: {why}", finding.number)))?;
            let measured = measure(&asked, &before, checked_draws.as_deref(), *from)?;
            let zone = asked.assessed.zone;
            if let Some(measured) = &measured {
                remark(&finding_rows::measured(measured, zone));
            }
            let programme = &mut asked.programme;
            let closed = programme.close_finding(&who, finding.number, effect, measured)?;
            told(programme, &closed)
        }
        FindingCommand::Withdraw {
            finding,
            because,
            who: named,
        } => {
            let who = who(named.name.as_deref())?;
            let mut programme = ask::open(file)?;
            let withdrawn = programme.withdraw_finding(&who, finding.number, because)?;
            told(&programme, &withdrawn)
        }
        FindingCommand::List { state, format } => list(file, *state, *format, output),
        FindingCommand::Show { finding, format } => show(file, finding.number, *format, output),
    }
}

fn reading(filter: Option<String>) -> Reading {
    Reading {
        format: FormatArgs {
            format: Format::Table,
        },
        filter,
    }
}

fn told(programme: &Programme, finding: &Finding) -> Result<Finish, Failure> {
    let due = match finding.due() {
        None => String::new(),
        Some(day) if day < programme.today()? => format!("; it was to be done by {day}"),
        Some(day) => format!("; to be done by {day}"),
    };
    remark(&format!("F-{} is {}{due}", finding.number(), finding.state));
    Ok(Finish::Done)
}

fn raise(file: &Path, args: &RaiseArgs) -> Result<Finish, Failure> {
    let who = who(args.who.name.as_deref())?;
    let subject = match (&args.technician, &args.point, args.pick) {
        (Some(id), ..) => Subject::Technician { id: id.clone() },
        (_, Some(id), _) => Subject::Point { id: id.clone() },
        (.., Some(number)) => Subject::Pick { number },
        _ => Subject::Draws {
            ids: args.draw.clone(),
        },
    };
    if args.filter.is_some() && matches!(subject, Subject::Draws { .. } | Subject::Pick { .. }) {
        return Err(Failure::WrongUse(
            "--where narrows the draws of a --technician or --point; with --draw or --pick it \
             has nothing to narrow"
                .to_owned(),
        ));
    }
    let mut asked = ask(file, &reading(args.filter.clone()))?;
    let request = FindingRequest {
        grade: args.grade.into(),
        subject,
        rule: args.rule.clone(),
        text: args.text.clone(),
        owner: args.owner.clone(),
        due: args.due,
        filter: asked.filter.clone(),
    };
    let Asked {
        programme,
        assessed,
        watch,
        ..
    } = &mut asked;
    let finding = watch.over(true, |progress| {
        programme.raise_finding(&who, &request, assessed, progress)
    })?;
    let kept = finding.raised.evidence.len();
    remark(&format!(
        "F-{} is raised; {} for it",
        finding.number(),
        match finding.raised.draws {
            1 => "1 draw speaks".to_owned(),
            draws => format!("{draws} draws speak"),
        }
    ));
    if (kept as u64) < finding.raised.draws {
        remark(&format!(
            "the latest {EVIDENCE_KEPT} of them are kept as they stand"
        ));
    }
    if finding.overdue(asked.programme.today()?).is_some() {
        remark("its day is past already");
    }
    Ok(Finish::Done)
}

/// Before and after, on the draws of the finding's subject or on those of the filter; none
/// where neither says which draws.
fn measure(
    asked: &Asked,
    finding: &Finding,
    filter: Option<&str>,
    from: Option<NaiveDate>,
) -> Result<Option<Effect>, Failure> {
    let filter = match (filter, &finding.raised.subject) {
        (Some(_), _) => asked.filter.clone(),
        (None, subject) => {
            let of = |key, id: &str| {
                Filter::parse(&finding.raised.filter)
                    .unwrap_or_default()
                    .with(key, id)
                    .ok()
            };
            let filter = match subject {
                Subject::Technician { id } => of(FilterKey::Technician, id),
                Subject::Point { id } => of(FilterKey::Point, id),
                Subject::Draws { .. } | Subject::Pick { .. } => None,
            };
            match filter {
                Some(filter) => filter,
                None => {
                    remark(
                        "no draws were counted before and after; name some with --checked-draws",
                    );
                    return Ok(None);
                }
            }
        }
    };
    let answered = finding.answer();
    let done = answered.and_then(|(_, answer)| answer.by.parse::<NaiveDate>().ok());
    let day = from.or(done);
    let zone = asked.assessed.zone;
    let from = match day.and_then(|day| time::day_start(day, zone)) {
        Some(from) => from,
        None => answered.map_or(finding.told.at, |(told, _)| told.at),
    };
    let rule = place_of(&finding.raised.rule);
    let selection = filter.select(&asked.assessed);
    Ok(Some(effect::effect(
        &asked.assessed,
        &selection,
        &filter.to_string(),
        rule,
        from,
    )))
}

fn list(
    file: &Path,
    state: Option<StateWord>,
    format: FormatArgs,
    output: &mut Output,
) -> Result<Finish, Failure> {
    let programme = ask::open(file)?;
    let (findings, today) = (programme.findings()?, programme.today()?);
    let is_asked = |finding: &&Finding| match state {
        None => true,
        Some(word) => match word.state() {
            Some(state) => finding.state == state,
            None => finding.overdue(today).is_some(),
        },
    };
    let rows = findings.iter().filter(is_asked);
    output.report(
        format.format.into(),
        FINDINGS,
        rows.map(|finding| finding_rows::finding(finding, today)),
    )?;
    if matches!(format.format, Format::Table) {
        output.flush()?;
        let pending = findings
            .iter()
            .filter(|finding| finding.state.is_pending())
            .count();
        let overdue = findings
            .iter()
            .filter(|finding| finding.overdue(today).is_some())
            .count();
        remark(&format!(
            "{} findings; {pending} still pending, {overdue} overdue on {today}",
            findings.len()
        ));
    }
    Ok(Finish::Done)
}

fn show(
    file: &Path,
    number: u32,
    format: FormatArgs,
    output: &mut Output,
) -> Result<Finish, Failure> {
    let asked = ask(file, &reading(None))?;
    let Asked {
        programme,
        assessed,
        ..
    } = &asked;
    let (finding, today) = (programme.finding(number)?, programme.today()?);
    let now = programme.draws_now(assessed, &finding.raised.evidence)?;
    let evidence = finding.raised.evidence.iter().zip(&now);
    let evidence =
        evidence.map(|(seen, now)| finding_rows::evidence(seen, now.words(), assessed.zone));
    match format.format {
        Format::Csv => output.report(format.format.into(), EVIDENCE, evidence)?,
        Format::Json => {
            let mut json = Vec::new();
            let row = finding_rows::finding(&finding, today);
            let sections = [
                ("finding", Section::One(FINDINGS, row)),
                ("evidence", Section::Many(EVIDENCE, evidence.collect())),
            ];
            write_json(&mut json, &sections)?;
            output.bytes(&json)?;
        }
        Format::Table => {
            output.text(&finding_rows::story(&finding, today, assessed.zone))?;
            output.text("\n")?;
            output.report(format.format.into(), EVIDENCE, evidence)?;
            output.flush()?;
            let kept = finding.raised.evidence.len() as u64;
            let changed = now.iter().filter(|now| !now.is_same()).count();
            remark(&format!(
                "{kept} of {} draws are kept as they stood; {changed} of these stand otherwise now",
                finding.raised.draws
            ));
        }
    }
    Ok(Finish::Done)
}
