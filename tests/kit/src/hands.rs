//! A clock that a test holds in its hand.

use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use domain::visit::Moment;
use field::{Clock, Now, SinceBoot};

/// A clock that stands until it is moved. Its copies are the same clock.
#[derive(Debug, Clone, Default)]
pub struct Hands(Arc<Mutex<Inner>>);

#[derive(Debug, Default)]
struct Inner {
    moved: i64,
    ticks: Duration,
    pace: Duration,
}

impl Hands {
    /// Where it stands at first: 2026-11-25T10:42:07Z, by `date -u -d 2026-11-25T10:42:07Z +%s`.
    pub const START: Moment = Moment(1_795_603_327_000);

    /// Moves it by milliseconds, forward or back.
    pub fn move_by(&self, millis: i64) {
        self.with(|inner| inner.moved += millis);
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
        let since_boot = Some(SinceBoot { elapsed: Duration::from_secs(60), mark: [9; 16] });
        let wall = Moment(Hands::START.0 + self.with(|inner| inner.moved));
        Now { wall, offset_minutes: 60, since_boot }
    }

    fn ticks(&self) -> Duration {
        self.with(|inner| {
            inner.ticks += inner.pace;
            inner.ticks
        })
    }
}
