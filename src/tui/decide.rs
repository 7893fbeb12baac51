//! What people decide and have written out, done by the thread that owns the programme file.

use std::collections::BTreeSet;
use std::sync::Arc;

use chrono::NaiveDate;

use crate::analysis::findings::Finding;
use crate::analysis::picks::Pick;
use crate::analysis::{self, Assessed, Filter, FilterKey, PointFacts, Selection};
use crate::model::Progress;
use crate::model::decisions::finding::{Effect as Measured, Subject};
use crate::model::decisions::pick::Verified;
use crate::model::time::day_start;
use crate::model::trail::Who;
use crate::programme::folder::path_of;
use crate::programme::resamples::ToResample;
use crate::programme::{
    Answer, DrawNow, Error, ExportRequest, FindingRequest, PickRequest, Programme,
    VerificationSheet,
};
use crate::rules::place_of;
use crate::tui::effect::{self, Shelf};
use crate::tui::text;
use crate::tui::undo::Deed;

/// What is decided.
#[derive(Clone, Debug)]
pub enum Decision {
    /// The result of this draw is set aside, for this reason.
    SetAside(String, String),
    /// It counts again, for this reason.
    TakeBack(String, String),
    /// A finding.
    Raise(Box<FindingRequest>),
    /// The answer to the finding of this number.
    Answer(u32, Answer),
    /// The finding of this number is closed; what was seen, and whether draws are counted
    /// before and after.
    Close(u32, String, bool),
    /// The finding of this number is withdrawn, for this reason.
    Withdraw(u32, String),
    /// A pick.
    Pick(Box<PickRequest>),
    /// Results for the pick of this number.
    Enter(u32, Vec<Verified>),
    /// All results of a sheet.
    EnterSheet {
        /// The number of the pick.
        pick: u32,
        /// The sheet as it was read.
        sheet: Arc<VerificationSheet>,
        /// The path of its file, as it was written.
        name: String,
    },
}

/// What is written to a folder.
#[derive(Clone)]
pub enum Paper {
    /// A sheet to print for each site, of what is to be sampled again.
    Sheets {
        /// Where to; `~/` at its beginning is the user's own folder.
        folder: String,
        /// The filter that chose the draws.
        filter: Filter,
        /// The draws.
        selection: Arc<Selection>,
        /// Whether doubtful samples count as ones that can't be trusted.
        strict: bool,
    },
    /// The sheet for the verifier of the pick of this number, into this file.
    PickSheet(u32, String),
    /// The findings pack.
    Pack(ExportRequest),
}

impl Paper {
    /// What is answered once it is written, or is not.
    #[must_use]
    pub const fn answered(&self, outcome: Result<String, String>) -> effect::Answer {
        match self {
            Paper::Sheets { .. } | Paper::PickSheet(..) => effect::Answer::Sheets(outcome),
            Paper::Pack(_) => effect::Answer::Packed(outcome),
        }
    }
}

/// Findings and picks as they stand.
#[derive(Clone, Debug, Default)]
pub struct Docket {
    /// Every finding, the first first.
    pub findings: Vec<Finding>,
    /// Every pick, the first first.
    pub picks: Vec<Pick>,
    /// Rows of draws whose results are set aside.
    pub set_aside: BTreeSet<u32>,
    /// Today, by the programme's zone.
    pub today: NaiveDate,
}

/// What is to be sampled again, with the facts of every point.
#[derive(Clone, Debug, Default)]
pub struct ResampleFigures {
    /// The compartments.
    pub to_resample: ToResample,
    /// The facts of the points, in the order of the programme's list.
    pub facts: Arc<Vec<PointFacts>>,
}

impl ResampleFigures {
    /// Those compartments of them whose latest draw is among these.
    #[must_use]
    pub fn narrowed(&self, selection: &Selection) -> Self {
        let mut narrowed = self.clone();
        narrowed.to_resample.found.narrow(selection);
        narrowed
    }
}

/// What became of the evidence of a finding, and what draws tell of its effect.
#[derive(Clone, Debug, Default)]
pub struct Evidence {
    /// The draws that spoke for it, in their order.
    pub now: Vec<DrawNow>,
    /// Before and after its answer, if it has one and draws can tell.
    pub effect: Option<Measured>,
}

