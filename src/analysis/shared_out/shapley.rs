//! Sharing out what players bring about together: the Shapley value.
//!
//! The players join one after the other in an order drawn at random; each gets what the
//! worth rises by when it joins, averaged over all orders. For player i of n that is
//! Σ over coalitions S without i of |S|! (n − |S| − 1)!/n! · (v(S ∪ i) − v(S)).
//! Source: L. S. Shapley, "A value for n-person games", in Contributions to the Theory of
//! Games II, Annals of Mathematics Studies 28 (1953) 307–317.
//!
//! The factor is 1/(n·C(n−1, |S|)), and n·C(n−1, s) divides the least common multiple of
//! 1 to n (B. Farhi, American Mathematical Monthly 116 (2009) 836–839; from memory). So with worths in
//! whole numbers every share is a whole number of [`PARTS`], and sums over any number of
//! games are exact in any order.

/// The parts that one unit of worth is shared out in: the least common multiple of 1 to 17.
pub const PARTS: i64 = 12_252_240;

/// The most players that [`PARTS`] serves; there are as many rules of class sample.
pub const MOST_PLAYERS: usize = 17;

/// What each of `players` players gets, in [`PARTS`] of one unit of worth. A coalition is
/// given to `worth` as a mask with bit i for player i; the worth of nobody should be 0. The
/// shares add up to the worth of all.
///
/// # Panics
/// With more than [`MOST_PLAYERS`] players.
#[must_use]
pub fn shares(players: usize, worth: impl Fn(u32) -> i64) -> Vec<i64> {
    assert!(
        players <= MOST_PLAYERS,
        "at most {MOST_PLAYERS} players are shared out among, not {players}"
    );
    let mut shares = vec![0; players];
    let joining = weights(players);
    for coalition in 0..1_u32 << players {
        let worth = worth(coalition);
        if worth == 0 {
            continue;
        }
        // What it is worth stands to the credit of each member, who may have joined last,
        // and to the debit of everyone else, who may join next.
        let size = coalition.count_ones() as usize;
        let credit = size.checked_sub(1).map_or(0, |others| joining[others]) * worth;
        let debit = joining.get(size).copied().unwrap_or(0) * worth;
        for (player, share) in shares.iter_mut().enumerate() {
            if coalition & (1 << player) == 0 {
                *share -= debit;
            } else {
                *share += credit;
            }
        }
    }
    shares
}

/// For each size of a coalition the chance that a given player finds exactly it in front,
/// in [`PARTS`]: 1/(n·C(n−1, size)).
fn weights(players: usize) -> Vec<i64> {
    let mut weights = Vec::with_capacity(players);
    let mut chances = players as i64;
    for size in 0..players {
        weights.push(PARTS / chances);
        if size + 1 < players {
            // C(n−1, s+1) = C(n−1, s)·(n−1−s)/(s+1), here times n
            chances = chances * (players - 1 - size) as i64 / (size + 1) as i64;
        }
    }
    weights
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use proptest::prelude::*;

    use super::*;

    /// The definition word by word: every order of joining, each as likely.
    fn by_all_orders(players: usize, worth: &dyn Fn(u32) -> i64) -> Vec<f64> {
        fn walk(left: u32, joined: u32, worth: &dyn Fn(u32) -> i64, sums: &mut [i64]) -> i64 {
            if left == 0 {
                return 1;
            }
            let mut orders = 0;
            for player in 0..sums.len() {
                if left & (1 << player) != 0 {
                    let with = joined | (1 << player);
                    let below = walk(left & !(1 << player), with, worth, sums);
                    sums[player] += below * (worth(with) - worth(joined));
                    orders += below;
                }
            }
            orders
        }
        let mut sums = vec![0; players];
        let orders = walk((1 << players) - 1, 0, worth, &mut sums);
        sums.iter().map(|&sum| sum as f64 / orders as f64).collect()
    }

    fn parts(numerators: &[i64], denominator: i64) -> Vec<i64> {
        assert_eq!(PARTS % denominator, 0);
        numerators
            .iter()
            .map(|numerator| numerator * (PARTS / denominator))
            .collect()
    }

    /// The glove game: one left glove (player 0), two right ones; a pair is worth 1. The
    /// value is (2/3, 1/6, 1/6), as in textbooks of game theory and on the page "Shapley
    /// value" of Wikipedia (there with two left gloves; from memory).
    #[test]
    fn the_glove_game_comes_out_as_in_the_textbooks() {
        let pair = |hands: u32| i64::from(hands & 1 != 0 && hands & 0b110 != 0);
        assert_eq!(shares(3, pair), parts(&[4, 1, 1], 6));
    }

    /// The airport game: a runway must be as long as the largest aircraft needs. S. C.
    /// Littlechild, G. Owen, "A simple expression for the Shapley value in a special case",
    /// Management Science 20 (1973) 370–372: each step of the cost is shared equally by
    /// those who need it. Costs 8, 11, 13, 18 give 2, 3, 4, 9 (the worked example of the
    /// page "Airport problem" of Wikipedia, from memory; it follows from the expression).
    #[test]
    fn the_airport_game_comes_out_by_the_simple_expression() {
        let costs = [8, 11, 13, 18];
        let runway = |aircraft: u32| {
            let needed = (0..4).filter(|it| aircraft & (1 << it) != 0);
            needed.map(|it| costs[it]).max().unwrap_or(0)
        };
        assert_eq!(shares(4, runway), parts(&[2, 3, 4, 9], 1));
    }

    /// L. S. Shapley, M. Shubik, American Political Science Review 48 (1954) 787–792: the
    /// Security Council as it was, five with a veto and six without, seven votes needed. A
    /// member without veto has 5/2310, the six together 1.3 %, the five 98.7 %.
    #[test]
    fn the_security_council_has_the_published_power() {
        let passes =
            |for_it: u32| i64::from(for_it & 0b11111 == 0b11111 && for_it.count_ones() >= 7);
        let power = shares(11, passes);
        let great: i64 = power[..5].iter().sum();
        assert_eq!(power.iter().sum::<i64>(), PARTS);
        let share = great as f64 / PARTS as f64;
        assert!((share - 0.987).abs() < 5e-4, "{share}");
    }

    #[test]
    fn nobody_shares_nothing_and_seventeen_share_exactly() {
        assert_eq!(shares(0, |_| 0), Vec::<i64>::new());
        let all = (1 << MOST_PLAYERS) - 1;
        let equal = shares(MOST_PLAYERS, |coalition| i64::from(coalition == all));
        assert_eq!(equal, parts(&[1; MOST_PLAYERS], 17));
    }

    #[test]
    #[should_panic(expected = "at most 17 players")]
    fn an_eighteenth_player_is_refused() {
        let _ = shares(18, |_| 0);
    }

    proptest! {
        #[test]
        fn any_game_is_shared_as_over_all_orders(
            players in 1usize..7,
            worths in prop::collection::vec(-5i64..20, 64),
        ) {
            let worth = |coalition: u32| match coalition {
                0 => 0,
                coalition => worths[coalition as usize],
            };
            let found = shares(players, worth);
            let wanted = by_all_orders(players, &worth);
            for (found, wanted) in found.iter().zip(wanted) {
                prop_assert!((*found as f64 / PARTS as f64 - wanted).abs() < 1e-9);
            }
            let all = worth((1 << players) - 1);
            prop_assert_eq!(found.iter().sum::<i64>(), all * PARTS);
        }
    }
}
