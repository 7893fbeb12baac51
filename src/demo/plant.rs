//! Points and compartments of the scenario.

use super::archetypes::{ARCHETYPES, Archetype, SITE_PATTERN};
use super::dice::Dice;
use super::scenario::site;
use super::stories;
use crate::model::{Kind, Place, Point};
use crate::physics::flow;
use crate::physics::viscosity::{Walther, grade_at_100};

/// How many points stand on one site.
pub const POINTS_A_SITE: usize = 44;

/// A compartment as the rounds see it.
#[derive(Clone, Debug)]
pub struct Compartment {
    /// Number of its site.
    pub site: usize,
    /// What it is.
    pub archetype: &'static Archetype,
    /// Place of its first point in the list of points.
    pub first_point: usize,
    /// How many points a visit draws at: 1, or up to 3 on a tank.
    pub points: usize,
    /// A further point that is not agreed.
    pub other_point: Option<usize>,
    /// It is hard to draw from, whoever comes: a long dead leg on a machine that often
    /// stands still.
    pub hard: bool,
    /// Days between visits.
    pub interval_days: f64,
}

/// The points of a programme and their compartments.
#[derive(Clone, Debug, Default)]
pub struct Plant {
    /// Every point, in the order of `points.csv`.
    pub points: Vec<Point>,
    /// Every compartment; those of one site stand together.
    pub compartments: Vec<Compartment>,
    /// How many sites there are.
    pub sites: usize,
}

impl Plant {
    /// As many points as asked for, site after site.
    #[must_use]
    pub fn invent(points: usize, seed: u64) -> Self {
        let mut plant = Plant::default();
        while plant.points.len() < points {
            let number = plant.sites;
            plant.sites += 1;
            for position in 0..SITE_PATTERN.len() {
                if plant.points.len() < points {
                    plant.add(number, position, points, seed);
                }
            }
        }
        plant
    }

    fn add(&mut self, site_number: usize, position: usize, limit: usize, seed: u64) {
        let (kind_of_machine, with_other) = SITE_PATTERN[position];
        let archetype = &ARCHETYPES[kind_of_machine];
        let number = self.compartments.len() as u64;
        let mut dice = Dice::of(seed, 1, number);
        let (code, site_name) = site(site_number);
        let hard = stories::is_hard(site_number, position);
        let compartment_id = format!("{code}-{:02}", position + 1);

        let mut point = Point::bare(
            &format!("{compartment_id}A"),
            &compartment_id,
            archetype.kind,
        );
        let nth = SITE_PATTERN[..position]
            .iter()
            .filter(|(other, _)| *other == kind_of_machine)
            .count();
        point.machine = Some(format!("{} {}", archetype.machine, nth + 1));
        point.site = Some(site_name);
        point.area = Some(archetype.area.to_owned());
        point.machine_class = Some(archetype.class);
        fit(&mut point, archetype, &mut dice);
        if hard {
            lengthen(&mut point, &mut dice);
        }
        place_in_line(&mut point);
        stories::shape(&mut point, site_number, position);

        let first_point = self.points.len();
        let levels: &[Place] = match archetype.kind {
            Kind::Tank => &[Place::TankUpper, Place::TankMiddle, Place::TankLower],
            _ => &[archetype.point.0],
        };
        for (place, letter) in levels.iter().zip(["A", "B", "C"]) {
            if self.points.len() < limit {
                let mut level = point.clone();
                level.id = format!("{compartment_id}{letter}");
                if archetype.kind == Kind::Tank {
                    level.place = Some(*place);
                }
                self.points.push(level);
            }
        }
        let drawn_at = self.points.len() - first_point;
        let mut other_point = None;
        if with_other && self.points.len() < limit {
            let mut other = point;
            other.id = format!("{compartment_id}X");
            other.agreed = Some(false);
            (other.place, other.method) =
                (Some(archetype.other_point.0), Some(archetype.other_point.1));
            other.tube_mark_cm = None;
            other_point = Some(self.points.len());
            self.points.push(other);
        }
        self.compartments.push(Compartment {
            site: site_number,
            archetype,
            first_point,
            points: drawn_at,
            other_point,
            hard,
            interval_days: archetype.interval_days,
        });
    }

