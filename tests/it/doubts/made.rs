//! Honest programmes of people with habits: they round in ways of their own, share jugs, type at
//! the end of the shift or of the week, slip now and then, and read counters that are broken.
//! None of it is a story; whatever is listed here is a false alarm.

use fairdraw::analysis::doubts::Written;
use fairdraw::analysis::{Assessed, WorkedOut};
use fairdraw::demo::dice::Dice;
use fairdraw::model::time::Tz;
use fairdraw::model::{
    Draw, Judged, Kind, MachineState, Moment, Number, Point, RuleSet, Technician, Verdict,
};
use fairdraw::rules::Rulebook;

pub const HOUR: i64 = 3600;
pub const DAY: i64 = 24 * HOUR;
/// 2026-01-05T00:00:00Z, a Monday.
pub const BEGIN: i64 = 1_767_571_200;

/// How large.
#[derive(Clone, Copy, Debug)]
pub struct Size {
    pub sites: usize,
    /// Technicians of each site.
    pub crew: usize,
    /// Points of each site.
    pub points: usize,
    pub days: i64,
}

/// A programme: points, people, draws with the grade on their labels.
#[derive(Clone)]
pub struct Made {
    pub points: Vec<Point>,
    pub technicians: usize,
    pub draws: Vec<(Draw, String)>,
}

const GRADES: [&str; 5] = [
    "Halmyr 46",
    "Halmyr 68",
    "Odrune 15",
    "Halmyr Gear 220",
    "Sefkal EP 2",
];

/// What a person does as a matter of habit.
struct Habits {
    fill: (f64, f64, f64),
    flush: (f64, f64, f64),
    temp_step: f64,
    hours_step: f64,
    clock_min: i64,
    typing: Typing,
    blank: f64,
    slips: f64,
}

#[derive(Clone, Copy, PartialEq)]
enum Typing {
    AtOnce,
    EndOfShift,
    EndOfWeek,
}

/// A machine with its counter.
struct Machine {
    hours: f64,
    a_day: f64,
    oil_life: f64,
    normal: f64,
    broken_from: i64,
    changed_on: i64,
    every: i64,
    next: i64,
}

pub fn honest(size: Size, seed: u64) -> Made {
    let mut dice = Dice::of(seed, 77, 0);
    let mut points = Vec::new();
    let mut machines = Vec::new();
    for site in 0..size.sites {
        for number in 0..size.points {
            let name = format!("{site}-{number}");
            let kind = [
                Kind::Circulating,
                Kind::Sump,
                Kind::Sump,
                Kind::Circulating,
                Kind::Tank,
            ][dice.place(5)];
            let mut point = Point::bare(&format!("P-{name}"), &format!("C-{name}"), kind);
            point.machine = Some(format!("M-{name}"));
            point.site = Some(format!("Site {site}"));
            point.fluid = Some(GRADES[dice.place(GRADES.len())].to_owned());
            points.push(point);
            let every = [7, 10, 14, 21, 30][dice.place(5)];
            machines.push(Machine {
                hours: dice.between(500.0, 40_000.0).floor(),
                a_day: if dice.chance(0.1) {
                    dice.between(0.0, 1.0)
                } else {
                    dice.between(6.0, 24.0)
                },
                oil_life: dice.between(500.0, 6000.0),
                normal: dice.between(45.0, 88.0).round(),
                broken_from: if dice.chance(0.04) {
                    dice.between(0.0, size.days as f64) as i64
                } else {
                    i64::MAX
                },
                changed_on: if dice.chance(0.05) {
                    dice.between(0.0, size.days as f64) as i64
                } else {
                    i64::MAX
                },
                every,
                next: dice.between(0.0, every as f64) as i64,
            });
        }
    }
    let habits: Vec<Habits> = (0..size.sites * size.crew)
        .map(|number| habits(seed, number, number / size.crew))
        .collect();
    let mut made = Made {
        points,
        technicians: habits.len(),
        draws: Vec::new(),
    };
    for day in 0..size.days {
        let mut clock = vec![0_i64; habits.len()];
        for (place, machine) in machines.iter_mut().enumerate() {
            if machine.next > day {
                continue;
            }
            let late = dice.between(-1.0, 2.5) as i64;
            machine.next = day + (machine.every + late).max(1);
            let site = place / size.points;
            let site = if dice.chance(0.04) {
                dice.place(size.sites)
            } else {
                site
            };
            let who = site * size.crew + dice.place(size.crew);
            if clock[who] == 0 {
                clock[who] = 6 * 60 + dice.between(0.0, 90.0) as i64;
            }
            clock[who] += dice.between(7.0, 34.0) as i64;
            let drawn = draw(
                &made.points,
                machine,
                place,
                who,
                (day, clock[who]),
                &habits[who],
                &mut dice,
            );
            made.draws.push(drawn);
        }
    }
    for who in 0..habits.len() {
        backlog(&mut made, who, &mut dice);
    }
    consignments(&mut made, &mut dice);
    made
}

