//! A site's samples to take again, as one page of HTML to print: black and white, on A4 or
//! Letter, boxes to tick and lines to write on.
//!
//! It is carried to the machine: cautions come first, then for each compartment where and how
//! to draw, what to do differently this time, and the record to fill in. Nothing is loaded
//! from elsewhere, nothing runs; texts of the programme pass through `escaped`.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use crate::analysis::resample::due::times;
use crate::analysis::resample::fields::{Entry, FIELDS, lacking_at_point};
use crate::analysis::resample::{Because, Resample, at_point};
use crate::analysis::{Assessed, PointFacts, all_point_facts};
use crate::model::printable::printable;
use crate::model::time::local_text;
use crate::model::{Answer, DrawRecord, Outcome, Owner};
use crate::rules::{COUNT, cards};

/// A compartment with its latest draw.
pub struct Last<'a> {
    /// What to sample again.
    pub found: &'a Resample,
    /// The identity of its latest draw.
    pub identity: &'a str,
    /// That draw as it was recorded.
    pub record: &'a DrawRecord,
    /// What every rule said of it.
    pub answers: &'a [Answer; COUNT],
    /// Who set its result aside and why, if someone did.
    pub set_aside: Option<(&'a str, &'a str)>,
}

/// The page of one site. `now` is the present that time was counted to, `filter` the line that
/// chose the draws, empty for all.
#[must_use]
pub fn page(
    assessed: &Assessed,
    site: Option<&str>,
    lasts: &[Last<'_>],
    now: i64,
    filter: &str,
) -> String {
    let title = match site {
        Some(site) => format!("Samples to take again: {}", escaped(site)),
        None => "Samples to take again".to_owned(),
    };
    let facts = all_point_facts(assessed);
    let mut page = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<h1>{title}</h1>\n"
    );
    let _ = writeln!(
        page,
        "<p>{} compartment{}, most urgent first, as of {} ({}). Judged by the rulebook {}, \
         revision {}.{}</p>",
        lasts.len(),
        if lasts.len() == 1 { "" } else { "s" },
        local_text(now, assessed.zone),
        assessed.zone,
        escaped(&assessed.rulebook.name),
        escaped(&assessed.rulebook.revision),
        if filter.is_empty() {
            String::new()
        } else {
            format!(" Only draws that pass: {}.", escaped(filter))
        }
    );
    page.push_str(&cautions(assessed, lasts));
    page.push_str(&overview(assessed, lasts));
    for (number, last) in (1..).zip(lasts) {
        compartment(&mut page, assessed, &facts, number, last);
    }
    page.push_str("</body>\n</html>\n");
    page
}

