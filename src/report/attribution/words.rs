//! The model of people and points in words.

use std::fmt::Write as _;

use super::id;
use crate::analysis::Assessed;
use crate::analysis::attribution::{Attribution, Island, Part, Side};
use crate::report::table::percent;

/// The model in words, a paragraph a line: what it was fitted to, what it says, what to
/// know before believing it.
#[must_use]
pub fn in_words(assessed: &Assessed, attribution: &Attribution) -> String {
    let Attribution {
        technicians,
        points,
        ..
    } = attribution;
    let mut text = format!(
        "{} judged draws by {} technicians at {} {}, {} of them unrepresentative ({}); {} \
         unproven left out.\n\n{}\n\n",
        attribution.draws,
        technicians.units.len(),
        points.units.len(),
        if points.units.len() == 1 {
            "point"
        } else {
            "points"
        },
        attribution.unrepresentative,
        percent(attribution.share()),
        attribution.unproven,
        attribution.reading()
    );
    for (name, part) in [("People", technicians), ("Points", points)] {
        // Writing to a text cannot fail.
        let _ = writeln!(text, "{name}: {}.", spread(part));
    }
    adjusted_in_words(&mut text, attribution);
    for island in attribution.islands.iter().skip(1) {
        let _ = writeln!(text, "Apart from the rest: {}.", apart(assessed, island));
    }
    if !attribution.cautions.is_empty() {
        text.push('\n');
    }
    for caution in &attribution.cautions {
        let _ = writeln!(text, "Caution: {caution}");
    }
    text
}

fn spread(part: &Part) -> String {
    let p = if part.p < 0.001 {
        "p below 0.001".to_owned()
    } else {
        format!("p {:.3}", part.p)
    };
    match part.sigma_se {
        None => "standard deviation 0; they differ by no more than chance and the rest explain, \
                 so every odds ratio is 1"
            .to_owned(),
        Some(se) => format!(
            "standard deviation {:.2} (standard error {se:.2}) in log odds, {p}",
            part.sigma
        ),
    }
}

/// Levels adjusted for that are told in words.
const MOST_LEVELS: usize = 12;

fn adjusted_in_words(text: &mut String, attribution: &Attribution) {
    for (adjust, reference) in &attribution.references {
        let levels = attribution.adjusted.iter();
        let mut levels: Vec<String> = levels
            .filter(|level| level.adjust == *adjust)
            .map(|level| {
                let (ratio, low, high) = level.odds_ratio();
                format!("{} {ratio:.2} ({low:.2} to {high:.2})", level.level)
            })
            .collect();
        if levels.len() > MOST_LEVELS {
            let more = levels.split_off(MOST_LEVELS).len();
            levels.push(format!("and {more} more, which JSON lists"));
        }
        let _ = match reference {
            None => writeln!(
                text,
                "Adjusted for {adjust}: all draws in the model are alike in it."
            ),
            Some(reference) => writeln!(
                text,
                "Adjusted for {adjust}, odds against {reference}: {}.",
                levels.join(", ")
            ),
        };
    }
    for level in &attribution.left_out {
        let _ = writeln!(
            text,
            "Left out: {} {}, {} of {} unrepresentative (exact 95 % interval {} to {}).",
            level.adjust,
            level.level,
            level.unrepresentative,
            level.draws,
            percent(level.low),
            percent(level.high)
        );
    }
    for (adjust, level) in &attribution.follows {
        let _ = writeln!(
            text,
            "No effect of its own: {adjust} {level} follows from what else is adjusted for."
        );
    }
}

/// Names of an island, the first few of many.
fn apart(assessed: &Assessed, island: &Island) -> String {
    const SHOWN: usize = 8;
    let names = |side: Side, places: &[u32]| {
        let shown = places.iter().take(SHOWN);
        let mut names: Vec<String> = shown
            .map(|place| id(assessed, side, *place).to_owned())
            .collect();
        if places.len() > SHOWN {
            names.push(format!("{} more", places.len() - SHOWN));
        }
        format!("{side} {}", names.join(", "))
    };
    format!(
        "{} with {}",
        names(Side::Technicians, &island.technicians),
        names(Side::Points, &island.points)
    )
}
