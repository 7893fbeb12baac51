//! One visit to one compartment: what was done and what was written down.

use std::fmt::Write as _;

use chrono::Datelike;

use super::clock::{Clock, DAY_S, date, day_number};
use super::dice::Dice;
use super::people::Habits;
use super::plant::Compartment;
use super::stories::{self, SITES};
use crate::model::{
    Draw, DrawRecord, Kind, Look, Looks, MachineState, Method, Moment, Number, Point, PurgeStage,
};
use crate::physics::tube;

/// What is known before the bottle is filled.
pub struct Visit<'a> {
    /// The compartment.
    pub compartment: &'a Compartment,
    /// The points of the programme.
    pub points: &'a [Point],
    /// Place of the technician in the list.
    pub technician: usize,
    /// Name of the technician in the sheets.
    pub technician_id: &'a str,
    /// How the technician draws that day.
    pub habits: Habits,
    /// The day.
    pub day: i64,
    /// The local minute of the day.
    pub minute: i64,
    /// Machine counter in hours.
    pub machine_hours: f64,
    /// Hours on the oil charge.
    pub oil_hours: f64,
    /// Last day of the programme: what would come later has not happened yet.
    pub last_day: i64,
}

/// Where records are written down, one over the other.
pub struct Desk {
    /// The clock on the wall.
    pub clock: Clock,
    /// Draws so far.
    pub draws: u64,
    /// Bottles so far.
    pub bottles: u64,
    /// The record of the last draw.
    pub record: DrawRecord,
}

