//! The sets of a compartment: for each draw of a set, the member nearest in time at each
//! place.
//!
//! A rule asks whether some member at a place lies within so many hours; the nearest one
//! answers that for any number of hours. So a draw carries at most one member a place
//! instead of its whole set, and judging a set of any size takes linear time.

use crate::model::{Place, TextId};
use crate::rules::SetMember;

/// One slot a place, and one for a blank place.
const SLOTS: usize = Place::ALL.len() + 1;

/// For each draw of a compartment, the nearest members of its set.
#[derive(Default)]
pub(super) struct Nearest {
    /// The members of all draws, one after another.
    members: Vec<SetMember>,
    /// For each draw, where its members begin and end; empty if no draw is of a set.
    ranges: Vec<(u32, u32)>,
    /// The draws that are of a set: the set, the place in the compartment, the member.
    joined: Vec<(TextId, u32, SetMember)>,
    /// For each draw of one set, the nearest at or after it in every slot.
    after: Vec<[Option<i64>; SLOTS]>,
}

impl Nearest {
    /// Looks at the draws of one compartment, by time.
    pub fn look_at(&mut self, draws: impl Iterator<Item = (Option<TextId>, SetMember)>) {
        self.members.clear();
        self.ranges.clear();
        self.joined.clear();
        let mut count = 0;
        for (place, (set, member)) in draws.enumerate() {
            count = place + 1;
            if let Some(set) = set {
                let place = u32::try_from(place).expect("draws are counted in 32 bits");
                self.joined.push((set, place, member));
            }
        }
        if self.joined.is_empty() {
            return;
        }
        self.ranges.resize(count, (0, 0));
        self.joined
            .sort_unstable_by_key(|&(set, place, _)| (set, place));
        let joined = std::mem::take(&mut self.joined);
        for set in joined.chunk_by(|one, next| one.0 == next.0) {
            self.sweep(set);
        }
        self.joined = joined;
    }

    /// Gives back the memory that was only needed to look at a compartment.
    pub fn let_go_of_scratch(&mut self) {
        self.joined = Vec::new();
        self.after = Vec::new();
    }

    /// The members for the draw at this place of the compartment; empty if it is of no set.
    pub fn of(&self, place: usize) -> &[SetMember] {
        match self.ranges.get(place) {
            Some(&(start, end)) => &self.members[start as usize..end as usize],
            None => &[],
        }
    }

    /// Backwards for the nearest at or after, then forwards for the nearest at or before.
    fn sweep(&mut self, set: &[(TextId, u32, SetMember)]) {
        self.after.clear();
        let mut nearest = [None; SLOTS];
        self.after.extend(set.iter().rev().map(|(_, _, member)| {
            nearest[slot(member.place)] = Some(member.drawn_at);
            nearest
        }));
        let mut before = [None; SLOTS];
        for ((_, place, member), after) in set.iter().zip(self.after.iter().rev()) {
            before[slot(member.place)] = Some(member.drawn_at);
            let start = self.members.len();
            for (slot, ends) in before.iter().zip(after).enumerate() {
                let near = match ends {
                    (Some(before), Some(after)) => {
                        let back = member.drawn_at.abs_diff(*before);
                        let ahead = member.drawn_at.abs_diff(*after);
                        if back <= ahead { *before } else { *after }
                    }
                    (Some(one), None) | (None, Some(one)) => *one,
                    (None, None) => continue,
                };
                self.members.push(SetMember {
                    drawn_at: near,
                    place: Place::ALL.get(slot).copied(),
                });
            }
            let place_of = |index| u32::try_from(index).expect("members are counted in 32 bits");
            self.ranges[*place as usize] = (place_of(start), place_of(self.members.len()));
        }
    }
}

/// The slot of a place; the last one for a blank.
fn slot(place: Option<Place>) -> usize {
    place.map_or(SLOTS - 1, |place| usize::from(place.index()))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use proptest::prelude::*;

    use super::*;
    use crate::model::Texts;

    /// The distance from each draw to the nearest member of its set at each place, by
    /// looking at every pair.
    fn by_pairs(draws: &[(Option<TextId>, SetMember)], of: usize) -> Vec<(Option<Place>, u64)> {
        let (set, draw) = draws[of];
        let mut places: Vec<Option<Place>> = Place::ALL.iter().copied().map(Some).collect();
        places.push(None);
        let mut found = Vec::new();
        for place in places {
            let distance = draws
                .iter()
                .filter(|(other, member)| set.is_some() && *other == set && member.place == place)
                .map(|(_, member)| member.drawn_at.abs_diff(draw.drawn_at))
                .min();
            found.extend(distance.map(|distance| (place, distance)));
        }
        found
    }

    proptest! {
        #[test]
        fn the_nearest_member_at_each_place_is_found(
            rows in prop::collection::vec((0u8..4, 0i64..30, 0u8..13), 0..60),
        ) {
            let mut texts = Texts::default();
            let mut draws: Vec<_> = rows
                .into_iter()
                .map(|(set, drawn_at, place)| {
                    let set = if set == 0 { None } else { texts.intern(&set.to_string()) };
                    (set, SetMember { drawn_at, place: Place::from_index(place) })
                })
                .collect();
            draws.sort_by_key(|(_, member)| member.drawn_at);
            let mut nearest = Nearest::default();
            nearest.look_at([(texts.intern("earlier use"), draws.first().map_or(
                SetMember { drawn_at: 0, place: None }, |draw| draw.1))].into_iter());
            nearest.look_at(draws.iter().copied());
            for of in 0..draws.len() {
                let found: Vec<_> = nearest
                    .of(of)
                    .iter()
                    .map(|member| (member.place, member.drawn_at.abs_diff(draws[of].1.drawn_at)))
                    .collect();
                prop_assert_eq!(found, by_pairs(&draws, of));
            }
        }
    }
}
