//! What stands on the sites: kinds of compartments with the bores, lengths, flows, depths and
//! oils that such machines have. The figures are ours, of the usual order of magnitude.

use crate::model::{Kind, MachineClass, Method, Place};

/// A kind of compartment as it occurs on every site.
#[derive(Clone, Copy, Debug)]
pub struct Archetype {
    /// What the machine is called, before its number.
    pub machine: &'static str,
    /// Where on the site it stands.
    pub area: &'static str,
    /// Its class.
    pub class: MachineClass,
    /// How it holds its oil or grease.
    pub kind: Kind,
    /// Place and method of its agreed point (the first of a tank set).
    pub point: (Place, Method),
    /// Place and method of a further point that is not agreed.
    pub other_point: (Place, Method),
    /// Product on the label, an invented name.
    pub fluid: &'static str,
    /// ISO 3448 grade; `None` where the product is sold by data-sheet viscosities.
    pub iso_vg: Option<f64>,
    /// Data-sheet viscosities at 40 and 100 °C in mm²/s.
    pub viscosities_cst: Option<(f64, f64)>,
    /// Oil temperature in normal service in °C.
    pub normal_temp_c: f64,
    /// Flow in L/min, bore in mm and pressure in bar of the line.
    pub line: Option<(f64, f64, f64)>,
    /// Bore in mm and length in cm of the tube or stub to be flushed.
    pub tube: (f64, f64),
    /// Valve and fittings in mL.
    pub extra_ml: f64,
    /// Depth of oil in cm.
    pub depth_cm: Option<f64>,
    /// Agreed insertion of the tube in cm.
    pub mark_cm: Option<f64>,
    /// Agreed interval in days in the default size.
    pub interval_days: f64,
    /// Running hours on an average day.
    pub hours_a_day: f64,
    /// Hours between changes of the oil charge.
    pub oil_life_h: f64,
}

/// What most archetypes share.
const PLAIN: Archetype = Archetype {
    machine: "",
    area: "",
    class: MachineClass::Other,
    kind: Kind::Circulating,
    point: (Place::ReturnLine, Method::LineValve),
    other_point: (Place::AfterFilter, Method::LineValve),
    fluid: "",
    iso_vg: None,
    viscosities_cst: None,
    normal_temp_c: 60.0,
    line: None,
    tube: (6.0, 40.0),
    extra_ml: 3.0,
    depth_cm: None,
    mark_cm: None,
    interval_days: 30.0,
    hours_a_day: 16.0,
    oil_life_h: 6000.0,
};

