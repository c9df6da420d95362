//! What the network's tasks run on.

use std::io;
use std::sync::OnceLock;

use tokio::runtime::{Builder, Handle, Runtime};

/// Returns the one runtime of this process, started when it is first asked for.
///
/// # Errors
///
/// When no thread can be had.
pub fn network() -> io::Result<Handle> {
    static ONE: OnceLock<Runtime> = OnceLock::new();
    if let Some(runtime) = ONE.get() {
        return Ok(runtime.handle().clone());
    }
    let made = Builder::new_multi_thread().worker_threads(2).enable_all().build()?;
    // Two tests may come at once: the first one's stays, the other is dropped unused.
    Ok(ONE.get_or_init(|| made).handle().clone())
}
