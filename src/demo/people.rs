//! Technicians of the scenario, their habits and trainings.

use super::clock::{date, day_number};
use super::dice::Dice;
use super::scenario::{crew, person};
use super::stories::{self, CREW_SIZE, SITES, TECHNICIANS};
use crate::model::{Technician, Training};

/// How a technician draws. Shares are from 0 to 1.
#[derive(Clone, Copy, Debug)]
pub struct Habits {
    /// Share of circulating systems that are stopped before the draw.
    pub stops: f64,
    /// Least and most minutes between stop and draw.
    pub stopped_min: (f64, f64),
    /// Share of flushes that are measured by the dead volume of the point.
    pub measures_flush: f64,
    /// What is run off otherwise, in mL.
    pub usual_flush_ml: f64,
    /// Share of draws from a cold machine.
    pub cold: f64,
    /// Share of bottles that were not clean.
    pub unfit_bottle: f64,
    /// Share of points not cleaned, of tubes used again, of bottles left open.
    pub careless: f64,
    /// Share of draws by another point or method than agreed.
    pub strays: f64,
    /// Usual fill in %, and how far it scatters.
    pub fill_pct: (f64, f64),
    /// Share of answers left blank.
    pub blank: f64,
    /// Share of abnormal looks that a second fill follows.
    pub second_fill: f64,
    /// Share of grease taken midway.
    pub grease_midway: f64,
}

/// The people of a programme.
#[derive(Clone, Debug, Default)]
pub struct People {
    /// Every technician, crew after crew.
    pub technicians: Vec<Technician>,
    /// The habits of each.
    habits: Vec<Habits>,
    /// First day of each.
    pub active_from: Vec<i64>,
    /// Every training held.
    pub trainings: Vec<Training>,
}

impl People {
    /// As many technicians as asked for.
    #[must_use]
    pub fn invent(technicians: usize, first_day: i64, seed: u64) -> Self {
        let mut people = People::default();
        for number in 0..technicians {
            let mut dice = Dice::of(seed, 2, number as u64);
            // A few joined while the programme ran.
            let joined = match number % TECHNICIANS {
                4 => day_number(2025, 9, 1),
                22 => day_number(2026, 1, 5),
                _ => first_day - 200 - 37 * (number as i64 % 23),
            };
            people.technicians.push(Technician {
                id: format!("T{:03}", number + 1),
                name: Some(person(number)),
                crew: Some(crew(number / CREW_SIZE)),
                active_from: Some(date(joined)),
            });
            people.active_from.push(joined);
            people.habits.push(habits(number, &mut dice));
            people.train(number);
        }
        people
    }

    /// The habits of a technician on a day: training may have changed them.
    #[must_use]
    pub fn habits_on(&self, technician: usize, day: i64) -> Habits {
        let mut habits = self.habits[technician];
        if technician % TECHNICIANS == stories::TRAINING_HELPED && day > stories::helped_on() {
            habits.measures_flush = 0.93;
        }
        habits
    }

    fn train(&mut self, number: usize) {
        let held: &[(&str, i64)] = &match number % TECHNICIANS {
            stories::TRAINING_HELPED => [("flush-met", stories::helped_on())],
            stories::TRAINING_DID_NOT => [("fill-level", stories::did_not_help_on())],
            2 => [("label-complete", day_number(2025, 6, 11))],
            4 => [("flush-met", day_number(2025, 9, 8))],
            10 => [("same-point", day_number(2025, 3, 20))],
            17 => [("fresh-tube", day_number(2026, 4, 16))],
            19 => [("point-cleaned", day_number(2026, 9, 22))],
            22 => [("running-or-hot", day_number(2026, 1, 14))],
            29 => [("grease-midway", day_number(2026, 6, 3))],
            _ => return,
        };
        for (topic, day) in held {
            self.trainings.push(Training {
                technician_id: self.technicians[number].id.clone(),
                topic: (*topic).to_owned(),
                held_on: date(*day),
            });
        }
    }
}

/// The habits of a technician by number.
fn habits(number: usize, dice: &mut Dice) -> Habits {
    let skill = dice.fraction();
    let mut habits = Habits {
        stops: 0.06 + 0.08 * (1.0 - skill),
        stopped_min: (2.0, 30.0),
        measures_flush: 0.34 + 0.42 * skill,
        usual_flush_ml: dice.between(40.0, 90.0).round(),
        cold: 0.03 + 0.05 * (1.0 - skill),
        unfit_bottle: 0.02 + 0.05 * (1.0 - skill),
        careless: 0.13 + 0.2 * (1.0 - skill),
        strays: 0.07 + 0.12 * (1.0 - skill),
        fill_pct: (68.0, 11.0),
        blank: 0.015 + 0.025 * dice.fraction(),
        second_fill: 0.45 + 0.4 * skill,
        grease_midway: 0.45 + 0.35 * skill,
    };
    let crew = number / CREW_SIZE % SITES;
    if crew == stories::EARLY_STOP_CREW {
        habits.stops = 0.6;
        habits.stopped_min = (35.0, 150.0);
    }
    if crew == stories::PAPER_CREW {
        habits.blank = 0.09 + 0.05 * dice.fraction();
    }
    if crew == stories::EASY_SITE {
        habits.measures_flush = 0.72 + 0.15 * skill;
        habits.unfit_bottle = 0.02;
    }
    match number % TECHNICIANS {
        stories::SENT_TO_HARD_POINTS => {
            habits.measures_flush = 0.9;
            habits.careless = 0.1;
            habits.stops = 0.05;
            habits.cold = 0.02;
            habits.unfit_bottle = 0.015;
        }
        stories::NEEDS_TRAINING => {
            habits.measures_flush = 0.6;
            habits.usual_flush_ml = 35.0;
            habits.careless = 0.28;
            habits.unfit_bottle = 0.05;
        }
        stories::TRAINING_HELPED => {
            habits.measures_flush = 0.12;
            habits.usual_flush_ml = 35.0;
            habits.blank = 0.03;
        }
        stories::TRAINING_DID_NOT => {
            habits.fill_pct = (91.0, 5.0);
            habits.blank = 0.03;
        }
        // Fills in little, on a crew that otherwise does.
        2 | 16 => habits.blank = 0.16,
        _ => {}
    }
    habits
}
