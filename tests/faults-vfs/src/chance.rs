//! Chance that can be had again: numbers that follow from one start number.
//!
//! SplitMix64, as published by Steele, Lea and Flood, "Fast splittable pseudorandom number generators",
//! OOPSLA 2014. Thirty lines, rather than a dependency whose numbers may change with its version.

/// A source of numbers, all of which follow from the one it began with.
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    /// Begins a series.
    #[must_use]
    pub fn from(start: u64) -> Chance {
        Chance(start)
    }

    /// Returns the next number.
    pub fn number(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// Returns a number below `end`; 0 when there is none.
    pub fn below(&mut self, end: u64) -> u64 {
        self.number().checked_rem(end).unwrap_or(0)
    }

    /// Returns true in so many of a hundred cases.
    pub fn percent(&mut self, cases: u64) -> bool {
        self.below(100) < cases
    }

    /// Fills a piece of memory with noise.
    pub fn noise(&mut self, bytes: &mut [u8]) {
        for piece in bytes.chunks_mut(8) {
            let number = self.number().to_le_bytes();
            piece.iter_mut().zip(number).for_each(|(byte, noise)| *byte = noise);
        }
    }
}
