//! Findings as they stand, from the trail: what may happen to one in which state.
//!
//! | state | may be |
//! |---|---|
//! | open | answered, withdrawn; closed, if it is no nonconformity |
//! | answered | answered again, closed, withdrawn |
//! | closed, withdrawn | nothing; what comes back is a new finding |

use std::fmt;

use chrono::NaiveDate;

use super::told::Told;
use crate::model::decisions::finding::{
    FindingAnswered, FindingClosed, FindingRaised, FindingWithdrawn, Grade,
};
use crate::model::trail::Link;

/// How far a finding has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum State {
    /// Raised, not answered.
    Open,
    /// Answered; its effect is still to be checked.
    Answered,
    /// Closed after a check of effect.
    Closed,
    /// Withdrawn.
    Withdrawn,
}

impl State {
    /// Every state, in the order of a finding's life.
    pub const ALL: [State; 4] = [
        State::Open,
        State::Answered,
        State::Closed,
        State::Withdrawn,
    ];

    /// The word used on screens and in files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            State::Open => "open",
            State::Answered => "answered",
            State::Closed => "closed",
            State::Withdrawn => "withdrawn",
        }
    }

    /// Whether something is still to be done about it.
    #[must_use]
    pub const fn is_pending(self) -> bool {
        matches!(self, State::Open | State::Answered)
    }
}

impl fmt::Display for State {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

/// What can happen to a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Act {
    /// Its owner answers.
    Answer,
    /// Its effect was checked.
    Close,
    /// It was raised in error.
    Withdraw,
}

impl Act {
    /// Every act.
    pub const ALL: [Act; 3] = [Act::Answer, Act::Close, Act::Withdraw];

    const fn done(self) -> &'static str {
        match self {
            Act::Answer => "answered",
            Act::Close => "closed",
            Act::Withdraw => "withdrawn",
        }
    }
}

/// The state after an act.
///
/// # Errors
/// Why the act is not allowed, and what to do instead.
pub fn after(state: State, grade: Grade, act: Act) -> Result<State, &'static str> {
    match (state, act) {
        (State::Closed, _) => Err("it is closed; if it came back, raise a new finding"),
        (State::Withdrawn, _) => Err("it was withdrawn; raise a new finding"),
        (State::Open, Act::Close) if grade == Grade::Nonconformity => {
            Err("it is a nonconformity that was not answered; answer it first")
        }
        (_, Act::Answer) => Ok(State::Answered),
        (_, Act::Close) => Ok(State::Closed),
        (_, Act::Withdraw) => Ok(State::Withdrawn),
    }
}

/// A finding with all that was decided on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Where it was raised.
    pub told: Told,
    /// What was raised.
    pub raised: FindingRaised,
    /// Its answers, the first first; the last one holds.
    pub answers: Vec<(Told, FindingAnswered)>,
    /// How it was closed.
    pub closed: Option<(Told, FindingClosed)>,
    /// Why it was withdrawn.
    pub withdrawn: Option<(Told, FindingWithdrawn)>,
    /// How far it has come.
    pub state: State,
}

impl Finding {
    /// Its number.
    #[must_use]
    pub const fn number(&self) -> u32 {
        self.raised.finding
    }

    /// The answer that holds.
    #[must_use]
    pub fn answer(&self) -> Option<&(Told, FindingAnswered)> {
        self.answers.last()
    }

    /// The day by which something is to be done: of an open one the day the answer is due, of
    /// an answered one the day the action is to be done; none where nothing is due.
    #[must_use]
    pub fn due(&self) -> Option<NaiveDate> {
        let day = match self.state {
            State::Open => self.raised.due.as_str(),
            State::Answered => self.answer().map_or("", |(_, answer)| answer.by.as_str()),
            State::Closed | State::Withdrawn => "",
        };
        day.parse().ok()
    }

    /// By how many days it is overdue on this day; `None` if it is not.
    #[must_use]
    pub fn overdue(&self, today: NaiveDate) -> Option<i64> {
        let late = today.signed_duration_since(self.due()?).num_days();
        (late > 0).then_some(late)
    }
}

/// The findings of a trail, the first first, and what in the trail makes no sense, in words.
#[must_use]
pub fn fold(links: &[Link]) -> (Vec<Finding>, Vec<String>) {
    let mut folding = Folding::default();
    for link in links {
        if let Some((told, raised)) = Told::read::<FindingRaised>(link) {
            folding.raise(told, raised);
        } else if let Some((told, answered)) = Told::read::<FindingAnswered>(link) {
            if let Some(finding) = folding.act(&told, answered.finding, Act::Answer) {
                finding.answers.push((told, answered));
            }
        } else if let Some((told, closed)) = Told::read::<FindingClosed>(link) {
            if let Some(finding) = folding.act(&told, closed.finding, Act::Close) {
                finding.closed = Some((told, closed));
            }
        } else if let Some((told, withdrawn)) = Told::read::<FindingWithdrawn>(link)
            && let Some(finding) = folding.act(&told, withdrawn.finding, Act::Withdraw)
        {
            finding.withdrawn = Some((told, withdrawn));
        }
    }
    (folding.findings, folding.wrong)
}

#[derive(Default)]
struct Folding {
    findings: Vec<Finding>,
    wrong: Vec<String>,
}

