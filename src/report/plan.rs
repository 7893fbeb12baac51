//! A technician's retraining plan as one page of Markdown.
//!
//! It is handed to the person it is about: it says what to practise and why, shows the own
//! draws, compares with others without naming any, and keeps what is certain apart from
//! what may be chance. Texts of the programme pass through `markdown::words`.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use super::markdown::words;
use super::table::percent;
use crate::analysis::Assessed;
use crate::analysis::topics::{Plan, PlannedTopic, Says, Topic};
use crate::model::answer::tidy;
use crate::model::time::{Tz, local_text};
use crate::model::{Answer, Technician};
use crate::rules::{COUNT, cards};
use crate::scoring::Explained;

/// A draw that stands on a page: where and when, and what every rule answered.
#[derive(Clone, Debug)]
pub struct Shown {
    point_id: String,
    drawn_at: i64,
    answers: [Answer; COUNT],
}

impl Shown {
    /// The draw in this row with its answers.
    ///
    /// # Panics
    /// When there is no such row.
    #[must_use]
    pub fn of(assessed: &Assessed, row: usize, explained: &Explained) -> Self {
        let point = assessed.judged.point[row] as usize;
        Shown {
            point_id: assessed.points[point].id.clone(),
            drawn_at: assessed.judged.drawn_at[row],
            answers: explained.answers,
        }
    }
}

/// The page. `shown` holds the example draws of the plan by their row; `filter` is the line
/// that chose the draws, empty for all.
#[must_use]
pub fn page(
    assessed: &Assessed,
    plan: &Plan,
    shown: &BTreeMap<u32, Shown>,
    filter: &str,
) -> String {
    let technician = &assessed.technicians[plan.technician];
    let mut page = format!("# Training plan for {}\n\n", called(technician));
    page.push_str(&opening(assessed, plan, filter));
    if plan.topics.is_empty() {
        page.push_str(
            "There is no topic here: no rule that is in the technician's own hands costs \
             noticeably more draws than others lose at the same points.\n\n",
        );
    }
    for (number, planned) in (1..).zip(&plan.topics) {
        page.push_str(&topic(number, planned, shown, assessed.zone));
    }
    if plan.further > 0 {
        let _ = writeln!(
            page,
            "{} further topic{} can wait until these are put right.\n",
            plan.further,
            plural(plan.further as u64)
        );
    }
    page.push_str(CLOSING);
    let book = &assessed.rulebook;
    let _ = writeln!(
        page,
        "\nJudged by the rulebook {}, revision {}.",
        words(&book.name),
        words(&book.revision)
    );
    page
}

const CLOSING: &str = "\
---

Look at the draws above together before anything is decided: a record can be wrong, a point can \
make good practice impossible, and the person who stood there knows more than the numbers. \
Draws taken in one round are alike, so the intervals are rather too narrow. Where several topics \
are looked at, up to one in forty stands out by chance alone.

Cautions here are the usual ones. Local codes, the site's permit rules and qualified people come \
before anything on this page.
";

fn called(technician: &Technician) -> String {
    match &technician.name {
        Some(name) => format!("{} ({})", words(name), words(&technician.id)),
        None => words(&technician.id),
    }
}

fn opening(assessed: &Assessed, plan: &Plan, filter: &str) -> String {
    let (tally, share) = (plan.tally, plan.share);
    let mut text = String::new();
    if let Some((first, last)) = plan.between {
        let _ = writeln!(
            text,
            "Draws from {} to {} (days in {}).",
            day(first, assessed.zone),
            day(last, assessed.zone),
            assessed.zone
        );
    }
    if !filter.is_empty() {
        let _ = writeln!(text, "Only draws that pass: {}", words(filter));
    }
    if let (Some(part), Some(low), Some(high)) = (share.share, share.low, share.high) {
        let _ = writeln!(
            text,
            "{} of {} judged draws {} unrepresentative: {} (95 % interval {} to {}).",
            tally.unrepresentative,
            tally.judged(),
            if tally.unrepresentative == 1 {
                "is"
            } else {
                "are"
            },
            percent(part),
            percent(low),
            percent(high)
        );
    }
    if tally.unproven > 0 {
        let _ = writeln!(
            text,
            "{} more could not be judged, because the record leaves too much open; what is not \
             written down is neither right nor wrong.",
            tally.unproven
        );
    }
    let _ = writeln!(
        text,
        "Some points are harder to draw from than others. So each topic is compared with what \
         others lose at the same points; {} of the {} judged draws are at points where others \
         drew too.\n",
        plan.at_shared_points,
        tally.judged()
    );
    text
}

fn topic(number: usize, planned: &PlannedTopic, shown: &BTreeMap<u32, Shown>, zone: Tz) -> String {
    let card = cards()[planned.topic.rule];
    let mut text = format!("## {number}. {}\n\n{}\n\n", card.id, card.asks);
    let _ = writeln!(text, "{}\n", numbers(&planned.topic));
    text.push_str(
        "| drawn at | point | what the record shows | what the rule asks |\n|---|---|---|---|\n",
    );
    let examples: BTreeSet<u32> = planned.examples.iter().copied().collect();
    for draw in examples.iter().filter_map(|row| shown.get(row)) {
        let answer = draw.answers[planned.topic.rule];
        let _ = writeln!(
            text,
            "| {} | {} | {} | {} |",
            local_text(draw.drawn_at, zone),
            words(&draw.point_id),
            answer.seen,
            answer.wanted
        );
    }
    if planned.further > 0 {
        let _ = writeln!(
            text,
            "\nIt has a part in {} further draw{}.",
            planned.further,
            plural(planned.further as u64)
        );
    }
    let _ = writeln!(text, "\n**Why it matters.** {}\n", card.why);
    let _ = writeln!(text, "**Next time.** {}\n", card.next_time);
    if !card.caution.is_empty() {
        let _ = writeln!(text, "> **Caution.** {}\n", card.caution);
    }
    text
}

fn numbers(topic: &Topic) -> String {
    let mut text = format!(
        "Broken on {} of {} judged draws it applies to. It costs {} draw{}",
        topic.broken,
        topic.applies,
        tidy(topic.cost),
        if tidy(topic.cost) == "1" { "" } else { "s" }
    );
    if let (Some(expected), Some(over)) = (topic.expected, topic.over_peers) {
        let _ = write!(
            text,
            "; others would lose {} in as many draws at the same or like points. The difference \
             is {} (95 % interval {} to {})",
            tidy(expected),
            tidy(over.value),
            tidy(over.low),
            tidy(over.high)
        );
    }
    text.push_str(match topic.says {
        Says::MoreThanPeers => ": more than chance would explain.",
        Says::MayBeChance => ": chance alone could explain it.",
        Says::Few => ". There are too few draws to say more.",
        Says::NoPeers => ". Nobody else drew anything to compare with.",
    });
    text
}

fn plural(count: u64) -> &'static str {
    if count == 1 { "" } else { "s" }
}

/// The day of an instant in a zone, as `2026-03-04`.
fn day(seconds: i64, zone: Tz) -> String {
    let mut text = local_text(seconds, zone);
    text.truncate("2026-03-04".len());
    text
}
