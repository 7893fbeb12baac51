//! Parts of a programme's history that are closed under what rules look at: all draws of
//! the compartments concerned and all bearers of the bottles concerned.

use rustc_hash::{FxHashMap, FxHashSet};

use super::{Error, Programme};
use crate::model::draw::identity;
use crate::model::progress::Stage;
use crate::model::{Draw, History, Point, Progress, Technician, Texts};
use crate::store::draws::{self, Compared};

/// How many draws are read between two looks at whether someone asked to stop.
const PIECE: u64 = 8192;

/// Puts draws into a history.
#[derive(Debug, Default)]
pub(super) struct Gathering {
    pub(super) history: History,
    texts: Texts,
}

impl Gathering {
    pub(super) fn of(points: Vec<Point>, technicians: Vec<Technician>) -> Self {
        let mut gathering = Gathering::default();
        gathering.history.points = points;
        gathering.history.technicians = technicians;
        gathering
    }

    /// Adds a draw with the texts that judging compares.
    pub(super) fn add(&mut self, draw: Draw, texts: Compared<'_>) {
        if texts.draw_id.is_empty() {
            let point_id = self
                .history
                .points
                .get(draw.point as usize)
                .map_or("", |point| point.id.as_str());
            let identity = identity("", texts.bottle_id, point_id, draw.drawn_at);
            self.add_named(draw, texts, &identity);
        } else {
            self.add_named(draw, texts, texts.draw_id);
        }
    }

    /// Adds a draw whose identity is known.
    pub(super) fn add_named(&mut self, mut draw: Draw, texts: Compared<'_>, identity: &str) {
        draw.bottle = self.texts.intern(texts.bottle_id);
        draw.pair_of = self.texts.intern(texts.pair_of);
        draw.set_id = self.texts.intern(texts.set_id);
        self.history.identities.push(identity);
        self.history.draws.push(draw);
    }

    /// The history, the numbers of its texts given back.
    pub(super) fn finish(self) -> History {
        self.history
    }
}

/// The compartment of every point, as a number, and how many there are.
pub(super) fn compartments(points: &[Point]) -> (Vec<u32>, usize) {
    let mut numbers: FxHashMap<&str, u32> = FxHashMap::default();
    let of_point = points
        .iter()
        .map(|point| {
            let next = u32::try_from(numbers.len()).expect("fewer points than u32 can count");
            *numbers.entry(&point.compartment).or_insert(next)
        })
        .collect();
    (of_point, numbers.len())
}

/// The live draws with what decides who must be looked at together.
#[derive(Clone, Copy)]
pub(super) struct Whole<'a> {
    /// The compartment of every point, from [`compartments`].
    pub(super) compartments: &'a (Vec<u32>, usize),
    /// The point of every draw.
    pub(super) point: &'a [u32],
    /// The hash of every draw's bottle; 0 for blank. Where two bottles share a hash, more is
    /// read than is needed, never less.
    pub(super) bottle: &'a [u64],
}

impl Whole<'_> {
    fn compartment(&self, place: usize) -> usize {
        self.compartments.0[self.point[place] as usize] as usize
    }

    /// What must be in a history for these draws to be judged: their compartments' draws and
    /// every bearer of their bottles.
    pub(super) fn closed(&self, wanted: &[bool], is_live: &dyn Fn(usize) -> bool) -> Vec<usize> {
        let mut compartments = vec![false; self.compartments.1];
        let mut bottles = FxHashSet::default();
        for (place, _) in wanted.iter().enumerate().filter(|(_, wanted)| **wanted) {
            compartments[self.compartment(place)] = true;
            if self.bottle[place] != 0 {
                bottles.insert(self.bottle[place]);
            }
        }
        (0..self.point.len())
            .filter(|place| is_live(*place))
            .filter(|place| {
                compartments[self.compartment(*place)] || bottles.contains(&self.bottle[*place])
            })
            .collect()
    }
}

/// Reads these records into a history, in this order.
pub(super) fn read(
    programme: &Programme,
    mut gathering: Gathering,
    records: &[u32],
    progress: &Progress,
) -> Result<History, Error> {
    progress.begin(Stage::Loading, records.len() as u64);
    let mut reader = programme.sql(draws::Reader::new(programme.store.connection()))?;
    let points = gathering.history.points.len();
    for (done, record) in records.iter().enumerate() {
        if (done as u64).is_multiple_of(PIECE) {
            if progress.is_stopped() {
                return Err(Error::Stopped);
            }
            progress.advance(PIECE.min((records.len() - done) as u64));
        }
        let known = programme.sql(reader.facts(*record, |draw, texts| {
            let known = (draw.point as usize) < points;
            if known {
                gathering.add(draw, texts);
            }
            known
        }))?;
        if !known {
            return Err(unknown_point(programme));
        }
    }
    Ok(gathering.finish())
}

/// Reads the whole history, about this many draws.
pub(super) fn read_all(
    programme: &Programme,
    mut gathering: Gathering,
    about: u64,
    progress: &Progress,
) -> Result<History, Error> {
    progress.begin(Stage::Loading, about);
    let points = gathering.history.points.len();
    let (mut done, mut known) = (0_u64, true);
    let mut add = |draw: Draw, texts: Compared<'_>| {
        done += 1;
        if done.is_multiple_of(PIECE) {
            progress.advance(PIECE);
            if progress.is_stopped() {
                return false;
            }
        }
        known = (draw.point as usize) < points;
        if known {
            gathering.add(draw, texts);
        }
        known
    };
    let read = draws::each_live(programme.store.connection(), &mut add);
    programme.sql(read)?;
    if !known {
        return Err(unknown_point(programme));
    }
    if progress.is_stopped() {
        return Err(Error::Stopped);
    }
    Ok(gathering.finish())
}

fn unknown_point(programme: &Programme) -> Error {
    programme
        .store
        .damaged("a draw refers to a point that is not there")
        .into()
}