impl Folding {
    fn raise(&mut self, told: Told, raised: FindingRaised) {
        let next = self.findings.len() + 1;
        if raised.finding as usize != next {
            self.wrong.push(format!(
                "link {} raises finding F-{}, but the next finding is F-{next}",
                told.link, raised.finding
            ));
            return;
        }
        self.findings.push(Finding {
            told,
            raised,
            answers: Vec::new(),
            closed: None,
            withdrawn: None,
            state: State::Open,
        });
    }

    /// The finding after the act; `None`, and a word about it, if that makes no sense.
    fn act(&mut self, told: &Told, number: u32, act: Act) -> Option<&mut Finding> {
        let place = (number as usize).checked_sub(1);
        let Some(finding) = place.and_then(|place| self.findings.get_mut(place)) else {
            self.wrong.push(format!(
                "by link {} finding F-{number} was {}, but it was never raised",
                told.link,
                act.done()
            ));
            return None;
        };
        match after(finding.state, finding.raised.grade, act) {
            Ok(state) => {
                finding.state = state;
                Some(finding)
            }
            Err(why) => {
                self.wrong.push(format!(
                    "by link {} finding F-{number} was {}, but {why}",
                    told.link,
                    act.done()
                ));
                None
            }
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::model::decisions::finding::Subject;
    use crate::model::trail::{Decided, Who};

    #[test]
    fn what_may_happen_in_which_state() {
        use Act::{Answer, Close, Withdraw};
        use Grade::{Nonconformity, Observation};
        use State::{Answered, Closed, Open, Withdrawn};
        for (state, grade, act, expected) in [
            (Open, Nonconformity, Answer, Some(Answered)),
            (Open, Nonconformity, Close, None),
            (Open, Observation, Close, Some(Closed)),
            (Open, Grade::Opportunity, Close, Some(Closed)),
            (Open, Nonconformity, Withdraw, Some(Withdrawn)),
            (Answered, Nonconformity, Answer, Some(Answered)),
            (Answered, Nonconformity, Close, Some(Closed)),
            (Answered, Nonconformity, Withdraw, Some(Withdrawn)),
        ] {
            assert_eq!(after(state, grade, act).ok(), expected, "{state} {act:?}");
        }
        for state in [Closed, Withdrawn] {
            for grade in Grade::ALL {
                for act in Act::ALL {
                    assert!(after(state, grade, act).is_err());
                }
            }
        }
    }

    /// A trail of these decisions, made by hand.
    struct Trail(Vec<Link>);

    impl Trail {
        fn then<D: Decided>(mut self, decision: &D) -> Self {
            let who = Who::named("Ada").unwrap();
            let link = Link::after(self.0.last(), 0, &who, decision).unwrap();
            self.0.push(link);
            self
        }
    }

    fn raised(finding: u32) -> FindingRaised {
        FindingRaised {
            finding,
            grade: Grade::Nonconformity,
            subject: Subject::Point { id: "P-1".into() },
            rule: String::new(),
            text: "text".into(),
            owner: "Bo".into(),
            due: "2026-03-10".into(),
            rulebook: String::new(),
            filter: String::new(),
            draws: 0,
            evidence: Vec::new(),
        }
    }

    fn answered(finding: u32, by: &str) -> FindingAnswered {
        let text = || "text".to_owned();
        FindingAnswered {
            finding,
            cause: text(),
            correction: text(),
            action: text(),
            by: by.to_owned(),
        }
    }

    fn closed(finding: u32) -> FindingClosed {
        FindingClosed {
            finding,
            effect: "text".into(),
            measured: None,
        }
    }

    #[test]
    fn a_finding_is_overdue_from_the_day_after_it_is_due() {
        let day = |text: &str| text.parse::<NaiveDate>().unwrap();
        let trail = Trail(Vec::new()).then(&raised(1));
        let finding = fold(&trail.0).0.remove(0);
        assert_eq!(finding.overdue(day("2026-03-10")), None);
        assert_eq!(finding.overdue(day("2026-03-12")), Some(2));
        let trail = trail.then(&answered(1, "2026-04-01"));
        let finding = fold(&trail.0).0.remove(0);
        assert_eq!(finding.overdue(day("2026-03-12")), None);
        assert_eq!(finding.overdue(day("2026-04-02")), Some(1));
        let trail = trail.then(&closed(1));
        let finding = fold(&trail.0).0.remove(0);
        assert_eq!(finding.overdue(day("2027-01-01")), None);
    }

    #[test]
    fn what_makes_no_sense_is_told_and_leaves_the_rest_standing() {
        let trail = Trail(Vec::new())
            .then(&answered(1, ""))
            .then(&raised(2))
            .then(&raised(1))
            .then(&closed(1))
            .then(&answered(1, ""))
            .then(&closed(1))
            .then(&answered(1, ""));
        let (findings, wrong) = fold(&trail.0);
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].state, State::Closed);
        assert_eq!(
            wrong,
            [
                "by link 1 finding F-1 was answered, but it was never raised",
                "link 2 raises finding F-2, but the next finding is F-1",
                "by link 4 finding F-1 was closed, but it is a nonconformity that was not \
                 answered; answer it first",
                "by link 7 finding F-1 was answered, but it is closed; if it came back, raise a \
                 new finding",
            ]
        );
    }
}
