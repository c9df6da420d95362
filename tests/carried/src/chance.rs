//! Numbers drawn from a beginning that is printed, so that what went wrong can be played again.

/// Chance. The same beginning gives the same numbers.
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    /// Begins at a number of the caller's.
    #[must_use]
    pub fn from(beginning: u64) -> Chance {
        Chance(beginning)
    }

    /// Begins where `HEADMARK_CHANCE` says, else anywhere; returns the beginning too, to be printed.
    ///
    /// # Errors
    ///
    /// When the system gives no random number, or the variable holds none.
    pub fn anew() -> anyhow::Result<(Chance, u64)> {
        let beginning = match std::env::var("HEADMARK_CHANCE") {
            Ok(text) => text.parse()?,
            Err(_) => getrandom::u64()?,
        };
        Ok((Chance(beginning), beginning))
    }

    /// Draws a number below a bound; 0 where the bound is 0.
    pub fn below(&mut self, bound: u64) -> u64 {
        self.draw().checked_rem(bound).unwrap_or(0)
    }

    /// Draws a number, both ends included.
    pub fn between(&mut self, least: u64, most: u64) -> u64 {
        least.saturating_add(self.below(most.saturating_sub(least).saturating_add(1)))
    }

    /// Draws one of a list.
    ///
    /// # Errors
    ///
    /// When the list is empty.
    pub fn one_of<'l, T>(&mut self, list: &'l [T]) -> anyhow::Result<&'l T> {
        let at = usize::try_from(self.below(list.len() as u64))?;
        anyhow::Context::context(list.get(at), "nothing to draw from")
    }

    /// A step of the generator that Steele, Lea and Flood call SplitMix64 (OOPSLA 2014).
    fn draw(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }
}
