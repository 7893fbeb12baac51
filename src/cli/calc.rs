//! `fairdraw calc`: the physics of a point on its own.

use super::args::{CalcArgs, CalcCommand, Format, FormatArgs, Oil, Particle, Thickness};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::physics::OutOfRange;
use crate::physics::calc;
use crate::physics::calc::settling::StillOil;
use crate::physics::calc::viscosity::Oil as KnownOil;
use crate::physics::flow::Regime;
use crate::report::{Cell, rows};

/// What was worked out: quantities, and what to say beside a table.
struct Worked {
    quantities: Vec<Vec<Cell<'static>>>,
    remarks: Vec<&'static str>,
}

impl From<OutOfRange> for Failure {
    fn from(error: OutOfRange) -> Self {
        Failure::WrongUse(error.to_string())
    }
}

/// Runs the command.
pub fn run(args: &CalcArgs, output: &mut Output) -> Result<Finish, Failure> {
    let (worked, format) = match &args.command {
        CalcCommand::Viscosity { oil, temp, format } => (viscosity(oil, *temp)?, format),
        CalcCommand::Reynolds {
            flow,
            bore,
            thickness,
            format,
        } => (reynolds(*flow, *bore, thickness)?, format),
        CalcCommand::DeadVolume {
            bore,
            length,
            extra,
            multiple,
            format,
        } => (dead_volume(bore.zip(*length), *extra, *multiple)?, format),
        CalcCommand::Settling {
            depth,
            thickness,
            particle,
            format,
        } => (settling(*depth, thickness, particle)?, format),
    };
    print(worked, *format, output)
}

fn print(worked: Worked, args: FormatArgs, output: &mut Output) -> Result<Finish, Failure> {
    output.report(args.format.into(), rows::CALC, worked.quantities)?;
    if matches!(args.format, Format::Table) {
        output.flush()?;
        worked.remarks.into_iter().for_each(remark);
    }
    Ok(Finish::Done)
}

fn viscosity(oil: &Oil, temp_c: f64) -> Result<Worked, Failure> {
    let (viscosity_cst, remarks) = at(oil, temp_c)?;
    Ok(Worked {
        quantities: vec![rows::quantity(
            "kinematic viscosity",
            viscosity_cst,
            "mm²/s",
        )],
        remarks,
    })
}

fn reynolds(flow_l_min: f64, bore_mm: f64, thickness: &Thickness) -> Result<Worked, Failure> {
    let (viscosity_cst, mut remarks) = thickness_cst(thickness)?;
    let flow = calc::reynolds::reynolds(flow_l_min, bore_mm, viscosity_cst)?;
    remarks.push(match flow.regime {
        Regime::Laminar => {
            "laminar: the oil slides in layers and does not mix; the default rulebook asks for a \
             point on a bend or elbow"
        }
        Regime::Between => {
            "between laminar and turbulent: not to be relied on; the default rulebook asks for a \
             point on a bend or elbow"
        }
        Regime::Turbulent => "turbulent: the flow mixes the oil",
    });
    Ok(Worked {
        quantities: vec![
            rows::quantity("kinematic viscosity", viscosity_cst, "mm²/s"),
            rows::quantity("mean velocity", flow.velocity_m_s, "m/s"),
            rows::quantity("Reynolds number", flow.reynolds, ""),
            rows::quantity("turbulent from", flow.turbulent_from_l_min, "L/min"),
        ],
        remarks,
    })
}

fn dead_volume(
    tube: Option<(f64, f64)>,
    extra_ml: Option<f64>,
    multiple: f64,
) -> Result<Worked, Failure> {
    let dead = calc::dead_volume::dead_volume(tube, extra_ml, multiple)?;
    Ok(Worked {
        quantities: vec![
            rows::quantity("dead volume", dead.dead_volume_ml, "mL"),
            rows::quantity("flush before the bottle", dead.flush_ml, "mL"),
            rows::quantity("old oil left, laminar", 100.0 * dead.old_oil_laminar, "%"),
            rows::quantity("old oil left, mixed", 100.0 * dead.old_oil_mixed, "%"),
        ],
        remarks: vec![
            "old oil left: its share in what still comes after the flush, from a tube in laminar \
             flow and from a perfectly mixed pocket",
            "caution: oil may be hot and under pressure. Open slowly, catch the flush, wear what \
             the site asks for, and keep to its rules and permits.",
        ],
    })
}

fn settling(depth_cm: f64, thickness: &Thickness, particle: &Particle) -> Result<Worked, Failure> {
    let (viscosity_cst, mut remarks) = thickness_cst(thickness)?;
    let settling = calc::settling::settling(&StillOil {
        depth_cm,
        viscosity_cst,
        oil_kg_m3: particle.oil_density,
        particle_kg_m3: particle.density,
        diameter_um: particle.diameter,
    })?;
    if settling.rough {
        remarks.push("rough: the particle is so large that Stokes' law is some percent too fast");
    }
    remarks.push(
        "caution: a machine that has just stopped may be hot, under pressure or start again. \
         Isolate it as the site's rules and permits ask before reaching in.",
    );
    Ok(Worked {
        quantities: vec![
            rows::quantity("kinematic viscosity", viscosity_cst, "mm²/s"),
            rows::quantity("settling speed", settling.speed_m_s * 60_000.0, "mm/min"),
            rows::quantity("time to mid-depth", settling.minutes_to_middle, "min"),
        ],
        remarks,
    })
}

/// The viscosity in mm²/s, with what is to be said about it.
fn thickness_cst(thickness: &Thickness) -> Result<(f64, Vec<&'static str>), Failure> {
    match (thickness.viscosity, thickness.temp) {
        (Some(viscosity_cst), _) => Ok((viscosity_cst, Vec::new())),
        (None, Some(temp_c)) => at(&thickness.oil, temp_c),
        (None, None) => Err(Failure::WrongUse(
            "how thick is the oil? Give --viscosity, or --temp with --iso-vg or with --at-40 and \
             --at-100"
                .to_owned(),
        )),
    }
}

fn at(oil: &Oil, temp_c: f64) -> Result<(f64, Vec<&'static str>), Failure> {
    let known = match (oil.iso_vg, oil.at_40, oil.at_100) {
        (Some(grade), ..) => KnownOil::IsoVg(grade),
        (None, Some(at_40), Some(at_100)) => KnownOil::Two((40.0, at_40), (100.0, at_100)),
        _ => {
            return Err(Failure::WrongUse(
                "which oil? Give --iso-vg, or --at-40 and --at-100".to_owned(),
            ));
        }
    };
    let at = calc::viscosity::viscosity_at(known, temp_c)?;
    let mut remarks = Vec::new();
    if oil.iso_vg.is_some() {
        remarks.push("from the grade alone: a viscosity index of 95 is assumed");
    }
    if at.drawn_out {
        remarks.push("outside 0 to 150 °C the line is drawn out: take the result as rough");
    }
    Ok((at.viscosity_cst, remarks))
}
