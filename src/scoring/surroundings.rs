//! What surrounds a draw: the previous draw, second fills, its set, bearers of its bottle.
//!
//! The draws of one compartment are laid out once, by time, and every question is answered
//! by a sweep over them: a compartment of a million draws, a set of a hundred thousand or
//! any number of draws at one instant take no longer a draw than small ones.

use rustc_hash::FxHashMap;

use super::nearest::Nearest;
use super::order;
use crate::model::{Draw, History, Kind, Point, TextId};
use crate::rules::{PreparedPoint, SecondFills, SetMember, Situation};

/// How many draws of a history bear each bottle.
pub(super) struct Bearers(Vec<u32>);

impl Bearers {
    /// Counts over all draws, whatever their compartment.
    pub fn count(draws: &[Draw]) -> Self {
        let mut counts = Vec::new();
        for bottle in draws.iter().filter_map(|draw| draw.bottle) {
            if bottle.index() >= counts.len() {
                counts.resize(bottle.index() + 1, 0);
            }
            counts[bottle.index()] += 1;
        }
        Bearers(counts)
    }

    fn of(&self, bottle: Option<TextId>) -> u32 {
        bottle.map_or(0, |bottle| self.0[bottle.index()])
    }
}

/// The surroundings of every draw of one compartment.
///
/// Made to be filled again for the next compartment, so that its memory is asked for once.
#[derive(Default)]
pub(super) struct Surroundings {
    /// The draws, copied out of the history: fetching them from all over it in one go and
    /// then going over the copy takes half the time of going back and forth.
    draws: Vec<Draw>,
    bearers: Vec<u32>,
    /// For each draw, by its place in the compartment: the same of its previous draw.
    previous: Vec<Option<u32>>,
    second_fills: Vec<SecondFills>,
    nearest: Nearest,
    fills_naming: FxHashMap<TextId, Naming>,
    first_fills: FirstFills,
}

/// When the last second fill naming a bottle was drawn, and the last that was sent.
#[derive(Clone, Copy)]
struct Naming {
    drawn_at: i64,
    sent_drawn_at: Option<i64>,
}

impl Surroundings {
    /// Looks at one compartment: the places of its draws in the history, by `drawn_at`,
    /// then identity.
    pub fn look_at(&mut self, history: &History, bearers: &Bearers, compartment: &[u32]) {
        self.draws.clear();
        let draws = compartment.iter().map(|&it| history.draws[it as usize]);
        self.draws.extend(draws);
        self.bearers.clear();
        let bearers = self.draws.iter().map(|draw| bearers.of(draw.bottle));
        self.bearers.extend(bearers);
        self.find_previous(&history.points);
        self.find_second_fills();
        self.nearest.look_at(self.draws.iter().map(|draw| {
            let member = SetMember {
                drawn_at: draw.drawn_at,
                place: history.points[draw.point as usize].place,
            };
            (draw.set_id, member)
        }));
    }

    /// Gives back the memory that was only needed to look at a compartment, the copy of its
    /// draws included: from now on [`Self::situation_in`] has to be asked.
    pub fn let_go_of_scratch(&mut self) {
        self.draws = Vec::new();
        self.nearest.let_go_of_scratch();
        self.fills_naming = FxHashMap::default();
        self.first_fills = FirstFills::default();
    }

    /// The draw at this place in the compartment.
    pub fn draw(&self, place: usize) -> &Draw {
        &self.draws[place]
    }

    /// The previous draw of the draw at this place in the compartment, as such a place.
    pub fn previous(&self, place: usize) -> Option<usize> {
        self.previous[place].map(|previous| previous as usize)
    }

