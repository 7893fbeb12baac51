//! Method and limits, cautions, the rulebook, signatures.

use super::Material;
use crate::report::document::{Block, Section, Table, numbers, words};
use crate::report::wording::count;
use crate::rules::cards;

/// The sections at the end.
pub fn sections(material: &Material<'_>) -> Vec<Section> {
    vec![
        method(material),
        cautions(),
        rulebook(material),
        evidence(material),
    ]
}

fn method(material: &Material<'_>) -> Section {
    let mut section = Section::new("method", "Method and limits");
    section.push(Block::Points(vec![
        "Judged are the records of the draws, not the oil and not the results of the laboratory: \
         each record is held against the rules of the rulebook."
            .to_owned(),
        "A blank proves nothing. What is not recorded is neither met nor broken; where too much is \
         open, the draw is unproven and stays out of the share, and the bounds say how far the \
         share of all draws could be from it."
            .to_owned(),
        "Representative means that the record shows good practice. It does not prove what was done \
         at the machine: a record can be wrong. Only a look at draws on the spot, picked at random, \
         tells how often."
            .to_owned(),
        "Intervals of shares are Wilson's score intervals at 95 %. They take draws as independent; \
         draws of one round are alike, so they are rather too narrow."
            .to_owned(),
        "People and points are told apart by a logistic model with crossed random effects, as far \
         as rounds overlap: where one person alone serves a point, nothing can. It sees what was \
         recorded, not tools, weather, time pressure or the state of the machine."
            .to_owned(),
        "Where many are compared, p-values are adjusted for it (Benjamini and Hochberg)."
            .to_owned(),
        "Limits over time are those of a p chart, or of Laney's p-prime chart where shares vary \
         more than chance lets them."
            .to_owned(),
    ]));
    if !material.filter.is_empty() {
        section.push(Block::Remark(format!(
            "All of this report speaks only of the draws that pass: {} So do the tables of the pack, \
             but for the rulebook, the imports and the trail, which are whole; findings are in it \
             with those of their draws that pass, and picks whole if any of their draws does.",
            format_args!("{}.", material.filter)
        )));
    }
    if material.is_anonymous {
        section.push(Block::Remark(
            "Technicians, crews and those who decided are replaced by codes, the same in every pack \
             of this programme; the key behind them stays with the programme. Free texts are left \
             out. Whoever knows the rounds may still guess who is meant; names that stand in ids of \
             draws, bottles or points can't be found and are left as they are."
                .to_owned(),
        ));
    }
    section
}

fn cautions() -> Section {
    let mut section = Section::new("cautions", "Cautions");
    section.push(Block::Caution(
        "Whoever looks at draws on the spot meets hot oil, pressure and moving parts. Keep clear of \
         moving parts, relieve or respect pressure, shield eyes and skin from hot oil, and never \
         open a point that you are not authorised to open."
            .to_owned(),
    ));
    section.push(Block::Caution(
        "Local codes, the site's permit rules and qualified, licensed people come before anything \
         in this report. It says how records read, not what is safe to do."
            .to_owned(),
    ));
    section
}

fn rulebook(material: &Material<'_>) -> Section {
    let mut section = Section::new("rulebook", "The rulebook");
    let book = &material.assessed.rulebook;
    let sets = book.all_in_force();
    section.push(Block::Facts(vec![
        ("Name".to_owned(), book.name.clone()),
        ("Revision".to_owned(), book.revision.clone()),
        ("Fingerprint".to_owned(), book.fingerprint().to_owned()),
        (
            "Cuts".to_owned(),
            format!(
                "unrepresentative below {} %, doubtful below {} % of the weight",
                sets[0].cuts.unrepresentative, sets[0].cuts.doubtful
            ),
        ),
    ]));
    if sets.len() > 1 {
        section.push(Block::Remark(format!(
            "The rulebook has overrides for some machines or sites: {} sets of rules in all. Shown \
             is the one without overrides; the table “rules in force” of the pack has all.",
            sets.len()
        )));
    }
    let rows = cards().iter().enumerate().map(|(place, card)| {
        let settings = sets[0].settings(place).into_iter().map(|setting| {
            let text = format!("{} {} {}", setting.name, setting.value, setting.unit);
            text.trim_end().to_owned()
        });
        vec![
            card.id.to_owned(),
            card.class.to_string(),
            if sets[0].is_on(place) {
                count(sets[0].weights[place].into())
            } else {
                "off".to_owned()
            },
            if sets[0].decisive.has(place) {
                "yes"
            } else {
                "no"
            }
            .to_owned(),
            settings.collect::<Vec<_>>().join("; "),
        ]
    });
    section.push(Block::Table(Table {
        caption: "The rules as they are applied".to_owned(),
        columns: vec![
            words("Rule"),
            words("Class"),
            numbers("Weight"),
            words("Decisive"),
            words("Settings"),
        ],
        rows: rows.collect(),
    }));
    section
}

fn evidence(material: &Material<'_>) -> Section {
    let mut section = Section::new("evidence", "Evidence");
    section.say(
        "This report is a file of a pack. The file SHA256SUMS beside it lists the hashes of all \
         files; “sha256sum\u{a0}-c\u{a0}SHA256SUMS” in the folder, or “fairdraw\u{a0}check\u{a0}--pack” with the \
         programme, tells whether any was altered.",
    );
    section.push(Block::Facts(vec![
        ("Decisions in the trail".to_owned(), count(material.links)),
        ("Head of the trail".to_owned(), material.head.to_owned()),
    ]));
    section.push(Block::Signatures(vec![
        "For the audit",
        "For the sampling programme",
    ]));
    section
}
