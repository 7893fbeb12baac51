//! From the pairs of a sheet to its entry in the map: our columns line by line, those that lack
//! one of theirs, and theirs that go nowhere.

use super::days::{Dated, dated, plan};
use super::fit::LEAST;
use super::lines::{Line, Question, Value, scalar};
use super::measure::{is_imperial, measure};
use super::sample::Sample;
use super::settings::{marks, own_marks, skip, word_settings, zone};
use super::ticks::{looks_of_ticks, ticks};
use super::words::{asked_blanks, words};
use super::{Pair, Pairs, ProposedSheet, Said, theirs};
use crate::intake::columns::{Column, Reading};

/// The entry of a sheet.
pub fn sheet(
    file: &str,
    sample: &Sample,
    said: &Said<'_>,
    pairs: Pairs,
    kind_reason: (f64, String),
) -> ProposedSheet {
    let ours = pairs.kind.columns();
    let dated = dated(sample, &pairs);
    let mut settings = Vec::new();
    settings.extend(zone(&dated, said, &pairs));
    let (marks_lines, usual_marks) = marks(sample, &pairs);
    settings.extend(marks_lines);
    let plan = plan(&dated);
    settings.extend(plan.lines());
    let imperial = sample.columns.iter().any(is_imperial);

    let (mut yes, mut no, mut blanks, mut asked) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let mut columns: Vec<(usize, Line)> = Vec::new();
    for (place, pair) in pairs.pairs.iter().enumerate() {
        let column = &ours[pair.ours];
        let sampled = &sample.columns[pair.theirs];
        let (mut confidence, rival) = pairs.confidence(pair, sample);
        let mut reason = pair.fit.reason.clone();
        let mut details = Vec::new();
        let own = dated.iter().find(|dated| dated.pair == place);
        let measured = measure(sampled, column, imperial);
        if matches!(column.reading, Reading::Number(_)) {
            confidence *= measured.doubt;
            details.extend(own_marks(&sampled.marks, usual_marks));
        }
        details.extend(measured.lines);
        let found = words(sampled, column);
        asked.extend(asked_blanks(&found).into_iter().map(str::to_owned));
        details.extend(found.lines);
        yes.extend(found.yes);
        no.extend(found.no);
        blanks.extend(sampled.blanks.iter().cloned());
        if let Some(own) = own {
            details.extend(plan.of_column(own));
        }
        for more in [(!measured.told.is_empty()).then_some(measured.told), rival]
            .into_iter()
            .flatten()
        {
            reason.push_str("; ");
            reason.push_str(&more);
        }
        let from = from(sample, pair, own, column, &mut reason);
        columns.push((
            pair.ours,
            column_line(column.name, from, details, confidence, reason),
        ));
    }
    columns.extend(split(sample, &pairs));
    let ticks = ticks(sample, &pairs, &dated);
    let ticked: Vec<usize> = ticks.iter().map(|(place, _, _)| *place).collect();
    columns.extend(looks_of_ticks(sample, &pairs, &ticks));
    columns.extend(lacking(sample, &pairs));
    columns.sort_by_key(|(place, _)| *place);
    settings.extend(word_settings(yes, no, blanks, &asked));
    settings.extend(skip(sample));
    let aside = aside(sample, &pairs, &dated, &ticked);
    ProposedSheet {
        file: file.to_owned(),
        sheet: None,
        kind: pairs.kind,
        kind_reason,
        settings,
        columns: columns.into_iter().map(|(_, line)| line).collect(),
        aside,
    }
}

pub(super) fn column_line(
    name: &str,
    from: Line,
    details: Vec<Line>,
    confidence: f64,
    reason: String,
) -> Line {
    let is_plain = details.is_empty();
    match from.value {
        Value::Yaml(yaml) if is_plain => Line::new(name, yaml, confidence, reason),
        value => {
            let mut lines = vec![Line { value, ..from }];
            lines.extend(details);
            Line {
                key: name.to_owned(),
                value: Value::Lines(lines),
                confidence: Some(confidence),
                reason,
            }
        }
    }
}