    /// All that rules may look at, of the draw at this place in the compartment.
    pub fn situation<'a>(&'a self, place: usize, point: &'a PreparedPoint<'a>) -> Situation<'a> {
        self.situation_of(place, point, |place| self.draw(place))
    }

    /// As [`Self::situation`], with the draws as they stand in the history that was looked at;
    /// `compartment` as in [`Self::look_at`].
    pub fn situation_in<'a>(
        &'a self,
        history: &'a History,
        compartment: &[u32],
        place: usize,
        point: &'a PreparedPoint<'a>,
    ) -> Situation<'a> {
        self.situation_of(place, point, |place| {
            &history.draws[compartment[place] as usize]
        })
    }

    fn situation_of<'a>(
        &'a self,
        place: usize,
        point: &'a PreparedPoint<'a>,
        draw: impl Fn(usize) -> &'a Draw,
    ) -> Situation<'a> {
        Situation {
            draw: draw(place),
            point,
            previous: self.previous(place).map(&draw),
            second_fills: self.second_fills[place],
            set: self.nearest.of(place),
            bottle_bearers: self.bearers[place],
        }
    }

    /// Goes from instant to instant, since a previous draw was drawn strictly earlier.
    fn find_previous(&mut self, points: &[Point]) {
        let fills = &mut self.first_fills;
        fills.restart(self.draws.len());
        self.previous.clear();
        let mut start = 0;
        for instant in self
            .draws
            .chunk_by(|one, next| one.drawn_at == next.drawn_at)
        {
            for draw in instant {
                let kind = points[draw.point as usize].kind;
                self.previous.push(fills.before(draw, kind, &self.draws));
            }
            let end = start + instant.len();
            for place in start..end {
                fills.add(place, &self.draws);
            }
            start = end;
        }
    }

    /// A draw asks for second fills drawn no earlier, so the last one that names its bottle
    /// settles whether there is any. Second fills themselves ask for none.
    fn find_second_fills(&mut self) {
        self.fills_naming.clear();
        for fill in self.draws.iter().filter(|draw| draw.second_fill) {
            let Some(named) = fill.pair_of else { continue };
            let sent = (!fill.dispatched_at.is_blank()).then_some(fill.drawn_at);
            self.fills_naming
                .entry(named)
                .and_modify(|naming| {
                    naming.drawn_at = naming.drawn_at.max(fill.drawn_at);
                    naming.sent_drawn_at = naming.sent_drawn_at.max(sent);
                })
                .or_insert(Naming {
                    drawn_at: fill.drawn_at,
                    sent_drawn_at: sent,
                });
        }
        self.second_fills.clear();
        let naming = &self.fills_naming;
        self.second_fills.extend(self.draws.iter().map(|draw| {
            if draw.second_fill || naming.is_empty() {
                return SecondFills::None;
            }
            match draw.bottle.and_then(|bottle| naming.get(&bottle)) {
                Some(naming) if naming.sent_drawn_at >= Some(draw.drawn_at) => SecondFills::Sent,
                Some(naming) if naming.drawn_at >= draw.drawn_at => SecondFills::NotSent,
                _ => SecondFills::None,
            }
        }));
    }
}

/// The first fills of a compartment up to some instant: the latest of all and the latest
/// at each point, each with a way back past its own bottle.
#[derive(Default)]
struct FirstFills {
    latest: Option<u32>,
    latest_at: FxHashMap<u32, u32>,
    /// For each first fill: the latest earlier one that bears another bottle, among all of
    /// the compartment and among those at the same point. So a run of draws with one
    /// bottle is passed over in one step.
    other_bottle: Vec<[Option<u32>; 2]>,
}

impl FirstFills {
    fn restart(&mut self, draws: usize) {
        self.latest = None;
        self.latest_at.clear();
        self.other_bottle.clear();
        self.other_bottle.resize(draws, [None; 2]);
    }

    /// The previous draw of `of`, among the first fills added so far.
    fn before(&self, of: &Draw, kind: Kind, draws: &[Draw]) -> Option<u32> {
        let (latest, way_back) = match kind {
            Kind::Circulating | Kind::Sump => (self.latest?, 0),
            Kind::Tank | Kind::Grease => (*self.latest_at.get(&of.point)?, 1),
        };
        let first_fill = of.pair_of.filter(|_| of.second_fill);
        if first_fill.is_some() && draws[latest as usize].bottle == first_fill {
            self.other_bottle[latest as usize][way_back]
        } else {
            Some(latest)
        }
    }

