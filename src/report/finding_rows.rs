//! The columns of `fairdraw finding`.

use chrono::NaiveDate;

use super::rows::{column, count, day, ids, number, spare, table_only, time};
use super::{Cell, Column, Place};
use crate::analysis::findings::Finding;
use crate::model::decisions::DrawSeen;
use crate::model::decisions::finding::{Effect, Subject};
use crate::model::time::{Tz, local_text};

/// `fairdraw finding list`, and `finding` of `fairdraw finding show`: one row a finding.
pub const FINDINGS: &[Column] = &[
    column("finding", "finding", "its number, as `F-1`"),
    column("state", "", "`open`, `answered`, `closed` or `withdrawn`"),
    table_only("state"),
    count(
        "overdue_days",
        "",
        "by how many days it is overdue; blank if it is not",
    ),
    column(
        "grade",
        "grade",
        "`nonconformity`, `observation` or `opportunity for improvement`",
    ),
    column(
        "about",
        "about",
        "what it is about: `draw`, `draws`, `technician`, `point` or `pick`, and which",
    ),
    column("rule", "rule", "the rule in question; blank for none"),
    spare(column("owner", "owner", "who is to answer"), 1),
    spare(
        day(
            "due",
            "due",
            "the day by which something is to be done: the answer of an open one, the action of an answered one; blank where nothing is",
        ),
        2,
    ),
    column("text", "what was found", "what was found"),
    time("raised_at", "", "when it was raised, in UTC"),
    column("raised_by", "", "who raised it"),
    count("draws", "", "how many draws speak for it"),
    column("cause", "", "why it came about, by its owner"),
    column("correction", "", "what was done about what was found"),
    column("action", "", "the corrective action, against recurrence"),
    column(
        "action_by",
        "",
        "the day by which the action is done; blank where it was done",
    ),
    time("answered_at", "", "when it was answered, in UTC"),
    column("answered_by", "", "who answered"),
    column(
        "effect",
        "",
        "how it was seen that the action was effective",
    ),
    count(
        "broken_before",
        "",
        "draws with the rule broken before the action, of `recorded_before`",
    ),
    count("recorded_before", "", ""),
    count("broken_after", "", "the same after it"),
    count("recorded_after", "", ""),
    time("closed_at", "", "when it was closed, in UTC"),
    column("closed_by", "", "who closed it"),
    column("withdrawn_because", "", "why it was withdrawn"),
    time("withdrawn_at", "", "when, in UTC"),
    column("withdrawn_by", "", "by whom"),
    column(
        "rulebook",
        "",
        "fingerprint of the rulebook in force when it was raised",
    ),
    column(
        "filter",
        "",
        "the filter that narrowed its draws; blank for none",
    ),
];

/// The state with a mark and a word where it is overdue: colour is not needed to see it.
#[must_use]
pub fn state(finding: &Finding, today: NaiveDate) -> String {
    match finding.overdue(today) {
        None => finding.state.to_string(),
        Some(1) => format!("! {}, overdue 1 day", finding.state),
        Some(days) => format!("! {}, overdue {days} days", finding.state),
    }
}

/// A row of [`FINDINGS`].
#[must_use]
pub fn finding(finding: &Finding, today: NaiveDate) -> Vec<Cell<'_>> {
    let raised = &finding.raised;
    let overdue = finding.overdue(today).map(i64::cast_unsigned);
    let answer = finding.answer();
    let closed = finding.closed.as_ref();
    let withdrawn = finding.withdrawn.as_ref();
    let measured = closed.and_then(|(_, closed)| closed.measured.as_ref());
    let words =
        |text: Option<&'_ str>| text.map_or(Cell::Blank, |text| Cell::text(text.to_owned()));
    let at = |at: Option<i64>| at.map_or(Cell::Blank, Cell::Time);
    let count = |count: Option<u64>| count.map_or(Cell::Blank, Cell::Count);
    vec![
        Cell::text(format!("F-{}", raised.finding)),
        Cell::text(finding.state.as_str()),
        Cell::text(state(finding, today)),
        count(overdue),
        Cell::text(raised.grade.as_str()),
        Cell::text(about(&raised.subject)),
        Cell::text(&raised.rule),
        Cell::text(&raised.owner),
        finding.due().map_or(Cell::Blank, Cell::Day),
        Cell::text(&raised.text),
        Cell::Time(finding.told.at),
        Cell::text(&finding.told.who),
        Cell::Count(raised.draws),
        words(answer.map(|(_, answer)| answer.cause.as_str())),
        words(answer.map(|(_, answer)| answer.correction.as_str())),
        words(answer.map(|(_, answer)| answer.action.as_str())),
        words(answer.map(|(_, answer)| answer.by.as_str())),
        at(answer.map(|(told, _)| told.at)),
        words(answer.map(|(told, _)| told.who.as_str())),
        words(closed.map(|(_, closed)| closed.effect.as_str())),
        count(measured.map(|effect| effect.before.broken)),
        count(measured.map(|effect| effect.before.recorded)),
        count(measured.map(|effect| effect.after.broken)),
        count(measured.map(|effect| effect.after.recorded)),
        at(closed.map(|(told, _)| told.at)),
        words(closed.map(|(told, _)| told.who.as_str())),
        words(withdrawn.map(|(_, withdrawn)| withdrawn.because.as_str())),
        at(withdrawn.map(|(told, _)| told.at)),
        words(withdrawn.map(|(told, _)| told.who.as_str())),
        Cell::text(&raised.rulebook),
        Cell::text(&raised.filter),
    ]
}

