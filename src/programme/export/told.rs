//! What people decided, as the report tells it.

use super::Content;
use super::codes::Whose;
use crate::analysis::findings::Finding;
use crate::analysis::picks::outcome;
use crate::report::audit::{FindingTold, PickTold, ResampleTold, Told};
use crate::report::finding_rows;
use crate::rules::cards;

/// The z of a two-sided 95 % interval.
const Z_95: f64 = crate::stats::wilson::Z_95;

impl Content<'_> {
    /// All of it, names replaced where there are codes.
    pub(super) fn told(&self) -> Told {
        let decided = self.decided;
        Told {
            findings: decided.findings.iter().map(|it| self.finding(it)).collect(),
            picks: decided.picks.iter().map(pick).collect(),
            resamples: self.to_sample_again(),
            set_aside: (decided.set_asides.iter())
                .filter(|set| set.taken_back.is_none())
                .count() as u64,
        }
    }

    fn finding(&self, finding: &Finding) -> FindingTold {
        let raised = &finding.raised;
        FindingTold {
            id: format!("F-{}", raised.finding),
            state: finding_rows::state(finding, self.today),
            is_pending: finding.state.is_pending(),
            is_overdue: finding.overdue(self.today).is_some(),
            grade: raised.grade.as_str(),
            about: finding_rows::about(&raised.subject),
            rule: raised.rule.clone(),
            owner: self.named(&raised.owner),
            due: finding
                .due()
                .map_or_else(String::new, |day| day.to_string()),
            draws: raised.draws,
            story: self.story(finding),
        }
    }

    fn story(&self, finding: &Finding) -> Vec<(String, String)> {
        if self.is_anonymous() {
            return Vec::new();
        }
        let mut story = vec![("Found".to_owned(), finding.raised.text.clone())];
        if let Some((_, answer)) = finding.answer() {
            for (label, text) in [
                ("Cause", &answer.cause),
                ("Correction", &answer.correction),
                ("Corrective action", &answer.action),
            ] {
                story.push((label.to_owned(), text.clone()));
            }
        }
        if let Some((_, closed)) = &finding.closed {
            story.push(("Effect".to_owned(), closed.effect.clone()));
            if let Some(measured) = &closed.measured {
                let said = finding_rows::measured(measured, self.assessed.zone);
                story.push(("Measured".to_owned(), said));
            }
        }
        if let Some((_, withdrawn)) = &finding.withdrawn {
            story.push(("Withdrawn".to_owned(), withdrawn.because.clone()));
        }
        story
    }

    fn to_sample_again(&self) -> Vec<ResampleTold> {
        let list = self.decided.resamples.found.list.iter();
        list.map(|found| {
            let point = &self.assessed.points[found.point];
            let broken = self.assessed.judged.broken[found.row as usize];
            let broken: Vec<&str> = broken.iter().map(|rule| cards()[rule].id).collect();
            ResampleTold {
                compartment: point.compartment.clone(),
                site: point.site.clone().unwrap_or_default(),
                because: found.because.as_str(),
                days: found.standing.since.days(),
                ratio: found.standing.counted().map(|(.., ratio)| ratio),
                point: point.id.clone(),
                broken: broken.join(", "),
            }
        })
        .collect()
    }

    /// A name as it stands in the pack.
    pub(super) fn named(&self, name: &str) -> String {
        match self.codes {
            Some(codes) if !name.is_empty() => codes.code(Whose::Person, name),
            _ => name.to_owned(),
        }
    }
}

fn pick(pick: &crate::analysis::picks::Pick) -> PickTold {
    let confidence = pick.drawn.plan.confidence().parse().unwrap_or(0.95);
    let found = outcome(pick, confidence);
    let counts = found.counts;
    let beyond = found.kappa.and_then(|kappa| kappa.beyond);
    PickTold {
        number: pick.drawn.pick,
        plan: pick.drawn.plan.to_string(),
        population: pick.drawn.population,
        counts: [
            counts.picked,
            counts.agree,
            counts.disagree,
            counts.unverified,
            counts.open(),
        ],
        rate: found.left_out.and_then(|bounds| bounds.rate),
        upper: found.left_out.and_then(|bounds| bounds.upper),
        confidence,
        kappa: beyond.map(|beyond| {
            let (low, high) = beyond.interval(Z_95);
            [beyond.kappa, low, high]
        }),
    }
}
