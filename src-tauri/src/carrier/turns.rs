//! When the carrier works.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError};
use std::time::{Duration, Instant};

use carry::Pace;
use field::host::HostEntropy;
use field::view::Message;
use field::{Entropy, Stage};
use tokio::runtime::Handle;

use super::patience::Patience;
use super::told::Told;
use super::{asking, carrying};
use crate::open_phone::OpenPhone;

/// How long after a signature sending begins: several often come together.
const SOON: Duration = Duration::from_secs(2);
/// How often a hub is asked for news when all went well.
const NEWS: Duration = Duration::from_secs(15 * 60);

/// What wakes the carrier.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wake {
    /// Go at once.
    Now,
    /// Go soon, unless a wait after a failure goes on.
    Soon,
    /// The app goes away: nothing by itself from now on.
    Away,
}

/// What the carrier works with.
pub(super) struct With {
    pub(super) phone: OpenPhone,
    pub(super) runtime: Handle,
    pub(super) told: Arc<Told>,
}

/// How a turn ended.
pub(super) enum Turn {
    /// There is nothing to carry to.
    Nowhere,
    /// A supervisor has not confirmed yet.
    Unconfirmed,
    /// All went to its end.
    Well,
    /// It was stopped here.
    Stopped,
    /// It broke off.
    Failed {
        /// Less at a time may get through.
        gave_way: bool,
        /// How long the hub asks to wait.
        asked: Option<Duration>,
        /// What to tell.
        message: Box<Message>,
    },
}

/// Works until the app ends.
pub(super) fn take_turns(with: &With, woken: &Receiver<Wake>) {
    let mut waits = Waits::default();
    let (mut due, mut failing) = (Some(Instant::now()), false);
    loop {
        match wait(woken, due) {
            Err(RecvTimeoutError::Disconnected) => return,
            Err(RecvTimeoutError::Timeout) => {}
            Ok(Wake::Away) => {
                due = None;
                continue;
            }
            Ok(Wake::Soon) => {
                let soon = Instant::now() + SOON;
                due = Some(due.map_or(soon, |due| if failing { due } else { due.min(soon) }));
                continue;
            }
            Ok(Wake::Now) => waits.begin_anew(),
        }
        let turn = turn(with, &waits.pace);
        failing = matches!(turn, Turn::Failed { .. });
        let wait = waits.after(&turn, chance());
        tell(with, turn, wait);
        due = wait.map(|wait| Instant::now() + wait);
    }
}

fn wait(woken: &Receiver<Wake>, due: Option<Instant>) -> Result<Wake, RecvTimeoutError> {
    match due {
        Some(due) => woken.recv_timeout(due.saturating_duration_since(Instant::now())),
        None => woken.recv().map_err(|_| RecvTimeoutError::Disconnected),
    }
}

fn turn(with: &With, pace: &Pace) -> Turn {
    let cancel = with.told.begin();
    match asking::ask(with, &cancel) {
        Turn::Nowhere => carrying::carry(with, pace, &cancel),
        other => other,
    }
}

/// What decides when the next turn is due by itself.
#[derive(Debug, Default)]
struct Waits {
    pace: Pace,
    patience: Patience,
}

impl Waits {
    /// A person asked, the app came back, or the network did.
    fn begin_anew(&mut self) {
        self.pace.begin_anew();
        self.patience.begin_anew();
    }

    /// Returns how long after a turn the next one is due; none where it waits to be asked.
    fn after(&mut self, turn: &Turn, chance: u32) -> Option<Duration> {
        match turn {
            Turn::Nowhere | Turn::Stopped => None,
            Turn::Unconfirmed => Some(self.patience.not_yet(chance)),
            Turn::Well => {
                self.pace.went_well();
                Some(NEWS)
            }
            Turn::Failed { gave_way, asked, .. } => Some(self.pace.failed(*gave_way, *asked, chance)),
        }
    }
}

/// Tells how a turn ended.
fn tell(with: &With, turn: Turn, wait: Option<Duration>) {
    match turn {
        Turn::Failed { message, .. } => {
            let wait = wait.unwrap_or_default().as_secs().saturating_add(1);
            with.told.end(Stage::Waiting, u32::try_from(wait).unwrap_or(u32::MAX), Some(*message));
        }
        _ => with.told.end(Stage::Idle, 0, None),
    }
}

/// Any number: without chance waits are shorter, and nothing else depends on it.
fn chance() -> u32 {
    let mut bytes = [0; 4];
    if HostEntropy.fill(&mut bytes).is_err() {
        tracing::warn!("no chance for a wait");
    }
    u32::from_be_bytes(bytes)
}

#[cfg(test)]
mod tests {
    use super::super::carrying::of_link;
    use super::*;

    #[test]
    fn waits_for_a_confirmation_grow_where_the_hub_does_not_answer() {
        let mut waits = Waits::default();
        let offline = of_link(&carry::LinkError::Unreachable);
        let grown: Vec<u64> =
            (0..11).filter_map(|_| waits.after(&offline, u32::MAX)).map(|wait| wait.as_secs()).collect();
        assert_eq!(grown, [2, 4, 8, 16, 32, 64, 128, 256, 512, 900, 900]);
        waits.begin_anew();
        assert_eq!(waits.after(&offline, u32::MAX), Some(Duration::from_secs(2)));
        assert_eq!(waits.after(&Turn::Unconfirmed, u32::MAX), Some(Duration::from_secs(3)));
    }
}
