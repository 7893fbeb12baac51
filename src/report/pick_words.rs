//! A pick in words: the rule by which anyone can draw it again, and what was found.

use std::fmt::Write as _;

use super::pick_rows::achieved;
use super::table::percent;
use crate::analysis::Filter;
use crate::analysis::picks::{Bounds, Outcome, Parted, Pick, size};
use crate::model::decisions::pick::Plan;
use crate::model::time::{Tz, local_text};

/// The population of a pick as it is now.
#[derive(Clone, Copy, Debug)]
pub struct Now<'a> {
    /// Draws.
    pub draws: u64,
    /// SHA-256 over their identities.
    pub sha256: &'a str,
    /// Whether CSV writes every identity as it is.
    pub is_plain: bool,
}

/// What was picked, from what, by which rule, a paragraph a line.
#[must_use]
pub fn rule(pick: &Pick, now: Now<'_>, zone: Tz, options: &str) -> String {
    let drawn = &pick.drawn;
    let mut text = format!(
        "Pick {}, drawn {} by {}: {} of {} draws, plan {}.\n",
        drawn.pick,
        local_text(pick.told.at, zone),
        pick.told.who,
        drawn.draws.len(),
        drawn.population,
        drawn.plan
    );
    if let Ok(size) = size(&drawn.plan, drawn.population)
        && !matches!(drawn.plan, Plan::Fixed { .. })
    {
        let words = achieved(&drawn.plan, size.marked, size.chance, size.size);
        let _ = writeln!(text, "{words}");
    }
    let of = match drawn.filter.as_str() {
        "" => "every draw".to_owned(),
        filter => format!("the draws of {filter}"),
    };
    let same = if now.sha256 == drawn.population_sha256 {
        "They are still the same.".to_owned()
    } else {
        format!("They are not the same any more: {} draws now.", now.draws)
    };
    let _ = writeln!(
        text,
        "\nPopulation: {of}. SHA-256 over their sorted identities, one a line: {}. {same}",
        drawn.population_sha256
    );
    let each = if drawn.by.is_empty() {
        format!("the {} lowest are picked", drawn.draws.len())
    } else {
        format!(
            "of each {} the lowest are picked, as many as the list of parts says",
            drawn.by
        )
    };
    let _ = writeln!(
        text,
        "\nRule: a draw's rank is the SHA-256 of {}:IDENTITY, in lower-case hexadecimal, where \
         IDENTITY is its draw_id or, where that is blank, bottle_id@point_id@drawn_at in UTC; {each}. \
         With standard tools:",
        drawn.seed
    );
    text.push_str(&recompute(pick, options));
    if !now.is_plain {
        text.push_str(
            "Some identities hold commas, quotes or begin with what a spreadsheet would run; for \
             those use a reader of CSV or JSON, as docs/picks.md shows.\n",
        );
    }
    text
}

/// The lines of a shell that draw the pick again: one, or one for the first part.
fn recompute(pick: &Pick, options: &str) -> String {
    let drawn = &pick.drawn;
    let line = |filter: &str, count: u64| {
        let filter = match filter {
            "" => String::new(),
            // What begins with a minus would be taken for an option.
            filter => format!(" --where={}", quoted(filter)),
        };
        format!(
            "  fairdraw score{options}{filter} --format csv | tail -n +2 | cut -d, -f1 | \
             while IFS= read -r id; do printf '%s:%s' {} \"$id\" | sha256sum | cut -c1-64 | \
             tr '\\n' ' '; printf '%s\\n' \"$id\"; done | LC_ALL=C sort | head -n {count}\n",
            quoted(&drawn.seed)
        )
    };
    let Some(parted) = Parted::parse(&drawn.by) else {
        return line(&drawn.filter, drawn.draws.len() as u64);
    };
    let mut text = String::new();
    for stratum in drawn.strata.iter().filter(|stratum| stratum.picked > 0) {
        let filter = Filter::parse(&drawn.filter).unwrap_or_default();
        if let Ok(filter) = filter.with(parted.key(), &stratum.name) {
            text.push_str(&line(&filter.to_string(), stratum.picked));
        }
    }
    text
}