fn habits(seed: u64, number: usize, crew: usize) -> Habits {
    let mut own = Dice::of(seed, 78, number as u64);
    let mut shared = Dice::of(seed, 79, crew as u64);
    // A crew may share a jug, a mark on its bottles, or a habit of typing.
    let jug = shared.chance(0.25);
    let mark = shared.chance(0.25);
    let weekly = shared.chance(0.2);
    Habits {
        fill: (
            own.between(62.0, 80.0),
            if mark { 4.0 } else { own.between(5.0, 12.0) },
            [1.0, 5.0, 5.0, 10.0, 10.0, 20.0][own.place(6)],
        ),
        flush: (
            if jug {
                shared.between(80.0, 400.0)
            } else {
                own.between(60.0, 400.0)
            },
            if jug { 0.08 } else { own.between(0.2, 0.45) },
            if jug {
                100.0
            } else {
                [5.0, 10.0, 10.0, 25.0, 50.0][own.place(5)]
            },
        ),
        temp_step: [1.0, 1.0, 1.0, 5.0][own.place(4)],
        hours_step: [1.0, 1.0, 1.0, 1.0, 5.0, 10.0][own.place(6)],
        clock_min: [1, 1, 5, 5, 15, 60][own.place(6)],
        typing: if weekly {
            Typing::EndOfWeek
        } else {
            [Typing::AtOnce, Typing::EndOfShift][own.place(2)]
        },
        blank: own.between(0.0, 0.12),
        slips: own.between(0.0, 0.012),
    }
}

fn to_step(value: f64, step: f64) -> f64 {
    (value / step).round() * step
}

fn draw(
    points: &[Point],
    machine: &Machine,
    point: usize,
    technician: usize,
    (day, minute): (i64, i64),
    habits: &Habits,
    dice: &mut Dice,
) -> (Draw, String) {
    let minute = (minute / habits.clock_min) * habits.clock_min;
    let at = BEGIN + day * DAY + minute * 60;
    let mut draw = Draw::bare(point as u32, technician as u32, at);
    let on = |dice: &mut Dice| !dice.chance(habits.blank);
    if points[point].kind != Kind::Tank {
        let stands = machine.a_day < 1.0;
        let stopped = stands || dice.chance(0.25);
        draw.machine_state = Some(if stopped {
            MachineState::Stopped
        } else {
            MachineState::Running
        });
        let elapsed = day.min(machine.broken_from) as f64 + minute as f64 / 1440.0;
        let elapsed = if day >= machine.broken_from {
            elapsed.floor()
        } else {
            elapsed
        };
        let gained = elapsed * machine.a_day;
        let hours = if day >= machine.changed_on {
            (day - machine.changed_on) as f64 * machine.a_day
        } else {
            machine.hours + gained
        };
        if on(dice) {
            let mut hours = to_step(hours.floor(), habits.hours_step);
            if dice.chance(habits.slips) {
                hours = (hours / 10.0).floor();
            }
            draw.machine_hours = Number::new(hours);
        }
        if on(dice) {
            let oil = (gained + machine.hours) % machine.oil_life;
            draw.oil_hours = Number::new(to_step(oil.floor(), habits.hours_step));
        }
        let temp = if stands {
            dice.around(19.0, 3.0)
        } else {
            dice.around(machine.normal, 3.0)
        };
        if on(dice) {
            draw.oil_temp_c = Number::new(to_step(temp, habits.temp_step));
        }
        if stopped && on(dice) {
            draw.stopped_min = Number::new(to_step(dice.between(2.0, 40.0), 5.0));
        }
        if on(dice) {
            let (usual, scatter, step) = habits.flush;
            let flushed = dice.around(usual, usual * scatter);
            draw.flushed_ml = Number::new(to_step(flushed, step).max(step));
        }
    }
    if on(dice) {
        let (usual, scatter, step) = habits.fill;
        draw.fill_pct = Number::new(to_step(dice.around(usual, scatter), step).clamp(20.0, 100.0));
    }
    let recorded = match habits.typing {
        Typing::AtOnce => at + dice.between(120.0, 3000.0) as i64,
        Typing::EndOfShift => BEGIN + day * DAY + 15 * HOUR + dice.between(0.0, 1500.0) as i64,
        Typing::EndOfWeek => {
            BEGIN + (day / 7 * 7 + 6) * DAY + 14 * HOUR + dice.between(0.0, 5000.0) as i64
        }
    };
    if on(dice) {
        draw.recorded_at = Moment::new(recorded.max(at));
    }
    let mut fluid = if on(dice) {
        points[point].fluid.clone().unwrap()
    } else {
        String::new()
    };
    if !fluid.is_empty() && dice.chance(habits.slips) {
        fluid = GRADES[dice.place(GRADES.len())].to_owned();
    }
    draw.fluid_written = !fluid.is_empty();
    (draw, fluid)
}

