//! What is to be written down at a draw, and what was left blank last time.

use crate::model::{DrawRecord, Kind, Method, Outcome, Point};
use crate::rules::{COUNT, place_of};

/// How a value is written down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Entry {
    /// On a line, with its unit; the unit may be empty.
    Line(&'static str),
    /// By ticking one or several of these.
    Tick(&'static [&'static str]),
}

/// One value of the record of a draw.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// The column of `draws.csv`.
    pub column: &'static str,
    /// What it is called on paper.
    pub label: &'static str,
    /// How it is written down.
    pub entry: Entry,
    /// The rules that read it.
    rules: &'static [&'static str],
    /// Whether it is written down at a point of this kind with this method.
    asked: fn(Kind, Option<Method>) -> bool,
    /// Whether it was left blank.
    blank: fn(&DrawRecord) -> bool,
}

const YES_NO: Entry = Entry::Tick(&["yes", "no"]);

const fn field(
    column: &'static str,
    label: &'static str,
    entry: Entry,
    rules: &'static [&'static str],
    asked: fn(Kind, Option<Method>) -> bool,
    blank: fn(&DrawRecord) -> bool,
) -> Field {
    Field {
        column,
        label,
        entry,
        rules,
        asked,
        blank,
    }
}

fn always(_: Kind, _: Option<Method>) -> bool {
    true
}

fn flowing(kind: Kind, _: Option<Method>) -> bool {
    matches!(kind, Kind::Circulating | Kind::Sump)
}

fn oil(kind: Kind, _: Option<Method>) -> bool {
    kind != Kind::Grease
}

fn pumped(_: Kind, method: Option<Method>) -> bool {
    method == Some(Method::TubePump)
}

fn purged(kind: Kind, method: Option<Method>) -> bool {
    kind == Kind::Grease && method == Some(Method::GreasePurge)
}

/// The values that the one who draws writes down, in the order of the work.
pub const FIELDS: &[Field] = &[
    field(
        "safety_confirmed",
        "Safety measures of the site confirmed",
        YES_NO,
        &["safety-confirmed"],
        always,
        |draw| draw.facts.safety_confirmed.is_none(),
    ),
    field(
        "bottle_id",
        "Bottle number",
        Entry::Line(""),
        &["label-complete", "bottle-unique", "second-fill"],
        always,
        |draw| draw.bottle_id.is_empty(),
    ),
    field(
        "fluid",
        "Product grade on the label",
        Entry::Line(""),
        &["label-complete"],
        always,
        |draw| draw.fluid.is_empty(),
    ),
    field(
        "method",
        "Method used",
        Entry::Line(""),
        &["same-method", "grease-midway"],
        always,
        |draw| draw.facts.method.is_none(),
    ),
    field(
        "machine_state",
        "Machine",
        Entry::Tick(&["running", "stopped"]),
        &["running-or-hot"],
        flowing,
        |draw| draw.facts.machine_state.is_none(),
    ),
    field(
        "stopped_min",
        "If stopped: minutes since the stop",
        Entry::Line("min"),
        &["running-or-hot"],
        flowing,
        |draw| draw.facts.stopped_min.is_blank(),
    ),
    field(
        "oil_temp_c",
        "Oil temperature",
        Entry::Line("°C"),
        &["running-or-hot"],
        flowing,
        |draw| draw.facts.oil_temp_c.is_blank(),
    ),
    field(
        "machine_hours",
        "Machine counter",
        Entry::Line("h"),
        &["label-complete", "hours-forward", "interval-kept"],
        flowing,
        |draw| draw.facts.machine_hours.is_blank(),
    ),
    field(
        "oil_hours",
        "Hours on this oil",
        Entry::Line("h"),
        &["label-complete", "oil-worked-in"],
        flowing,
        |draw| draw.facts.oil_hours.is_blank(),
    ),
    field(
        "topped_up_l",
        "Oil added since the last draw",
        Entry::Line("L"),
        &[],
        oil,
        |draw| draw.topped_up_l.is_blank(),
    ),
    field(
        "point_cleaned",
        "Point cleaned outside",
        YES_NO,
        &["point-cleaned"],
        always,
        |draw| draw.facts.point_cleaned.is_none(),
    ),
    field(
        "tube_new",
        "Tube new",
        YES_NO,
        &["fresh-tube"],
        pumped,
        |draw| draw.facts.tube_new.is_none(),
    ),
    field(
        "tube_mark_cm",
        "Tube inserted to",
        Entry::Line("cm"),
        &["tube-depth"],
        pumped,
        |draw| draw.facts.tube_mark_cm.is_blank(),
    ),
    field(
        "bottle_ok",
        "Bottle clean and fit",
        YES_NO,
        &["bottle-fit"],
        always,
        |draw| draw.facts.bottle_ok.is_none(),
    ),
    field(
        "flushed_ml",
        "Run off before filling",
        Entry::Line("mL"),
        &["flush-met"],
        flowing,
        |draw| draw.facts.flushed_ml.is_blank(),
    ),
    field(
        "purge_stage",
        "Part of the purged grease that was kept",
        Entry::Tick(&["start", "middle", "end"]),
        &["grease-midway"],
        purged,
        |draw| draw.facts.purge_stage.is_none(),
    ),
    field(
        "fill_pct",
        "Bottle filled to",
        Entry::Line("%"),
        &["fill-level"],
        oil,
        |draw| draw.facts.fill_pct.is_blank(),
    ),
    field(
        "capped_at_once",
        "Capped at once",
        YES_NO,
        &["capped-at-once"],
        always,
        |draw| draw.facts.capped_at_once.is_none(),
    ),
    field(
        "looks",
        "Seen in the bottle",
        Entry::Tick(&[
            "clear",
            "cloudy",
            "emulsified",
            "sediment",
            "metal",
            "water",
        ]),
        &["looked-at", "second-fill"],
        oil,
        |draw| draw.facts.looks.is_blank(),
    ),
    field(
        "pair_of",
        "If not clear: bottle number of the second fill",
        Entry::Line(""),
        &[],
        oil,
        |draw| draw.pair_of.is_empty(),
    ),
    field(
        "set_id",
        "Set number of the levels",
        Entry::Line(""),
        &["level-set"],
        |kind, _| kind == Kind::Tank,
        |draw| draw.set_id.is_empty(),
    ),
    field(
        "registered_at",
        "Registered with the laboratory (date, time)",
        Entry::Line(""),
        &["registered"],
        always,
        |draw| draw.facts.registered_at.is_blank(),
    ),
    field(
        "dispatched_at",
        "Sent (date, time)",
        Entry::Line(""),
        &["age-at-dispatch", "times-in-order"],
        always,
        |draw| draw.facts.dispatched_at.is_blank(),
    ),
    field("remarks", "Remarks", Entry::Line(""), &[], always, |draw| {
        draw.remarks.is_empty()
    }),
];

