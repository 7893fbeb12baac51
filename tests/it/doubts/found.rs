//! Planted stories are found: each signal alone, at several strengths.

use std::fmt::Write as _;

use fairdraw::analysis::doubts::{About, Doubt};
use fairdraw::demo::dice::Dice;
use fairdraw::model::{Moment, Number};

use super::honest::all_doubts;
use super::made::{BEGIN, DAY, HOUR, Made, Size, honest};

/// Six sites of five people and 30 points over a year and a half: about 150 draws a technician.
const SIZE: Size = Size {
    sites: 6,
    crew: 5,
    points: 30,
    days: 540,
};

/// Who is made to do it; a technician of the second site.
const WHO: u32 = 7;
const SITE: &str = "Site 2";

/// Plants a story on this share of what it can be planted on.
type Plant = fn(&mut Made, f64, &mut Dice);

const STORIES: [(&str, Plant); 10] = [
    ("carried-forward", carried_forward),
    ("counter-still", counter_still),
    ("counter-jumps", counter_jumps),
    ("impossible-time", impossible_time),
    ("typed-in-bursts", typed_in_bursts),
    ("no-variation", no_variation),
    ("last-digits", last_digits),
    ("sent-when-drawn", sent_when_drawn),
    ("one-minute", one_minute),
    ("swapped-bottles", swapped_bottles),
];

fn is_ours(doubt: &Doubt, made: &Made) -> bool {
    match doubt.about {
        About::Technician(place) => place == WHO,
        About::SiteOf(point) => made.points[point as usize].site.as_deref() == Some(SITE),
    }
}

/// Whether the story is found, by its own signal, when planted on this share.
fn is_found(id: &str, plant: Plant, share: f64, seed: u64) -> bool {
    let mut made = honest(SIZE, seed);
    made.draws.sort_by_key(|(draw, _)| draw.drawn_at);
    plant(&mut made, share, &mut Dice::new(seed ^ 0x5eed));
    let found = all_doubts(&made);
    found
        .list
        .iter()
        .any(|doubt| doubt.signal.id == id && is_ours(doubt, &made))
}

#[test]
fn every_story_told_in_full_is_found() {
    for (id, plant) in STORIES {
        let found = (0..3)
            .filter(|seed| is_found(id, plant, 1.0, *seed))
            .count();
        assert!(found >= 2, "{id}: {found} of 3");
    }
}

#[test]
#[ignore = "takes minutes; its table stands in docs/doubts.md"]
fn how_often_stories_are_found() {
    let strengths = [0.05, 0.1, 0.2, 0.4, 0.7, 1.0];
    let mut table = String::new();
    for (id, plant) in STORIES {
        write!(table, "| `{id}` |").unwrap();
        for share in strengths {
            let found = (100..125)
                .filter(|seed| is_found(id, plant, share, *seed))
                .count();
            write!(table, " {} % |", found * 4).unwrap();
        }
        table.push('\n');
    }
    println!("{table}");
}

/// The places of the technician's draws.
fn own(made: &Made) -> Vec<usize> {
    let draws = made.draws.iter().enumerate();
    draws
        .filter(|(_, (draw, _))| draw.technician == WHO)
        .map(|(place, _)| place)
        .collect()
}

/// The last draw at the same point.
fn before(made: &Made, place: usize) -> Option<usize> {
    let point = made.draws[place].0.point;
    (0..place)
        .rev()
        .find(|other| made.draws[*other].0.point == point)
}

fn carried_forward(made: &mut Made, share: f64, dice: &mut Dice) {
    for place in own(made) {
        if let Some(other) = before(made, place)
            && dice.chance(share)
        {
            let from = made.draws[other].0;
            let draw = &mut made.draws[place].0;
            draw.machine_hours = from.machine_hours;
            draw.oil_hours = from.oil_hours;
            draw.oil_temp_c = from.oil_temp_c;
            draw.flushed_ml = from.flushed_ml;
            draw.fill_pct = from.fill_pct;
        }
    }
}

fn counter_still(made: &mut Made, share: f64, dice: &mut Dice) {
    for place in own(made) {
        if let Some(other) = before(made, place)
            && dice.chance(share)
        {
            made.draws[place].0.machine_hours = made.draws[other].0.machine_hours;
        }
    }
}

