//! Where log lines go: to the standard error of a desktop. A phone's own log is not used yet.

/// Begins to log.
pub(crate) fn start() {
    #[cfg(desktop)]
    {
        let lines = tracing_subscriber::fmt().with_writer(std::io::stderr).with_ansi(false);
        // A second run in one process (a test) keeps the first one's log.
        if let Err(error) = lines.with_max_level(tracing::Level::INFO).try_init() {
            tracing::debug!(%error, "a log is there already");
        }
    }
}
