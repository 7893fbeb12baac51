//! The physics on its own.
//!
//! The values are those of the physics tests (see their sources); here it is the options,
//! units and ranges that count.

use super::runner::Room;

#[test]
fn quantities_carry_their_units_and_cautions() {
    Room::with_sheets().journey(
        "calc",
        &[
            &["calc", "viscosity", "--iso-vg", "46", "--temp", "70"],
            &[
                "calc",
                "viscosity",
                "--at-40",
                "100",
                "--at-100",
                "11.1",
                "--temp",
                "40",
                "--format",
                "json",
            ],
            &[
                "calc", "reynolds", "--flow", "120", "--bore", "38", "--iso-vg", "46", "--temp",
                "55",
            ],
            &[
                "calc",
                "reynolds",
                "--flow",
                "600",
                "--bore",
                "38",
                "--viscosity",
                "20",
                "--format",
                "csv",
            ],
            &["calc", "dead-volume", "--bore", "4", "--length", "100"],
            &[
                "calc",
                "dead-volume",
                "--bore",
                "4",
                "--length",
                "100",
                "--extra",
                "2",
                "--multiple",
                "10",
            ],
            &["calc", "dead-volume", "--extra", "7.5"],
            &[
                "calc", "settling", "--depth", "40", "--iso-vg", "320", "--temp", "60",
            ],
            &[
                "calc",
                "settling",
                "--depth",
                "40",
                "--viscosity",
                "100",
                "--diameter",
                "200",
                "--particle-density",
                "2650",
            ],
        ],
    );
}

#[test]
fn what_lies_outside_its_range_is_wrong_use() {
    Room::with_sheets().journey(
        "calc-range",
        &[
            &["calc", "viscosity", "--iso-vg", "47", "--temp", "70"],
            &[
                "calc",
                "viscosity",
                "--at-40",
                "10",
                "--at-100",
                "11",
                "--temp",
                "70",
            ],
            &["calc", "viscosity", "--iso-vg", "46", "--temp", "-61"],
            &["calc", "viscosity", "--iso-vg", "46", "--temp", "NaN"],
            &["calc", "viscosity", "--temp", "70"],
            &[
                "calc",
                "reynolds",
                "--flow",
                "-1",
                "--bore",
                "38",
                "--viscosity",
                "20",
            ],
            &[
                "calc",
                "reynolds",
                "--flow",
                "1",
                "--bore",
                "0",
                "--viscosity",
                "20",
            ],
            &["calc", "dead-volume", "--bore", "4"],
            &["calc", "dead-volume"],
            &["calc", "settling", "--depth", "0", "--viscosity", "100"],
            &["calc", "settling", "--depth", "40", "--iso-vg", "320"],
        ],
    );
}