/// What was decided and done: in words, and what it changed, so that both are seen at once.
#[derive(Clone, Debug, Default)]
pub struct Done {
    /// That it was done.
    pub words: String,
    /// Findings and picks as they now stand; none if they could not be read.
    pub docket: Option<Arc<Docket>>,
    /// The finding it was about, with what became of its evidence.
    pub evidence: Option<(u32, Arc<Evidence>)>,
    /// What it was, so that it may be undone.
    pub deed: Option<Deed>,
}

/// Does what was decided and says so, or why it was not done; in words.
///
/// # Errors
/// Why it was not done.
pub fn decide(
    programme: &mut Programme,
    assessed: &Assessed,
    who: &Who,
    decision: &Decision,
    progress: &Progress,
) -> Result<Done, String> {
    let before = known_before(programme, decision);
    let (words, number) = carry_out(programme, assessed, who, decision, progress)?;
    let finding = match decision {
        Decision::Answer(number, _)
        | Decision::Close(number, ..)
        | Decision::Withdraw(number, _) => Some(*number),
        _ => None,
    };
    let evidence = finding.and_then(|number| {
        let evidence = programme.evidence(assessed, number).ok()?;
        Some((number, Arc::new(evidence)))
    });
    Ok(Done {
        words,
        deed: Some(deed(decision, number, before)),
        docket: programme.docket(assessed).ok().map(Arc::new),
        evidence,
    })
}

fn carry_out(
    programme: &mut Programme,
    assessed: &Assessed,
    who: &Who,
    decision: &Decision,
    progress: &Progress,
) -> Result<(String, u32), String> {
    let mut given = 0;
    let done = match decision {
        Decision::SetAside(draw, because) => programme
            .set_result_aside(assessed, who, draw, because)
            .map(|_| format!("The result of draw {draw} is set aside.")),
        Decision::TakeBack(draw, because) => programme
            .take_back_set_aside(who, draw, because)
            .map(|_| format!("The result of draw {draw} counts again.")),
        Decision::Raise(request) => programme
            .raise_finding(who, request, assessed, progress)
            .map(|finding| {
                given = finding.number();
                format!(
                    "Finding F-{} is raised; {} for it.",
                    finding.number(),
                    text::plural(finding.raised.draws, "draw speaks", "draws speak")
                )
            }),
        Decision::Answer(number, answer) => programme
            .answer_finding(who, *number, answer)
            .map(|_| format!("Finding F-{number} is answered.")),
        Decision::Close(number, words, measure) => {
            close(programme, assessed, who, *number, words, *measure)
                .map(|()| format!("Finding F-{number} is closed."))
        }
        Decision::Withdraw(number, because) => programme
            .withdraw_finding(who, *number, because)
            .map(|_| format!("Finding F-{number} is withdrawn.")),
        Decision::Pick(request) => {
            programme
                .draw_pick(who, request, assessed, progress)
                .map(|pick| {
                    given = pick.drawn.pick;
                    format!(
                        "Pick {} is drawn: {} of {}.",
                        pick.drawn.pick,
                        text::count(pick.drawn.draws.len() as u64),
                        text::plural(pick.drawn.population, "draw", "draws")
                    )
                })
        }
        Decision::Enter(number, results) => programme
            .enter_results(who, *number, results.clone(), None)
            .map(|pick| entered(&pick)),
        Decision::EnterSheet { pick, sheet, name } => programme
            .enter_results(
                who,
                *pick,
                sheet.results.clone(),
                Some((name, &sheet.sha256)),
            )
            .map(|pick| entered(&pick)),
    };
    done.map(|words| (words, given))
        .map_err(|error| error.to_string())
}

/// What was known of a draw before a result is entered for it.
fn known_before(programme: &Programme, decision: &Decision) -> Option<Verified> {
    let Decision::Enter(number, results) = decision else {
        return None;
    };
    let [result] = results.as_slice() else {
        return None;
    };
    let pick = programme.pick(*number).ok()?;
    let place = pick.place_of(&result.draw)?;
    let (_, known) = pick.results.get(place)?.as_ref()?;
    Some(known.clone())
}

