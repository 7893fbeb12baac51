//! Whether trainings helped: before against after, beside untrained peers.
//!
//! For each training held, the technician's broken share of its rule (broken of recorded)
//! over a window of days before, ending the day before it was held, and as many days after,
//! beginning the day after; days as the programme's zone counts them. The change has
//! Newcombe's interval. Over the same days stand the peers: technicians without a training
//! in that rule anywhere in both windows, taken together. The difference of both changes,
//! with an interval by the same square-and-add ([`difference::of_estimates`]), is what went
//! beyond the peers.
//!
//! It still is no experiment. Who is sent to a training had a bad spell, and a bad spell
//! passes by itself (regression to the mean); the peers may draw elsewhere. So the words
//! never say that the training did it.

use std::fmt;
use std::ops::Range;

use chrono::{Days, NaiveDate};

use super::order::in_order;
use super::topics::FEW;
use super::zone::start_of_day;
use super::{Assessed, Selection};
use crate::model::time::Tz;
use crate::rules::place_of;
use crate::stats::difference::{self, Difference};
use crate::stats::wilson::Z_95;

/// Days before and after that are looked at, if nothing else is said.
pub const WINDOW_DAYS: u32 = 120;

/// How often a rule was recorded and broken over some days.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Record {
    /// Draws the rule applies to and the record speaks about.
    pub recorded: u64,
    /// Of these, draws on which it is broken.
    pub broken: u64,
    /// Draws it applies to and the record does not speak about.
    pub unrecorded: u64,
}

impl Record {
    /// Broken of recorded; none if nothing is recorded.
    #[must_use]
    pub fn share(&self) -> Option<f64> {
        (self.recorded > 0).then(|| self.broken as f64 / self.recorded as f64)
    }
}

/// Before and after.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BeforeAfter {
    /// The window before.
    pub before: Record,
    /// The window after.
    pub after: Record,
}

impl BeforeAfter {
    /// The share after less the share before, with Newcombe's 95 % interval; none if
    /// either side has nothing recorded.
    #[must_use]
    pub fn change(&self) -> Option<Difference> {
        let counts = |record: Record| (record.broken, record.recorded);
        difference::interval(counts(self.after), counts(self.before), Z_95)
    }
}

/// What the numbers let one say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Fewer than [`FEW`] recorded draws before or after.
    TooFew,
    /// The interval of the change holds 0.
    NoChange,
    /// Fewer broken, compared with the peers.
    Fewer(BesidePeers),
    /// More broken, compared with the peers.
    More(BesidePeers),
}

/// A change beside that of the peers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BesidePeers {
    /// The change goes beyond theirs.
    MoreSo,
    /// The numbers can't tell it from theirs.
    Alike,
    /// It stays behind theirs.
    LessSo,
    /// They have too few recorded draws before or after.
    TooFew,
}

impl fmt::Display for Effect {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (change, beside) = match self {
            Effect::TooFew => return f.write_str("too few draws to say"),
            Effect::NoChange => return f.write_str("no change that the numbers can show"),
            Effect::Fewer(beside) => ("fewer broken than before", beside),
            Effect::More(beside) => ("more broken than before", beside),
        };
        let beside = match beside {
            BesidePeers::MoreSo => "and more so than at peers",
            BesidePeers::Alike => "but perhaps no more so than at peers",
            BesidePeers::LessSo => "but less so than at peers",
            BesidePeers::TooFew => "with too few draws of peers to compare",
        };
        write!(f, "{change}, {beside}")
    }
}

/// One training with what came before and after.
#[derive(Clone, Debug, PartialEq)]
pub struct Trained {
    /// Place in the programme's list of trainings.
    pub training: usize,
    /// Place of the technician in the programme's list.
    pub technician: usize,
    /// The place of the rule in the contract's order.
    pub rule: usize,
    /// The day it was held.
    pub held_on: NaiveDate,
    /// The technician's own draws.
    pub own: BeforeAfter,
    /// The peers' draws taken together.
    pub peers: BeforeAfter,
    /// How many peers drew at all, before or after.
    pub peer_count: usize,
    /// The own change less that of the peers; none if either is unknown.
    pub beyond_peers: Option<Difference>,
    /// What these numbers let one say.
    pub effect: Effect,
    /// Places of the technician's other trainings that were held within the two windows
    /// (the same rule again, or another), which the change may also be due to.
    pub also: Vec<usize>,
    /// Whether the programme's draws reach to the end of the window after.
    pub is_over: bool,
}

/// Every training of a technician with a selected draw (all trainings where every draw is
/// selected), by day, then technician, then rule. `window_days` (1 or more) is the length of
/// both windows. `selection` holds the own draws, `peers` those of the peers, usually the
/// same filter without its terms on technicians and crews
/// ([`peers_of`](super::topics::peers_of)).
#[must_use]
pub fn trainings(
    assessed: &Assessed,
    selection: &Selection,
    peers: &Selection,
    window_days: u32,
) -> Vec<Trained> {
    let judged = &assessed.judged;
    let (selection, peers) = (&*in_order(selection), &*in_order(peers));
    let mut asked = vec![selection.len() == judged.len(); assessed.technicians.len()];
    for &row in selection {
        asked[judged.technician[row as usize] as usize] = true;
    }
    let held = held(assessed);
    let mut found: Vec<Trained> = held
        .iter()
        .filter(|training| asked[training.technician])
        .filter_map(|training| {
            let windows = Windows::around(training.held_on, window_days, assessed.zone)?;
            Some(look_at(
                assessed, selection, peers, training, &windows, &held,
            ))
        })
        .collect();
    found.sort_by_key(|it| {
        let id = &assessed.technicians[it.technician].id;
        (it.held_on, id.clone(), it.rule, it.training)
    });
    found
}

