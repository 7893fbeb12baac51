//! Halving: where a condition that stays true once it is true first holds.

/// The first number in `low..high` that holds, `high` if none does, given that all after
/// the first hold.
pub(super) fn first(mut low: u64, mut high: u64, holds: impl Fn(u64) -> bool) -> u64 {
    while low < high {
        let middle = u64::midpoint(low, high);
        if holds(middle) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    low
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_is_found_wherever_it_is() {
        for answer in 3..=9 {
            assert_eq!(first(3, 9, |x| x >= answer), answer);
        }
        assert_eq!(first(5, 5, |_| true), 5);
    }
}