/// One in eight people has one backlog of some weeks, typed in one go.
fn backlog(made: &mut Made, who: usize, dice: &mut Dice) {
    if !dice.chance(0.125) {
        return;
    }
    let of: Vec<usize> = (0..made.draws.len())
        .filter(|place| made.draws[*place].0.technician as usize == who)
        .collect();
    if of.len() < 20 {
        return;
    }
    let first = dice.place(of.len() - 15);
    let typed = made.draws[of[first + 14]].0.drawn_at + 2 * DAY;
    for (number, place) in of[first..first + 15].iter().enumerate() {
        made.draws[*place].0.recorded_at = Moment::new(typed + 90 * number as i64);
    }
}

/// A carrier comes twice a week at one hour to each site; now and then a note is dated a day or
/// two too early.
fn consignments(made: &mut Made, dice: &mut Dice) {
    let mut noted: std::collections::BTreeMap<(String, i64), i64> = Default::default();
    for (draw, _) in &mut made.draws {
        let site = made.points[draw.point as usize].site.clone().unwrap();
        let day = (draw.drawn_at - BEGIN) / DAY;
        let next = (day / 7 * 7..)
            .find(|it| *it > day && matches!(it % 7, 1 | 4))
            .unwrap();
        let sent = *noted.entry((site, next)).or_insert_with(|| {
            let early = if dice.chance(0.02) { 5 } else { 0 };
            BEGIN + (next - early) * DAY + 15 * HOUR
        });
        if !dice.chance(0.03) {
            draw.dispatched_at = Moment::new(sent);
            draw.received_at = Moment::new(sent + 2 * DAY);
        }
    }
}

impl Made {
    /// As the programme holds it, in order.
    pub fn assessed(&self) -> (Assessed, Written) {
        let mut order: Vec<usize> = (0..self.draws.len()).collect();
        order.sort_by_key(|place| {
            let draw = &self.draws[*place].0;
            (
                draw.drawn_at,
                draw.technician,
                draw.point,
                draw.recorded_at.get(),
            )
        });
        let mut judged = Judged::default();
        let mut written = Written {
            fluids: vec![String::new()],
            ..Written::default()
        };
        for (record, place) in (1..).zip(order) {
            let (draw, fluid) = &self.draws[place];
            judged.record.push(record);
            judged.point.push(draw.point);
            judged.technician.push(draw.technician);
            judged.drawn_at.push(draw.drawn_at);
            judged.method.push(255);
            judged.verdict.push(Verdict::Unproven);
            judged.applicable.push(RuleSet::NONE);
            judged.broken.push(RuleSet::NONE);
            judged.unrecorded.push(RuleSet::NONE);
            written.draws.push(*draw);
            let known = written.fluids.iter().position(|it| it == fluid);
            let place = known.unwrap_or_else(|| {
                written.fluids.push(fluid.clone());
                written.fluids.len() - 1
            });
            written.fluid.push(place as u32);
        }
        let technician = |number| Technician {
            id: format!("T-{number}"),
            name: None,
            crew: None,
            active_from: None,
        };
        let assessed = Assessed {
            in_force: vec![0; self.points.len()],
            points: self.points.clone(),
            technicians: (0..self.technicians).map(technician).collect(),
            trainings: Vec::new(),
            judged,
            rulebook: Rulebook::standard(),
            zone: Tz::UTC,
            worked_out: WorkedOut::default(),
        };
        (assessed, written)
    }
}
