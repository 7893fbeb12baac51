//! What was decided on the invented programme: a pick with its verification, and findings in
//! every state, so that there is something to look at.
//!
//! Everything follows from the programme and a fixed seed. Where a programme is too small
//! for a story, the story is left out.

use chrono::{Days, NaiveDate};

use crate::analysis::{Assessed, Filter, FilterKey, effect};
use crate::demo::{AUDITOR, PLANNER, PRESENT, SUPERVISOR};
use crate::model::decisions::finding::{Grade, Subject};
use crate::model::decisions::pick::{Outcome, Plan, Verified};
use crate::model::trail::Who;
use crate::model::{Progress, Verdict, time};
use crate::programme::{Answer, Error, FindingRequest, PickRequest, Programme};
use crate::rules::place_of;

const DAY: i64 = 86_400;

/// When the audit took place, a year ago; sheets of the time before were taken in that
/// morning.
pub const AUDIT: i64 = PRESENT - 365 * DAY;

/// When its effect was looked at; sheets of the time since were taken in that morning.
pub const FOLLOW_UP: i64 = AUDIT + 151 * DAY;

/// When the latest sheets were taken in.
pub const LATELY: i64 = PRESENT - DAY / 12;

/// How many days after the audit the action against short flushes was done.
const ACTION: i64 = 16;

/// How many recorded draws a share is told of.
const ENOUGH: u32 = 10;

/// The finding that is still to be closed, and the technician it is about.
pub type Pending = Option<(u32, String)>;

/// What was decided when the audit took place and in the weeks after, on what was known
/// then.
///
/// # Errors
/// A store that can't be written, or a stop.
pub fn audit(
    programme: &mut Programme,
    assessed: &Assessed,
    progress: &Progress,
) -> Result<Pending, Error> {
    let mut telling = Telling {
        programme,
        assessed,
        progress,
    };
    telling.pick()?;
    let flushes = telling.flushes()?;
    let point = telling.unsuited_point()?;
    let records = telling.records()?;
    telling.mistaken()?;
    if let Some((number, _)) = &flushes {
        telling.answer_flushes(*number)?;
    }
    if let Some(number) = point {
        telling.answer_unsuited_point(number)?;
    }
    if let Some(number) = records {
        telling.answer_records(number)?;
    }
    Ok(flushes)
}

/// What was decided when the effect was looked at.
///
/// # Errors
/// A store that can't be written, or a stop.
pub fn follow_up(
    programme: &mut Programme,
    assessed: &Assessed,
    pending: Pending,
    progress: &Progress,
) -> Result<(), Error> {
    programme.set_clock(FOLLOW_UP);
    let mut telling = Telling {
        programme,
        assessed,
        progress,
    };
    if let Some((number, technician)) = pending {
        telling.close_flushes(number, &technician)?;
    }
    telling.late_dispatch()
}

/// What was decided lately. The programme's clock stands at the invented present afterwards.
///
/// # Errors
/// A store that can't be written, or a stop.
pub fn lately(
    programme: &mut Programme,
    assessed: &Assessed,
    progress: &Progress,
) -> Result<(), Error> {
    programme.set_clock(PRESENT - DAY / 24);
    let mut telling = Telling {
        programme,
        assessed,
        progress,
    };
    telling.single()?;
    telling.programme.set_clock(PRESENT);
    Ok(())
}

struct Telling<'a> {
    programme: &'a mut Programme,
    assessed: &'a Assessed,
    progress: &'a Progress,
}

fn who(name: &str) -> Who {
    Who::named(name).expect("an invented name can be printed")
}

/// The outcome, or nothing where the programme is too small for it.
fn if_told<T>(told: Result<T, Error>) -> Result<Option<T>, Error> {
    match told {
        Ok(told) => Ok(Some(told)),
        Err(Error::Undecided { .. }) => Ok(None),
        Err(error) => Err(error),
    }
}

