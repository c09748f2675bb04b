//! Random numbers from a seed: the same numbers on every computer and in every later version of the program.
//!
//! The generator is SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014),
//! written out here, because seeds are kept: with an attempt at a working, and with a sitting, which is taken up again
//! from its seed. A test holds it to published values; it must not be changed, nor how numbers are drawn from it.

/// What the state grows by with each number: 2^64 by the golden ratio, made odd.
const STEP: u64 = 0x9E37_79B9_7F4A_7C15;

/// A SplitMix64 generator.
#[derive(Debug, Clone)]
pub struct SplitMix64(u64);

impl SplitMix64 {
    /// The generator of a seed.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The generator of one turn of many that share a seed: turns and neighbouring seeds have nothing in common.
    pub fn of_turn(seed: u64, turn: usize) -> Self {
        Self(Self::new(seed).next().wrapping_add(turn as u64))
    }

    /// The next number, any of 2^64.
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(STEP);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number from 0 to below `count`, the high half of the product with the next number; 0 where `count` is 0.
    pub fn below(&mut self, count: u64) -> u64 {
        ((u128::from(self.next()) * u128::from(count)) >> 64) as u64
    }

    /// A position from 0 to below `count`.
    pub fn position(&mut self, count: usize) -> usize {
        // Below `count`, so it fits.
        self.below(count as u64) as usize
    }

    /// A number from 0 to below 1, any of 2^53 evenly spaced ones.
    pub fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Puts things into a random order: from the last to the second, each changes places with one up to itself (Fisher
    /// and Yates).
    pub fn shuffle<T>(&mut self, things: &mut [T]) {
        for last in (1..things.len()).rev() {
            things.swap(last, self.position(last + 1));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_generator_is_the_published_one() {
        // The first outputs from the seed 1234567: Rosetta Code, task "Pseudo-random numbers/Splitmix64", as other
        // implementations quote them in their own tests (seen 1 December 2026); the reference code is Vigna's
        // splitmix64.c (public domain, prng.di.unimi.it).
        let mut numbers = SplitMix64::new(1_234_567);
        let first: Vec<u64> = (0..5).map(|_| numbers.next()).collect();
        assert_eq!(
            first,
            [
                6_457_827_717_110_365_317,
                3_203_168_211_198_807_973,
                9_817_491_932_198_370_423,
                4_593_380_528_125_082_431,
                16_408_922_859_458_223_821
            ]
        );
    }

    #[test]
    fn every_number_below_a_count_comes_as_often() {
        let mut numbers = SplitMix64::new(7);
        let mut drawn = [0u32; 6];
        (0..6_000).for_each(|_| drawn[numbers.position(6)] += 1);
        assert!(drawn.iter().all(|times| (880..1_120).contains(times)), "{drawn:?}");
        let mean = (0..6_000).map(|_| numbers.share()).sum::<f64>() / 6_000.0;
        assert!((mean - 0.5).abs() < 0.02, "{mean}");
    }

    #[test]
    fn an_order_holds_everything_once_and_every_order_comes() {
        let mut orders = std::collections::BTreeMap::new();
        for seed in 0..2_400 {
            let mut things = [0, 1, 2, 3];
            SplitMix64::new(seed).shuffle(&mut things);
            *orders.entry(things).or_insert(0) += 1;
        }
        assert_eq!(orders.len(), 24);
        assert!(orders.values().all(|times| (60..140).contains(times)), "{orders:?}");
        assert!(orders.keys().all(|order| (0..4).all(|thing| order.contains(&thing))));
    }

    #[test]
    fn turns_of_one_seed_and_of_the_next_share_no_numbers() {
        let mut seen = std::collections::HashSet::new();
        for seed in 0..20 {
            for turn in 0..20 {
                let mut numbers = SplitMix64::of_turn(seed, turn);
                assert!((0..20).all(|_| seen.insert(numbers.next())), "seed {seed}, turn {turn}");
            }
        }
    }
}
