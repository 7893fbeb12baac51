//! Dead volume, the flush for a multiple of it, and the old oil that would still come.

use super::super::OutOfRange;
use super::super::out_of_range::Range;
use super::super::tube;

const BORE: Range = Range {
    quantity: "bore of the tube",
    low: 0.5,
    high: 200.0,
    unit: "mm",
    reason: "the bore is given in millimetres",
};
const LENGTH: Range = Range {
    quantity: "length of the tube",
    low: 0.1,
    high: 10_000.0,
    unit: "cm",
    reason: "the length is given in centimetres",
};
const EXTRA: Range = Range {
    quantity: "volume of valve and fittings",
    low: 0.0,
    high: 10_000.0,
    unit: "mL",
    reason: "the volume is given in millilitres",
};
const DEAD: Range = Range {
    quantity: "dead volume",
    low: 0.01,
    high: f64::INFINITY,
    unit: "mL",
    reason: "give bore and length of the tube, or the volume of valve and fittings",
};
const MULTIPLE: Range = Range {
    quantity: "multiple of the dead volume",
    low: 0.5,
    high: 100.0,
    unit: "",
    reason: "before half a dead volume nothing but old oil comes; 5 to 10 is common practice",
};

/// What a tube and its fittings hold, and what is run off for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DeadVolume {
    /// Volume of tube, valve and fittings in mL.
    pub dead_volume_ml: f64,
    /// Volume to run off in mL.
    pub flush_ml: f64,
    /// Share of old oil (0 to 1) still leaving then, in laminar flow through a tube.
    pub old_oil_laminar: f64,
    /// Share of old oil (0 to 1) still leaving then, from a perfectly mixed pocket.
    pub old_oil_mixed: f64,
}

/// Dead volume of a tube (bore in mm, length in cm) with its valve and fittings (mL), and
/// the flush for a multiple of it. Either part alone will do.
///
/// # Errors
/// A bore outside 0.5 to 200 mm, a length outside 0.1 to 10 000 cm, fittings outside 0 to
/// 10 000 mL, a multiple outside 0.5 to 100; nothing that holds oil.
pub fn dead_volume(
    tube: Option<(f64, f64)>,
    extra_ml: Option<f64>,
    multiple: f64,
) -> Result<DeadVolume, OutOfRange> {
    if let Some((bore_mm, length_cm)) = tube {
        BORE.check(bore_mm)?;
        LENGTH.check(length_cm)?;
    }
    if let Some(extra_ml) = extra_ml {
        EXTRA.check(extra_ml)?;
    }
    MULTIPLE.check(multiple)?;
    let (bore_mm, length_cm) = tube.unzip();
    let dead = tube::dead_volume_ml(bore_mm, length_cm, extra_ml).unwrap_or(0.0);
    let dead = DEAD.check(dead)?;
    Ok(DeadVolume {
        dead_volume_ml: dead,
        flush_ml: multiple * dead,
        old_oil_laminar: tube::old_oil_laminar(multiple),
        old_oil_mixed: tube::old_oil_mixed(multiple),
    })
}
