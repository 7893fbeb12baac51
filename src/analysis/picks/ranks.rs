//! The rule by which draws are picked, short enough to be printed and done by hand.
//!
//! A draw's rank is SHA-256 of the seed, a colon and the draw's identity, in lower-case
//! hexadecimal. The draws of the lowest ranks are picked. Whoever knows seed and
//! identities gets the same draws; whoever does not know the seed can't foresee them.

use rayon::prelude::*;
use sha2::{Digest, Sha256};

use crate::model::trail::hexadecimal;

/// The rank of a draw: bytes that order as their hexadecimal digits do.
#[must_use]
pub fn rank(seed: &str, identity: &str) -> [u8; 32] {
    let mut hasher = Sha256::new();
    hasher.update(seed.as_bytes());
    hasher.update(b":");
    hasher.update(identity.as_bytes());
    hasher.finalize().into()
}

/// The places of the so many draws of the lowest ranks, the lowest first.
#[must_use]
pub fn lowest(seed: &str, identities: &[&str], count: usize) -> Vec<usize> {
    let mut ranked: Vec<([u8; 32], usize)> = identities
        .par_iter()
        .enumerate()
        .map(|(place, identity)| (rank(seed, identity), place))
        .collect();
    let count = count.min(ranked.len());
    if count < ranked.len() {
        ranked.select_nth_unstable(count);
        ranked.truncate(count);
    }
    ranked.sort_unstable();
    ranked.into_iter().map(|(_, place)| place).collect()
}

/// SHA-256, in hexadecimal, over identities sorted by their bytes, each with a line feed
/// after it: two populations of the same draws have the same, whatever their order.
#[must_use]
pub fn population_sha256(identities: &[&str]) -> String {
    let mut sorted = identities.to_vec();
    sorted.par_sort_unstable();
    let mut hasher = Sha256::new();
    for identity in sorted {
        hasher.update(identity.as_bytes());
        hasher.update(b"\n");
    }
    hexadecimal(&hasher.finalize())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `printf 'spring:D-1' | sha256sum` and `printf 'D-1\nD-2\n' | sha256sum` of GNU
    /// coreutils.
    #[test]
    fn ranks_are_those_of_sha256sum() {
        assert_eq!(
            hexadecimal(&rank("spring", "D-1")),
            "3dab133357a86e47dfed54c52c3bd70362a4b63f125dd1d23123fcccb5ed5ee1"
        );
        assert_eq!(
            population_sha256(&["D-2", "D-1"]),
            "f911ab1658ee0a671e7e923a777c4b3eac947a45120826428af42440b4dc2216"
        );
    }

    #[test]
    fn the_lowest_come_first_and_a_longer_pick_goes_on_where_a_shorter_ends() {
        let names: Vec<String> = (0..500).map(|number| format!("D-{number}")).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let ten = lowest("s", &names, 10);
        let all = lowest("s", &names, 9_999);
        assert_eq!(all.len(), 500);
        assert_eq!(ten, all[..10]);
        assert!(all.is_sorted_by_key(|place| rank("s", names[*place])));
        assert_ne!(lowest("t", &names, 10), ten);
        assert!(lowest("s", &[], 3).is_empty());
    }
}