/// A word of a shell.
fn quoted(text: &str) -> String {
    format!("'{}'", text.replace('\'', "'\\''"))
}

/// What the verification found, a paragraph a line; empty before it.
#[must_use]
pub fn found(pick: &Pick, outcome: &Outcome) -> String {
    let counts = outcome.counts;
    let mut text = String::new();
    if pick.entered() == 0 {
        return text;
    }
    let _ = writeln!(
        text,
        "Verified: {} agree, {} disagree, {} could not be verified, {} not entered yet.",
        counts.agree,
        counts.disagree,
        counts.unverified,
        counts.open()
    );
    let population = pick.drawn.population;
    if let Some(bounds) = &outcome.left_out {
        let _ = writeln!(text, "{}", in_words(bounds, population, outcome.confidence));
    }
    if counts.unverified > 0
        && let Some(bounds) = &outcome.as_errors
    {
        let _ = writeln!(
            text,
            "Counting what could not be verified as disagreeing: {}",
            in_words(bounds, population, outcome.confidence)
        );
    }
    if !outcome.in_proportion {
        let rate = outcome.weighted.map_or_else(
            || "has no estimate until each part has a result".to_owned(),
            |rate| {
                format!(
                    "is estimated at {} with each part weighted by its size",
                    percent(rate)
                )
            },
        );
        let _ = writeln!(
            text,
            "The parts were not picked in proportion, so there is no bound for the whole; its \
             error rate {rate}."
        );
    }
    text.push_str(&verdicts(outcome));
    text
}

fn in_words(bounds: &Bounds, population: u64, confidence: f64) -> String {
    let (Some(rate), Some(upper), Some(most)) = (bounds.rate, bounds.upper, bounds.most) else {
        return "nothing is checked yet.".to_owned();
    };
    let between = match bounds.between {
        Some((low, high)) if bounds.errors > 0 => {
            format!(" Two-sided, {low} to {high} of the {population} draws.")
        }
        _ => String::new(),
    };
    format!(
        "{} of {} records disagree with what was found ({}). With a confidence of {}, at most \
         {most} of the {population} draws ({}) do; of a process that goes on, at most {}.{between}",
        bounds.errors,
        bounds.checked,
        percent(rate),
        percent(confidence),
        percent(most as f64 / population.max(1) as f64),
        percent(upper)
    )
}

/// The z of a two-sided 95 % interval.
const Z_95: f64 = 1.959_963_984_540_054;

fn verdicts(outcome: &Outcome) -> String {
    let Some(kappa) = outcome.kappa else {
        return String::new();
    };
    let on = |part: Option<f64>| part.map_or_else(|| "–".to_owned(), percent);
    let beyond = match kappa.beyond {
        Some(beyond) => {
            let (low, high) = beyond.interval(Z_95);
            let high = high.min(1.0);
            format!(
                "Cohen's kappa {:.2} (95 % interval {low:.2} to {high:.2})",
                beyond.kappa
            )
        }
        None => "no kappa, since both used one word only".to_owned(),
    };
    let unproven = match outcome.unproven {
        0 => String::new(),
        1 => " One more has an unproven verdict and is left out.".to_owned(),
        count => format!(" {count} more have an unproven verdict and are left out."),
    };
    format!(
        "Verifier and verdict on {}: agreement {}, {beyond}; on unrepresentative ones {}, \
         on the others {}. Kappa is low where one kind is rare: look at all of these.{unproven}\n",
        match kappa.n {
            1 => "1 sample".to_owned(),
            count => format!("{count} samples"),
        },
        percent(kappa.observed),
        on(outcome.agreement_on[0]),
        on(outcome.agreement_on[1])
    )
}
