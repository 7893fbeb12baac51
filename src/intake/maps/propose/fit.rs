//! How well a column of a sheet goes with one of ours: by its header and by its values.

use rustc_hash::FxHashSet;

use super::heading::likeness;
use super::sample::Sampled;
use super::vocabulary::{KNOWN, key};
use crate::intake::columns::{Column, Reading, SheetKind};
use crate::intake::maps::unit::{self, Said};

/// What the programme knows, to tell ids by.
#[derive(Debug, Default)]
pub struct KnownIds {
    /// Points.
    pub points: FxHashSet<String>,
    /// Technicians.
    pub technicians: FxHashSet<String>,
}

/// How well two columns go together.
#[derive(Clone, Debug, Default)]
pub struct Fit {
    /// From 0 to 1.
    pub score: f64,
    /// Why.
    pub reason: String,
}

/// Below this nothing is proposed.
pub const LEAST: f64 = 0.4;

/// Marks that may stand between words of one cell.
pub const BETWEEN_WORDS: [&str; 7] = [";", "/", ",", "+", "&", "|", " "];

/// How well a column goes with one of ours.
pub fn fit(theirs: &Sampled, ours: &Column, kind: SheetKind, known: &KnownIds) -> Fit {
    let ids = known_share(theirs, ours, known);
    let mut like = likeness(&theirs.heading, KNOWN.names(kind, ours.name));
    if contradicts(theirs, ours) {
        like *= 0.4;
    }
    let (values, told) = values_fit(theirs, ours);
    let all = theirs.values.len();
    if let Some(share) = ids.filter(|share| *share >= 0.5) {
        let count = (share * all as f64).round();
        let reason = format!("{count} of {all} values are known to the programme");
        let score = (0.7 * share + 0.3 * like).max(0.85 * share);
        return Fit { score, reason };
    }
    if like >= 0.5 {
        let named = match like {
            0.99.. => "is a name of it",
            0.9.. => "has the words of a name of it",
            0.84..0.86 => "is nearly a name of it",
            _ => "shares words with a name of it",
        };
        let (share, told) = match values {
            Some(share) => (
                share,
                format!(
                    "{} of {all} values are {told}",
                    (share * all as f64).round()
                ),
            ),
            None => (0.8, "it has no values to tell by".to_owned()),
        };
        return Fit {
            score: like * (0.3 + 0.7 * share),
            reason: format!("the header {named}; {told}"),
        };
    }
    // Words that only one column takes tell it without its header.
    let telling = ["method", "looks", "kind", "place", "machine_class"].contains(&ours.name);
    match values {
        Some(share) if telling && share >= 0.8 && theirs.distinct.len() >= 2 => Fit {
            score: 0.6 * share,
            reason: format!("its values are {told}, whatever its header says"),
        },
        _ => Fit::default(),
    }
}

/// The share of values that the programme knows, where the column is one of ids.
fn known_share(theirs: &Sampled, ours: &Column, known: &KnownIds) -> Option<f64> {
    let ids = match ours.name {
        "point_id" => &known.points,
        "technician_id" => &known.technicians,
        _ => return None,
    };
    let count = theirs.values.iter().filter(|value| ids.contains(*value));
    theirs.share(count.count())
}

/// Whether the header bears a unit that the column can't have.
fn contradicts(theirs: &Sampled, ours: &Column) -> bool {
    if !theirs.heading.is_measured() {
        return false;
    }
    match unit::said(ours.unit) {
        Said::Unit(unit) => theirs.heading.unit(unit.quantity).is_none(),
        Said::Either(..) | Said::Unknown => !matches!(ours.reading, Reading::Number(_)),
    }
}

/// The share of values that the column could take, and what they are.
fn values_fit(theirs: &Sampled, ours: &Column) -> (Option<f64>, &'static str) {
    match ours.reading {
        Reading::Text => (theirs.share(theirs.values.len()), "texts"),
        Reading::Number(_) => (
            (!theirs.values.is_empty()).then(|| theirs.marks.share()),
            "numbers",
        ),
        Reading::YesNo => (theirs.share_of(is_yes_or_no), "yes or no"),
        Reading::Word(_) => (
            theirs.share_of(|text| our_word(ours, text).is_some()),
            "words that are known",
        ),
        Reading::Words(_) => (
            theirs.share_of(|text| {
                let separator = separator(theirs, ours);
                let mut parts = text.split(separator.unwrap_or("\n")).map(str::trim);
                parts.all(|part| our_word(ours, part).is_some())
            }),
            "words that are known",
        ),
        Reading::Time | Reading::Date => {
            let dates = theirs.dates.share();
            let serials = theirs.share(theirs.serials).unwrap_or(0.0);
            (
                (!theirs.values.is_empty()).then_some(dates.max(serials)),
                "dates",
            )
        }
    }
}

/// Whether a text means yes or no.
pub fn is_yes_or_no(text: &str) -> bool {
    let key = key(text);
    KNOWN.yes.contains(&key) || KNOWN.no.contains(&key)
}

/// Our word for a text of theirs.
pub fn our_word(ours: &Column, text: &str) -> Option<&'static str> {
    let (Reading::Word(words) | Reading::Words(words)) = ours.reading else {
        return None;
    };
    let own = words()
        .into_iter()
        .find(|word| word.eq_ignore_ascii_case(text));
    own.or_else(|| KNOWN.word(ours.name, text))
}

/// What stands between several words of one cell, if cells have several.
pub fn separator(theirs: &Sampled, ours: &Column) -> Option<&'static str> {
    let known = |separator: &str| {
        let parts = theirs
            .distinct
            .iter()
            .flat_map(|(text, _)| text.split(separator));
        let parts = parts.filter(|part| our_word(ours, part.trim()).is_some());
        parts.count()
    };
    let whole = known("\n");
    let best = BETWEEN_WORDS
        .iter()
        .map(|separator| (known(separator), *separator))
        .fold((whole, None), |best, (count, separator)| {
            if count > best.0 {
                (count, Some(separator))
            } else {
                best
            }
        });
    best.1
}
