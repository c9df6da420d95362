//! A clock that a test holds in its hand.

use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use domain::visit::Moment;
use field::{Clock, Now, SinceBoot};

/// A clock that stands until it is moved. Its copies are the same clock.
#[derive(Debug, Clone, Default)]
pub struct Hands(Arc<Mutex<Inner>>);

#[derive(Debug)]
struct Inner {
    moved: i64,
    offset_minutes: i16,
    since_boot: Option<SinceBoot>,
    ticks: Duration,
    pace: Duration,
}

impl Default for Inner {
    fn default() -> Inner {
        let since_boot = Some(SinceBoot { elapsed: Duration::from_secs(60), mark: [9; 16] });
        Inner { moved: 0, offset_minutes: 60, since_boot, ticks: Duration::ZERO, pace: Duration::ZERO }
    }
}

impl Hands {
    /// Where it stands at first: 2026-11-25T10:42:07Z, by `date -u -d 2026-11-25T10:42:07Z +%s`.
    pub const START: Moment = Moment(1_795_603_327_000);

    /// Sets the wall clock by milliseconds, forward or back. The clock that nobody sets stands.
    pub fn move_by(&self, millis: i64) {
        self.with(|inner| inner.moved += millis);
    }

    /// Takes it to where local time is so many minutes ahead of UTC; it stands an hour ahead at first.
    pub fn ahead_by(&self, minutes: i16) {
        self.with(|inner| inner.offset_minutes = minutes);
    }

    /// Lets time pass, on both clocks.
    pub fn pass(&self, time: Duration) {
        self.move_by(i64::try_from(time.as_millis()).unwrap_or(i64::MAX));
        self.with(|inner| inner.since_boot.iter_mut().for_each(|since| since.elapsed += time));
    }

    /// Starts the phone anew: the clock that nobody sets begins again, under another mark.
    pub fn boot(&self) {
        self.with(|inner| {
            inner.since_boot.iter_mut().for_each(|since| {
                since.elapsed = Duration::ZERO;
                since.mark[0] = since.mark[0].wrapping_add(1);
            });
        });
    }

    /// Makes it the clock of a phone that tells nothing of the time since its start.
    pub fn tell_no_boot(&self) {
        self.with(|inner| inner.since_boot = None);
    }

    /// Lets so much time pass between two looks at the ticks.
    pub fn tick_by(&self, pace: Duration) {
        self.with(|inner| inner.pace = pace);
    }

    /// Nothing held here is left half changed by a panic.
    fn with<T>(&self, hold: impl FnOnce(&mut Inner) -> T) -> T {
        hold(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

impl Clock for Hands {
    fn now(&self) -> Now {
        self.with(|inner| Now {
            wall: Moment(Hands::START.0 + inner.moved),
            offset_minutes: inner.offset_minutes,
            since_boot: inner.since_boot,
        })
    }

    fn ticks(&self) -> Duration {
        self.with(|inner| {
            inner.ticks += inner.pace;
            inner.ticks
        })
    }
}