/// What was done; `given` is the number of what was raised or drawn.
fn deed(decision: &Decision, given: u32, before: Option<Verified>) -> Deed {
    match decision {
        Decision::SetAside(draw, _) => Deed::SetAside(draw.clone()),
        Decision::TakeBack(draw, _) => Deed::CountsAgain(draw.clone()),
        Decision::Raise(_) => Deed::Raised(given),
        Decision::Answer(number, _) => Deed::Answered(*number),
        Decision::Close(number, ..) => Deed::Closed(*number),
        Decision::Withdraw(number, _) => Deed::Withdrawn(*number),
        Decision::Pick(_) => Deed::Picked(given),
        Decision::Enter(number, results) => match results.as_slice() {
            [result] => Deed::Entered {
                pick: *number,
                draw: result.draw.clone(),
                before: before.map(Box::new),
            },
            many => Deed::EnteredMany(*number, many.len()),
        },
        Decision::EnterSheet { pick, sheet, .. } => Deed::EnteredMany(*pick, sheet.results.len()),
    }
}

fn entered(pick: &Pick) -> String {
    format!(
        "Entered: pick {} has a result for {} of {}.",
        pick.drawn.pick,
        text::count(pick.entered()),
        text::plural(pick.drawn.draws.len() as u64, "draw", "draws")
    )
}

fn close(
    programme: &mut Programme,
    assessed: &Assessed,
    who: &Who,
    number: u32,
    words: &str,
    measure: bool,
) -> Result<(), Error> {
    let finding = programme.finding(number)?;
    let measured = if measure {
        measured(assessed, &finding)
    } else {
        None
    };
    programme.close_finding(who, number, words, measured)?;
    Ok(())
}

/// How often the rule of a finding was broken before and after the day of its action, else
/// after its answer (of an unanswered one: after it was raised), on the draws of its technician or point that its filter lets pass;
/// of a finding without a rule, the share of unrepresentative draws. None for single draws and
/// picks, which name no body of draws that goes on.
#[must_use]
pub fn measured(assessed: &Assessed, finding: &Finding) -> Option<Measured> {
    let raised = &finding.raised;
    let filter = Filter::parse(&raised.filter).ok()?;
    let (key, id) = match &raised.subject {
        Subject::Technician { id } => (FilterKey::Technician, id),
        Subject::Point { id } => (FilterKey::Point, id),
        Subject::Draws { .. } | Subject::Pick { .. } => return None,
    };
    let filter = filter.with(key, id).ok()?;
    let answer = finding.answer();
    let done = answer.and_then(|(_, answer)| answer.by.parse::<NaiveDate>().ok());
    let from = done
        .and_then(|day| day_start(day, assessed.zone))
        .unwrap_or_else(|| answer.map_or(finding.told.at, |(told, _)| told.at));
    let selection = filter.select(assessed);
    let rule = place_of(&raised.rule);
    Some(analysis::effect::effect(
        assessed,
        &selection,
        &filter.to_string(),
        rule,
        from,
    ))
}

/// Writes to a folder what was asked for and says where it is, or why it is not; in words.
///
/// # Errors
/// Why it was not written.
pub fn write_out(
    programme: &mut Programme,
    assessed: &Assessed,
    paper: &Paper,
    progress: &Progress,
) -> Result<String, String> {
    match paper {
        Paper::Sheets {
            folder,
            filter,
            selection,
            strict,
        } => {
            let folder = path_of(folder);
            let found = programme
                .resamples(assessed, selection, programme.now(), *strict, progress)
                .map_err(|error| error.to_string())?;
            let filter = filter.to_string();
            let written = programme
                .write_resample_sheets(&folder, assessed, &found, &filter, progress)
                .map_err(|error| error.to_string())?;
            Ok(match written.len() {
                0 => "There is nothing to sample again in view; no sheet was written.".to_owned(),
                1 => format!("1 sheet is in {}.", folder.display()),
                many => format!("{many} sheets are in {}.", folder.display()),
            })
        }
        Paper::PickSheet(number, file) => {
            let written = programme.write_pick_sheet(assessed, *number, &path_of(file));
            let pick = written.map_err(|error| error.to_string())?;
            let draws = pick.drawn.draws.len() as u64;
            Ok(format!(
                "The sheet of pick {number} is in {file}: {}.",
                text::plural(draws, "draw", "draws")
            ))
        }
        Paper::Pack(request) => {
            let request = ExportRequest {
                to: path_of(&request.to.to_string_lossy()),
                ..request.clone()
            };
            let report = programme
                .export(&request, progress)
                .map_err(|error| error.to_string())?;
            Ok(format!(
                "The pack is in {}: {}, {}.",
                report.folder.display(),
                text::plural(report.files.len() as u64, "file", "files"),
                text::plural(report.draws, "draw", "draws")
            ))
        }
    }
}