impl Visit<'_> {
    /// Fills in one record for the point at this place of the list, at `minute` of the day.
    pub fn fill(&self, point: usize, dice: &mut Dice, desk: &mut Desk) {
        let at = self.place_of_draw(point, dice);
        let point = &self.points[at];
        let drawn_at = desk.clock.instant(self.day, self.minute);
        desk.draws += 1;
        // Now and then a code is stuck on twice.
        if !dice.chance(0.004) || desk.bottles == 0 {
            desk.bottles += 1;
        }
        let record = &mut desk.record;
        record.facts = Draw::bare(at as u32, self.technician as u32, drawn_at);
        renew(&mut record.draw_id, format_args!("D{:07}", desk.draws));
        renew(&mut record.bottle_id, format_args!("B{:07}", desk.bottles));
        renew(&mut record.point_id, format_args!("{}", point.id));
        renew(
            &mut record.technician_id,
            format_args!("{}", self.technician_id),
        );
        for text in [
            &mut record.fluid,
            &mut record.pair_of,
            &mut record.set_id,
            &mut record.remarks,
        ] {
            text.clear();
        }
        record.topped_up_l = Number::BLANK;

        let facts = &mut record.facts;
        facts.method = self.method(point, dice);
        match point.kind {
            Kind::Circulating | Kind::Sump => {
                self.machine(facts, dice);
                self.flush(point, facts, dice);
                self.counters(facts, dice);
                if dice.chance(0.06) {
                    record.topped_up_l = Number::new(dice.between(1.0, 25.0).round());
                }
            }
            Kind::Tank => {
                facts.oil_temp_c = Number::new(dice.around(20.0, 4.0).round());
            }
            Kind::Grease => self.grease(facts, dice),
        }
        self.bottle(point, facts, dice);
        self.label(point, record, dice);
        self.custody(&mut record.facts, dice);
        self.slip(record, dice);
    }

    /// The point asked for, or by mistake the further point of the compartment.
    fn place_of_draw(&self, point: usize, dice: &mut Dice) -> usize {
        match self.compartment.other_point {
            Some(other) if dice.chance(self.habits.strays * 2.0) => other,
            _ => point,
        }
    }

    fn method(&self, point: &Point, dice: &mut Dice) -> Option<Method> {
        let agreed = point.method.unwrap_or(self.compartment.archetype.point.1);
        let strays = dice.chance(self.habits.strays);
        if dice.chance(self.habits.blank * 0.5) {
            return None;
        }
        Some(match (strays, agreed) {
            (true, Method::LineValve | Method::TubePump) => Method::Drain,
            (true, Method::SumpValve) => Method::TubePump,
            (true, Method::GreaseNeedle) => Method::GreasePurge,
            (_, agreed) => agreed,
        })
    }

    /// State of the machine and temperature of the oil.
    fn machine(&self, facts: &mut Draw, dice: &mut Dice) {
        let habits = &self.habits;
        let archetype = self.compartment.archetype;
        let circulating = archetype.kind == Kind::Circulating;
        let by_tube = facts.method == Some(Method::TubePump);
        let stands_still = self.compartment.hard && dice.chance(0.35);
        let stops = if circulating {
            habits.stops
        } else if by_tube {
            1.0
        } else {
            (habits.stops * 3.0).min(0.8)
        };
        let normal = self.points[facts.point as usize]
            .normal_temp_c
            .unwrap_or(archetype.normal_temp_c);
        let warm = if dice.chance(habits.cold) {
            normal - dice.between(16.0, 35.0)
        } else {
            dice.around(normal - 2.0, 3.0)
                .clamp(normal - 13.0, normal + 9.0)
        };
        let stopped_min = if stands_still {
            Some(dice.mostly_low(40.0, 400.0))
        } else if dice.chance(stops) {
            let (least, most) = habits.stopped_min;
            // A sump is drawn from by hand: even the crew that stops early is at times quick.
            let quick = !circulating && least > 30.0 && dice.chance(0.25);
            Some(if quick {
                dice.between(4.0, 12.0)
            } else {
                dice.mostly_low(least, most)
            })
        } else {
            None
        };
        let oil_temp = stopped_min.map_or(warm, |minutes| cooled(warm, minutes, circulating));
        let blank = habits.blank;
        if !dice.chance(blank * 0.7) {
            facts.machine_state = Some(match stopped_min {
                Some(_) => MachineState::Stopped,
                None => MachineState::Running,
            });
        }
        if let Some(minutes) = stopped_min
            && !dice.chance(blank * 1.5)
        {
            // People write fives.
            let fives = dice.chance(0.7) && minutes > 7.0;
            let minutes = if fives {
                (minutes / 5.0).round() * 5.0
            } else {
                minutes.round()
            };
            facts.stopped_min = Number::new(minutes);
        }
        if !dice.chance(blank * 1.5) {
            facts.oil_temp_c = Number::new(oil_temp.round());
        }
    }

    fn flush(&self, point: &Point, facts: &mut Draw, dice: &mut Dice) {
        let habits = &self.habits;
        let dead = tube::dead_volume_ml(
            point.tube_bore_mm,
            point.tube_length_cm,
            point.dead_extra_ml,
        );
        // Half a litre is seldom run off, whoever comes.
        let measures = habits.measures_flush * if self.compartment.hard { 0.2 } else { 1.0 };
        let flushed = match dead {
            Some(dead) if dice.chance(measures) => {
                (dead * dice.between(5.0, 7.5) / 10.0).ceil() * 10.0
            }
            _ => (habits.usual_flush_ml * dice.between(0.6, 1.5) / 5.0).round() * 5.0,
        };
        if !dice.chance(habits.blank * 1.3) {
            facts.flushed_ml = Number::new(flushed);
        }
    }

    fn counters(&self, facts: &mut Draw, dice: &mut Dice) {
        let blank = self.habits.blank;
        if !dice.chance(blank) {
            facts.machine_hours = Number::new(self.machine_hours.round());
        }
        if !dice.chance(blank * 2.0) {
            facts.oil_hours = Number::new(self.oil_hours.round());
        }
    }

    fn grease(&self, facts: &mut Draw, dice: &mut Dice) {
        facts.machine_state = Some(match facts.method {
            Some(Method::GreasePurge) => MachineState::Running,
            _ => MachineState::Stopped,
        });
        if facts.method == Some(Method::GreasePurge) && !dice.chance(self.habits.blank * 1.5) {
            facts.purge_stage = Some(if dice.chance(self.habits.grease_midway) {
                PurgeStage::Middle
            } else if dice.chance(0.6) {
                PurgeStage::Start
            } else {
                PurgeStage::End
            });
        }
    }

    /// Cleanliness, fill and what was seen.
    fn bottle(&self, point: &Point, facts: &mut Draw, dice: &mut Dice) {
        let habits = &self.habits;
        let blank = habits.blank;
        let mut answer = |broken: f64| {
            let broken = dice.chance(broken);
            (!dice.chance(blank)).then_some(!broken)
        };
        facts.point_cleaned = answer(habits.careless);
        facts.capped_at_once = answer(habits.careless * 0.7);
        facts.bottle_ok = answer(habits.unfit_bottle);
        facts.safety_confirmed = answer(0.012);
        if facts.method == Some(Method::TubePump) {
            facts.tube_new = answer(habits.careless * 1.2);
            if let Some(mark) = point.tube_mark_cm
                && !dice.chance(blank)
            {
                let off = dice.chance(habits.careless);
                let scatter = if off { 9.0 } else { 1.6 };
                facts.tube_mark_cm = Number::new(dice.around(mark, scatter).round().max(2.0));
            }
        }
        if point.kind == Kind::Grease {
            return;
        }
        let (usual, scatter) = habits.fill_pct;
        if !dice.chance(blank) {
            let fill = (dice.around(usual, scatter) / 5.0).round() * 5.0;
            facts.fill_pct = Number::new(fill.clamp(10.0, 100.0));
        }
        if !dice.chance(blank * 1.4) {
            facts.looks = look(dice);
        }
    }

    fn label(&self, point: &Point, record: &mut DrawRecord, dice: &mut Dice) {
        let blank = self.habits.blank;
        if !dice.chance(blank) {
            record.fluid.push_str(point.fluid.as_deref().unwrap_or(""));
        }
        record.facts.fluid_written = !record.fluid.is_empty();
        if dice.chance(blank * 0.25) {
            record.bottle_id.clear();
        }
    }

    /// When the record was typed, the bottle registered, sent and received.
    fn custody(&self, facts: &mut Draw, dice: &mut Dice) {
        let drawn = facts.drawn_at;
        let hours = |hours: f64| (hours * 60.0).round() as i64 * 60;
        let happened = |instant: i64| {
            if instant < (self.last_day + 1) * DAY_S {
                Moment::new(instant)
            } else {
                Moment::BLANK
            }
        };
        let recorded = drawn + hours(dice.mostly_low(0.2, 20.0));
        facts.recorded_at = happened(if self.is_typed_by_the_month() {
            self.typed_next_month(drawn)
        } else {
            recorded
        });
        let (first, last) = stories::waiting_month();
        let waits = (first..=last).contains(&self.day) && dice.chance(0.85);
        let until_sent = if waits {
            dice.between(52.0, 190.0)
        } else if dice.chance(0.13) {
            dice.between(49.0, 90.0)
        } else {
            dice.between(2.0, 44.0)
        };
        let registers = self.compartment.site % SITES != stories::NOT_REGISTERED_SITE;
        if dice.chance(if registers { 0.96 } else { 0.04 }) {
            facts.registered_at = happened(drawn + hours(until_sent * dice.between(0.3, 0.9)));
        }
        let sent = drawn + hours(until_sent);
        let way = if dice.chance(0.05) {
            dice.between(130.0, 260.0)
        } else {
            dice.between(20.0, 90.0)
        };
        if !dice.chance(self.habits.blank) {
            facts.dispatched_at = happened(sent);
        }
        if !dice.chance(0.02) {
            facts.received_at = happened(sent + hours(way));
        }
    }

    fn is_typed_by_the_month(&self) -> bool {
        self.technician % stories::TECHNICIANS == stories::TYPED_BY_THE_MONTH
    }

    /// The late afternoon of the third day of the next month, one sheet after the other.
    fn typed_next_month(&self, drawn: i64) -> i64 {
        let month = date(self.day).year() * 12 + date(self.day).month0().cast_signed() + 1;
        let month_of_year = month.rem_euclid(12).cast_unsigned() + 1;
        let third = day_number(month.div_euclid(12), month_of_year, 3);
        third * DAY_S + 17 * 3600 + drawn / 60 % 40 * 60
    }

    /// Mistakes of clocks and of typing.
    fn slip(&self, record: &mut DrawRecord, dice: &mut Dice) {
        let facts = &mut record.facts;
        if dice.chance(0.006) {
            // The day before was typed.
            facts.dispatched_at = Moment::new(facts.drawn_at - DAY_S + 3600);
            record.remarks.push_str("dispatch note dated by hand");
        } else if dice.chance(0.005) {
            facts.recorded_at = Moment::new(facts.drawn_at - 3600);
        } else if dice.chance(0.004) {
            if let Some(counter) = facts.machine_hours.get() {
                facts.machine_hours = Number::new((counter / 10.0).floor());
            }
        } else if dice.chance(0.012) {
            record.remarks.push_str(REMARKS[dice.place(REMARKS.len())]);
        }
    }
}

