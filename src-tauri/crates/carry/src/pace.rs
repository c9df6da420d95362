//! How much goes at a time, and how long to wait after a failure.

use std::time::Duration;

use exchange::backoff::Backoff;
use exchange::session::ROUND;

/// The least that one push is cut down to.
pub const LEAST_ROUND: usize = 64 * 1024;

/// Remembers, from one exchange to the next, what the link bore.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pace {
    round: usize,
    backoff: Backoff,
}

impl Default for Pace {
    fn default() -> Pace {
        Pace { round: ROUND, backoff: Backoff::default() }
    }
}

impl Pace {
    /// Returns the most bytes of records in one push now.
    #[must_use]
    pub fn round(&self) -> usize {
        self.round
    }

    /// An exchange went to its end: more at a time may go, and nothing is waited for.
    pub fn went_well(&mut self) {
        self.round = self.round.saturating_mul(2).min(ROUND);
        self.backoff.reset();
    }

    /// An exchange broke off. Returns how long to wait; `gave_way` where less at a time may get through, `asked` what
    /// the hub itself asked for, `chance` any number, drawn anew.
    pub fn failed(&mut self, gave_way: bool, asked: Option<Duration>, chance: u32) -> Duration {
        if gave_way {
            self.round = (self.round / 2).max(LEAST_ROUND);
        }
        self.backoff.failed(chance).max(asked.unwrap_or_default()).min(LONGEST)
    }

    /// A person asked, the app came back, or the network did: the next try is at once.
    pub fn begin_anew(&mut self) {
        self.backoff.reset();
    }
}

/// No wait is longer, whatever a hub asks for.
const LONGEST: Duration = Duration::from_secs(15 * 60);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_goes_at_a_time_is_halved_down_to_64_kib_and_grows_again() {
        let mut pace = Pace::default();
        let halved: Vec<usize> = (0..6)
            .map(|_| {
                pace.failed(true, None, 0);
                pace.round() / 1024
            })
            .collect();
        assert_eq!(halved, [512, 256, 128, 64, 64, 64]);
        pace.went_well();
        assert_eq!(pace.round(), 128 * 1024);
        (0..9).for_each(|_| pace.went_well());
        assert_eq!(pace.round(), 1024 * 1024);
    }

    #[test]
    fn a_link_that_was_not_there_makes_no_push_smaller() {
        let mut pace = Pace::default();
        pace.failed(false, None, 0);
        assert_eq!(pace.round(), 1024 * 1024);
    }

    #[test]
    fn waits_grow_and_the_hub_may_ask_for_more_but_not_for_ever() {
        let mut pace = Pace::default();
        assert_eq!(pace.failed(false, None, u32::MAX), Duration::from_secs(2));
        assert_eq!(pace.failed(false, None, u32::MAX), Duration::from_secs(4));
        assert_eq!(pace.failed(false, Some(Duration::from_secs(60)), u32::MAX), Duration::from_secs(60));
        let day = Some(Duration::from_secs(86_400));
        assert_eq!(pace.failed(false, day, 0), Duration::from_secs(900));
        pace.begin_anew();
        assert_eq!(pace.failed(false, None, 0), Duration::from_secs(1));
    }
}
