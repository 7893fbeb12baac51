//! Looks that a sheet ticks, a column a look.

use super::days::Dated;
use super::entry::{column_line, in_a_list, quoted};
use super::fit::our_word;
use super::lines::Line;
use super::sample::Sample;
use super::vocabulary::{KNOWN, key};
use super::{Pairs, theirs};
use crate::intake::columns::{Column, Reading};

/// Free columns of ticks whose headers are looks: place, tick, look.
pub(super) fn ticks(
    sample: &Sample,
    pairs: &Pairs,
    dated: &[Dated],
) -> Vec<(usize, Vec<String>, &'static str)> {
    let Some((place, looks)) = looks_column(pairs) else {
        return Vec::new();
    };
    if pairs.is_made(place) {
        return Vec::new();
    }
    let free = (0..sample.columns.len()).filter(|place| {
        pairs.is_free(*place) && !dated.iter().any(|dated| dated.clock == Some(*place))
    });
    let ticked = free.filter_map(|place| {
        let theirs = &sample.columns[place];
        let look = our_word(looks, &theirs.name)?;
        let all_yes = theirs
            .distinct
            .iter()
            .all(|(text, _)| KNOWN.yes.contains(&key(text)));
        let ticks = theirs
            .distinct
            .iter()
            .map(|(text, _)| text.clone())
            .collect();
        (all_yes && !theirs.values.is_empty()).then_some((place, ticks, look))
    });
    let ticked: Vec<_> = ticked.collect();
    // One such column alone may be about anything.
    if ticked.len() < 2 { Vec::new() } else { ticked }
}

fn looks_column(pairs: &Pairs) -> Option<(usize, &'static Column)> {
    let columns = pairs.kind.columns().iter().enumerate();
    let mut looks = columns.filter(|(_, column)| matches!(column.reading, Reading::Words(_)));
    looks.next()
}

/// The line of looks that are ticked, a column a look.
pub(super) fn looks_of_ticks(
    sample: &Sample,
    pairs: &Pairs,
    ticks: &[(usize, Vec<String>, &'static str)],
) -> Option<(usize, Line)> {
    let (place, column) = looks_column(pairs).filter(|_| !ticks.is_empty())?;
    let pieces = ticks.iter().map(|(place, texts, look)| {
        let words: Vec<String> = texts
            .iter()
            .map(|text| format!("{}: {look}", quoted(text)))
            .collect();
        let source = match theirs(sample, *place) {
            letter if letter.starts_with('{') => letter.trim_matches(['{', '}']).to_owned(),
            name => format!("name: {}", in_a_list(name)),
        };
        format!("{{{source}, words: {{{}}}}}", words.join(", "))
    });
    let pieces: Vec<String> = pieces.collect();
    let from = Line::plain("from", format!("[{}]", pieces.join(", ")));
    let details = vec![Line::plain("join", "\";\"".to_owned())];
    let reason = "ticks under headers that are looks".to_owned();
    Some((place, column_line(column.name, from, details, 0.8, reason)))
}
