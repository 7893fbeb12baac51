//! What breaks, whom to retrain in what, what to ask of others, and whether trainings helped.

use super::Material;
use crate::analysis::topics::Says;
use crate::report::document::charts::bars;
use crate::report::document::{Block, Section, Table, numbers, words};
use crate::report::wording::{count, decimals, percent_or_dash};
use crate::rules::cards;

/// How many rows a table shows.
const MOST: usize = 15;

/// The sections on rules, on retraining and on others.
pub fn sections(material: &Material<'_>) -> Vec<Section> {
    vec![rules(material), retraining(material), others(material)]
}

fn rules(material: &Material<'_>) -> Section {
    let mut section = Section::new("rules", "Which practices break");
    let costs: Vec<_> = (material.analysed.costs.iter())
        .filter(|rule| rule.counts.broken > 0)
        .collect();
    if costs.is_empty() {
        return section;
    }
    section.say(
        "Every unrepresentative draw is shared out among the rules broken on it, so that the \
         parts of all rules add up to the number of unrepresentative draws.",
    );
    let costly: Vec<(String, f64, String)> = (costs.iter())
        .filter(|rule| rule.cost > 0.0)
        .take(10)
        .map(|rule| {
            let said = format!("{} draws; {}", decimals(rule.cost, 1), rule.owner());
            (rule.id().to_owned(), rule.cost, said)
        })
        .collect();
    if !costly.is_empty() {
        section.push(Block::Chart(bars(
            "Draws each rule costs, and who can put it right",
            "Bars, the costliest rule first.",
            &costly,
        )));
    }
    let rows = costs.iter().map(|rule| {
        vec![
            rule.id().to_owned(),
            cards()[rule.counts.rule].asks.to_owned(),
            rule.owner().to_string(),
            count(rule.counts.broken),
            count(rule.counts.unrecorded),
            decimals(rule.cost, 1),
        ]
    });
    section.push(Block::Table(Table {
        caption: "Rules about the sample that are broken".to_owned(),
        columns: vec![
            words("Rule"),
            words("What it asks"),
            words("Answers to"),
            numbers("Broken"),
            numbers("Unrecorded"),
            numbers("Costs"),
        ],
        rows: rows.collect(),
    }));
    section
}

fn retraining(material: &Material<'_>) -> Section {
    let mut section = Section::new("topics", "Retraining topics");
    let mut found: Vec<_> = (material.analysed.topics.iter())
        .flat_map(|of| of.topics.iter().map(move |topic| (of, topic)))
        .filter(|(_, topic)| topic.says == Says::MoreThanPeers)
        .collect();
    found.sort_by(|one, other| other.1.regained().total_cmp(&one.1.regained()));
    section.say(
        "A topic is a rule by which someone loses more draws than others lose at the same points. \
         Only those are listed that chance alone hardly explains; where many are looked at, up to \
         one in forty is listed by chance.",
    );
    if found.is_empty() {
        section.say("No topic stands out.");
    } else {
        let more = found.len().saturating_sub(MOST);
        let rows = found.iter().take(MOST).map(|(of, topic)| {
            let over = topic.over_peers;
            vec![
                of.key.clone(),
                topic.id().to_owned(),
                format!("{} of {}", count(topic.broken), count(topic.applies)),
                decimals(topic.cost, 1),
                topic
                    .expected
                    .map_or_else(|| "–".to_owned(), |it| decimals(it, 1)),
                over.map_or_else(
                    || "–".to_owned(),
                    |over| {
                        format!(
                            "{} ({} – {})",
                            decimals(over.value, 1),
                            decimals(over.low, 1),
                            decimals(over.high, 1)
                        )
                    },
                ),
            ]
        });
        section.push(Block::Table(Table {
            caption: "Topics that would regain most draws".to_owned(),
            columns: vec![
                words("Technician"),
                words("Topic"),
                numbers("Broken"),
                numbers("Costs"),
                numbers("At peers"),
                numbers("To regain (95 %)"),
            ],
            rows: rows.collect(),
        }));
        if more > 0 {
            section.push(Block::Remark(format!(
                "{more} more stand in the tables of the pack."
            )));
        }
    }
    trainings(&mut section, material);
    section
}

fn trainings(section: &mut Section, material: &Material<'_>) {
    let held = &material.analysed.trainings;
    if held.is_empty() {
        return;
    }
    let rows = held.iter().take(MOST).map(|trained| {
        vec![
            material.assessed.technicians[trained.technician].id.clone(),
            cards()[trained.rule].id.to_owned(),
            trained.held_on.to_string(),
            percent_or_dash(trained.own.before.share()),
            percent_or_dash(trained.own.after.share()),
            trained.effect.to_string(),
        ]
    });
    section.push(Block::Table(Table {
        caption: "Trainings held: how often the rule was broken before and after".to_owned(),
        columns: vec![
            words("Technician"),
            words("In"),
            words("Held on"),
            numbers("Before"),
            numbers("After"),
            words("What the numbers say"),
        ],
        rows: rows.collect(),
    }));
    section.push(Block::Remark(
        "A bad spell passes by itself too: none of this proves a training the cause.".to_owned(),
    ));
}

fn others(material: &Material<'_>) -> Section {
    let mut section = Section::new("others", "To ask of others");
    let asks = &material.analysed.asks;
    let shown: Vec<_> = asks.iter().filter(|ask| ask.broken > 0).collect();
    if shown.is_empty() {
        return section;
    }
    section.say(
        "Rules that no technician can put right: the plant fits points, the planner sets rounds, \
         dispatch sends bottles, the desk keeps records.",
    );
    let more = shown.len().saturating_sub(MOST);
    let rows = shown.iter().take(MOST).map(|ask| {
        let point = ask
            .point
            .map(|place| material.assessed.points[place].id.clone());
        vec![
            ask.owner.to_string(),
            ask.id().to_owned(),
            ask.site.clone().unwrap_or_default(),
            point.unwrap_or_default(),
            format!("{} of {}", count(ask.broken), count(ask.draws)),
            decimals(ask.cost, 1),
        ]
    });
    section.push(Block::Table(Table {
        caption: "What to ask of whom".to_owned(),
        columns: vec![
            words("Ask"),
            words("Rule"),
            words("Site"),
            words("Point"),
            numbers("Broken"),
            numbers("Costs"),
        ],
        rows: rows.collect(),
    }));
    if more > 0 {
        section.push(Block::Remark(format!(
            "{more} more stand in the tables of the pack."
        )));
    }
    section
}
