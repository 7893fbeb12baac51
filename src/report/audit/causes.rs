//! Where and who: sites, methods, points and people, with intervals.

use super::Material;
use crate::analysis::attribution::{Part, Side, Unit};
use crate::analysis::{Attribution, Group, Key};
use crate::report::document::charts::{Row, Scale, StandsOut, intervals};
use crate::report::document::{Block, Section, Table, numbers, words};
use crate::report::wording::{count, decimals, percent, percent_or_dash};

/// How many groups or units a chart or table shows.
const MOST: usize = 16;

/// The sections on where and on who.
pub fn sections(material: &Material<'_>) -> Vec<Section> {
    vec![places(material), people(material)]
}

fn places(material: &Material<'_>) -> Section {
    let mut section = Section::new("where", "Where");
    let analysed = material.analysed;
    let Some(overall) = analysed.tally.share().share else {
        return section;
    };
    shares(
        &mut section,
        "Share by site",
        analysed.groups(Key::Site),
        overall,
    );
    let methods = analysed.groups(Key::Method);
    if methods.len() > 1 {
        section.push(Block::Table(table_of("Share by method", "Method", methods)));
    }
    if let Ok(found) = &analysed.told_apart {
        units(&mut section, material, found, Side::Points);
    }
    section
}

fn people(material: &Material<'_>) -> Section {
    let mut section = Section::new("who", "Who");
    let analysed = material.analysed;
    let Some(overall) = analysed.tally.share().share else {
        return section;
    };
    section.say(
        "Shares of people are no ranking: some serve points where good samples are hard to draw. \
         Therefore everyone is compared with what an average technician would have had at the \
         same points. A difference is a reason to look at how draws are made, never a charge.",
    );
    shares(
        &mut section,
        "Share by crew",
        analysed.groups(Key::Crew),
        overall,
    );
    match &analysed.told_apart {
        Ok(found) => {
            units(&mut section, material, found, Side::Technicians);
            for caution in &found.cautions {
                section.push(Block::Remark(caution.to_string()));
            }
        }
        Err(reason) => section.say(format!("People and points can't be told apart: {reason}.")),
    }
    section
}

/// A chart of shares against the share of all, the groups with most draws.
fn shares(section: &mut Section, title: &str, groups: &[Group], overall: f64) {
    let mut shown: Vec<&Group> = groups.iter().filter(|it| it.tally.judged() > 0).collect();
    if shown.len() < 2 {
        return;
    }
    shown.sort_by_key(|group| std::cmp::Reverse(group.tally.draws));
    let left_out = shown.len().saturating_sub(MOST);
    shown.truncate(MOST);
    shown.sort_by(|one, other| one.key.cmp(&other.key));
    let rows: Vec<Row> = (shown.iter())
        .filter_map(|group| {
            let share = group.tally.share();
            let interval = [share.low?, share.share?, share.high?];
            Some(Row {
                label: group.key.clone(),
                interval,
                said: format!(
                    "{}  ({} of {})",
                    percent(interval[1]),
                    count(group.tally.unrepresentative),
                    count(group.tally.judged())
                ),
                stands_out: if interval[0] > overall {
                    StandsOut::Above
                } else if interval[2] < overall {
                    StandsOut::Below
                } else {
                    StandsOut::No
                },
            })
        })
        .collect();
    let about = format!(
        "Shares of unrepresentative draws with 95 % intervals; the broken line is the share of \
         all, {}.",
        percent(overall)
    );
    section.push(Block::Chart(intervals(
        title,
        &about,
        &rows,
        Scale::Share,
        overall,
    )));
    section.push(Block::Remark(format!(
        "Broken line: the share of all, {}. A diamond and bold name mark an interval that does \
         not hold it.{}",
        percent(overall),
        match left_out {
            0 => String::new(),
            more => format!(" {more} more with fewer draws stand in the tables of the pack."),
        }
    )));
}

