//! The columns of the four sheets, said once: reading, refusing and the documentation
//! all go by these tables.

use std::fmt::Write as _;

use crate::model::{Kind, Look, MachineClass, MachineState, Method, Place, PurgeStage};

/// The four canonical sheets, in the order in which they are taken in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SheetKind {
    /// `points.csv`.
    Points,
    /// `technicians.csv`.
    Technicians,
    /// `trainings.csv`.
    Trainings,
    /// `draws.csv`.
    Draws,
}

impl SheetKind {
    /// Every kind, in the order in which they are taken in: draws refer to the others.
    pub const ALL: [SheetKind; 4] = [
        SheetKind::Points,
        SheetKind::Technicians,
        SheetKind::Trainings,
        SheetKind::Draws,
    ];

    /// The word that file names begin with.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            SheetKind::Points => "points",
            SheetKind::Technicians => "technicians",
            SheetKind::Trainings => "trainings",
            SheetKind::Draws => "draws",
        }
    }

    /// Reads the word in any case.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|kind| kind.as_str().eq_ignore_ascii_case(text))
    }

    /// The columns of such a sheet, in the order of the scoring contract.
    #[must_use]
    pub const fn columns(self) -> &'static [Column] {
        match self {
            SheetKind::Points => point::COLUMNS,
            SheetKind::Technicians => technician::COLUMNS,
            SheetKind::Trainings => training::COLUMNS,
            SheetKind::Draws => draw::COLUMNS,
        }
    }
}

/// The values a number may have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Range {
    /// Above 0.
    Positive,
    /// 0 or more.
    NotNegative,
    /// 0 to 100.
    Percent,
    /// −60 to 250 °C.
    Temperature,
    /// 1 or 2.
    OneOrTwo,
    /// Any number: one that is not yet in the unit of its column.
    Any,
}

impl Range {
    /// Whether the value lies inside.
    #[must_use]
    pub fn holds(self, value: f64) -> bool {
        match self {
            Range::Positive => value > 0.0,
            Range::NotNegative => value >= 0.0,
            Range::Percent => (0.0..=100.0).contains(&value),
            Range::Temperature => (-60.0..=250.0).contains(&value),
            #[expect(clippy::float_cmp, reason = "whole numbers are exact")]
            Range::OneOrTwo => value == 1.0 || value == 2.0,
            Range::Any => true,
        }
    }

    /// The range in words.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Range::Positive => "above 0",
            Range::NotNegative => "0 or more",
            Range::Percent => "0 to 100",
            Range::Temperature => "-60 to 250",
            Range::OneOrTwo => "1 or 2",
            Range::Any => "any number",
        }
    }
}

