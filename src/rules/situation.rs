//! All that a rule may look at, made ready once a draw. Rules need neither database nor
//! list, and a test case is a few lines.

use crate::model::{Draw, Place, Point};
use crate::physics::viscosity::{Walther, grade_at_100};
use crate::physics::{flow, settling, tube};

/// A point with what follows from its columns.
#[derive(Clone, Copy, Debug)]
pub struct PreparedPoint<'a> {
    /// The point.
    pub point: &'a Point,
    /// Its compartment has an agreed point (this one or another).
    pub compartment_has_agreed: bool,
    /// The viscosity line of its oil, if known.
    pub viscosity: Option<Walther>,
    /// Reynolds number at the point in normal service, if known.
    pub reynolds: Option<f64>,
    /// Dead volume in mL, if known.
    pub dead_volume_ml: Option<f64>,
}

impl<'a> PreparedPoint<'a> {
    /// Works out what follows from the point's columns.
    #[must_use]
    pub fn new(point: &'a Point, compartment_has_agreed: bool) -> Self {
        let viscosity = viscosity_line(point);
        let reynolds = viscosity.and_then(|line| {
            let at_normal = line.at(point.normal_temp_c?);
            Some(flow::reynolds(
                point.line_flow_l_min?,
                point.line_bore_mm?,
                at_normal,
            ))
        });
        let dead_volume_ml = tube::dead_volume_ml(
            point.tube_bore_mm,
            point.tube_length_cm,
            point.dead_extra_ml,
        );
        PreparedPoint {
            point,
            compartment_has_agreed,
            viscosity,
            reynolds,
            dead_volume_ml,
        }
    }

    /// Minutes after a stop until a 20 µm iron particle has passed mid-depth, at this oil
    /// temperature in °C or, if that is blank, at the point's normal one.
    #[must_use]
    pub fn settling_limit_min(&self, oil_temp_c: Option<f64>) -> Option<f64> {
        let temp_c = oil_temp_c.or(self.point.normal_temp_c)?;
        Some(settling::limit_min(
            self.point.oil_depth_cm?,
            self.viscosity?.at(temp_c),
        ))
    }
}

fn viscosity_line(point: &Point) -> Option<Walther> {
    match (point.viscosity_40_cst, point.viscosity_100_cst) {
        (Some(at_40), Some(at_100)) => Walther::through(at_40, at_100),
        _ => {
            let grade = point.iso_vg?;
            Walther::through(grade, grade_at_100(grade)?)
        }
    }
}

/// One draw of a tank set on this compartment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SetMember {
    /// When it was drawn, in seconds since 1970 UTC.
    pub drawn_at: i64,
    /// Where its point sits.
    pub place: Option<Place>,
}

/// Second fills on the same compartment, drawn no earlier, that name this draw's bottle.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SecondFills {
    /// There is none.
    #[default]
    None,
    /// There is at least one; none of them has a `dispatched_at`.
    NotSent,
    /// At least one has a `dispatched_at`.
    Sent,
}

/// A draw and its surroundings.
#[derive(Clone, Copy, Debug)]
pub struct Situation<'a> {
    /// The draw itself.
    pub draw: &'a Draw,
    /// Its point.
    pub point: &'a PreparedPoint<'a>,
    /// The previous draw as the contract defines it.
    pub previous: Option<&'a Draw>,
    /// The second fills that name this draw's bottle.
    pub second_fills: SecondFills,
    /// Of the draws of the same set on the same compartment, this one included: for each
    /// place (and for a blank one) the draw nearest in time, in no order of time. That
    /// answers any question of the kind "within so many hours", and keeps large sets
    /// cheap. Empty if the draw's `set_id` is blank.
    pub set: &'a [SetMember],
    /// How many draws of the programme bear this draw's bottle, itself included; 0 if its
    /// bottle is blank.
    pub bottle_bearers: u32,
}

impl Situation<'_> {
    /// Minutes after a stop until a 20 µm iron particle has passed mid-depth, if known.
    #[must_use]
    pub fn settling_limit_min(&self) -> Option<f64> {
        self.point.settling_limit_min(self.draw.oil_temp_c.get())
    }
}
