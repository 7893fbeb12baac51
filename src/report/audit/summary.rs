//! The summary and the trend.

use super::Material;
use crate::analysis::trend::Signal;
use crate::analysis::{Share, Tally};
use crate::report::document::charts;
use crate::report::document::{Block, Figure, Section, Table, numbers, words};
use crate::report::wording::{count, decimals, of, percent, percent_or_dash};

/// How many months with a signal are listed.
const MOST_SIGNALS: usize = 24;

/// What to read if nothing else is read.
pub fn summary(material: &Material<'_>) -> Section {
    let mut section = Section::new("summary", "Summary");
    let tally = &material.analysed.tally;
    if tally.draws == 0 {
        section.push(Block::Lead(
            "There is no draw in this selection, so there is nothing to report.".to_owned(),
        ));
        return section;
    }
    section.push(Block::Lead(lead(tally)));
    section.push(Block::Figures(figures(tally)));
    section.push(Block::Chart(charts::verdicts(tally)));
    section.push(Block::Points(points(material)));
    section
}

fn lead(tally: &Tally) -> String {
    let Share {
        share,
        low,
        high,
        least,
        most,
    } = tally.share();
    let (Some(share), Some(low), Some(high)) = (share, low, high) else {
        return format!(
            "None of the {} can be judged: the records leave too much open. Nothing is known of \
             how many stand for their machines.",
            of(tally.draws, "draw", "draws")
        );
    };
    let mut text = format!(
        "Of {} that could be judged, {} {} unrepresentative: {}, with a 95 % interval from {} to \
         {}.",
        of(tally.judged(), "draw", "draws"),
        count(tally.unrepresentative),
        if tally.unrepresentative == 1 {
            "is"
        } else {
            "are"
        },
        percent(share),
        percent(low),
        percent(high)
    );
    if tally.unproven > 0 {
        text.push_str(&format!(
            " {} more {} unproven: {} too much open. Whatever they hide, the share over all \
             draws lies between {} and {}.",
            count(tally.unproven),
            if tally.unproven == 1 { "is" } else { "are" },
            if tally.unproven == 1 {
                "its record leaves"
            } else {
                "their records leave"
            },
            percent_or_dash(least),
            percent_or_dash(most)
        ));
    }
    text
}

fn figures(tally: &Tally) -> Vec<Figure> {
    let share = tally.share();
    let interval = match (share.low, share.high) {
        (Some(low), Some(high)) => format!("95 % interval {} to {}", percent(low), percent(high)),
        _ => "nothing is judged".to_owned(),
    };
    vec![
        Figure {
            label: "Unrepresentative, of the judged",
            value: percent_or_dash(share.share),
            detail: interval,
        },
        Figure {
            label: "Bounds over all draws",
            value: format!(
                "{} – {}",
                percent_or_dash(share.least).replace("\u{a0}%", ""),
                percent_or_dash(share.most)
            ),
            detail: "whatever the unproven ones hide".to_owned(),
        },
        Figure {
            label: "Judged",
            value: percent(tally.judged() as f64 / tally.draws.max(1) as f64),
            detail: format!(
                "{} of {}",
                count(tally.judged()),
                of(tally.draws, "draw", "draws")
            ),
        },
    ]
}

fn points(material: &Material<'_>) -> Vec<String> {
    let analysed = material.analysed;
    let mut points: Vec<String> = super::decided::in_a_line(material.told)
        .into_iter()
        .collect();
    let signals: Vec<&str> = (analysed.trend.periods.iter())
        .filter(|period| period.point.is_some_and(|point| point.signal.is_some()))
        .map(|period| period.key.as_str())
        .collect();
    if analysed.trend.chart.is_some() {
        points.push(match signals.as_slice() {
            [] => "Over time: no month signals a change; the shares vary as chance lets them."
                .to_owned(),
            [one] => format!("Over time: one month signals a change, {one}."),
            several => format!(
                "Over time: {} months signal a change, the latest {}.",
                several.len(),
                several[several.len() - 1]
            ),
        });
    }
    match &analysed.told_apart {
        Ok(found) => points.push(format!("Where and who: {}", found.reading())),
        Err(reason) => points.push(format!(
            "Where and who: nothing can be told apart; {reason}."
        )),
    }
    if let Some(first) = analysed.costs.first().filter(|rule| rule.cost > 0.0) {
        points.push(format!(
            "What: the rule {} costs most, {} of the {} unrepresentative draws; the {} can put it \
             right.",
            first.id(),
            decimals(first.cost, 1),
            count(analysed.tally.unrepresentative),
            first.owner()
        ));
    }
    points
}

/// The share over time.
pub fn trend(material: &Material<'_>) -> Section {
    let mut section = Section::new("trend", "Over time");
    let trend = &material.analysed.trend;
    let (Some(chart), Some(kind)) = (charts::trend(trend), trend.chart) else {
        return section;
    };
    section.push(Block::Chart(chart));
    section.say(format!("{}.", kind.words()));
    let signals: Vec<_> = (trend.periods.iter())
        .filter_map(|period| Some((period, period.point?, period.point?.signal?)))
        .collect();
    if signals.is_empty() {
        section.say("No month lies beyond its limits, and no eight months in a row lie on one side of the centre.");
        return section;
    }
    let left_out = signals.len().saturating_sub(MOST_SIGNALS);
    let rows = signals
        .iter()
        .skip(left_out)
        .map(|(period, point, signal)| {
            vec![
                period.key.clone(),
                count(period.tally.judged()),
                count(period.tally.unrepresentative),
                percent_or_dash(period.share.share),
                format!("{} – {}", percent(point.low), percent(point.high)),
                said(*signal, point.is_small),
            ]
        });
    section.push(Block::Table(Table {
        caption: "Months that signal a change".to_owned(),
        columns: vec![
            words("Month"),
            numbers("Judged"),
            numbers("Unrepresentative"),
            numbers("Share"),
            numbers("Limits"),
            words("Signal"),
        ],
        rows: rows.collect(),
    }));
    if left_out > 0 {
        section.push(Block::Remark(format!(
            "{left_out} earlier months with a signal stand in the table “trend” of the pack."
        )));
    }
    section
}

fn said(signal: Signal, is_small: bool) -> String {
    let few = if is_small { " (few draws)" } else { "" };
    format!("{}{few}", signal.as_str())
}