/// Where a column comes from: one of theirs, or a day and a time of day.
fn from(
    sample: &Sample,
    pair: &Pair,
    own: Option<&Dated>,
    column: &Column,
    reason: &mut String,
) -> Line {
    let day = theirs(sample, pair.theirs);
    let is_time = matches!(column.reading, Reading::Time);
    match own {
        Some(Dated {
            clock: Some(clock), ..
        }) if is_time => {
            reason.push_str("; the time of day stands apart");
            let clock = theirs(sample, *clock);
            let pieces = [day, clock].map(in_a_list);
            Line::plain("from", format!("[{}]", pieces.join(", ")))
        }
        Some(own) if is_time && own.dates.timed == 0 && own.dates.all > 0 && !own.is_serial => {
            let text = "only days are written here. Which time of day shall stand for it (as in 12:00)? Rules about minutes and hours then judge by it; leave the column out if none is right.";
            let mut question = Question::of(text, [("noon".to_owned(), "\"12:00\"".to_owned())]);
            question.is_free = true;
            question.around = (format!("[{}, {{always: ", in_a_list(day)), "}]".to_owned());
            Line::open("from", question)
        }
        _ => Line::plain("from", day),
    }
}

/// A name in a list in one line, where brackets and commas are marks.
pub(super) fn in_a_list(yaml: String) -> String {
    if yaml.contains([',', '[', ']', '{', '}']) && !yaml.starts_with(['"', '{']) {
        return quoted(&yaml);
    }
    yaml
}

/// A text in quotes, as JSON and YAML both read it.
pub(super) fn quoted(text: &str) -> String {
    match scalar(text) {
        plain if !plain.starts_with('"') => format!("\"{plain}\""),
        quoted => quoted,
    }
}

/// The lines of headers that name two of our columns.
fn split(sample: &Sample, pairs: &Pairs) -> Vec<(usize, Line)> {
    let ours = pairs.kind.columns();
    let halves = pairs.split.iter().flat_map(|(place, between, both)| {
        let both = both.iter().enumerate();
        both.map(move |(half, column)| (*place, *between, half + 1, *column))
    });
    halves
        .map(|(place, between, part, column)| {
            let details = vec![
                Line::plain("split", scalar(between)),
                Line::plain("part", part.to_string()),
            ];
            let reason = "the header names two columns, and its cells are cut alike".to_owned();
            let from = Line::plain("from", theirs(sample, place));
            (
                column,
                column_line(ours[column].name, from, details, 0.85, reason),
            )
        })
        .collect()
}

/// Required columns that nothing goes to: a question each.
fn lacking(sample: &Sample, pairs: &Pairs) -> Vec<(usize, Line)> {
    let free = (0..sample.columns.len()).filter(|place| pairs.is_free(*place));
    let free: Vec<usize> = free.collect();
    let ours = pairs.kind.columns().iter().enumerate();
    ours.filter(|(place, column)| column.required && !pairs.is_made(*place))
        .map(|(place, column)| {
            let choices = free
                .iter()
                .map(|at| (sample.columns[*at].name.clone(), theirs(sample, *at)));
            let text = format!(
                "which of their columns says {}: {}?",
                column.name, column.meaning
            );
            let mut question = Question::of(text, choices);
            question.is_free = true;
            (place, Line::open(column.name, question))
        })
        .collect()
}

/// Their columns that go nowhere.
fn aside(
    sample: &Sample,
    pairs: &Pairs,
    dated: &[Dated],
    ticked: &[usize],
) -> Vec<(String, String)> {
    let ours = pairs.kind.columns();
    let free = (0..sample.columns.len()).filter(|place| {
        pairs.is_free(*place)
            && !ticked.contains(place)
            && !dated.iter().any(|dated| dated.clock == Some(*place))
    });
    free.map(|place| {
        let best = pairs.fits[place].iter().enumerate();
        let best = best.max_by(|(_, one), (_, other)| one.score.total_cmp(&other.score));
        let reason = match best.filter(|(_, fit)| fit.score >= LEAST) {
            None => "goes with none of our columns".to_owned(),
            Some((place, _)) => {
                let taken = pairs.pairs.iter().find(|pair| pair.ours == place);
                let by = taken.map_or("", |pair| sample.columns[pair.theirs].name.as_str());
                format!("would go to {}, but {by:?} fits better", ours[place].name)
            }
        };
        (sample.columns[place].name.clone(), reason)
    })
    .collect()
}
