/// Numbers that look like chance and are the same each time: a linear congruential generator.
///
/// Multiplier and increment are Knuth's for 64 bits (The Art of Computer Programming, volume 2, section 3.3.4, as
/// remembered); only the upper bits are used.
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    /// Returns the numbers that belong to a beginning.
    #[must_use]
    pub fn from(beginning: u64) -> Chance {
        let mut chance = Chance(beginning ^ 0x9E37_79B9_7F4A_7C15);
        chance.bits();
        chance
    }

    /// Returns 32 bits.
    pub fn bits(&mut self) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 32) as u32
    }

    /// Returns a number from 0 up to 1.
    pub fn part(&mut self) -> f32 {
        (self.bits() >> 8) as f32 / (1u32 << 24) as f32
    }

    /// Returns a number between two.
    pub fn between(&mut self, least: f32, most: f32) -> f32 {
        least + (most - least) * self.part()
    }

    /// Returns a number about 0 with a spread of 1, nearly normal.
    pub fn spread(&mut self) -> f32 {
        let sum = self.part() + self.part() + self.part() + self.part();
        // Four even numbers have a variance of a third.
        (sum - 2.0) * 1.732
    }
}