    /// Stretches or shortens all intervals by a factor, and writes them on the points.
    pub fn set_intervals(&mut self, factor: f64) {
        for compartment in &mut self.compartments {
            let days = (compartment.archetype.interval_days * factor).max(1.0);
            compartment.interval_days = days;
            let hours = compartment.archetype.hours_a_day * days;
            let last = compartment.other_point.map_or(0, |_| 1) + compartment.points;
            for point in &mut self.points[compartment.first_point..compartment.first_point + last] {
                point.interval_days = Some(days.ceil());
                point.interval_h = (compartment.archetype.kind != Kind::Grease && hours >= 1.0)
                    .then(|| (hours / 10.0).ceil() * 10.0);
            }
        }
    }
}

/// Copies what the archetype says, with the scatter of real installations.
fn fit(point: &mut Point, archetype: &Archetype, dice: &mut Dice) {
    point.place = Some(archetype.point.0);
    point.method = Some(archetype.point.1);
    point.agreed = Some(true);
    point.fluid = Some(archetype.fluid.to_owned());
    point.iso_vg = archetype.iso_vg;
    point.viscosity_40_cst = archetype.viscosities_cst.map(|(at_40, _)| at_40);
    point.viscosity_100_cst = archetype.viscosities_cst.map(|(_, at_100)| at_100);
    point.normal_temp_c = Some((archetype.normal_temp_c + dice.between(-3.0, 4.0)).round());
    point.bottle_ml = Some(if archetype.kind == Kind::Grease {
        20.0
    } else {
        120.0
    });
    if let Some((flow, bore, pressure)) = archetype.line {
        point.line_flow_l_min = Some((flow * dice.between(0.9, 1.15)).round());
        point.line_bore_mm = Some(bore);
        point.line_pressure_bar = Some((pressure * dice.between(0.8, 1.2) * 10.0).round() / 10.0);
    }
    if matches!(archetype.kind, Kind::Circulating | Kind::Sump) {
        point.tube_bore_mm = Some(archetype.tube.0);
        point.tube_length_cm = Some((archetype.tube.1 * dice.between(0.8, 1.3)).round());
        if archetype.extra_ml > 0.0 {
            point.dead_extra_ml = Some((archetype.extra_ml + dice.between(-1.0, 2.0)).round());
        }
    }
    point.tube_mark_cm = archetype
        .mark_cm
        .map(|mark| (mark + dice.between(-4.0, 4.0)).round());
    point.oil_depth_cm = archetype
        .depth_cm
        .map(|depth| (depth * dice.between(0.85, 1.2)).round());
}

/// A long dead leg: a pipe of 10 mm bore led to where one can stand, 80 to 120 mL.
fn lengthen(point: &mut Point, dice: &mut Dice) {
    point.tube_bore_mm = Some(10.0);
    point.tube_length_cm = Some(dice.between(100.0, 150.0).round());
    point.dead_extra_ml = Some(5.0);
}

/// A laminar line is sampled at a bend, which stirs it.
fn place_in_line(point: &mut Point) {
    let Some(reynolds) = reynolds(point) else {
        return;
    };
    point.at_bend = Some(reynolds < 4400.0);
}

/// Reynolds number at a point in normal service, if its columns give one.
#[must_use]
pub fn reynolds(point: &Point) -> Option<f64> {
    let line = match (point.viscosity_40_cst, point.viscosity_100_cst) {
        (Some(at_40), Some(at_100)) => Walther::through(at_40, at_100),
        _ => Walther::through(point.iso_vg?, grade_at_100(point.iso_vg?)?),
    }?;
    Some(flow::reynolds(
        point.line_flow_l_min?,
        point.line_bore_mm?,
        line.at(point.normal_temp_c?),
    ))
}