/// The archetypes: nine circulating, five sumps, one tank, two greased bearings.
pub const ARCHETYPES: [Archetype; 17] = [
    // 0: hydraulic press
    Archetype {
        machine: "Press hydraulics",
        area: "Press shop",
        class: MachineClass::Hydraulic,
        fluid: "Halmyr Hydraulic 46",
        iso_vg: Some(46.0),
        normal_temp_c: 55.0,
        line: Some((210.0, 32.0, 6.0)),
        tube: (6.0, 30.0),
        depth_cm: Some(70.0),
        ..PLAIN
    },
    // 1: gas engine
    Archetype {
        machine: "Gas engine",
        area: "Engine hall",
        class: MachineClass::GasEngine,
        point: (Place::SupplyLine, Method::LineValve),
        fluid: "Odrune Engine 40",
        viscosities_cst: Some((132.0, 13.6)),
        normal_temp_c: 84.0,
        line: Some((420.0, 50.0, 5.0)),
        tube: (8.0, 35.0),
        interval_days: 21.0,
        hours_a_day: 21.0,
        oil_life_h: 1500.0,
        ..PLAIN
    },
    // 2: diesel engine, main gallery
    Archetype {
        machine: "Diesel generator",
        area: "Engine hall",
        class: MachineClass::DieselEngine,
        point: (Place::SupplyLine, Method::LineValve),
        fluid: "Odrune Engine 15",
        viscosities_cst: Some((105.0, 14.2)),
        normal_temp_c: 88.0,
        line: Some((300.0, 40.0, 4.5)),
        tube: (6.0, 25.0),
        interval_days: 21.0,
        hours_a_day: 12.0,
        oil_life_h: 500.0,
        ..PLAIN
    },
    // 3: turbine
    Archetype {
        machine: "Expander turbine",
        area: "Power house",
        class: MachineClass::Turbine,
        fluid: "Halmyr Turbine 32",
        iso_vg: Some(32.0),
        normal_temp_c: 58.0,
        line: Some((640.0, 80.0, 2.0)),
        tube: (10.0, 30.0),
        depth_cm: Some(110.0),
        interval_days: 35.0,
        hours_a_day: 22.0,
        oil_life_h: 40_000.0,
        ..PLAIN
    },
    // 4: screw compressor
    Archetype {
        machine: "Air compressor",
        area: "Compressor house",
        class: MachineClass::Compressor,
        fluid: "Odrune Compressor 68",
        iso_vg: Some(68.0),
        normal_temp_c: 78.0,
        line: Some((150.0, 32.0, 8.0)),
        tube: (6.0, 20.0),
        hours_a_day: 18.0,
        oil_life_h: 4000.0,
        ..PLAIN
    },
    // 5: mill gearbox with circulation, laminar in its line, so sampled at a bend
    Archetype {
        machine: "Mill gearbox",
        area: "Mill",
        class: MachineClass::Gearbox,
        fluid: "Halmyr Gear 320",
        iso_vg: Some(320.0),
        normal_temp_c: 60.0,
        line: Some((110.0, 50.0, 3.0)),
        tube: (10.0, 25.0),
        hours_a_day: 20.0,
        oil_life_h: 10_000.0,
        ..PLAIN
    },
    // 6: crane hydraulics
    Archetype {
        machine: "Crane hydraulics",
        area: "Yard",
        class: MachineClass::Hydraulic,
        fluid: "Halmyr Hydraulic 46",
        iso_vg: Some(46.0),
        normal_temp_c: 60.0,
        line: Some((190.0, 25.0, 9.0)),
        tube: (4.0, 40.0),
        hours_a_day: 9.0,
        oil_life_h: 4000.0,
        ..PLAIN
    },
    // 7: loader transmission
    Archetype {
        machine: "Loader transmission",
        area: "Yard",
        class: MachineClass::Transmission,
        fluid: "Halmyr Drive 32",
        iso_vg: Some(32.0),
        normal_temp_c: 80.0,
        line: Some((95.0, 22.0, 12.0)),
        tube: (4.0, 30.0),
        hours_a_day: 10.0,
        oil_life_h: 1500.0,
        ..PLAIN
    },
    // 8: pump bearing oil system
    Archetype {
        machine: "Main pump oil system",
        area: "Pump house",
        class: MachineClass::Pump,
        fluid: "Halmyr Bearing 68",
        iso_vg: Some(68.0),
        normal_temp_c: 62.0,
        line: Some((60.0, 32.0, 2.0)),
        tube: (8.0, 25.0),
        hours_a_day: 22.0,
        oil_life_h: 8000.0,
        ..PLAIN
    },
    // 9: haul truck engine sump
    Archetype {
        machine: "Haul truck engine",
        area: "Yard",
        class: MachineClass::DieselEngine,
        kind: Kind::Sump,
        point: (Place::SumpMiddle, Method::TubePump),
        other_point: (Place::SumpBottom, Method::Drain),
        fluid: "Odrune Engine 15",
        viscosities_cst: Some((105.0, 14.2)),
        normal_temp_c: 86.0,
        tube: (4.0, 150.0),
        extra_ml: 0.0,
        depth_cm: Some(22.0),
        mark_cm: Some(62.0),
        interval_days: 21.0,
        hours_a_day: 14.0,
        oil_life_h: 500.0,
        ..PLAIN
    },
    // 10: conveyor gearbox
    Archetype {
        machine: "Conveyor gearbox",
        area: "Conveyor gallery",
        class: MachineClass::Gearbox,
        kind: Kind::Sump,
        point: (Place::SumpMiddle, Method::SumpValve),
        other_point: (Place::SumpBottom, Method::Drain),
        fluid: "Halmyr Gear 220",
        iso_vg: Some(220.0),
        normal_temp_c: 65.0,
        tube: (6.0, 30.0),
        depth_cm: Some(30.0),
        hours_a_day: 18.0,
        oil_life_h: 8000.0,
        ..PLAIN
    },
    // 11: final drive
    Archetype {
        machine: "Loader final drive",
        area: "Yard",
        class: MachineClass::FinalDrive,
        kind: Kind::Sump,
        point: (Place::SumpMiddle, Method::TubePump),
        other_point: (Place::SumpBottom, Method::Drain),
        fluid: "Halmyr Gear 150",
        iso_vg: Some(150.0),
        normal_temp_c: 60.0,
        tube: (4.32, 80.0),
        extra_ml: 0.0,
        depth_cm: Some(16.0),
        mark_cm: Some(30.0),
        hours_a_day: 10.0,
        oil_life_h: 2000.0,
        ..PLAIN
    },
    // 12: ring-oiled pump bearing
    Archetype {
        machine: "Cooling pump bearing",
        area: "Pump house",
        class: MachineClass::Pump,
        kind: Kind::Sump,
        point: (Place::SumpMiddle, Method::SumpValve),
        other_point: (Place::SumpBottom, Method::Drain),
        fluid: "Halmyr Bearing 68",
        iso_vg: Some(68.0),
        normal_temp_c: 58.0,
        tube: (4.0, 12.0),
        extra_ml: 2.0,
        depth_cm: Some(9.0),
        hours_a_day: 20.0,
        oil_life_h: 8000.0,
        ..PLAIN
    },
    // 13: fan bearing housing
    Archetype {
        machine: "Draught fan bearing",
        area: "Kiln",
        class: MachineClass::Bearing,
        kind: Kind::Sump,
        point: (Place::SumpMiddle, Method::TubePump),
        other_point: (Place::SumpBottom, Method::Drain),
        fluid: "Halmyr Bearing 100",
        iso_vg: Some(100.0),
        normal_temp_c: 62.0,
        tube: (4.0, 70.0),
        extra_ml: 0.0,
        depth_cm: Some(12.0),
        mark_cm: Some(18.0),
        hours_a_day: 22.0,
        oil_life_h: 8000.0,
        ..PLAIN
    },
    // 14: storage tank, drawn at three levels
    Archetype {
        machine: "Oil store tank",
        area: "Tank yard",
        class: MachineClass::Tank,
        kind: Kind::Tank,
        point: (Place::TankUpper, Method::Thief),
        other_point: (Place::TankBottom, Method::Drain),
        fluid: "Halmyr Hydraulic 46",
        iso_vg: Some(46.0),
        normal_temp_c: 22.0,
        depth_cm: Some(260.0),
        interval_days: 75.0,
        hours_a_day: 0.0,
        ..PLAIN
    },
    // 15: greased motor bearing
    Archetype {
        machine: "Mill motor bearing",
        area: "Mill",
        class: MachineClass::Bearing,
        kind: Kind::Grease,
        point: (Place::BearingHousing, Method::GreaseNeedle),
        other_point: (Place::GreaseOutlet, Method::GreasePurge),
        fluid: "Sefkal Grease EP 2",
        normal_temp_c: 55.0,
        interval_days: 45.0,
        hours_a_day: 20.0,
        ..PLAIN
    },
    // 16: greased roller bearing, old grease purged
    Archetype {
        machine: "Roller press bearing",
        area: "Press shop",
        class: MachineClass::Bearing,
        kind: Kind::Grease,
        point: (Place::GreaseOutlet, Method::GreasePurge),
        other_point: (Place::BearingHousing, Method::GreaseNeedle),
        fluid: "Sefkal Grease EP 1",
        normal_temp_c: 50.0,
        interval_days: 45.0,
        hours_a_day: 18.0,
        ..PLAIN
    },
];

/// What stands on one site: the archetype of each compartment and whether it has a further
/// point that is not agreed. Kinds are mixed early, so that small sizes have all of them.
/// Circulating 18 + 4, sumps 10 + 1, tanks 2 × 3, grease 5: 44 points.
pub const SITE_PATTERN: [(usize, bool); 35] = [
    (0, false),
    (9, false),
    (14, false),
    (15, false),
    (1, false),
    (10, true),
    (3, true),
    (4, false),
    (16, false),
    (5, false),
    (11, false),
    (2, true),
    (8, false),
    (12, false),
    (6, false),
    (15, false),
    (7, false),
    (13, false),
    (0, true),
    (9, false),
    (14, false),
    (1, false),
    (10, false),
    (3, false),
    (16, false),
    (4, false),
    (11, false),
    (5, true),
    (2, false),
    (12, false),
    (8, false),
    (15, false),
    (6, false),
    (13, false),
    (7, false),
];