impl Field {
    /// Whether it is written down at a point of this kind with this method.
    #[must_use]
    pub fn is_asked(&self, kind: Kind, method: Option<Method>) -> bool {
        (self.asked)(kind, method)
    }

    /// Whether it was left blank on this draw and a rule could not be told met because of it.
    #[must_use]
    pub fn was_missing(&self, draw: &DrawRecord, outcomes: &[Outcome; COUNT]) -> bool {
        (self.blank)(draw)
            && self.rules.iter().any(|id| {
                let outcome = place_of(id).map(|rule| outcomes[rule]);
                // A blank is a breach of label-complete alone.
                outcome == Some(Outcome::Unrecorded)
                    || (*id == "label-complete" && outcome == Some(Outcome::Broken))
            })
    }
}

/// What the list of points lacks, so that rules stay unrecorded whatever is written down at
/// the draw; to be measured once and put into the list.
#[must_use]
pub fn lacking_at_point(
    point: &Point,
    draw: &DrawRecord,
    outcomes: &[Outcome; COUNT],
) -> Vec<&'static str> {
    let unrecorded =
        |id: &str| place_of(id).map(|rule| outcomes[rule]) == Some(Outcome::Unrecorded);
    let mut lacking = Vec::new();
    let tube_is_known = point.tube_bore_mm.is_some() == point.tube_length_cm.is_some();
    let dead_is_known =
        tube_is_known && (point.tube_bore_mm.is_some() || point.dead_extra_ml.is_some());
    if unrecorded("flush-met") && !draw.facts.flushed_ml.is_blank() && !dead_is_known {
        lacking.push("bore and length of the tube or stub, volume of valve and fittings");
    }
    if unrecorded("running-or-hot")
        && !draw.facts.oil_temp_c.is_blank()
        && point.normal_temp_c.is_none()
    {
        lacking.push("oil temperature in normal service");
    }
    if unrecorded("point-suited") && point.place.is_none() {
        lacking.push("where the point sits");
    }
    lacking
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_name_rules_that_there_are() {
        for field in FIELDS {
            for id in field.rules {
                assert!(place_of(id).is_some(), "{}: {id}", field.column);
            }
        }
    }
}
