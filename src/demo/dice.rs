//! Chance from a seed: the same numbers on every machine, without a clock.

/// A stream of pseudo-random numbers (SplitMix64: Steele, Lea and Flood, "Fast splittable
/// pseudorandom number generators", 2014).
#[derive(Clone, Debug)]
pub struct Dice {
    state: u64,
}

/// The golden ratio in 64 bits, SplitMix64's step.
const STEP: u64 = 0x9e37_79b9_7f4a_7c15;

impl Dice {
    /// The stream of this seed.
    #[must_use]
    pub const fn new(seed: u64) -> Self {
        Dice { state: seed }
    }

    /// A stream of its own for one thing (`kind`) and its number, so that a change in one
    /// place of the scenario does not shift chance everywhere else.
    #[must_use]
    pub fn of(seed: u64, kind: u64, number: u64) -> Self {
        let mut dice = Dice::new(seed ^ kind.wrapping_mul(0xd134_2543_de82_ef95));
        let start = dice.next();
        Dice::new(start ^ number.wrapping_mul(STEP))
    }

    /// The next 64 bits.
    pub const fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(STEP);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A fraction from 0 (included) to 1 (excluded), in steps of 2⁻⁵³.
    pub fn fraction(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// True with this probability.
    pub fn chance(&mut self, probability: f64) -> bool {
        self.fraction() < probability
    }

    /// A number from `low` to `high`, all equally likely.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.fraction()
    }

    /// A number from `low` to `high`, small ones likelier.
    pub fn mostly_low(&mut self, low: f64, high: f64) -> f64 {
        let fraction = self.fraction();
        low + (high - low) * fraction * fraction
    }

    /// A number scattered about `middle` with this standard deviation, never further off
    /// than about three and a half of it (the sum of four even numbers).
    pub fn around(&mut self, middle: f64, deviation: f64) -> f64 {
        let sum: f64 = (0..4).map(|_| self.fraction()).sum();
        middle + (sum - 2.0) * deviation * 1.732_050_807_568_877_2
    }

    /// A place in a list of `length`, which must not be 0.
    pub fn place(&mut self, length: usize) -> usize {
        let place = self.fraction() * length as f64;
        (place as usize).min(length - 1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first outputs of SplitMix64 for seed 1234567, as printed by several public
    /// implementations of the algorithm (from memory).
    #[test]
    fn the_stream_is_that_of_splitmix64() {
        let mut dice = Dice::new(1_234_567);
        let expected = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
        ];
        for value in expected {
            assert_eq!(dice.next(), value);
        }
    }

    #[test]
    fn scatter_keeps_its_mean_and_deviation() {
        let mut dice = Dice::of(1, 2, 3);
        let values: Vec<f64> = (0..20_000).map(|_| dice.around(50.0, 4.0)).collect();
        let mean = values.iter().sum::<f64>() / 20_000.0;
        let variance = values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / 20_000.0;
        assert!((mean - 50.0).abs() < 0.15, "{mean}");
        assert!((variance.sqrt() - 4.0).abs() < 0.15, "{}", variance.sqrt());
    }

    #[test]
    fn places_stay_inside_the_list() {
        let mut dice = Dice::new(9);
        assert!((0..1000).all(|_| dice.place(3) < 3));
    }
}
