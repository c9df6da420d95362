//! Chance with its seed in the open, so that what was drawn can be drawn again.

/// Draws numbers.
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    /// Begins at a seed. Seeds that follow one another begin far apart.
    #[must_use]
    pub fn new(seed: u64) -> Chance {
        let mut chance = Chance(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5DEE_CE66);
        for _ in 0..4 {
            chance.part();
        }
        chance
    }

    /// Returns a number anywhere from 0 to 1.
    pub fn part(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(self.0 >> 32).unwrap_or(u32::MAX)) / f64::from(u32::MAX)
    }

    /// Returns a number anywhere between two.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.part()
    }

    /// Returns a number anywhere within a half-width of nought.
    pub fn within(&mut self, half: f64) -> f64 {
        self.between(-half, half)
    }

    /// Returns a normal number about nought.
    pub fn normal(&mut self, standard: f64) -> f64 {
        let (one, two) = (self.part().max(1e-12), self.part());
        standard * (-2.0 * one.ln()).sqrt() * (std::f64::consts::TAU * two).cos()
    }

    /// Tells whether something comes about that does so in a share of all cases.
    pub fn often(&mut self, share: f64) -> bool {
        self.part() < share
    }

    /// Returns 1 or -1.
    pub fn sign(&mut self) -> f64 {
        if self.often(0.5) { 1.0 } else { -1.0 }
    }

    /// Returns one of a few.
    #[allow(
        clippy::indexing_slicing,
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "one of none is nobody's wish, and a few are far below 2^52"
    )]
    pub fn one_of<T: Copy>(&mut self, of: &[T]) -> T {
        let at = (self.part() * of.len() as f64) as usize;
        of[at.min(of.len() - 1)]
    }
}
