//! Stopping what is under way, from another thread.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use tokio::sync::Notify;

/// Stops an exchange at the next border between two pieces. Copies stop the same one.
#[derive(Debug, Clone, Default)]
pub struct Cancel(Arc<Inner>);

#[derive(Debug, Default)]
struct Inner {
    stopped: AtomicBool,
    told: Notify,
}

impl Cancel {
    /// Stops it. A question that is on its way is given up; what was answered before is kept.
    pub fn stop(&self) {
        self.0.stopped.store(true, Ordering::SeqCst);
        self.0.told.notify_waiters();
    }

    /// Returns whether it was stopped.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.0.stopped.load(Ordering::SeqCst)
    }

    /// Waits until it is stopped.
    pub async fn stopped(&self) {
        let told = self.0.told.notified();
        tokio::pin!(told);
        // Listening begins before looking: a stop between the two is not missed.
        told.as_mut().enable();
        if !self.is_stopped() {
            told.await;
        }
    }
}
