//! A programme's draws in memory, as judging needs them.

use super::{Draw, Point, Technician};

/// Points, technicians and draws that belong together.
///
/// `draws` may be the whole programme or a part that is closed under what rules look at
/// (all draws of the compartments and all bearers of the bottles in question).
#[derive(Clone, Debug, Default)]
pub struct History {
    /// Every point; draws refer to it by place.
    pub points: Vec<Point>,
    /// Every technician; draws refer to it by place.
    pub technicians: Vec<Technician>,
    /// The draws, in any order.
    pub draws: Vec<Draw>,
    /// The identity of each draw, in the same order as `draws`.
    pub identities: Identities,
}

/// The identities of many draws in one piece of memory.
#[derive(Clone, Debug, Default)]
pub struct Identities {
    text: String,
    ends: Vec<u32>,
}

impl Identities {
    /// Adds the identity of the next draw.
    ///
    /// # Panics
    /// When all identities together exceed 4 GiB.
    pub fn push(&mut self, identity: &str) {
        self.text.push_str(identity);
        self.ends
            .push(u32::try_from(self.text.len()).expect("identities stay below 4 GiB"));
    }

    /// The identity of the draw at this place.
    ///
    /// # Panics
    /// When there is no draw at this place.
    #[must_use]
    pub fn get(&self, place: usize) -> &str {
        let start = if place == 0 {
            0
        } else {
            self.ends[place - 1] as usize
        };
        &self.text[start..self.ends[place] as usize]
    }

    /// How many there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.ends.len()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.ends.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn identities_come_back_as_they_went_in() {
        let mut identities = Identities::default();
        for text in ["D-1", "", "Ö-3"] {
            identities.push(text);
        }
        assert_eq!(
            (identities.get(0), identities.get(1), identities.get(2)),
            ("D-1", "", "Ö-3")
        );
        assert_eq!(identities.len(), 3);
    }
}
