//! Copying a hub's data out and in again.

use hubstore::{Dump, HubStore, LogRow, Logs};
use tokio::sync::mpsc::channel;

use crate::Error;

/// How many things of a dump may be under way.
const UNDER_WAY: usize = 256;

/// Copies everything that matters from one store into an empty one, as it stood at one moment.
///
/// # Errors
///
/// What either store says; then the copy is none.
pub async fn copy(from: &impl HubStore, to: &impl HubStore) -> Result<u64, Error> {
    let (send, receive) = channel(UNDER_WAY);
    let (dumped, restored) = tokio::join!(Dump::dump(from, send), Dump::restore(to, receive));
    // Where taking fails, giving ends early without an error; so what took it speaks first.
    let entries = restored?;
    dumped?;
    Ok(entries)
}

/// Returns all logs of a store.
///
/// # Errors
///
/// What the store says.
pub async fn all_logs(store: &impl HubStore) -> Result<Vec<LogRow>, Error> {
    let mut logs: Vec<LogRow> = Vec::new();
    loop {
        let more = Logs::logs(store, logs.last().map(|row| row.log), 1_000).await?;
        if more.is_empty() {
            return Ok(logs);
        }
        logs.extend(more);
    }
}
