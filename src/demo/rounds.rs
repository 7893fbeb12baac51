//! The rounds: day by day, which compartment is due and who goes there.

use std::io;

use super::Invented;
use super::clock::Clock;
use super::dice::Dice;
use super::stories::{self, CREW_SIZE, SITES, TECHNICIANS};
use super::visit::{Desk, Visit};
use crate::model::{Draw, DrawRecord, Kind, Look, Looks, Moment, Number};

/// What changes from visit to visit on one compartment.
struct Course {
    /// The day of the next visit.
    due: i64,
    /// Visits so far.
    visits: u64,
    /// Machine counter in hours on the first day.
    first_hours: f64,
    /// Hours on the oil charge on the first day.
    first_oil_hours: f64,
    /// Hours a day of this very machine.
    hours_a_day: f64,
}

/// Where a technician stands in the day.
#[derive(Clone, Copy, Default)]
struct Shift {
    day: i64,
    minute: i64,
}

/// Goes through all days and hands over every draw, day after day.
pub fn walk(
    invented: &Invented,
    each: &mut dyn FnMut(&DrawRecord) -> io::Result<()>,
) -> io::Result<()> {
    let mut desk = Desk {
        clock: Clock::over(invented.first_day, invented.last_day),
        draws: 0,
        bottles: 0,
        record: empty(),
    };
    let plant = &invented.plant;
    let pools: Vec<Vec<usize>> = (0..plant.sites).map(|site| pool(invented, site)).collect();
    let mut courses: Vec<Course> = (0..plant.compartments.len())
        .map(|number| begin(invented, number))
        .collect();
    let mut shifts = vec![Shift::default(); invented.people.technicians.len()];
    for day in invented.first_day..=invented.last_day {
        for (number, course) in courses.iter_mut().enumerate() {
            if course.due > day {
                continue;
            }
            let key = (number as u64) << 24 | course.visits;
            let mut dice = Dice::of(invented.size.seed, 3, key);
            let technician = who(invented, number, &pools, day, &mut dice);
            let shift = &mut shifts[technician];
            if shift.day != day {
                let begins = 6 * 60 + 30 + 45 * (technician / CREW_SIZE % SITES) as i64;
                *shift = Shift {
                    day,
                    minute: begins,
                };
            }
            shift.minute += dice.between(9.0, 38.0) as i64;
            let running_days = (day - invented.first_day) as f64;
            let hours = course.hours_a_day * running_days;
            let life = plant.compartments[number].archetype.oil_life_h;
            let mut visit = Visit {
                compartment: &plant.compartments[number],
                points: &plant.points,
                technician,
                technician_id: &invented.people.technicians[technician].id,
                habits: invented.people.habits_on(technician, day),
                day,
                minute: shift.minute,
                machine_hours: course.first_hours + hours,
                oil_hours: (course.first_oil_hours + hours) % life,
                last_day: invented.last_day,
            };
            let set_id = format!("S{number:04}-{:03}", course.visits);
            draw(&mut visit, &set_id, &mut dice, &mut desk, each)?;
            shift.minute = visit.minute;
            course.visits += 1;
            course.due = next_due(day, plant.compartments[number].interval_days, &mut dice);
        }
    }
    Ok(())
}

/// Mean of the lateness that [`next_due`] adds, as a share of the interval.
pub const MEAN_LATENESS: f64 = 0.88 * 0.01 + 0.12 * 0.38;

fn next_due(day: i64, interval_days: f64, dice: &mut Dice) -> i64 {
    let late = if dice.chance(0.88) {
        dice.between(-0.06, 0.08)
    } else {
        dice.between(0.16, 0.6)
    };
    // Fractions of a day are settled by chance, so that short intervals keep their mean.
    let days = interval_days * (1.0 + late) + dice.fraction();
    day + (days as i64).max(1)
}

fn begin(invented: &Invented, number: usize) -> Course {
    let compartment = &invented.plant.compartments[number];
    let mut dice = Dice::of(invented.size.seed, 4, number as u64);
    let hours_a_day = compartment.archetype.hours_a_day * dice.between(0.85, 1.02);
    Course {
        due: invented.first_day + dice.between(0.0, compartment.interval_days) as i64,
        visits: 0,
        first_hours: dice.between(1500.0, 42_000.0),
        first_oil_hours: dice.between(0.0, compartment.archetype.oil_life_h),
        hours_a_day,
    }
}

/// The technicians who serve a site.
fn pool(invented: &Invented, site: usize) -> Vec<usize> {
    let technicians = invented.people.technicians.len();
    let sites = invented.plant.sites;
    let crews = technicians.div_ceil(CREW_SIZE);
    let members = |crew: usize| crew * CREW_SIZE..((crew + 1) * CREW_SIZE).min(technicians);
    if crews >= sites {
        return (0..crews)
            .filter(|crew| crew % sites == site)
            .flat_map(members)
            .collect();
    }
    // Fewer crews than sites: each serves several, of the same story where it can.
    let told = if crews >= SITES {
        crews - crews % SITES
    } else {
        crews
    };
    let mut pool: Vec<usize> = members(site % told).collect();
    if site < SITES && told + site < crews {
        pool.extend(members(told + site));
    }
    pool
}