    /// Adds the draw at this place of the compartment, if it is a first fill.
    fn add(&mut self, place: usize, draws: &[Draw]) {
        let added = &draws[place];
        if added.second_fill {
            return;
        }
        let number = order::number(place);
        let before = [
            self.latest.replace(number),
            self.latest_at.insert(added.point, number),
        ];
        self.other_bottle[place] = std::array::from_fn(|way_back| {
            let before = before[way_back]?;
            if draws[before as usize].bottle == added.bottle {
                self.other_bottle[before as usize][way_back]
            } else {
                Some(before)
            }
        });
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use proptest::prelude::*;

    use super::*;
    use crate::model::{Moment, Texts};

    /// Two points of one compartment and their draws: point, time, bottle, the bottle it is
    /// a second fill of (0 for a first fill, 9 for one that names none), sent.
    fn history(kinds: [Kind; 2], rows: &[(u32, i64, u8, u8, bool)]) -> History {
        let mut texts = Texts::default();
        let mut history = History {
            points: vec![
                Point::bare("P-1", "C", kinds[0]),
                Point::bare("P-2", "C", kinds[1]),
            ],
            ..History::default()
        };
        for (number, &(point, drawn_at, bottle, fill_of, sent)) in rows.iter().enumerate() {
            let mut bottle_of = |bottle: u8| match bottle {
                0 | 9 => None,
                bottle => texts.intern(&bottle.to_string()),
            };
            let mut draw = Draw::bare(point, 0, drawn_at);
            draw.bottle = bottle_of(bottle);
            draw.second_fill = fill_of > 0;
            draw.pair_of = bottle_of(fill_of);
            draw.dispatched_at = Moment::from(sent.then_some(drawn_at));
            history.draws.push(draw);
            // Identities that run against the order of the rows.
            history.identities.push(&format!("D-{}", 900 - number));
        }
        history
    }

    /// The compartment's draws in order, with their surroundings.
    fn looked_at(history: &History) -> (Vec<u32>, Surroundings) {
        let places: Vec<u32> = order::of_all(history)
            .into_iter()
            .map(|dated| dated.1)
            .collect();
        let mut surroundings = Surroundings::default();
        surroundings.look_at(history, &Bearers::count(&history.draws), &places);
        (places, surroundings)
    }

    /// The previous draw word by word as the scoring contract has it.
    fn previous_by_search(history: &History, of: usize) -> Option<usize> {
        let draw = &history.draws[of];
        let kind = history.points[draw.point as usize].kind;
        let same_point = matches!(kind, Kind::Tank | Kind::Grease);
        (0..history.draws.len())
            .filter(|&other| {
                let other = &history.draws[other];
                let passed_over =
                    draw.second_fill && draw.pair_of.is_some() && other.bottle == draw.pair_of;
                !other.second_fill
                    && other.drawn_at < draw.drawn_at
                    && (!same_point || other.point == draw.point)
                    && !passed_over
            })
            .max_by_key(|&other| (history.draws[other].drawn_at, history.identities.get(other)))
    }

    fn second_fills_by_search(history: &History, of: usize) -> SecondFills {
        let draw = &history.draws[of];
        let fills = history.draws.iter().filter(|fill| {
            fill.second_fill && fill.pair_of == draw.bottle && fill.drawn_at >= draw.drawn_at
        });
        let sent: Vec<bool> = fills.map(|fill| !fill.dispatched_at.is_blank()).collect();
        match sent.contains(&true) {
            _ if draw.second_fill || draw.bottle.is_none() || sent.is_empty() => SecondFills::None,
            true => SecondFills::Sent,
            false => SecondFills::NotSent,
        }
    }

    #[test]
    fn a_second_fill_passes_over_all_draws_that_bear_its_first_bottle() {
        let rows = [
            (0, 10, 1, 0, false),
            (0, 20, 2, 0, false),
            (0, 30, 2, 0, false),
            (0, 40, 3, 2, false),
            // names no bottle: nothing is passed over
            (0, 50, 4, 9, false),
        ];
        let history = history([Kind::Sump, Kind::Sump], &rows);
        let (_, surroundings) = looked_at(&history);
        let previous: Vec<_> = (0..5).map(|place| surroundings.previous(place)).collect();
        assert_eq!(previous, [None, Some(0), Some(1), Some(0), Some(2)]);
    }

    #[test]
    fn a_tank_looks_at_its_point_and_a_sump_at_its_compartment() {
        let rows = [
            (0, 10, 1, 0, false),
            (1, 20, 2, 0, false),
            (0, 30, 3, 0, false),
        ];
        let at_last = |kinds| looked_at(&history(kinds, &rows)).1.previous(2);
        assert_eq!(at_last([Kind::Tank, Kind::Tank]), Some(0));
        assert_eq!(at_last([Kind::Grease, Kind::Sump]), Some(0));
        assert_eq!(at_last([Kind::Sump, Kind::Tank]), Some(1));
        assert_eq!(at_last([Kind::Circulating, Kind::Circulating]), Some(1));
    }

    #[test]
    fn bearers_are_counted_over_all_compartments() {
        let rows = [
            (0, 10, 1, 0, false),
            (1, 20, 1, 0, false),
            (0, 30, 0, 0, false),
        ];
        let history = history([Kind::Sump, Kind::Sump], &rows);
        let bearers = Bearers::count(&history.draws);
        assert_eq!(bearers.of(history.draws[0].bottle), 2);
        assert_eq!(bearers.of(None), 0);
    }

    fn kind() -> impl Strategy<Value = Kind> {
        prop::sample::select(Kind::ALL)
    }

    proptest! {
        #[test]
        fn sweeping_finds_what_searching_finds(
            kinds in [kind(), kind()],
            // Few instants and few bottles, so that ties and repeats are common.
            rows in prop::collection::vec(
                (0u32..2, 0i64..8, 0u8..4, prop::sample::select(vec![0u8, 0, 1, 2, 3, 9]), any::<bool>()),
                0..30,
            ),
        ) {
            let history = history(kinds, &rows);
            let (places, surroundings) = looked_at(&history);
            let point = PreparedPoint::new(&history.points[0], false);
            for (inside, &place) in places.iter().enumerate() {
                let previous = surroundings.previous(inside).map(|it| places[it] as usize);
                prop_assert_eq!(previous, previous_by_search(&history, place as usize));
                let found = surroundings.situation(inside, &point);
                prop_assert_eq!(found.second_fills, second_fills_by_search(&history, place as usize));
                prop_assert_eq!(found.previous, previous.map(|it| &history.draws[it]));
                prop_assert_eq!(found.draw, &history.draws[place as usize]);
            }
        }
    }
}