fn table_of(caption: &str, heading: &'static str, groups: &[Group]) -> Table {
    let rows = groups.iter().map(|group| {
        let share = group.tally.share();
        vec![
            group.key.clone(),
            count(group.tally.draws),
            count(group.tally.judged()),
            count(group.tally.unrepresentative),
            percent_or_dash(share.share),
            between(share.low, share.high),
            between(share.least, share.most),
        ]
    });
    Table {
        caption: caption.to_owned(),
        columns: vec![
            words(heading),
            numbers("Draws"),
            numbers("Judged"),
            numbers("Unrepresentative"),
            numbers("Share"),
            numbers("95 % interval"),
            numbers("Bounds"),
        ],
        rows: rows.collect(),
    }
}

fn between(low: Option<f64>, high: Option<f64>) -> String {
    match (low, high) {
        (Some(low), Some(high)) => format!("{} – {}", percent(low), percent(high)),
        _ => "–".to_owned(),
    }
}

/// A chart and sentences on the units that differ most.
fn units(section: &mut Section, material: &Material<'_>, found: &Attribution, side: Side) {
    let (heading, noun, against) = match side {
        Side::Points => (
            "Points told apart from people",
            "points",
            "an average point with the same technicians",
        ),
        Side::Technicians => (
            "People told apart from points",
            "technicians",
            "an average technician at the same points",
        ),
    };
    let part = found.part(side);
    section.push(Block::Heading(heading.to_owned()));
    if !part.differs() || part.sigma == 0.0 {
        section.say(format!(
            "The {} {noun} differ by no more than chance and the rest explain, so none is set \
             apart here.",
            count(part.units.len() as u64)
        ));
        return;
    }
    let outstanding: Vec<&Unit> = part.units.iter().filter(|unit| unit.stands_out()).collect();
    section.say(format!(
        "Odds of an unrepresentative draw against {against}, with 95 % intervals. Of {} {noun}, \
         {} from the average after allowing for looking at all of them.",
        count(part.units.len() as u64),
        match outstanding.len() {
            0 => "none stands out".to_owned(),
            1 => "one stands out".to_owned(),
            several => format!("{several} stand out"),
        }
    ));
    let id = |unit: &Unit| match side {
        Side::Technicians => material.assessed.technicians[unit.place as usize]
            .id
            .as_str(),
        Side::Points => material.assessed.points[unit.place as usize].id.as_str(),
    };
    let shown = shown(part);
    let rows: Vec<Row> = (shown.iter())
        .map(|unit| Row {
            label: id(unit).to_owned(),
            interval: [unit.low, unit.odds_ratio, unit.high],
            said: format!(
                "{} of {}, {} expected{}",
                count(unit.unrepresentative),
                count(unit.draws),
                decimals(unit.expected, 1),
                if unit.is_few() { ", few" } else { "" }
            ),
            stands_out: match (unit.stands_out(), unit.effect > 0.0) {
                (false, _) => StandsOut::No,
                (true, true) => StandsOut::Above,
                (true, false) => StandsOut::Below,
            },
        })
        .collect();
    let title = match side {
        Side::Points => "Points: odds against an average one",
        Side::Technicians => "Technicians: odds against an average one",
    };
    let about = "Odds with 95 % intervals; the broken line is an average one.";
    section.push(Block::Chart(intervals(
        title,
        about,
        &rows,
        Scale::Odds,
        1.0,
    )));
    section.push(Block::Remark(format!(
        "Broken line: an average one. A diamond and bold name stand out (q at most 0.05, 20 draws \
         or more). {}",
        if part.units.len() > shown.len() {
            format!(
                "Shown are the {} with the widest difference from what was expected; all stand in \
                 the tables of the pack.",
                shown.len()
            )
        } else {
            String::new()
        }
    )));
}

/// Those that stand out first, then those farthest from what was expected; in the order of
/// their odds.
fn shown(part: &Part) -> Vec<Unit> {
    let mut shown = part.units.clone();
    shown.sort_by(|one, other| {
        let far = |unit: &Unit| unit.excess().abs();
        (other.stands_out().cmp(&one.stands_out())).then(far(other).total_cmp(&far(one)))
    });
    shown.truncate(MOST);
    shown.sort_by(|one, other| other.odds_ratio.total_cmp(&one.odds_ratio));
    shown
}
