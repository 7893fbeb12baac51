//! Findings, verification, what to sample again.

use super::Material;
use crate::report::document::{Block, Section, Table, numbers, words};
use crate::report::wording::{count, decimals, of, percent};

/// How many findings are told in full, and rows of other tables shown.
const MOST_TOLD: usize = 40;
const MOST: usize = 20;

/// A finding as a report tells it; names in it are those that may be told.
#[derive(Clone, Debug, Default)]
pub struct FindingTold {
    /// `F-1`.
    pub id: String,
    /// How far it has come, with a word where it is overdue.
    pub state: String,
    /// Whether something is still to be done.
    pub is_pending: bool,
    /// Whether that is overdue.
    pub is_overdue: bool,
    /// How much weight it has.
    pub grade: &'static str,
    /// What it is about.
    pub about: String,
    /// The rule in question; may be empty.
    pub rule: String,
    /// Who is to answer.
    pub owner: String,
    /// The day by which something is to be done; may be empty.
    pub due: String,
    /// How many draws speak for it.
    pub draws: u64,
    /// Label and words of what was found, answered, done; without free texts in an anonymous
    /// pack.
    pub story: Vec<(String, String)>,
}

/// A pick as a report tells it.
#[derive(Clone, Debug)]
pub struct PickTold {
    /// Its number.
    pub number: u32,
    /// How its size was settled.
    pub plan: String,
    /// Draws of the population.
    pub population: u64,
    /// Picked, agreeing, disagreeing, not verifiable, without a result yet.
    pub counts: [u64; 5],
    /// The error rate among the checked.
    pub rate: Option<f64>,
    /// The one-sided upper bound on it, and its confidence.
    pub upper: Option<f64>,
    /// The confidence, a part of one.
    pub confidence: f64,
    /// Cohen's kappa with its interval.
    pub kappa: Option<[f64; 3]>,
}

/// A compartment to sample again.
#[derive(Clone, Debug)]
pub struct ResampleTold {
    /// The compartment.
    pub compartment: String,
    /// Its site; may be empty.
    pub site: String,
    /// Why.
    pub because: &'static str,
    /// Days since the last trusted sample.
    pub days: f64,
    /// The same in agreed intervals.
    pub ratio: Option<f64>,
    /// The point to draw at.
    pub point: String,
    /// Rules broken last time.
    pub broken: String,
}

/// All that was decided, as a report tells it.
#[derive(Clone, Debug, Default)]
pub struct Told {
    /// Findings.
    pub findings: Vec<FindingTold>,
    /// Picks.
    pub picks: Vec<PickTold>,
    /// What to sample again, most urgent first.
    pub resamples: Vec<ResampleTold>,
    /// Results set aside that stand.
    pub set_aside: u64,
}

/// The sections.
pub fn sections(material: &Material<'_>) -> Vec<Section> {
    vec![findings(material), picks(material), resamples(material)]
}

/// What the summary says of findings and picks.
pub fn in_a_line(told: &Told) -> Option<String> {
    if told.findings.is_empty() {
        return None;
    }
    let number =
        |of: &dyn Fn(&FindingTold) -> bool| told.findings.iter().filter(|it| of(it)).count();
    let pending = number(&|finding| finding.is_pending);
    let overdue = number(&|finding| finding.is_overdue);
    Some(format!(
        "Findings: {} raised, {pending} not closed yet, {overdue} of them overdue.",
        told.findings.len()
    ))
}

fn findings(material: &Material<'_>) -> Section {
    let mut section = Section::new("findings", "Findings");
    let found = &material.told.findings;
    if found.is_empty() {
        section.say("No finding was raised on these draws.");
        return section;
    }
    let rows = found.iter().map(|finding| {
        vec![
            finding.id.clone(),
            finding.state.clone(),
            finding.grade.to_owned(),
            finding.about.clone(),
            finding.rule.clone(),
            finding.owner.clone(),
            finding.due.clone(),
        ]
    });
    section.push(Block::Table(Table {
        caption: "Findings and how far they have come".to_owned(),
        columns: vec![
            words("Finding"),
            words("State"),
            words("Grade"),
            words("About"),
            words("Rule"),
            words("Owner"),
            words("Due"),
        ],
        rows: rows.collect(),
    }));
    for finding in found.iter().take(MOST_TOLD) {
        section.push(Block::Heading(format!("{}: {}", finding.id, finding.about)));
        let mut facts = vec![
            ("State".to_owned(), finding.state.clone()),
            ("Evidence".to_owned(), of(finding.draws, "draw", "draws")),
        ];
        facts.extend(finding.story.iter().cloned());
        section.push(Block::Facts(facts));
    }
    if found.len() > MOST_TOLD {
        section.push(Block::Remark(format!(
            "{} more stand in the table “findings” of the pack.",
            found.len() - MOST_TOLD
        )));
    }
    section
}