/// How a cell is read.
#[derive(Clone, Copy, Debug)]
pub enum Reading {
    /// Any text up to [`TEXT_LIMIT`](super::cell::TEXT_LIMIT).
    Text,
    /// `yes no y n true false 1 0`.
    YesNo,
    /// A decimal number in a range.
    Number(Range),
    /// One of these words.
    Word(fn() -> Vec<&'static str>),
    /// Several of these words, joined with `;`.
    Words(fn() -> Vec<&'static str>),
    /// An instant.
    Time,
    /// A day, `YYYY-MM-DD`.
    Date,
}

/// One column of a sheet.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    /// Its name in the header.
    pub name: &'static str,
    /// Whether a row without it is refused.
    pub required: bool,
    /// How its cells are read.
    pub reading: Reading,
    /// What it means.
    pub meaning: &'static str,
    /// The unit of a number; empty if there is none.
    pub unit: &'static str,
}

/// The words of a closed vocabulary.
macro_rules! listed {
    ($name:ident) => {
        || $name::ALL.iter().map(|word| word.as_str()).collect()
    };
}

/// A module a sheet: the table, and a constant a column that is its place in the table.
macro_rules! columns {
    ($(#[$doc:meta])* $module:ident, $sheet:literal:
        $($place:ident $name:literal $need:ident $reading:expr, $meaning:literal, $unit:literal;)+) => {
        $(#[$doc])*
        pub mod $module {
            use super::*;

            #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
            enum Order { $($place),+ }

            $(
                #[doc = concat!("Place of `", $name, "` in [`COLUMNS`].")]
                pub const $place: usize = Order::$place as usize;
            )+

            #[doc = concat!("The columns of `", $sheet, "`, in the order of the scoring contract.")]
            pub const COLUMNS: &[Column] = &[$(Column {
                name: $name,
                required: needed!($need),
                reading: $reading,
                meaning: $meaning,
                unit: $unit,
            }),+];
        }
    };
}

macro_rules! needed {
    (required) => {
        true
    };
    (optional) => {
        false
    };
}

use Range::{NotNegative, OneOrTwo, Percent, Positive, Temperature};
use Reading::{Date, Number, Text, Time, Word, Words, YesNo};

columns! {
    /// `points.csv`: where bottles are filled.
    point, "points.csv":
    POINT_ID "point_id" required Text, "unique name of the point", "";
    COMPARTMENT_ID "compartment_id" required Text, "the body of oil or grease the point gives on to", "";
    MACHINE "machine" optional Text, "the machine the compartment belongs to", "";
    SITE "site" optional Text, "the site the machine stands on", "";
    AREA "area" optional Text, "the area of the site", "";
    MACHINE_CLASS "machine_class" optional Word(listed!(MachineClass)), "what kind of machine it is", "";
    KIND "kind" required Word(listed!(Kind)), "how the compartment holds its oil or grease", "";
    PLACE "place" optional Word(listed!(Place)), "where the point sits", "";
    AT_BEND "at_bend" optional YesNo, "the point sits on a bend or elbow; blank means no", "";
    AGREED "agreed" optional YesNo, "an agreed sample point of its compartment; blank means no", "";
    METHOD "method" optional Word(listed!(Method)), "the agreed method", "";
    FLUID "fluid" optional Text, "product grade as labelled", "";
    ISO_VG "iso_vg" optional Number(Positive), "ISO 3448 viscosity grade", "";
    VISCOSITY_40 "viscosity_40_cst" optional Number(Positive), "kinematic viscosity at 40 °C, measured or from the data sheet", "mm²/s";
    VISCOSITY_100 "viscosity_100_cst" optional Number(Positive), "kinematic viscosity at 100 °C, measured or from the data sheet", "mm²/s";
    NORMAL_TEMP "normal_temp_c" optional Number(Temperature), "oil temperature in normal service", "°C";
    LINE_FLOW "line_flow_l_min" optional Number(NotNegative), "flow past the point", "L/min";
    LINE_BORE "line_bore_mm" optional Number(Positive), "bore of the line", "mm";
    LINE_PRESSURE "line_pressure_bar" optional Number(NotNegative), "pressure at the point", "bar";
    TUBE_BORE "tube_bore_mm" optional Number(Positive), "bore of the tube or stub to be flushed", "mm";
    TUBE_LENGTH "tube_length_cm" optional Number(Positive), "length of the tube or stub to be flushed", "cm";
    DEAD_EXTRA "dead_extra_ml" optional Number(NotNegative), "valve and fittings on top of the tube", "mL";
    TUBE_MARK "tube_mark_cm" optional Number(Positive), "agreed insertion mark of the tube", "cm";
    OIL_DEPTH "oil_depth_cm" optional Number(Positive), "depth of oil in sump or tank", "cm";
    BOTTLE "bottle_ml" optional Number(Positive), "bottle size", "mL";
    INTERVAL_H "interval_h" optional Number(Positive), "agreed interval in running hours", "h";
    INTERVAL_DAYS "interval_days" optional Number(Positive), "agreed interval in days", "d";
}

columns! {
    /// `technicians.csv`: who draws.
    technician, "technicians.csv":
    TECHNICIAN_ID "technician_id" required Text, "unique name of the technician", "";
    NAME "name" optional Text, "the name people call them by", "";
    CREW "crew" optional Text, "the crew they belong to", "";
    ACTIVE_FROM "active_from" optional Date, "first day in the programme", "";
}

columns! {
    /// `trainings.csv`: who was trained in what, and when.
    training, "trainings.csv":
    TECHNICIAN_ID "technician_id" required Text, "who was trained; must be known", "";
    TOPIC "topic" required Text, "the id of the rule it was about", "";
    HELD_ON "held_on" required Date, "the day it was held", "";
}

columns! {
    /// `draws.csv`: one bottle filled once a row.
    draw, "draws.csv":
    DRAW_ID "draw_id" optional Text, "unique name of the draw; if blank, bottle, point and time identify it", "";
    BOTTLE_ID "bottle_id" optional Text, "code on the bottle", "";
    POINT_ID "point_id" required Text, "where it was filled; must be known", "";
    TECHNICIAN_ID "technician_id" required Text, "who filled it; must be known", "";
    DRAWN_AT "drawn_at" required Time, "when it was filled", "";
    RECORDED_AT "recorded_at" optional Time, "when the record was typed", "";
    METHOD "method" optional Word(listed!(Method)), "how it was taken", "";
    MACHINE_STATE "machine_state" optional Word(listed!(MachineState)), "the state of the machine", "";
    STOPPED "stopped_min" optional Number(NotNegative), "time between stop and draw", "min";
    OIL_TEMP "oil_temp_c" optional Number(Temperature), "oil temperature at the draw", "°C";
    MACHINE_HOURS "machine_hours" optional Number(NotNegative), "machine counter", "h";
    OIL_HOURS "oil_hours" optional Number(NotNegative), "hours on this oil charge", "h";
    TOPPED_UP "topped_up_l" optional Number(NotNegative), "oil added since the last draw", "L";
    FLUID "fluid" optional Text, "grade written on the label", "";
    POINT_CLEANED "point_cleaned" optional YesNo, "the outside of the point was cleaned", "";
    TUBE_NEW "tube_new" optional YesNo, "the tube was new", "";
    BOTTLE_OK "bottle_ok" optional YesNo, "the bottle was clean and fit for its purpose", "";
    CAPPED "capped_at_once" optional YesNo, "the bottle was capped at once", "";
    FLUSHED "flushed_ml" optional Number(NotNegative), "run off before the bottle was filled", "mL";
    TUBE_MARK "tube_mark_cm" optional Number(Positive), "insertion of the tube", "cm";
    FILL "fill_pct" optional Number(Percent), "filled share of the bottle", "%";
    LOOKS "looks" optional Words(listed!(Look)), "what was seen in the bottle", "";
    FILL_NO "fill_no" optional Number(OneOrTwo), "first fill (1 or blank) or second fill (2)", "";
    PAIR_OF "pair_of" optional Text, "on a second fill: bottle_id of its first fill", "";
    SET_ID "set_id" optional Text, "joins the draws of one tank set", "";
    PURGE_STAGE "purge_stage" optional Word(listed!(PurgeStage)), "which part of the purged grease was kept", "";
    REGISTERED_AT "registered_at" optional Time, "registered with the laboratory", "";
    DISPATCHED_AT "dispatched_at" optional Time, "sent", "";
    RECEIVED_AT "received_at" optional Time, "arrived", "";
    SAFETY_CONFIRMED "safety_confirmed" optional YesNo, "the safety measures were confirmed", "";
    REMARKS "remarks" optional Text, "free text", "";
}

impl Reading {
    /// What a cell may hold, in words.
    #[must_use]
    pub fn values(self) -> String {
        match self {
            Text => "text".to_owned(),
            YesNo => "yes/no".to_owned(),
            Number(range) => format!("number, {}", range.as_str()),
            Word(words) => words().join(" "),
            Words(words) => format!("{}; several joined with `;`", words().join(" ")),
            Time => "time".to_owned(),
            Date => "day, YYYY-MM-DD".to_owned(),
        }
    }
}

/// The tables of columns as Markdown, one section a sheet.
#[must_use]
pub fn docs_markdown() -> String {
    let mut text = String::new();
    for kind in SheetKind::ALL {
        let _ = writeln!(text, "## {}.csv\n", kind.as_str());
        text.push_str("| column | required | meaning | values | unit |\n|---|---|---|---|---|\n");
        for column in kind.columns() {
            let required = if column.required { "yes" } else { "" };
            let _ = writeln!(
                text,
                "| `{}` | {required} | {} | {} | {} |",
                column.name,
                column.meaning,
                column.reading.values(),
                column.unit
            );
        }
        text.push('\n');
    }
    text.pop();
    text
}
