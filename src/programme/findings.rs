//! Findings raised, answered, closed, withdrawn.

use chrono::NaiveDate;

use super::picks::next_number;
use super::trail::writable;
use super::{Error, Programme};
use crate::analysis::findings::{self, Act, Finding, after};
use crate::analysis::{Assessed, Filter};
use crate::model::decisions::DrawSeen;
use crate::model::decisions::finding::{
    Effect, FindingAnswered, FindingClosed, FindingRaised, FindingWithdrawn, Grade, Subject,
};
use crate::model::decisions::pick::Outcome;
use crate::model::trail::{Decided, Who};
use crate::model::{Progress, Verdict, time};
use crate::rules::place_of;

/// How many draws a finding keeps as they stood; where more speak for it, the latest.
pub const EVIDENCE_KEPT: usize = 200;

/// What to raise.
#[derive(Clone, Debug)]
pub struct FindingRequest {
    /// How much weight it has.
    pub grade: Grade,
    /// What it is about.
    pub subject: Subject,
    /// The rule in question, by id.
    pub rule: Option<String>,
    /// What was found.
    pub text: String,
    /// Who is to answer.
    pub owner: String,
    /// The day by which.
    pub due: NaiveDate,
    /// Narrows the draws that speak for it.
    pub filter: Filter,
}

/// What an owner answers.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Answer {
    /// Why it came about.
    pub cause: String,
    /// What was done about what was found.
    pub correction: String,
    /// What is done so that it does not come back.
    pub action: String,
    /// The day by which that is done; `None` where it is done already.
    pub by: Option<NaiveDate>,
}