/// A training with its places.
struct Held {
    training: usize,
    technician: usize,
    rule: usize,
    held_on: NaiveDate,
}

/// The trainings whose technician and rule are known; intake takes no others.
fn held(assessed: &Assessed) -> Vec<Held> {
    let technicians = &assessed.technicians;
    (assessed.trainings.iter().enumerate())
        .filter_map(|(training, it)| {
            Some(Held {
                training,
                technician: technicians
                    .iter()
                    .position(|technician| technician.id == it.technician_id)?,
                rule: place_of(&it.topic)?,
                held_on: it.held_on,
            })
        })
        .collect()
}

/// The days before and after, as instants and as days.
struct Windows {
    before: Range<i64>,
    after: Range<i64>,
    first: NaiveDate,
    last: NaiveDate,
}

impl Windows {
    fn around(held_on: NaiveDate, days: u32, zone: Tz) -> Option<Self> {
        let days = Days::new(days.into());
        let first = held_on.checked_sub_days(days)?;
        let next = held_on.succ_opt()?;
        let end = next.checked_add_days(days)?;
        Some(Windows {
            before: start_of_day(first, zone)?..start_of_day(held_on, zone)?,
            after: start_of_day(next, zone)?..start_of_day(end, zone)?,
            first,
            last: end.pred_opt()?,
        })
    }
}

fn look_at(
    assessed: &Assessed,
    selection: &[u32],
    peers: &[u32],
    training: &Held,
    windows: &Windows,
    held: &[Held],
) -> Trained {
    let Held {
        technician, rule, ..
    } = *training;
    let inside = |other: &&Held| (windows.first..=windows.last).contains(&other.held_on);
    let mut is_peer = vec![true; assessed.technicians.len()];
    is_peer[technician] = false;
    for other in held.iter().filter(inside).filter(|it| it.rule == rule) {
        is_peer[other.technician] = false;
    }
    let mut drew = vec![false; assessed.technicians.len()];
    let own = counted(assessed, selection, rule, windows, |who| who == technician);
    let peers = counted(assessed, peers, rule, windows, |who| {
        drew[who] |= is_peer[who];
        is_peer[who]
    });
    let changes = own.change().zip(peers.change());
    let beyond_peers =
        changes.map(|(own, peers)| difference::of_estimates(own.into(), peers.into()));
    let last_draw = assessed.judged.drawn_at.last();
    let mut also: Vec<&Held> = (held.iter().filter(inside))
        .filter(|other| other.technician == technician && other.training != training.training)
        .collect();
    also.sort_by_key(|other| (other.held_on, other.rule, other.training));
    Trained {
        training: training.training,
        technician,
        rule,
        held_on: training.held_on,
        own,
        peers,
        peer_count: drew.iter().filter(|drew| **drew).count(),
        beyond_peers,
        effect: effect(&own, &peers, beyond_peers),
        also: also.iter().map(|other| other.training).collect(),
        is_over: last_draw.is_some_and(|&last| last >= windows.after.end),
    }
}

/// The draws in both windows. Rows stand in the order of time, so each window is a range.
fn counted(
    assessed: &Assessed,
    rows: &[u32],
    rule: usize,
    windows: &Windows,
    mut is_asked: impl FnMut(usize) -> bool,
) -> BeforeAfter {
    let judged = &assessed.judged;
    let mut over = |window: &Range<i64>| {
        let place =
            |seconds: i64| rows.partition_point(|&row| judged.drawn_at[row as usize] < seconds);
        let mut record = Record::default();
        for &row in &rows[place(window.start)..place(window.end)] {
            let row = row as usize;
            if !judged.applicable[row].has(rule) || !is_asked(judged.technician[row] as usize) {
                continue;
            }
            if judged.unrecorded[row].has(rule) {
                record.unrecorded += 1;
            } else {
                record.recorded += 1;
                record.broken += u64::from(judged.broken[row].has(rule));
            }
        }
        record
    };
    BeforeAfter {
        before: over(&windows.before),
        after: over(&windows.after),
    }
}

fn effect(own: &BeforeAfter, peers: &BeforeAfter, beyond: Option<Difference>) -> Effect {
    let are_few = |it: &BeforeAfter| it.before.recorded.min(it.after.recorded) < FEW;
    let Some(change) = own.change().filter(|_| !are_few(own)) else {
        return Effect::TooFew;
    };
    let beside = |fewer: bool| match beyond.filter(|_| !are_few(peers)) {
        None => BesidePeers::TooFew,
        Some(it) if it.low > 0.0 && fewer || it.high < 0.0 && !fewer => BesidePeers::LessSo,
        Some(it) if it.low > 0.0 || it.high < 0.0 => BesidePeers::MoreSo,
        Some(_) => BesidePeers::Alike,
    };
    if change.high < 0.0 {
        Effect::Fewer(beside(true))
    } else if change.low > 0.0 {
        Effect::More(beside(false))
    } else {
        Effect::NoChange
    }
}
