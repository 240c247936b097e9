//! Chance with a seed: the same seed gives the same job on every machine.

/// A generator of the kind SplitMix64 (Steele, Lea and Flood, 2014).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A whole number from 0 to just under `end`.
    pub fn below(&mut self, end: usize) -> usize {
        (self.next() % end.max(1) as u64) as usize
    }

    /// True so many times of a hundred.
    pub fn percent(&mut self, share: usize) -> bool {
        self.below(100) < share
    }

    /// A number within two others.
    pub fn within(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * (self.below(10_001) as f64 / 10_000.0)
    }

    pub fn pick<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }

    /// Some of all, in another order; at least `least`.
    pub fn some<T: Copy>(&mut self, all: &[T], least: usize) -> Vec<T> {
        let mut all = all.to_vec();
        for at in (1..all.len()).rev() {
            all.swap(at, self.below(at + 1));
        }
        let most = all.len();
        all.truncate(least + self.below(most - least + 1));
        all
    }
}