impl Programme {
    /// Every finding, the first first.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn findings(&self) -> Result<Vec<Finding>, Error> {
        Ok(findings::fold(&self.trail()?).0)
    }

    /// The finding of this number.
    ///
    /// # Errors
    /// There is none; a store that can't be read.
    pub fn finding(&self, number: u32) -> Result<Finding, Error> {
        find(self.findings()?, number)
    }

    /// Today, by the programme's zone and clock.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn today(&self) -> Result<NaiveDate, Error> {
        Ok(time::day_of(self.now(), self.zone()?))
    }

    /// Raises a finding with the draws that speak for it as they stand, and keeps it in the
    /// trail.
    ///
    /// # Errors
    /// No such draw, technician, point, pick or rule; no draw that speaks for it; a text that
    /// is blank or can't be printed; a store that can't be written.
    pub fn raise_finding(
        &mut self,
        who: &Who,
        request: &FindingRequest,
        assessed: &Assessed,
        progress: &Progress,
    ) -> Result<Finding, Error> {
        writable("the text", &request.text, false)?;
        writable("the owner", &request.owner, false)?;
        let rule = match request.rule.as_deref() {
            None => None,
            Some(id) => Some(place_of(id).ok_or_else(|| {
                Error::undecided(format!(
                    "there is no rule {id}; `fairdraw rules list` shows them all"
                ))
            })?),
        };
        let mut rows = self.evidence(assessed, request, rule)?;
        let count = rows.len() as u64;
        // Rows stand in order of time.
        rows.reverse();
        rows.truncate(EVIDENCE_KEPT);
        let evidence: Vec<DrawSeen> = match rule {
            Some(rule) => self.draws_seen_by(assessed, &rows, rule, progress)?,
            None => self.draws_seen(assessed, &rows)?,
        };
        let raised = FindingRaised {
            finding: 0,
            grade: request.grade,
            subject: request.subject.clone(),
            rule: request.rule.clone().unwrap_or_default(),
            text: request.text.trim().to_owned(),
            owner: request.owner.trim().to_owned(),
            due: request.due.to_string(),
            rulebook: assessed.rulebook.fingerprint().to_owned(),
            filter: request.filter.to_string(),
            draws: count,
            evidence,
        };
        let (_, raised) = self.decide_upon(who, |links| {
            let (known, _) = findings::fold(links);
            let finding = next_number(known.len());
            Ok(FindingRaised { finding, ..raised })
        })?;
        self.finding(raised.finding)
    }

    /// Keeps the owner's answer to a finding in the trail.
    ///
    /// # Errors
    /// No such finding, or it may not be answered as it stands; a text that is blank or can't
    /// be printed; a store that can't be written.
    pub fn answer_finding(
        &mut self,
        who: &Who,
        number: u32,
        answer: &Answer,
    ) -> Result<Finding, Error> {
        writable("the cause", &answer.cause, false)?;
        writable("the correction", &answer.correction, false)?;
        writable("the action", &answer.action, false)?;
        let answered = FindingAnswered {
            finding: number,
            cause: answer.cause.trim().to_owned(),
            correction: answer.correction.trim().to_owned(),
            action: answer.action.trim().to_owned(),
            by: answer.by.map_or_else(String::new, |day| day.to_string()),
        };
        self.act(who, number, Act::Answer, answered)
    }

    /// Closes a finding after a check of effect.
    ///
    /// # Errors
    /// As [`Self::answer_finding`].
    pub fn close_finding(
        &mut self,
        who: &Who,
        number: u32,
        effect: &str,
        measured: Option<Effect>,
    ) -> Result<Finding, Error> {
        writable("the effect", effect, false)?;
        let closed = FindingClosed {
            finding: number,
            effect: effect.trim().to_owned(),
            measured,
        };
        self.act(who, number, Act::Close, closed)
    }

    /// Withdraws a finding.
    ///
    /// # Errors
    /// As [`Self::answer_finding`].
    pub fn withdraw_finding(
        &mut self,
        who: &Who,
        number: u32,
        because: &str,
    ) -> Result<Finding, Error> {
        writable("the reason", because, false)?;
        let withdrawn = FindingWithdrawn {
            finding: number,
            because: because.trim().to_owned(),
        };
        self.act(who, number, Act::Withdraw, withdrawn)
    }

    fn act<D: Decided>(
        &mut self,
        who: &Who,
        number: u32,
        act: Act,
        decision: D,
    ) -> Result<Finding, Error> {
        self.decide_upon(who, |links| {
            let finding = find(findings::fold(links).0, number)?;
            after(finding.state, finding.raised.grade, act)
                .map_err(|why| Error::undecided(format!("finding F-{number}: {why}")))?;
            Ok(decision)
        })?;
        self.finding(number)
    }

    /// The rows of the draws that speak for a finding, in order of time.
    fn evidence(
        &self,
        assessed: &Assessed,
        request: &FindingRequest,
        rule: Option<usize>,
    ) -> Result<Vec<u32>, Error> {
        let judged = &assessed.judged;
        let is_bad = |row: &u32| match rule {
            Some(rule) => judged.broken[*row as usize].has(rule),
            None => judged.verdict[*row as usize] == Verdict::Unrepresentative,
        };
        let of_filter = || request.filter.select(assessed).into_iter();
        let rows: Vec<u32> = match &request.subject {
            Subject::Draws { ids } => self.rows_named(assessed, ids)?,
            Subject::Pick { number } => {
                let pick = self.pick(*number)?;
                let of = |wanted: &dyn Fn(Option<Outcome>) -> bool| -> Vec<String> {
                    let results = pick.drawn.draws.iter().zip(&pick.results);
                    results
                        .filter(|(_, result)| wanted(result.as_ref().map(|(_, said)| said.result)))
                        .map(|(seen, _)| seen.draw.clone())
                        .collect()
                };
                let mut ids = of(&|result| result == Some(Outcome::Disagree));
                if ids.is_empty() {
                    ids = of(&|result| result == Some(Outcome::Unverified));
                }
                if ids.is_empty() {
                    ids = of(&|_| true);
                }
                self.rows_named(assessed, &ids)?
            }
            Subject::Technician { id } => {
                let place = assessed.technicians.iter().position(|one| one.id == *id);
                let place = place.ok_or_else(|| {
                    Error::undecided(format!("there is no technician {id}; give the id as it is"))
                })?;
                of_filter()
                    .filter(|row| judged.technician[*row as usize] as usize == place)
                    .filter(is_bad)
                    .collect()
            }
            Subject::Point { id } => {
                let place = assessed.points.iter().position(|one| one.id == *id);
                let place = place.ok_or_else(|| {
                    Error::undecided(format!("there is no point {id}; give the id as it is"))
                })?;
                of_filter()
                    .filter(|row| judged.point[*row as usize] as usize == place)
                    .filter(is_bad)
                    .collect()
            }
        };
        if rows.is_empty() {
            let what = match &request.rule {
                Some(rule) => format!("breaks {rule}"),
                None => "is unrepresentative".to_owned(),
            };
            return Err(Error::undecided(format!(
                "a finding needs evidence, and no draw of {} {what}; name the rule, or single draws",
                request.subject
            )));
        }
        Ok(rows)
    }

    /// The rows of draws by identity, in order of time.
    fn rows_named(&self, assessed: &Assessed, ids: &[String]) -> Result<Vec<u32>, Error> {
        let identities: Vec<&str> = ids.iter().map(String::as_str).collect();
        let rows = self.rows_of(assessed, &identities)?;
        let mut found = Vec::new();
        for (row, id) in rows.into_iter().zip(ids) {
            found.push(row.ok_or_else(|| {
                Error::undecided(format!(
                    "there is no draw {id}; `fairdraw score` lists draws by their identity"
                ))
            })?);
        }
        found.sort_unstable();
        found.dedup();
        Ok(found)
    }
}

fn find(findings: Vec<Finding>, number: u32) -> Result<Finding, Error> {
    let count = findings.len();
    let mut findings = findings.into_iter();
    findings
        .find(|finding| finding.number() == number)
        .ok_or_else(|| {
            Error::undecided(match count {
                0 => format!("there is no finding F-{number}; `fairdraw finding raise` raises one"),
                _ => format!(
                    "there is no finding F-{number}; `fairdraw finding list` shows them all"
                ),
            })
        })
}
