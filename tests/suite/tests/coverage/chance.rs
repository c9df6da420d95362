//! A small generator with its seed in the open, so that a visit can be simulated again.

use std::f64::consts::TAU;

/// How an error is spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Shape {
    /// Normal, by its standard deviation.
    Normal(f64),
    /// Anywhere within a half-width, alike.
    Rectangle(f64),
    /// The mean of a few repeats, by its estimated standard deviation and degrees of freedom (JCGM 101, 6.4.9.2).
    Student(f64, u32),
}

/// Draws numbers.
pub(crate) struct Chance {
    state: u64,
    spare: Option<f64>,
}

impl Chance {
    /// Begins at a mixed seed: seeds that follow one another would otherwise share all but one number of their sequences.
    pub(crate) fn seeded(seed: u64) -> Chance {
        Chance { state: mix(seed ^ 0x5EA1_C01D_A5A5_0001), spare: None }
    }

    fn word(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        mix(self.state)
    }

    /// Between 0 and 1, neither of them.
    #[allow(clippy::cast_precision_loss)] // 53 bits are exact.
    pub(crate) fn part(&mut self) -> f64 {
        ((self.word() >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.part()
    }

    pub(crate) fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        let many = u64::try_from(all.len()).unwrap();
        all[usize::try_from(self.word() % many).unwrap()]
    }

    /// Box and Muller, two at a time.
    pub(crate) fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * self.part().ln()).sqrt();
        let (sine, cosine) = (TAU * self.part()).sin_cos();
        self.spare = Some(radius * sine);
        radius * cosine
    }

    pub(crate) fn error(&mut self, shape: Shape) -> f64 {
        match shape {
            Shape::Normal(standard) => standard * self.normal(),
            Shape::Rectangle(half) => self.between(-half, half),
            Shape::Student(standard, freedom) => {
                let squares: f64 = (0..freedom).map(|_| self.normal().powi(2)).sum();
                standard * self.normal() / (squares / f64::from(freedom)).sqrt()
            }
        }
    }
}

/// SplitMix64 (Steele, Lea and Flood 2014).
fn mix(word: u64) -> u64 {
    let word = (word ^ (word >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let word = (word ^ (word >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    word ^ (word >> 31)
}