/// Who goes: mostly anyone of the pool, but the stories send two people their own ways.
fn who(
    invented: &Invented,
    number: usize,
    pools: &[Vec<usize>],
    day: i64,
    dice: &mut Dice,
) -> usize {
    let compartment = &invented.plant.compartments[number];
    // Now and then another crew stands in.
    let stands_in = pools.len() > 1 && dice.chance(0.07);
    let site = if stands_in {
        (compartment.site + 1 + dice.place(pools.len() - 1)) % pools.len()
    } else {
        compartment.site
    };
    let pool = &pools[site];
    let easy =
        !compartment.hard && matches!(compartment.archetype.kind, Kind::Circulating | Kind::Sump);
    if compartment.hard
        && dice.chance(0.62)
        && let Some(technician) = one_of(stories::SENT_TO_HARD_POINTS, pool, dice)
    {
        return technician;
    }
    if easy
        && dice.chance(0.3)
        && let Some(technician) = one_of(stories::NEEDS_TRAINING, pool, dice)
    {
        return technician;
    }
    // A pool may be all of people who are elsewhere: then whoever was asked last goes.
    let mut technician = pool[0];
    for _ in 0..12 {
        technician = pool[dice.place(pool.len())];
        let fits = match technician % TECHNICIANS {
            stories::SENT_TO_HARD_POINTS => dice.chance(0.35),
            stories::NEEDS_TRAINING => false,
            _ => invented.people.active_from[technician] <= day,
        };
        if fits {
            break;
        }
    }
    technician
}

/// One of the pool that this story is about, if there is any.
fn one_of(story: usize, pool: &[usize], dice: &mut Dice) -> Option<usize> {
    let is_meant = |technician: &&usize| **technician % TECHNICIANS == story;
    let meant = pool.iter().filter(is_meant).count();
    let nth = if meant > 1 { dice.place(meant) } else { 0 };
    pool.iter().filter(is_meant).nth(nth).copied()
}

/// All draws of one visit: one bottle, the levels of a tank, second fills.
fn draw(
    visit: &mut Visit<'_>,
    set_id: &str,
    dice: &mut Dice,
    desk: &mut Desk,
    each: &mut dyn FnMut(&DrawRecord) -> io::Result<()>,
) -> io::Result<()> {
    let compartment = visit.compartment;
    let tank = compartment.archetype.kind == Kind::Tank;
    let no_lower = compartment.site % SITES == stories::NO_LOWER_LEVEL_SITE;
    for level in 0..compartment.points {
        let forgotten = if no_lower { 0.9 } else { 0.06 };
        if tank && level == 2 && dice.chance(forgotten) {
            continue;
        }
        visit.fill(compartment.first_point + level, dice, desk);
        if tank && !dice.chance(visit.habits.blank * 0.6) {
            desk.record.set_id.push_str(set_id);
        }
        each(&desk.record)?;
        visit.minute += dice.between(5.0, 10.0) as i64;
        let record = &desk.record;
        let abnormal = record.facts.looks.is_abnormal() && !record.bottle_id.is_empty();
        if abnormal && dice.chance(visit.habits.second_fill) {
            second_fill(dice, desk);
            each(&desk.record)?;
            visit.minute += 6;
        }
    }
    Ok(())
}

/// Turns the record of a first fill into that of the second, a few minutes later.
fn second_fill(dice: &mut Dice, desk: &mut Desk) {
    desk.draws += 1;
    desk.bottles += 1;
    let record = &mut desk.record;
    record.pair_of.clone_from(&record.bottle_id);
    record.draw_id = format!("D{:07}", desk.draws);
    record.bottle_id = format!("B{:07}", desk.bottles);
    record.remarks.clear();
    record.topped_up_l = Number::BLANK;
    let facts = &mut record.facts;
    facts.second_fill = true;
    facts.drawn_at += 240;
    if let Some(minutes) = facts.stopped_min.get() {
        facts.stopped_min = Number::new(minutes + 4.0);
    }
    facts.recorded_at = facts.recorded_at.get().map(|at| at + 300).into();
    let metal = facts.looks.has(Look::Metal);
    // Without metal the second bottle is often kept back; with metal both go.
    if !metal && dice.chance(0.3) {
        facts.dispatched_at = Moment::BLANK;
        facts.received_at = Moment::BLANK;
    }
    if !metal && dice.chance(0.4) {
        facts.looks = Looks::NONE.with(Look::Clear);
    }
}

fn empty() -> DrawRecord {
    DrawRecord {
        facts: Draw::bare(0, 0, 0),
        draw_id: String::new(),
        bottle_id: String::new(),
        point_id: String::new(),
        technician_id: String::new(),
        fluid: String::new(),
        pair_of: String::new(),
        set_id: String::new(),
        topped_up_l: Number::BLANK,
        remarks: String::new(),
        kept_aside: String::new(),
    }
}
