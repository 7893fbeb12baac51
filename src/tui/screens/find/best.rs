//! The best few of many, and how many there were.

/// So many of a kind are kept; as many of them are shown as there is room for.
pub(super) const MOST: usize = 36;

/// The best so far, the best first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Best<F> {
    /// How many fitted in all.
    pub(super) count: usize,
    /// At most [`MOST`], each with its place among all that was looked at.
    pub(super) list: Vec<(F, usize)>,
}

impl<F> Default for Best<F> {
    fn default() -> Self {
        Best {
            count: 0,
            list: Vec::new(),
        }
    }
}

impl<F: Ord> Best<F> {
    /// Counts one that fits and keeps it if it is among the best.
    pub(super) fn add(&mut self, fit: F, place: usize) {
        self.count += 1;
        self.keep((fit, place));
    }

    fn keep(&mut self, own: (F, usize)) {
        if self.list.len() == MOST && self.list.last().is_some_and(|last| *last <= own) {
            return;
        }
        let at = self.list.partition_point(|other| *other <= own);
        self.list.insert(at, own);
        self.list.truncate(MOST);
    }

    /// The best of both.
    pub(super) fn join(mut self, other: Self) -> Self {
        self.count += other.count;
        for own in other.list {
            self.keep(own);
        }
        self
    }
}
