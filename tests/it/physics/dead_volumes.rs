//! Dead volumes, flushes, old oil.

use super::*;

/// Bore in mm; then mL in 1 m, 0.6 m and 1.5 m (π/4·d²·L, worked out once in Python).
#[test]
fn common_tubes_hold_what_the_table_says() {
    let tubes = [
        (4.0, 12.5664, 7.53982, 18.8496),
        (4.32, 14.6574, 8.79445, 21.9861),
        (4.76, 17.7952, 10.6771, 26.6929),
        (6.0, 28.2743, 16.9646, 42.4115),
        (6.35, 31.6692, 19.0015, 47.5038),
        (10.0, 78.5398, 47.1239, 117.810),
    ];
    for (bore_mm, one, shorter, longer) in tubes {
        for (length_cm, ml) in [(100.0, one), (60.0, shorter), (150.0, longer)] {
            let found = dead_volume(Some((bore_mm, length_cm)), None, 5.0).unwrap();
            close(found.dead_volume_ml, ml, SIX);
            close(found.flush_ml, 5.0 * ml, SIX);
        }
    }
}

/// Laminar 1/(4n²) (residence times in a pipe, reaction engineering textbooks, from
/// memory) and mixed exp(−n).
#[test]
fn old_oil_fades_as_the_table_says() {
    let table = [
        (1.0, 0.250000, 0.367879),
        (2.0, 0.0625000, 0.135335),
        (3.0, 0.0277778, 0.0497871),
        (5.0, 0.0100000, 0.00673795),
        (10.0, 0.00250000, 0.0000453999),
    ];
    for (multiple, laminar, mixed) in table {
        let found = dead_volume(None, Some(10.0), multiple).unwrap();
        close(found.old_oil_laminar, laminar, SIX);
        close(found.old_oil_mixed, mixed, SIX);
    }
    assert_eq!(tube::old_oil_laminar(0.5), 1.0);
    assert_eq!(tube::old_oil_laminar(0.2), 1.0);
}

/// Mixing after a top-up, unmixed share exp(−turnovers): 3 and 5 turnovers.
#[test]
fn turnovers_mix_a_charge() {
    close(tube::old_oil_mixed(3.0), 0.0497871, SIX);
    close(tube::old_oil_mixed(5.0), 0.00673795, SIX);
}

#[test]
fn ranges_hold_at_both_ends() {
    assert!(dead_volume(Some((0.5, 100.0)), None, 0.5).is_ok());
    assert!(dead_volume(Some((200.0, 10_000.0)), Some(10_000.0), 100.0).is_ok());
    assert!(dead_volume(Some((4.0, 0.1)), Some(0.0), 5.0).is_ok());
    refused(
        dead_volume(Some((0.4, 100.0)), None, 5.0),
        "bore of the tube",
    );
    refused(
        dead_volume(Some((201.0, 100.0)), None, 5.0),
        "bore of the tube",
    );
    refused(
        dead_volume(Some((4.0, 0.0)), None, 5.0),
        "length of the tube",
    );
    refused(
        dead_volume(Some((4.0, 10_001.0)), None, 5.0),
        "length of the tube",
    );
    refused(
        dead_volume(None, Some(-1.0), 5.0),
        "volume of valve and fittings",
    );
    refused(
        dead_volume(None, Some(10_001.0), 5.0),
        "volume of valve and fittings",
    );
    refused(
        dead_volume(None, Some(2.0), 0.4),
        "multiple of the dead volume",
    );
    refused(
        dead_volume(None, Some(2.0), 101.0),
        "multiple of the dead volume",
    );
    refused(dead_volume(None, None, 5.0), "dead volume");
    refused(dead_volume(None, Some(0.0), 5.0), "dead volume");
}
