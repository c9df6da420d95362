//! How long to wait for a supervisor's confirmation.
//!
//! While the hub answers, a person may be standing beside it with both screens in sight, so it is asked often for as long
//! as a code lives. After that, and wherever the hub does not answer, waits grow as after any failure.

use std::time::Duration;

use exchange::backoff::Backoff;

/// How often is asked while somebody may be standing there.
pub(super) const OFTEN: Duration = Duration::from_secs(3);
/// How many times: for ten minutes, as long as a code lives.
const STANDING_THERE: u32 = 200;

/// What was waited so far.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Patience {
    asked: u32,
    backoff: Backoff,
}

impl Patience {
    /// The hub answered that nobody confirmed yet. Returns how long to wait; `chance` is any number, drawn anew.
    pub(super) fn not_yet(&mut self, chance: u32) -> Duration {
        self.asked = self.asked.saturating_add(1);
        if self.asked < STANDING_THERE { OFTEN } else { self.backoff.failed(chance).max(OFTEN) }
    }

    /// A person asked, the app came back, or the network did: somebody may be standing there again.
    pub(super) fn begin_anew(&mut self) {
        *self = Patience::default();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hub_is_asked_often_for_ten_minutes_and_then_ever_less() {
        let mut patience = Patience::default();
        let often: Duration = (1..STANDING_THERE).map(|_| patience.not_yet(u32::MAX)).sum();
        assert_eq!(often, Duration::from_secs(3 * 199));
        let later: Vec<u64> = (0..11).map(|_| patience.not_yet(u32::MAX).as_secs()).collect();
        assert_eq!(later, [3, 4, 8, 16, 32, 64, 128, 256, 512, 900, 900]);
        patience.begin_anew();
        assert_eq!(patience.not_yet(u32::MAX), OFTEN);
    }
}
