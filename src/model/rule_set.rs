//! A set of rules in one word.

/// Which rules, by their place in the registry (0 to 31).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct RuleSet(pub u32);

impl RuleSet {
    /// No rule.
    pub const NONE: RuleSet = RuleSet(0);

    /// The set of this one rule.
    #[must_use]
    pub const fn of(place: usize) -> Self {
        RuleSet(1 << place)
    }

    /// Whether the rule at this place of the registry is in the set.
    #[must_use]
    pub const fn has(self, place: usize) -> bool {
        self.0 & (1 << place) != 0
    }

    /// Puts the rule at this place into the set.
    pub const fn insert(&mut self, place: usize) {
        self.0 |= 1 << place;
    }

    /// Rules in either set.
    #[must_use]
    pub const fn or(self, other: Self) -> Self {
        RuleSet(self.0 | other.0)
    }

    /// Rules in both sets.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        RuleSet(self.0 & other.0)
    }

    /// Rules of this set that are not in the other.
    #[must_use]
    pub const fn without(self, other: Self) -> Self {
        RuleSet(self.0 & !other.0)
    }

    /// How many rules.
    #[must_use]
    pub const fn len(self) -> u32 {
        self.0.count_ones()
    }

    /// Whether there is none.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The places in the registry, in its order.
    pub fn iter(self) -> impl Iterator<Item = usize> {
        let mut rest = self.0;
        std::iter::from_fn(move || {
            (rest != 0).then(|| {
                let place = rest.trailing_zeros() as usize;
                rest &= rest - 1;
                place
            })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_gives_back_its_places_in_order() {
        let mut set = RuleSet::of(24);
        set.insert(0);
        set.insert(31);
        assert_eq!(set.iter().collect::<Vec<_>>(), [0, 24, 31]);
        assert_eq!(set.len(), 3);
        assert!(set.has(24) && !set.has(1));
        assert_eq!(
            set.without(RuleSet::of(0)).and(RuleSet::of(24)),
            RuleSet::of(24)
        );
        assert!(RuleSet::NONE.is_empty() && RuleSet::NONE.or(set) == set);
    }
}
