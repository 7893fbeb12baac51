//! Orders of long lists, reckoned when what they follow from changes and not with every key.
//!
//! Whoever reads a list asks for its order with the key of what it follows from: where the key is
//! that of the order kept here it is at hand, else it is reckoned on the spot. After every
//! action the order in view is kept anew.

use std::sync::Arc;

/// An order of lines by their places, and what it follows from.
#[derive(Clone, Debug)]
pub(crate) struct Sorted<K>(Option<(K, Arc<Vec<u32>>)>);

impl<K> Default for Sorted<K> {
    fn default() -> Self {
        Sorted(None)
    }
}

impl<K: PartialEq> Sorted<K> {
    /// The order that follows from this.
    pub(crate) fn order(&self, key: &K, reckon: impl FnOnce() -> Vec<u32>) -> Arc<Vec<u32>> {
        match &self.0 {
            Some((of, order)) if of == key => Arc::clone(order),
            _ => Arc::new(reckon()),
        }
    }

    /// Whether this is the order kept here.
    pub(crate) fn is_of(&self, key: &K) -> bool {
        matches!(&self.0, Some((of, _)) if of == key)
    }

    /// Keeps an order.
    pub(crate) fn keep(&mut self, key: K, order: Arc<Vec<u32>>) {
        self.0 = Some((key, order));
    }
}

/// The places of some lines, sorted.
pub(crate) fn places(count: usize) -> Vec<u32> {
    (0..u32::try_from(count).unwrap_or(u32::MAX)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_order_is_reckoned_once_for_what_it_follows_from() {
        let mut sorted = Sorted::default();
        let order = sorted.order(&1, || vec![2, 0, 1]);
        sorted.keep(1, order);
        assert!(sorted.is_of(&1) && !sorted.is_of(&2));
        assert_eq!(*sorted.order(&1, || panic!("it is at hand")), [2, 0, 1]);
        assert_eq!(*sorted.order(&2, || places(2)), [0, 1]);
    }
}