impl Telling<'_> {
    fn at(&self, days_after_audit: i64) {
        self.programme.set_clock(AUDIT + days_after_audit * DAY);
    }

    fn day(&self, days_after_audit: i64) -> NaiveDate {
        time::day_of(AUDIT + days_after_audit * DAY, self.assessed.zone)
    }

    /// The draws of the year before the audit.
    fn year(&self) -> Filter {
        let last = self.day(-1);
        let first = last.checked_sub_days(Days::new(364)).unwrap_or(last);
        Filter::parse(&format!("from:{first} to:{last}")).unwrap_or_default()
    }

    /// A year's records verified against the logs: of one in fifteen the log says otherwise.
    fn pick(&mut self) -> Result<(), Error> {
        self.at(0);
        let request = PickRequest {
            plan: Plan::Discovery {
                share: "0.05".to_owned(),
                confidence: "0.95".to_owned(),
            },
            seed: "autumn audit".to_owned(),
            filter: self.year(),
            by: None,
            at_least: 0,
        };
        let auditor = who(AUDITOR);
        let drawn = self
            .programme
            .draw_pick(&auditor, &request, self.assessed, self.progress);
        let Some(pick) = if_told(drawn)? else {
            return Ok(());
        };
        self.at(9);
        let results = pick.drawn.draws.iter().enumerate().map(|(place, seen)| {
            let (result, note) = match place % 30 {
                4 => (
                    Outcome::Disagree,
                    "the log has the machine stopped since noon",
                ),
                17 => (
                    Outcome::Disagree,
                    "the counter read less on the rounds before and after",
                ),
                11 => (Outcome::Unverified, "no log kept that week"),
                _ => (Outcome::Agree, ""),
            };
            let is_representative = seen.verdict != Verdict::Unrepresentative.as_str();
            Verified {
                draw: seen.draw.clone(),
                result,
                representative: (result != Outcome::Unverified)
                    .then_some(is_representative != (result == Outcome::Disagree)),
                note: note.to_owned(),
            }
        });
        let results = results.collect();
        let number = pick.drawn.pick;
        let entered = self
            .programme
            .enter_results(&auditor, number, results, None);
        if_told(entered).map(|_| ())
    }

    fn raise(&mut self, request: &FindingRequest) -> Result<Option<u32>, Error> {
        let auditor = who(AUDITOR);
        let raised = self
            .programme
            .raise_finding(&auditor, request, self.assessed, self.progress);
        Ok(if_told(raised)?.map(|finding| finding.number()))
    }

    /// A nonconformity of the year, to be answered by the supervisor.
    fn request(&self, subject: Subject, rule: &str, text: &str, due: i64) -> FindingRequest {
        FindingRequest {
            grade: Grade::Nonconformity,
            subject,
            rule: (!rule.is_empty()).then(|| rule.to_owned()),
            text: text.to_owned(),
            owner: SUPERVISOR.to_owned(),
            due: self.day(due),
            filter: self.year(),
        }
    }

    /// The technician with the largest share of short flushes.
    fn flushes(&mut self) -> Result<Option<(u32, String)>, Error> {
        self.at(10);
        let rule = "flush-met";
        let of = |assessed: &Assessed, row: usize| assessed.judged.technician[row];
        let Some(technician) = self.most_often(rule, of) else {
            return Ok(None);
        };
        let id = self.assessed.technicians[technician].id.clone();
        let subject = Subject::Technician { id: id.clone() };
        let text = "Bottles are filled before the dead volume has run off.";
        let request = self.request(subject, rule, text, 14);
        Ok(self.raise(&request)?.map(|number| (number, id)))
    }

    fn answer_flushes(&mut self, number: u32) -> Result<(), Error> {
        self.at(13);
        let answer = Answer {
            cause: "The jug on the cart has no marks, and the volume a point asks for is not on \
                    its tag."
                .to_owned(),
            correction: "The points of the last round were drawn again after a full flush."
                .to_owned(),
            action: "A marked jug on every cart; the flush volume on every tag; a session on \
                     flush-met."
                .to_owned(),
            by: Some(self.day(ACTION)),
        };
        self.programme
            .answer_finding(&who(SUPERVISOR), number, &answer)
            .map(|_| ())
    }

    fn close_flushes(&mut self, number: u32, technician: &str) -> Result<(), Error> {
        let filter = Filter::default().with(FilterKey::Technician, technician);
        let measured = filter.ok().map(|filter| {
            let selection = filter.select(self.assessed);
            let (words, rule) = (filter.to_string(), place_of("flush-met"));
            effect::effect(
                self.assessed,
                &selection,
                &words,
                rule,
                AUDIT + ACTION * DAY,
            )
        });
        let words = "Two rounds watched: every flush measured with the jug.";
        self.programme
            .close_finding(&who(AUDITOR), number, words, measured)
            .map(|_| ())
    }

    /// The point at which what the plant has to mend was broken most often.
    fn unsuited_point(&mut self) -> Result<Option<u32>, Error> {
        self.at(10);
        let rule = "point-suited";
        let of = |assessed: &Assessed, row: usize| assessed.judged.point[row];
        let Some(point) = self.most_often(rule, of) else {
            return Ok(None);
        };
        let id = self.assessed.points[point].id.clone();
        let text = "The point sits where the oil is not mixed; no draw there can be trusted.";
        let request = FindingRequest {
            owner: PLANNER.to_owned(),
            ..self.request(Subject::Point { id }, rule, text, 30)
        };
        self.raise(&request)
    }

    /// Answered, with the work still to be done.
    fn answer_unsuited_point(&mut self, number: u32) -> Result<(), Error> {
        self.at(26);
        let answer = Answer {
            cause: "The line was laid wider than the one it replaced, and the point moved along."
                .to_owned(),
            correction: "Results of the point are not acted on until it is moved.".to_owned(),
            action: "The point goes to the bend before the filter at the next stop.".to_owned(),
            by: Some(self.day(400)),
        };
        self.programme
            .answer_finding(&who(PLANNER), number, &answer)
            .map(|_| ())
    }

    /// The records that disagree.
    fn records(&mut self) -> Result<Option<u32>, Error> {
        self.at(11);
        let text = "Records of the pick differ from the logs of the machines.";
        let request = FindingRequest {
            filter: Filter::default(),
            ..self.request(Subject::Pick { number: 1 }, "", text, 30)
        };
        self.raise(&request)
    }

    /// Answered, and the day of the action is past.
    fn answer_records(&mut self, number: u32) -> Result<(), Error> {
        self.at(28);
        let answer = Answer {
            cause: "Forms are filled in at the end of the shift, from memory.".to_owned(),
            correction: "The records in question bear a remark.".to_owned(),
            action:
                "Forms are filled in at the point; the desk compares ten a month with the logs."
                    .to_owned(),
            by: Some(self.day(330)),
        };
        self.programme
            .answer_finding(&who(SUPERVISOR), number, &answer)
            .map(|_| ())
    }

    /// The point whose bottles were sent too late most often; not answered, and overdue.
    fn late_dispatch(&mut self) -> Result<(), Error> {
        let rule = "age-at-dispatch";
        let of = |assessed: &Assessed, row: usize| assessed.judged.point[row];
        let Some(point) = self.most_often(rule, of) else {
            return Ok(());
        };
        let id = self.assessed.points[point].id.clone();
        let text = "Bottles of the point wait for days before they are sent.";
        let request = FindingRequest {
            owner: PLANNER.to_owned(),
            filter: Filter::default(),
            ..self.request(Subject::Point { id }, rule, text, 181)
        };
        self.raise(&request).map(|_| ())
    }

    /// The latest unrepresentative draw; an observation, not due yet.
    fn single(&mut self) -> Result<(), Error> {
        let Some(draw) = self.latest_bad(PRESENT)? else {
            return Ok(());
        };
        let subject = Subject::Draws { ids: vec![draw] };
        let text = "Drawn outside the round, and nobody wrote down why.";
        let request = FindingRequest {
            grade: Grade::Observation,
            filter: Filter::default(),
            ..self.request(subject, "", text, 380)
        };
        self.raise(&request).map(|_| ())
    }

    /// A finding that should not have been raised.
    fn mistaken(&mut self) -> Result<(), Error> {
        self.at(12);
        let Some(draw) = self.latest_bad(AUDIT)? else {
            return Ok(());
        };
        let subject = Subject::Draws { ids: vec![draw] };
        let text = "The bottle's code is that of another machine.";
        let request = FindingRequest {
            filter: Filter::default(),
            ..self.request(subject, "", text, 26)
        };
        let Some(number) = self.raise(&request)? else {
            return Ok(());
        };
        self.at(13);
        let because = "The code was read wrongly at the desk; the bottle bears the right one.";
        self.programme
            .withdraw_finding(&who(AUDITOR), number, because)
            .map(|_| ())
    }

    /// The technician or point, by its place, on whose recorded draws the rule was broken
    /// most often; of several the first.
    fn most_often(&self, rule: &str, of: fn(&Assessed, usize) -> u32) -> Option<usize> {
        let rule = place_of(rule)?;
        let judged = &self.assessed.judged;
        let mut counts: Vec<(u32, u32)> = Vec::new();
        for row in (0..judged.len()).filter(|row| judged.applicable[*row].has(rule)) {
            let place = of(self.assessed, row) as usize;
            counts.resize(counts.len().max(place + 1), (0, 0));
            counts[place].0 += u32::from(judged.broken[row].has(rule));
            counts[place].1 += u32::from(!judged.unrecorded[row].has(rule));
        }
        let enough = (counts.iter().enumerate())
            .filter(|(_, (broken, recorded))| *broken > 0 && *recorded >= ENOUGH);
        let often = |(broken, recorded): (u32, u32)| f64::from(broken) / f64::from(recorded);
        let best = enough.reduce(|best, next| {
            if often(*next.1) > often(*best.1) {
                next
            } else {
                best
            }
        });
        best.map(|(place, _)| place)
    }

    /// The identity of the latest unrepresentative draw before an instant.
    fn latest_bad(&self, before: i64) -> Result<Option<String>, Error> {
        let judged = &self.assessed.judged;
        let end = judged.drawn_at.partition_point(|at| *at < before);
        let mut rows = (0..end).rev();
        let row = rows.find(|row| judged.verdict[*row] == Verdict::Unrepresentative);
        let Some(row) = row else { return Ok(None) };
        let draws = self.programme.records(&[judged.record[row]])?;
        Ok(draws.first().map(|draw| draw.identity()))
    }
}
