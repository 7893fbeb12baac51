//! Physics against figures from outside the project, and refusals at the ends of ranges.

mod dead_volumes;
mod flow_past_a_point;
mod settling_in_still_oil;
mod viscosity;

use fairdraw::physics::calc::{
    Oil, StillOil, dead_volume, reynolds, settling, size_below_middle_um, temperature_for,
    viscosity_at,
};
use fairdraw::physics::flow::Regime;
use fairdraw::physics::viscosity::{GRADES, Walther, grade_at_100};
use fairdraw::physics::viscosity_index::viscosity_index;
use fairdraw::physics::{OutOfRange, flow, settling as still, tube};
use proptest::prelude::*;

/// Compares with a printed figure: equal to within half its last place, given as a relative
/// error.
#[track_caller]
fn close(value: f64, printed: f64, relative: f64) {
    assert!(
        (value / printed - 1.0).abs() <= relative,
        "{value} is not {printed}"
    );
}

/// Six printed figures.
const SIX: f64 = 5e-6;

#[track_caller]
fn refused<T: std::fmt::Debug>(result: Result<T, OutOfRange>, quantity: &str) {
    let refusal = result.expect_err(quantity);
    assert_eq!(refusal.quantity, quantity, "{refusal}");
}

/// The examples of `docs/physics.md`.
#[test]
fn the_examples_of_the_page_on_physics_hold() {
    let page = std::fs::read_to_string(crate::support::root().join("docs/physics.md")).unwrap();
    let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
    let says = |text: String| assert!(page.contains(&text), "the page does not say: {text}");
    let warm = viscosity_at(Oil::IsoVg(46.0), 70.0).unwrap().viscosity_cst;
    says(format!("`--iso-vg 46 --temp 70` gives {warm:.1} mm²/s"));
    let line = Oil::Two((40.0, 46.0), (100.0, 6.8));
    let temp_c = temperature_for(line, 100.0).unwrap().temp_c;
    says(format!("100 mm²/s at {temp_c:.1} °C"));
    let flow = reynolds(60.0, 25.0, 46.0).unwrap();
    says(format!(
        "{:.2} m/s, Re {:.0}, {}",
        flow.velocity_m_s, flow.reynolds, flow.regime
    ));
    says(format!(
        "turbulent from {:.0} L/min",
        flow.turbulent_from_l_min
    ));
    let tube = dead_volume(Some((4.0, 150.0)), None, 5.0).unwrap();
    says(format!(
        "holds {:.1} mL; five times that is {:.1} mL",
        tube.dead_volume_ml, tube.flush_ml
    ));
    says(format!("{:.0} % of the oil", 100.0 * tube.old_oil_laminar));
    let iron = StillOil {
        depth_cm: 20.0,
        viscosity_cst: 46.0,
        oil_kg_m3: 853.75,
        particle_kg_m3: 7874.0,
        diameter_um: 25.0,
    };
    says(format!(
        "mid-depth in {:.1} min",
        settling(&iron).unwrap().minutes_to_middle
    ));
}
