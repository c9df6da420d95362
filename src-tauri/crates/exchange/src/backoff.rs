//! How long to wait before trying again.
//!
//! Waits grow, are capped and scattered, so that phones that lost one hub do not all come back in one second. A tap, a
//! resume, or the network coming back begins anew; nothing is dropped for having failed often.

use std::time::Duration;

/// The first wait, in milliseconds.
const FIRST: u64 = 2_000;
/// The longest wait, in milliseconds: a quarter of an hour.
const LONGEST: u64 = 15 * 60 * 1_000;

/// Counts failures one after the other.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Backoff {
    failures: u32,
}

impl Backoff {
    /// Counts a failure and returns how long to wait: between half and all of a time that doubles up to a quarter of
    /// an hour. `chance` is any number, drawn anew for each call.
    pub fn failed(&mut self, chance: u32) -> Duration {
        let whole = FIRST.checked_shl(self.failures.min(16)).unwrap_or(LONGEST).min(LONGEST);
        self.failures = self.failures.saturating_add(1);
        let scattered = u64::from(chance) * (whole / 2) / u64::from(u32::MAX);
        Duration::from_millis(whole / 2 + scattered)
    }

    /// Begins anew: it went well, a person asked, or the network came back.
    pub fn reset(&mut self) {
        self.failures = 0;
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn waits_double_up_to_a_quarter_of_an_hour() {
        let mut backoff = Backoff::default();
        let waits: Vec<u64> = (0..12).map(|_| backoff.failed(u32::MAX).as_secs()).collect();
        assert_eq!(waits, [2, 4, 8, 16, 32, 64, 128, 256, 512, 900, 900, 900]);
        backoff.reset();
        assert_eq!(backoff.failed(0), Duration::from_secs(1));
    }

    proptest! {
        #[test]
        fn no_wait_is_longer_than_a_quarter_of_an_hour_or_shorter_than_a_second(
            failures in 0u32..=u32::MAX, chance: u32
        ) {
            let wait = Backoff { failures }.failed(chance);
            prop_assert!(wait >= Duration::from_secs(1) && wait <= Duration::from_secs(900));
        }
    }
}
