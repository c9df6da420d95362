//! Chance with its seed in the open, so that a visit can be made again.

pub(crate) struct Chance(u64);

impl Chance {
    pub(crate) fn new(seed: u64) -> Chance {
        let mut chance = Chance(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5DEE_CE66);
        for _ in 0..4 {
            chance.part();
        }
        chance
    }

    /// Anywhere from 0 to 1.
    pub(crate) fn part(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(self.0 >> 32).unwrap()) / f64::from(u32::MAX)
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.part()
    }

    pub(crate) fn within(&mut self, half: f64) -> f64 {
        self.between(-half, half)
    }

    pub(crate) fn normal(&mut self, standard: f64) -> f64 {
        let (one, two) = (self.part().max(1e-12), self.part());
        standard * (-2.0 * one.ln()).sqrt() * (std::f64::consts::TAU * two).cos()
    }

    pub(crate) fn often(&mut self, share: f64) -> bool {
        self.part() < share
    }

    pub(crate) fn sign(&mut self) -> f64 {
        if self.often(0.5) { 1.0 } else { -1.0 }
    }

    pub(crate) fn one_of<T: Copy>(&mut self, of: &[T]) -> T {
        let at = (self.part() * of.len() as f64) as usize;
        of[at.min(of.len() - 1)]
    }
}
