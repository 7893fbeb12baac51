//! What can be typed after `fairdraw calc`.

use clap::{Args, Subcommand};

use super::FormatArgs;
use crate::physics::settling::{IRON_KG_M3, LIMIT_DIAMETER_UM, OIL_KG_M3};

#[derive(Args)]
pub struct CalcArgs {
    #[command(subcommand)]
    pub command: CalcCommand,
}

#[derive(Subcommand)]
pub enum CalcCommand {
    /// Kinematic viscosity of an oil at a temperature
    ///
    /// Walther's equation as in ASTM D341, through the viscosities at 40 and 100 °C. From an
    /// ISO VG grade alone, a viscosity index of 95 is assumed.
    #[command(after_help = "\
Examples:
  fairdraw calc viscosity --iso-vg 46 --temp 70
  fairdraw calc viscosity --at-40 100 --at-100 11.1 --temp 65")]
    Viscosity {
        #[command(flatten)]
        oil: Oil,
        /// Oil temperature in °C
        #[arg(long, value_name = "C", allow_negative_numbers = true)]
        temp: f64,
        #[command(flatten)]
        format: FormatArgs,
    },
    /// Reynolds number of the flow past a point
    #[command(after_help = "\
Examples:
  fairdraw calc reynolds --flow 120 --bore 38 --iso-vg 46 --temp 55
  fairdraw calc reynolds --flow 120 --bore 38 --viscosity 25")]
    Reynolds {
        /// Flow past the point in L/min
        #[arg(long, value_name = "L_MIN", allow_negative_numbers = true)]
        flow: f64,
        /// Bore of the line in mm
        #[arg(long, value_name = "MM", allow_negative_numbers = true)]
        bore: f64,
        #[command(flatten)]
        thickness: Thickness,
        #[command(flatten)]
        format: FormatArgs,
    },
    /// Dead volume of tube and fittings, and the flush it asks for
    #[command(after_help = "\
Example:
  fairdraw calc dead-volume --bore 4.3 --length 120 --extra 2")]
    DeadVolume {
        /// Bore of the tube in mm
        #[arg(
            long,
            value_name = "MM",
            requires = "length",
            allow_negative_numbers = true
        )]
        bore: Option<f64>,
        /// Length of the tube in cm
        #[arg(
            long,
            value_name = "CM",
            requires = "bore",
            allow_negative_numbers = true
        )]
        length: Option<f64>,
        /// Valve and fittings on top in mL
        #[arg(long, value_name = "ML", allow_negative_numbers = true)]
        extra: Option<f64>,
        /// How many dead volumes are run off
        #[arg(
            long,
            value_name = "N",
            default_value_t = 5.0,
            allow_negative_numbers = true
        )]
        multiple: f64,
        #[command(flatten)]
        format: FormatArgs,
    },
    /// How soon after a stop a draw must be taken before particles have settled
    ///
    /// Stokes' law for a particle that started at the surface of the oil: the minutes until it
    /// has passed mid-depth. The rules take an iron particle of 20 µm, as here by default.
    #[command(after_help = "\
Example:
  fairdraw calc settling --depth 40 --iso-vg 320 --temp 60")]
    Settling {
        /// Depth of the oil in cm
        #[arg(long, value_name = "CM", allow_negative_numbers = true)]
        depth: f64,
        #[command(flatten)]
        thickness: Thickness,
        #[command(flatten)]
        particle: Particle,
        #[command(flatten)]
        format: FormatArgs,
    },
}

/// Which oil: a grade, or its viscosities at 40 and 100 °C.
#[derive(Args)]
pub struct Oil {
    /// ISO VG grade, 10 to 1000
    #[arg(
        long,
        value_name = "GRADE",
        conflicts_with_all = ["at_40", "at_100"],
        allow_negative_numbers = true
    )]
    pub iso_vg: Option<f64>,
    /// Kinematic viscosity at 40 °C in mm²/s
    #[arg(
        long = "at-40",
        id = "at_40",
        value_name = "MM2_S",
        requires = "at_100",
        allow_negative_numbers = true
    )]
    pub at_40: Option<f64>,
    /// Kinematic viscosity at 100 °C in mm²/s
    #[arg(
        long = "at-100",
        id = "at_100",
        value_name = "MM2_S",
        requires = "at_40",
        allow_negative_numbers = true
    )]
    pub at_100: Option<f64>,
}

/// How thick the oil is: said outright, or by oil and temperature.
#[derive(Args)]
pub struct Thickness {
    /// Kinematic viscosity at that temperature in mm²/s
    #[arg(
        long,
        value_name = "MM2_S",
        conflicts_with_all = ["iso_vg", "at_40", "at_100", "temp"],
        allow_negative_numbers = true
    )]
    pub viscosity: Option<f64>,
    #[command(flatten)]
    pub oil: Oil,
    /// Oil temperature in °C
    #[arg(long, value_name = "C", allow_negative_numbers = true)]
    pub temp: Option<f64>,
}

/// What settles in what.
#[derive(Args)]
pub struct Particle {
    /// Diameter of the particle in µm
    #[arg(
        long,
        value_name = "UM",
        default_value_t = LIMIT_DIAMETER_UM,
        allow_negative_numbers = true
    )]
    pub diameter: f64,
    /// Density of the particle in kg/m³; iron if not given
    #[arg(
        long = "particle-density",
        value_name = "KG_M3",
        default_value_t = IRON_KG_M3,
        allow_negative_numbers = true
    )]
    pub density: f64,
    /// Density of the oil in kg/m³
    #[arg(
        long,
        value_name = "KG_M3",
        default_value_t = OIL_KG_M3,
        allow_negative_numbers = true
    )]
    pub oil_density: f64,
}
