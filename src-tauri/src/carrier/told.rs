//! What the carrier tells: kept for whoever asks, and announced now and then.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use carry::{Around, Cancel, Progress};
use field::view::{Message, Network};
use field::{Stage, Under};

/// The least time between two announcements while something is under way.
const SPACING: Duration = Duration::from_millis(250);

/// What was told last.
pub(super) struct Told {
    kept: Mutex<Kept>,
    idle: Condvar,
    tell: Box<dyn Fn() + Send + Sync>,
}

#[derive(Default)]
struct Kept {
    under: Under,
    trouble: Option<Message>,
    cancel: Cancel,
    busy: bool,
    announced: Option<Instant>,
}

impl Told {
    pub(super) fn new(tell: Box<dyn Fn() + Send + Sync>) -> Told {
        Told { kept: Mutex::default(), idle: Condvar::new(), tell }
    }

    pub(super) fn now(&self) -> (Under, Option<Message>) {
        let kept = self.kept();
        (kept.under, kept.trouble.clone())
    }

    /// Begins a turn, and returns what stops it.
    pub(super) fn begin(&self) -> Cancel {
        let mut kept = self.kept();
        kept.busy = true;
        kept.cancel = Cancel::default();
        kept.cancel.clone()
    }

    /// Ends a turn, with what is to be shown from now on.
    pub(super) fn end(&self, stage: Stage, seconds: u32, trouble: Option<Message>) {
        let mut kept = self.kept();
        kept.busy = false;
        kept.under = Under { stage, seconds, ..kept.under };
        kept.trouble = trouble;
        drop(kept);
        self.idle.notify_all();
        (self.tell)();
    }

    pub(super) fn refused(&self, refused: usize) {
        self.kept().under.refused = u32::try_from(refused).unwrap_or(u32::MAX);
    }

    pub(super) fn stop(&self) {
        self.kept().cancel.stop();
    }

    /// Keeps what kind of connection there is, and returns whether one came back.
    pub(super) fn network(&self, network: Network) -> bool {
        let mut kept = self.kept();
        let before = std::mem::replace(&mut kept.under.network, network);
        before == Network::None && network != Network::None
    }

    pub(super) fn wait_until_idle(&self, most: Duration) {
        let kept = self.kept();
        let waited = self.idle.wait_timeout_while(kept, most, |kept| kept.busy);
        if waited.is_ok_and(|(_, waited)| waited.timed_out()) {
            tracing::warn!("the app goes away while something is still under way");
        }
    }

    fn kept(&self) -> MutexGuard<'_, Kept> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Around for Told {
    fn told(&self, progress: &Progress) {
        let mut kept = self.kept();
        kept.under = Under {
            stage: match progress.stage {
                carry::Stage::Asking => Stage::Asking,
                carry::Stage::Photos => Stage::Photos,
                carry::Stage::Waiting { .. } => Stage::Waiting,
                carry::Stage::Records | carry::Stage::Done => Stage::Records,
            },
            records: (progress.records_sent, progress.records_left),
            photos: (progress.photos_sent, progress.photos_left),
            bytes_left: progress.bytes_left,
            ..kept.under
        };
        let due = kept.announced.is_none_or(|last| last.elapsed() >= SPACING);
        if due {
            kept.announced = Some(Instant::now());
            drop(kept);
            (self.tell)();
        }
    }

    fn is_stopped(&self) -> bool {
        self.kept().cancel.is_stopped()
    }
}