const REMARKS: [&str; 6] = [
    "valve stiff",
    "drip tray full",
    "filter changed last week",
    "água na bandeja, limpo",
    "light poor at the point",
    "crew relieved during the round",
];

fn look(dice: &mut Dice) -> Looks {
    match dice.fraction() {
        f if f < 0.885 => Looks::NONE.with(Look::Clear),
        f if f < 0.92 => Looks::NONE.with(Look::Cloudy),
        f if f < 0.93 => Looks::NONE.with(Look::Emulsified).with(Look::Water),
        f if f < 0.955 => Looks::NONE.with(Look::Sediment),
        f if f < 0.975 => Looks::NONE.with(Look::Metal),
        f if f < 0.98 => Looks::NONE.with(Look::Metal).with(Look::Sediment),
        _ => Looks::NONE.with(Look::Water),
    }
}

/// Oil temperature in °C some minutes after the stop: cooling towards 20 °C with a time
/// constant of three hours for a system with a reservoir, of 70 minutes for a sump (orders
/// of magnitude, from memory).
fn cooled(from_c: f64, minutes: f64, circulating: bool) -> f64 {
    let constant_min = if circulating { 180.0 } else { 70.0 };
    20.0 + (from_c - 20.0) * libm::exp(-minutes / constant_min)
}

/// Replaces a text without giving its memory back.
fn renew(text: &mut String, with: std::fmt::Arguments<'_>) {
    text.clear();
    // Writing to a text can't fail.
    let _ = text.write_fmt(with);
}