fn picks(material: &Material<'_>) -> Section {
    let mut section = Section::new("verification", "Verification of records");
    let picks = &material.told.picks;
    if picks.is_empty() {
        section.say(
            "No random sample of records was drawn for verification, so nothing here says how \
             often a record is wrong.",
        );
        return section;
    }
    let rows = picks.iter().map(|pick| {
        let [picked, agree, disagree, unverified, open] = pick.counts.map(count);
        vec![
            count(pick.number.into()),
            pick.plan.clone(),
            format!("{picked} of {}", count(pick.population)),
            agree,
            disagree,
            unverified,
            open,
            pick.rate.map_or_else(|| "–".to_owned(), percent),
            pick.upper.map_or_else(
                || "–".to_owned(),
                |upper| {
                    format!(
                        "{} ({})",
                        percent(upper),
                        percent(pick.confidence).replace(".0", "")
                    )
                },
            ),
            pick.kappa.map_or_else(
                || "–".to_owned(),
                |[kappa, low, high]| {
                    format!(
                        "{} ({} – {})",
                        decimals(kappa, 2),
                        decimals(low, 2),
                        decimals(high, 2)
                    )
                },
            ),
        ]
    });
    section.push(Block::Table(Table {
        caption: "Random picks and what their verification found".to_owned(),
        columns: vec![
            numbers("Pick"),
            words("Plan"),
            numbers("Picked"),
            numbers("Agree"),
            numbers("Disagree"),
            numbers("Not verifiable"),
            numbers("Open"),
            numbers("Wrong"),
            numbers("At most"),
            numbers("Kappa"),
        ],
        rows: rows.collect(),
    }));
    section.push(Block::Remark(
        "Wrong: records that disagree among those checked. At most: the exact one-sided upper bound \
         (Clopper and Pearson) with its confidence. Kappa: agreement of verifier and record beyond \
         chance, with its 95 % interval."
            .to_owned(),
    ));
    section
}

fn resamples(material: &Material<'_>) -> Section {
    let mut section = Section::new("resamples", "To sample again");
    let list = &material.told.resamples;
    let aside = match material.told.set_aside {
        0 => "No laboratory result is set aside.".to_owned(),
        1 => "One laboratory result is set aside.".to_owned(),
        many => format!("{} laboratory results are set aside.", count(many)),
    };
    if list.is_empty() {
        section.say(format!(
            "The latest sample of every compartment can be trusted. {aside}"
        ));
        return section;
    }
    section.say(format!(
        "{} a latest sample that can't be trusted; most urgent are those that had no trustworthy \
         one for longest, counted in agreed intervals. {aside}",
        of(list.len() as u64, "compartment has", "compartments have")
    ));
    let rows = list.iter().take(MOST).map(|resample| {
        vec![
            resample.compartment.clone(),
            resample.site.clone(),
            resample.because.to_owned(),
            decimals(resample.days.floor(), 0),
            resample
                .ratio
                .map_or_else(|| "–".to_owned(), |ratio| decimals(ratio, 1)),
            resample.point.clone(),
            resample.broken.clone(),
        ]
    });
    section.push(Block::Table(Table {
        caption: "Compartments to sample again, most urgent first".to_owned(),
        columns: vec![
            words("Compartment"),
            words("Site"),
            words("Why"),
            numbers("Days"),
            numbers("Intervals"),
            words("Draw at"),
            words("Broken last time"),
        ],
        rows: rows.collect(),
    }));
    if list.len() > MOST {
        section.push(Block::Remark(format!(
            "{} more stand in the table “resamples” of the pack.",
            list.len() - MOST
        )));
    }
    section
}