/// What a finding is about; of many draws the first few.
#[must_use]
pub fn about(subject: &Subject) -> String {
    match subject {
        Subject::Draws { ids } if ids.len() > 3 => {
            format!("draws {} and {} more", ids[..3].join(", "), ids.len() - 3)
        }
        other => other.to_string(),
    }
}

/// `evidence` of `fairdraw finding show`: one row a draw.
pub const EVIDENCE: &[Column] = &[
    column("draw_id", "draw", "the draw's identity"),
    time("drawn_at", "", "when it was drawn, in UTC"),
    spare(table_only("drawn at"), 3),
    spare(column("point_id", "point", "the point it was drawn at"), 1),
    spare(column("technician_id", "technician", "who drew it"), 2),
    column(
        "verdict",
        "verdict",
        "its verdict when the finding was raised",
    ),
    spare(
        number(
            "score",
            "score",
            "its score of class sample then; blank for none",
        ),
        4,
    ),
    ids("broken", "", "ids of the rules broken on it then"),
    ids("unrecorded", "", "ids of the rules unrecorded on it then"),
    spare(
        column("seen", "seen", "what the rule in question saw on it then"),
        5,
    ),
    spare(column("wanted", "wanted", "what that rule wanted"), 6),
    count("row", "", "the row it was stored in"),
    column(
        "content_sha256",
        "",
        "SHA-256 over what its record said then: the columns of its sheet, each as `name=value` and a line feed, times in UTC",
    ),
    Column {
        place: Place::Everywhere,
        ..column(
            "now",
            "now",
            "what became of it since: `as it stood`, `record changed, judged alike`, `record changed, judged otherwise`, `judged otherwise` or `not there any more`",
        )
    },
];

/// A row of [`EVIDENCE`].
#[must_use]
pub fn evidence<'a>(seen: &'a DrawSeen, now: &'static str, zone: Tz) -> Vec<Cell<'a>> {
    vec![
        Cell::text(&seen.draw),
        Cell::Time(seen.drawn_at),
        Cell::text(local_text(seen.drawn_at, zone)),
        Cell::text(&seen.point),
        Cell::text(&seen.technician),
        Cell::text(&seen.verdict),
        Cell::score(seen.score.parse().ok()),
        super::score_rows::known_ids(&seen.broken),
        super::score_rows::known_ids(&seen.unrecorded),
        Cell::text(&seen.seen),
        Cell::text(&seen.wanted),
        Cell::Count(seen.record.into()),
        Cell::text(&seen.content_sha256),
        Cell::text(now),
    ]
}

/// The story of a finding, a paragraph a line.
#[must_use]
pub fn story(finding: &Finding, today: NaiveDate, zone: Tz) -> String {
    let raised = &finding.raised;
    let told = |at: i64, who: &str| format!("{} by {who}", local_text(at, zone));
    let rule = match raised.rule.as_str() {
        "" => String::new(),
        rule => format!(", rule {rule}"),
    };
    let mut lines = vec![
        format!(
            "F-{}: {}, {} on {}{rule}.",
            raised.finding,
            state(finding, today),
            raised.grade,
            about(&raised.subject)
        ),
        format!("  {}", raised.text),
        format!(
            "Raised {}; {} is to answer by {}. {} for it; rulebook {}.",
            told(finding.told.at, &finding.told.who),
            raised.owner,
            raised.due,
            match raised.draws {
                1 => "1 draw speaks".to_owned(),
                draws => format!("{draws} draws speak"),
            },
            raised.rulebook
        ),
    ];
    for (at, answer) in &finding.answers {
        lines.push(format!("Answered {}:", told(at.at, &at.who)));
        lines.push(format!("  cause: {}", answer.cause));
        lines.push(format!("  correction: {}", answer.correction));
        let by = match answer.by.as_str() {
            "" => "done".to_owned(),
            day => format!("by {day}"),
        };
        lines.push(format!("  corrective action ({by}): {}", answer.action));
    }
    if let Some((at, closed)) = &finding.closed {
        lines.push(format!("Closed {}:", told(at.at, &at.who)));
        lines.push(format!("  effect: {}", closed.effect));
        if let Some(effect) = &closed.measured {
            lines.push(format!("  {}", measured(effect, zone)));
        }
    }
    if let Some((at, withdrawn)) = &finding.withdrawn {
        lines.push(format!("Withdrawn {}:", told(at.at, &at.who)));
        lines.push(format!("  because: {}", withdrawn.because));
    }
    lines.join("\n") + "\n"
}

/// What the draws say about the effect, in a line.
#[must_use]
pub fn measured(effect: &Effect, zone: Tz) -> String {
    let of = match effect.filter.as_str() {
        "" => String::new(),
        filter => format!(" ({filter})"),
    };
    let change = match crate::analysis::effect::change(effect) {
        None => "too few draws to compare".to_owned(),
        Some(change) => {
            let says = if change.high < 0.0 {
                "fewer than before"
            } else if change.low > 0.0 {
                "more than before"
            } else {
                "no change that the numbers can show"
            };
            format!(
                "difference {:+.1} points, 95 % interval {:+.1} to {:+.1}: {says}",
                change.difference * 100.0,
                change.low * 100.0,
                change.high * 100.0
            )
        }
    };
    format!(
        "broken{of} on {} of {} draws in the {} days before {}, on {} of {} since; {change}",
        effect.before.broken,
        effect.before.recorded,
        crate::analysis::training::WINDOW_DAYS,
        local_text(effect.from, zone),
        effect.after.broken,
        effect.after.recorded
    )
}
