//! Chance with a seed: the same seed plays the same schedule.

/// SplitMix64 (Steele, Lea, Flood, 2014), after its published description.
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    pub fn from(seed: u64) -> Chance {
        Chance(seed)
    }

    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^ (bits >> 31)
    }

    /// A number below `bound`.
    pub fn below(&mut self, bound: usize) -> usize {
        usize::try_from(self.bits() % bound as u64).unwrap()
    }

    /// True so many times in a hundred.
    pub fn percent(&mut self, percent: u64) -> bool {
        self.bits() % 100 < percent
    }

    pub fn bytes<const N: usize>(&mut self) -> [u8; N] {
        std::array::from_fn(|_| self.bits() as u8)
    }
}
