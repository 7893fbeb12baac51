//! What holds for all cells of a sheet: zone, marks of numbers, words for yes, no and nothing,
//! rows passed over.

use super::days::Dated;
use super::entry::in_a_list;
use super::lines::{Line, Question, list, scalar};
use super::marks::{Marks, Verdict};
use super::sample::Sample;
use super::{Pair, Pairs, Said, theirs};
use crate::intake::columns::Reading;
use crate::intake::maps::number::NumberForm;
use crate::intake::maps::recipe::folded;

/// The zone of clocks that do not say theirs.
pub(super) fn zone(dated: &[Dated], said: &Said<'_>, pairs: &Pairs) -> Option<Line> {
    let ours = pairs.kind.columns();
    let is_local = dated.iter().any(|one| {
        let is_time = matches!(ours[pairs.pairs[one.pair].ours].reading, Reading::Time);
        is_time && (one.dates.is_local || one.is_serial || one.dates.timed == 0)
    });
    if !is_local {
        return None;
    }
    Some(match said.zone {
        Some(zone) => Line::new("zone", scalar(zone.name()), 1.0, "as you say"),
        None => {
            let text = "no time says its zone. Which zone do the clocks of this sheet tell (as in Europe/Berlin)?";
            let mut question = Question::of(text, [("UTC".to_owned(), "UTC".to_owned())]);
            question.is_free = true;
            Line::open("zone", question)
        }
    })
}

/// The lines of decimal and thousands marks, and the form that then holds for the sheet.
pub(super) fn marks(sample: &Sample, pairs: &Pairs) -> (Vec<Line>, NumberForm) {
    let ours = pairs.kind.columns();
    let is_number = |pair: &&Pair| matches!(ours[pair.ours].reading, Reading::Number(_));
    let numbers = pairs.pairs.iter().filter(is_number);
    let together = Marks::together(numbers.map(|pair| &sample.columns[pair.theirs].marks));
    let usual = NumberForm::default();
    match together.verdict() {
        Verdict::Form(form) => {
            let mut lines = Vec::new();
            if form.decimal != usual.decimal {
                let reason = "the numbers can't be read otherwise";
                lines.push(Line::new("decimal", "comma".to_owned(), 0.95, reason));
            }
            if let Some(mark) = form.thousands {
                let reason = "marks stand before groups of three digits";
                lines.push(Line::new(
                    "thousands",
                    thousands_word(mark).to_owned(),
                    0.9,
                    reason,
                ));
            }
            (lines, form)
        }
        Verdict::Open => {
            let text = format!(
                "in {} the mark may stand for the decimal or between thousands. Which mark stands for the decimal?",
                together.example
            );
            // The mark that is not the decimal stands between thousands then.
            let thousands = |word: &str, other: &str, is_seen: bool| match is_seen {
                true => (
                    format!("{word}, with a second line thousands: {other}"),
                    format!("{word}\n    thousands: {other}"),
                ),
                false => (word.to_owned(), word.to_owned()),
            };
            let (has_comma, has_point) = together.open_marks();
            let choices = [
                thousands("point", "comma", has_comma),
                thousands("comma", "point", has_point),
            ];
            (
                vec![Line::open("decimal", Question::of(text, choices))],
                usual,
            )
        }
        Verdict::Both => (Vec::new(), usual),
    }
}

/// The marks of a column that differ from those of the sheet.
pub(super) fn own_marks(marks: &Marks, usual: NumberForm) -> Vec<Line> {
    let Verdict::Form(form) = marks.verdict() else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    let whole = NumberForm::default();
    if form == whole || form == usual {
        return lines;
    }
    if form.decimal != usual.decimal {
        let word = if form.decimal == ',' {
            "comma"
        } else {
            "point"
        };
        lines.push(Line::plain("decimal", word.to_owned()));
    }
    if form.thousands.is_some() && form.thousands != usual.thousands {
        let word = form.thousands.map_or("none", thousands_word);
        lines.push(Line::plain("thousands", word.to_owned()));
    }
    lines
}

fn thousands_word(mark: char) -> &'static str {
    match mark {
        '.' => "point",
        ',' => "comma",
        ' ' => "blank",
        _ => "apostrophe",
    }
}

/// The lines of yes, no and blank.
pub(super) fn word_settings(
    yes: Vec<String>,
    no: Vec<String>,
    blanks: Vec<String>,
    asked: &[String],
) -> Vec<Line> {
    let once = |texts: Vec<String>| {
        let mut kept: Vec<String> = Vec::new();
        for text in texts {
            if !kept.iter().any(|other| folded(other) == folded(&text)) {
                kept.push(text);
            }
        }
        kept
    };
    let mut lines = Vec::new();
    for (key, texts, reason) in [
        ("yes", once(yes), "words that mean yes"),
        ("no", once(no), "words that mean no"),
    ] {
        if !texts.is_empty() {
            lines.push(Line::new(key, list(&texts), 0.9, reason));
        }
    }
    let mut blanks = once(blanks);
    blanks.retain(|text| !asked.contains(text));
    if !blanks.is_empty() {
        let reason = "texts that say nothing was recorded";
        lines.push(Line::new("blank", list(&blanks), 0.85, reason));
    }
    lines
}

/// The line of rows to pass over.
pub(super) fn skip(sample: &Sample) -> Option<Line> {
    let (place, word) = sample.totals.as_ref()?;
    let column = in_a_list(theirs(sample, *place));
    let value = format!("[{{column: {column}, begins: {}}}]", list(&[word]));
    Some(Line::new(
        "skip",
        value,
        0.9,
        "rows of totals are no records",
    ))
}