fn counter_jumps(made: &mut Made, share: f64, dice: &mut Dice) {
    for place in own(made) {
        let draw = &mut made.draws[place].0;
        if let Some(hours) = draw.machine_hours.get()
            && dice.chance(share)
        {
            draw.machine_hours = Number::new(hours + dice.between(200.0, 3000.0).floor());
        }
    }
}

fn impossible_time(made: &mut Made, share: f64, dice: &mut Dice) {
    // Precise times, of which some are those of the draw before.
    for place in own(made) {
        made.draws[place].0.drawn_at += dice.between(0.0, 5.0) as i64 * 60 + 60;
    }
    for pair in own(made).windows(2) {
        let at = made.draws[pair[0]].0.drawn_at;
        let draw = &mut made.draws[pair[1]].0;
        if draw.drawn_at - at < 12 * HOUR && dice.chance(share) {
            draw.drawn_at = at;
        }
    }
}

fn typed_in_bursts(made: &mut Made, share: f64, dice: &mut Dice) {
    // Month by month: all of it on one evening of the next.
    let mut months = vec![None; 40];
    for place in own(made) {
        let draw = &mut made.draws[place].0;
        let month = (draw.drawn_at - BEGIN) / (30 * DAY);
        if *months[month as usize].get_or_insert_with(|| dice.chance(share)) {
            let evening = BEGIN + (month + 1) * 30 * DAY + 3 * DAY + 18 * HOUR;
            draw.recorded_at = Moment::new(evening + place as i64 % 600);
        }
    }
}

fn no_variation(made: &mut Made, share: f64, dice: &mut Dice) {
    for place in own(made) {
        if dice.chance(share) {
            made.draws[place].0.fill_pct = Number::new(80.0);
        }
    }
}

fn last_digits(made: &mut Made, share: f64, dice: &mut Dice) {
    for place in own(made) {
        let draw = &mut made.draws[place].0;
        if let Some(hours) = draw.machine_hours.get() {
            // Without rounding of any kind, the digit is a true one or one that comes to mind.
            let digit = if dice.chance(share) {
                [3.0, 7.0][dice.place(2)]
            } else {
                dice.between(0.0, 10.0).floor()
            };
            draw.machine_hours = Number::new((hours / 10.0).floor() * 10.0 + digit);
        }
    }
}

fn sent_when_drawn(made: &mut Made, share: f64, dice: &mut Dice) {
    for place in 0..made.draws.len() {
        let point = made.draws[place].0.point as usize;
        if made.points[point].site.as_deref() == Some(SITE) && dice.chance(share) {
            let draw = &mut made.draws[place].0;
            draw.dispatched_at = Moment::new(draw.drawn_at);
        }
    }
}

fn one_minute(made: &mut Made, share: f64, dice: &mut Dice) {
    let mut days = vec![None; 1000];
    for place in 0..made.draws.len() {
        let draw = &mut made.draws[place].0;
        let day = (draw.drawn_at - BEGIN) / DAY;
        let at_site = made.points[draw.point as usize].site.as_deref() == Some(SITE);
        if at_site && *days[day as usize].get_or_insert_with(|| dice.chance(share)) {
            draw.drawn_at = BEGIN + day * DAY + 8 * HOUR;
        }
    }
}

/// Up to ten pairs of bottles of one day are exchanged; other labels are as they are.
fn swapped_bottles(made: &mut Made, share: f64, _: &mut Dice) {
    let own = own(made);
    let mut left = (share * 10.0).ceil() as usize;
    let mut after = 0;
    for pair in own.windows(2) {
        let grade = |place: usize| {
            let (draw, fluid) = &made.draws[place];
            let of_point = made.points[draw.point as usize].fluid.as_ref();
            (Some(fluid) == of_point).then(|| fluid.clone())
        };
        let near = made.draws[pair[1]].0.drawn_at - made.draws[pair[0]].0.drawn_at < 12 * HOUR;
        if let (Some(one), Some(other)) = (grade(pair[0]), grade(pair[1]))
            && left > 0
            && pair[0] >= after
            && near
            && one != other
        {
            made.draws[pair[0]].1 = other;
            made.draws[pair[1]].1 = one;
            left -= 1;
            after = pair[1] + 1;
        }
    }
}