const STYLE: &str = "\
@page { margin: 12mm; }
body { font: 10.5pt/1.35 sans-serif; color: #000; background: #fff; max-width: 186mm; \
margin: 0 auto; padding: 4mm; }
h1 { font-size: 16pt; margin: 0 0 2mm; }
* { box-sizing: border-box; }
h2 { font-size: 13pt; margin: 0 0 1mm; border-bottom: 1px solid #000; }
h3 { font-size: 10.5pt; margin: 3mm 0 1mm; break-after: avoid; }
p { margin: 1mm 0; }
ul { margin: 1mm 0; padding: 0; list-style: none; }
li { margin: 1mm 0; padding-left: 6mm; text-indent: -6mm; break-inside: avoid; }
.cautions { border: 2px solid #000; padding: 2mm 3mm; margin: 3mm 0; }
.compartment { break-before: page; margin: 0; }
@media screen { .compartment { margin-top: 10mm; } }
.box { display: inline-block; width: 3mm; height: 3mm; border: 1px solid #000; \
margin: 0 1.5mm 0 0; text-indent: 0; vertical-align: -0.3mm; }
.tick { margin-right: 4mm; white-space: nowrap; }
table { border-collapse: collapse; width: 100%; }
td, th { border: 1px solid #777; padding: 1mm 1.5mm; text-align: left; vertical-align: top; \
font-weight: normal; }
thead th { font-weight: bold; }
tr { break-inside: avoid; }
.facts { display: grid; grid-template-columns: 1fr 1fr; border-top: 1px solid #777; \
border-left: 1px solid #777; }
.facts div { border-right: 1px solid #777; border-bottom: 1px solid #777; padding: 0.7mm 1.5mm; }
.facts b { font-weight: normal; font-size: 9pt; display: block; }
.id { white-space: nowrap; }
.record { display: grid; grid-template-columns: 1fr 1fr 1fr; border-top: 1px solid #777; \
border-left: 1px solid #777; }
.record div { border-right: 1px solid #777; border-bottom: 1px solid #777; \
padding: 0.7mm 1.5mm; min-height: 11mm; break-inside: avoid; font-size: 9.5pt; }
.record .wide { grid-column: 1 / 4; }
.missing { font-weight: bold; border-left: 1.5mm solid #000; padding-left: 1.5mm; }
.line { display: inline-block; border-bottom: 1px solid #000; width: 40mm; height: 5.5mm; }
.wide .line { width: 160mm; }
.sign td { height: 13mm; width: 33%; }
@media print { body { padding: 0; max-width: none; } }
";

/// All compartments in a table, to tick off.
fn overview(assessed: &Assessed, lasts: &[Last<'_>]) -> String {
    let mut text = String::from(
        "<table>\n<thead><tr><th>compartment</th><th>machine</th><th>draw at</th><th>why</th>\
         <th>last trusted</th><th>intervals</th></tr></thead>\n<tbody>\n",
    );
    for (number, last) in (1..).zip(lasts) {
        let found = last.found;
        let point = &assessed.points[found.point];
        let trusted = found.last_trusted.map(|row| day(assessed, row));
        let _ = writeln!(
            text,
            "<tr><td class=\"id\"><span class=\"box\"></span>{number}. {}</td><td>{}</td><td class=\"id\">{}</td><td>{}</td>\
             <td>{}</td><td>{}</td></tr>",
            escaped(&point.compartment),
            escaped(point.machine.as_deref().unwrap_or_default()),
            escaped(&point.id),
            found.because.as_str(),
            trusted.as_deref().unwrap_or("never"),
            found.standing.ratio().map(times).unwrap_or_default()
        );
    }
    text.push_str("</tbody>\n</table>\n");
    text
}

/// The cautions of the work, and those of the rules that are to be kept better.
fn cautions(assessed: &Assessed, lasts: &[Last<'_>]) -> String {
    let rules: BTreeSet<usize> = lasts
        .iter()
        .flat_map(|last| last.found.to_mend(assessed))
        .filter(|&rule| !cards()[rule].caution.is_empty())
        .collect();
    let mut text = String::from(
        "<div class=\"cautions\">\n<p><strong>Caution.</strong> Hot oil scalds. Lines can be \
         under pressure, and a fine jet can pierce skin: treat any such wound as an emergency. \
         Moving parts catch sleeves, hair and hoses. This sheet allows nothing: the site's \
         permits and rules, local codes and qualified people decide whether, when and by whom a \
         point may be drawn from. If it can't be done safely, leave the sample and say so; a \
         missing sample misleads nobody.</p>\n",
    );
    for rule in rules {
        let card = cards()[rule];
        let _ = writeln!(
            text,
            "<p><strong>{}.</strong> {}</p>",
            card.id,
            escaped(card.caution)
        );
    }
    text.push_str("</div>\n");
    text
}

fn compartment(
    page: &mut String,
    assessed: &Assessed,
    facts: &[PointFacts],
    number: usize,
    last: &Last<'_>,
) {
    let found = last.found;
    let point = &assessed.points[found.point];
    let place: Vec<String> = [&point.machine, &point.area]
        .into_iter()
        .flatten()
        .map(|text| escaped(text))
        .collect();
    let _ = writeln!(
        page,
        "<section class=\"compartment\">\n<h2><span class=\"box\"></span>{number}. {}{}</h2>",
        escaped(&point.compartment),
        if place.is_empty() {
            String::new()
        } else {
            format!(" · {}", place.join(", "))
        }
    );
    why(page, assessed, last);
    where_and_how(page, assessed, facts, found);
    differently(page, assessed, last);
    record(page, assessed, last);
    page.push_str("</section>\n");
}

/// Why it is to be sampled again, and how much rides on it.
fn why(page: &mut String, assessed: &Assessed, last: &Last<'_>) {
    let found = last.found;
    let day = |row: u32| day(assessed, row);
    let _ = write!(
        page,
        "<p>Latest draw {} of {}: {}.",
        escaped(last.identity),
        day(found.row),
        assessed.judged.verdict[found.row as usize]
    );
    if found.because == Because::SetAside
        && let Some((who, because)) = last.set_aside
    {
        let _ = write!(
            page,
            " Its result was set aside by {}: {}.",
            escaped(who),
            escaped(because)
        );
    }
    match found.last_trusted {
        Some(row) => {
            let _ = write!(page, " Last sample that can be trusted: {}", day(row));
        }
        None => {
            let _ = write!(
                page,
                " No sample that can be trusted so far; first drawn on {}",
                day(found.from)
            );
        }
    }
    let _ = writeln!(page, ": {}.</p>", found.standing.words());
}

fn where_and_how(page: &mut String, assessed: &Assessed, facts: &[PointFacts], found: &Resample) {
    let point = &assessed.points[found.point];
    page.push_str("<h3>Where and how</h3>\n<div class=\"facts\">\n");
    let mut row = |name: &str, words: &str| {
        let _ = writeln!(
            page,
            "<div><b>{}</b>{}</div>",
            escaped(name),
            escaped(words)
        );
    };
    let place = point.place.map(|place| format!(", {place}"));
    row(
        if found.is_agreed {
            "agreed point"
        } else {
            "point (none is agreed; that of last time)"
        },
        &format!("{}{}", point.id, place.unwrap_or_default()),
    );
    if !found.further_points.is_empty() {
        let others = found.further_points.iter();
        let others: Vec<&str> = others
            .map(|&other| assessed.points[other].id.as_str())
            .collect();
        row("also agreed", &others.join(", "));
    }
    match found.method {
        Some(method) if point.method.is_some() => row("agreed method", method.as_str()),
        Some(method) => row(
            "method (none is agreed; that of last time)",
            method.as_str(),
        ),
        None => row("method", "none is agreed; write down the one you use"),
    }
    for (name, words) in at_point::facts(point, &facts[found.point]) {
        row(name, &words);
    }
    page.push_str("</div>\n");
}

/// What to do differently, from what was broken last time.
fn differently(page: &mut String, assessed: &Assessed, last: &Last<'_>) {
    let point = &assessed.points[assessed.judged.point[last.found.row as usize] as usize];
    let mend = last.found.to_mend(assessed);
    let lacking = lacking_at_point(point, last.record, &outcomes(last.answers));
    if mend.is_empty() && lacking.is_empty() {
        return;
    }
    page.push_str("<h3>Differently this time</h3>\n<ul>\n");
    for rule in mend {
        let (card, answer) = (cards()[rule], last.answers[rule]);
        let asked = match card.owner {
            Owner::Technician => String::new(),
            owner => format!(" (asks the {owner})"),
        };
        let _ = writeln!(
            page,
            "<li><span class=\"box\"></span><strong>{}</strong>{asked}: last time {}; wanted: \
             {}. {}</li>",
            card.id,
            escaped(&answer.seen.to_string()),
            escaped(&answer.wanted.to_string()),
            escaped(card.next_time)
        );
    }
    for what in lacking {
        let _ = writeln!(
            page,
            "<li><span class=\"box\"></span><strong>Not known of this point</strong>: {what}. \
             Measure it once and have it put into the list of points. <span \
             class=\"line\"></span></li>"
        );
    }
    page.push_str("</ul>\n");
}

/// The record to fill in; what was blank last time stands out.
fn record(page: &mut String, assessed: &Assessed, last: &Last<'_>) {
    let point = &assessed.points[last.found.point];
    let outcomes = outcomes(last.answers);
    page.push_str("<h3>Record of this draw</h3>\n<div class=\"record\">\n");
    for field in FIELDS {
        if !field.is_asked(point.kind, last.found.method) {
            continue;
        }
        let is_missing = field.was_missing(last.record, &outcomes);
        let class = match field.entry {
            Entry::Tick(words) if words.len() > 3 => " class=\"wide\"",
            Entry::Line(_) if field.column == "remarks" => " class=\"wide\"",
            _ => "",
        };
        let label = if is_missing {
            format!(
                "<span class=\"missing\">{} (blank last time)</span>",
                field.label
            )
        } else {
            field.label.to_owned()
        };
        let _ = write!(page, "<div{class}>{label}<br>");
        match field.entry {
            Entry::Line(unit) => {
                let _ = write!(page, "<span class=\"line\"></span> {unit}");
            }
            Entry::Tick(words) => {
                for word in words {
                    let _ = write!(
                        page,
                        "<span class=\"tick\"><span class=\"box\"></span>{word}</span>"
                    );
                }
            }
        }
        page.push_str("</div>\n");
    }
    page.push_str(
        "</div>\n<table class=\"sign\">\n<tr><td>Drawn on (date, time)</td><td>By (name)</td>\
         <td>Point used, if another, and why</td></tr>\n</table>\n",
    );
}

fn outcomes(answers: &[Answer; COUNT]) -> [Outcome; COUNT] {
    answers.map(|answer| answer.outcome)
}

/// The day a draw was made in the programme's zone, as `2026-03-04`.
fn day(assessed: &Assessed, row: u32) -> String {
    let mut text = local_text(assessed.judged.drawn_at[row as usize], assessed.zone);
    if let Some((day, _)) = text.split_once(' ') {
        text.truncate(day.len());
    }
    text
}

/// The text within HTML: control characters replaced, markup written as entities.
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in printable(text.trim()).chars() {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            c => escaped.push(c),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_markup_of_a_text_is_left() {
        assert_eq!(
            escaped(" <b title=\"x\">&amp;'\u{1b}[2J</b>\n"),
            "&lt;b title=&quot;x&quot;&gt;&amp;amp;&#39;\u{fffd}[2J&lt;/b&gt;"
        );
    }
}
