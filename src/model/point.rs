//! A sample point: where a bottle is filled.

use super::words::{Kind, MachineClass, Method, Place};

/// One row of `points.csv`. A `None` is a blank cell.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Unique name of the point.
    pub id: String,
    /// The body of oil or grease the point gives on to.
    pub compartment: String,
    /// The machine the compartment belongs to.
    pub machine: Option<String>,
    /// The site the machine stands on.
    pub site: Option<String>,
    /// The area of the site.
    pub area: Option<String>,
    /// What kind of machine it is.
    pub machine_class: Option<MachineClass>,
    /// How the compartment holds its oil or grease.
    pub kind: Kind,
    /// Where the point sits.
    pub place: Option<Place>,
    /// The point sits on a bend or elbow; blank means no.
    pub at_bend: Option<bool>,
    /// The point is an agreed sample point of its compartment; blank means no.
    pub agreed: Option<bool>,
    /// The agreed method.
    pub method: Option<Method>,
    /// Product grade as labelled.
    pub fluid: Option<String>,
    /// ISO 3448 viscosity grade, above 0.
    pub iso_vg: Option<f64>,
    /// Kinematic viscosity at 40 °C in mm²/s, above 0.
    pub viscosity_40_cst: Option<f64>,
    /// Kinematic viscosity at 100 °C in mm²/s, above 0.
    pub viscosity_100_cst: Option<f64>,
    /// Oil temperature in normal service in °C, −60 to 250.
    pub normal_temp_c: Option<f64>,
    /// Flow past the point in L/min, 0 or more.
    pub line_flow_l_min: Option<f64>,
    /// Bore of the line in mm, above 0.
    pub line_bore_mm: Option<f64>,
    /// Pressure at the point in bar, 0 or more.
    pub line_pressure_bar: Option<f64>,
    /// Bore of the tube or stub to be flushed in mm, above 0.
    pub tube_bore_mm: Option<f64>,
    /// Length of the tube or stub to be flushed in cm, above 0.
    pub tube_length_cm: Option<f64>,
    /// Valve and fittings on top of the tube in mL, 0 or more.
    pub dead_extra_ml: Option<f64>,
    /// Agreed insertion mark of the tube in cm, above 0.
    pub tube_mark_cm: Option<f64>,
    /// Depth of oil in sump or tank in cm, above 0.
    pub oil_depth_cm: Option<f64>,
    /// Bottle size in mL, above 0.
    pub bottle_ml: Option<f64>,
    /// Agreed interval in running hours, above 0.
    pub interval_h: Option<f64>,
    /// Agreed interval in days, above 0.
    pub interval_days: Option<f64>,
}

impl Point {
    /// The names of all fields in sheets and in the programme file, in the order in which they
    /// are written there.
    pub const COLUMNS: [&'static str; 27] = [
        "point_id",
        "compartment_id",
        "machine",
        "site",
        "area",
        "machine_class",
        "kind",
        "place",
        "at_bend",
        "agreed",
        "method",
        "fluid",
        "iso_vg",
        "viscosity_40_cst",
        "viscosity_100_cst",
        "normal_temp_c",
        "line_flow_l_min",
        "line_bore_mm",
        "line_pressure_bar",
        "tube_bore_mm",
        "tube_length_cm",
        "dead_extra_ml",
        "tube_mark_cm",
        "oil_depth_cm",
        "bottle_ml",
        "interval_h",
        "interval_days",
    ];
}

impl Point {
    /// A point of which only the required columns are filled in.
    #[must_use]
    pub fn bare(id: &str, compartment: &str, kind: Kind) -> Self {
        Point {
            id: id.to_owned(),
            compartment: compartment.to_owned(),
            machine: None,
            site: None,
            area: None,
            machine_class: None,
            kind,
            place: None,
            at_bend: None,
            agreed: None,
            method: None,
            fluid: None,
            iso_vg: None,
            viscosity_40_cst: None,
            viscosity_100_cst: None,
            normal_temp_c: None,
            line_flow_l_min: None,
            line_bore_mm: None,
            line_pressure_bar: None,
            tube_bore_mm: None,
            tube_length_cm: None,
            dead_extra_ml: None,
            tube_mark_cm: None,
            oil_depth_cm: None,
            bottle_ml: None,
            interval_h: None,
            interval_days: None,
        }
    }

    /// Whether the point is an agreed one; a blank means no.
    #[must_use]
    pub fn is_agreed(&self) -> bool {
        self.agreed == Some(true)
    }

    /// Whether the point sits on a bend; a blank means no.
    #[must_use]
    pub fn is_at_bend(&self) -> bool {
        self.at_bend == Some(true)
    }
}
