//! Velocity, Reynolds number, regimes.

use super::*;

/// Worked out once in Python from `Re = v·d/ν`, apart from this code.
#[test]
fn seven_lines_agree_with_another_implementation() {
    let lines = [
        (60.0, 25.0, 46.0, 2.03718, 1107.16, Regime::Laminar),
        (60.0, 25.0, 14.8473, 2.03718, 3430.24, Regime::Between),
        (100.0, 20.0, 29.9730, 5.30516, 3539.96, Regime::Between),
        (30.0, 12.0, 46.0, 4.42097, 1153.30, Regime::Laminar),
        (200.0, 38.0, 46.0, 2.93915, 2427.99, Regime::Between),
        (200.0, 38.0, 14.8473, 2.93915, 7522.45, Regime::Turbulent),
        (2.0, 6.0, 14.8473, 1.17893, 476.422, Regime::Laminar),
    ];
    for (flow_l_min, bore_mm, viscosity_cst, velocity, number, regime) in lines {
        let found = reynolds(flow_l_min, bore_mm, viscosity_cst).unwrap();
        close(found.velocity_m_s, velocity, SIX);
        close(found.reynolds, number, SIX);
        assert_eq!(found.regime, regime);
        // The handbook form Re = 21220.7·Q/(d·ν).
        close(
            found.reynolds,
            21220.7 * flow_l_min / (bore_mm * viscosity_cst),
            SIX,
        );
    }
}

#[test]
fn the_flow_needed_agrees_with_another_implementation() {
    close(
        reynolds(60.0, 25.0, 46.0).unwrap().turbulent_from_l_min,
        216.770,
        SIX,
    );
    close(
        reynolds(60.0, 25.0, 14.8473).unwrap().turbulent_from_l_min,
        69.9660,
        SIX,
    );
    close(
        flow::reynolds(flow::flow_for_l_min(4000.0, 25.0, 46.0), 25.0, 46.0),
        4000.0,
        1e-12,
    );
}

#[test]
fn regimes_change_at_2300_and_4000() {
    assert_eq!(Regime::of(2299.9), Regime::Laminar);
    assert_eq!(Regime::of(2300.0), Regime::Between);
    assert_eq!(Regime::of(3999.9), Regime::Between);
    assert_eq!(Regime::of(4000.0), Regime::Turbulent);
}

#[test]
fn ranges_hold_at_both_ends() {
    for (flow, bore, viscosity) in [(0.0, 0.5, 2.0), (1e6, 3000.0, 1e6)] {
        assert!(reynolds(flow, bore, viscosity).is_ok());
    }
    refused(reynolds(-0.1, 25.0, 46.0), "flow");
    refused(reynolds(1.1e6, 25.0, 46.0), "flow");
    refused(reynolds(60.0, 0.4, 46.0), "bore of the line");
    refused(reynolds(60.0, 3001.0, 46.0), "bore of the line");
    refused(reynolds(60.0, 25.0, 1.9), "kinematic viscosity");
    refused(reynolds(60.0, 25.0, 1.1e6), "kinematic viscosity");
}
