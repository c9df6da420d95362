//! The hub's clock: the system's, or one that a test sets.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use chrono::Utc;
use record::Claimed;

/// A moment of the hub, in milliseconds since 1970-01-01T00:00Z.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment(pub i64);

impl Moment {
    /// Returns the moment so many seconds later.
    #[must_use]
    pub fn after_seconds(self, seconds: i64) -> Moment {
        Moment(self.0.saturating_add(seconds.saturating_mul(1000)))
    }

    /// Returns the moment as entries claim it. The hub writes UTC.
    #[must_use]
    pub fn claimed(self) -> Claimed {
        Claimed { millis: self.0, offset_minutes: 0 }
    }
}

/// Where the hub reads the time.
#[derive(Debug, Clone, Default)]
pub enum Clock {
    /// The computer's clock.
    #[default]
    System,
    /// A clock that stands until it is set.
    Set(Arc<AtomicI64>),
}

impl Clock {
    /// Returns a clock that stands at a moment.
    #[must_use]
    pub fn set_at(moment: Moment) -> Clock {
        Clock::Set(Arc::new(AtomicI64::new(moment.0)))
    }

    /// Returns the time.
    #[must_use]
    pub fn now(&self) -> Moment {
        match self {
            Clock::System => Moment(Utc::now().timestamp_millis()),
            Clock::Set(at) => Moment(at.load(Ordering::SeqCst)),
        }
    }

    /// Puts a clock that stands forward or back. The computer's clock is left alone.
    pub fn move_by_seconds(&self, seconds: i64) {
        if let Clock::Set(at) = self {
            at.fetch_add(seconds.saturating_mul(1000), Ordering::SeqCst);
        }
    }
}
