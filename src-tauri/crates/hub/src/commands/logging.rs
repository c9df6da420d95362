//! Where the program's own log goes: to where errors go, as words for a person or as JSON for a machine.

use tracing::Level;

/// Logs what a person has to know of, in words.
pub(super) fn log_in_words() {
    let subscriber = tracing_subscriber::fmt()
        .without_time()
        .with_target(false)
        .with_writer(std::io::stderr)
        .with_max_level(Level::WARN)
        .finish();
    // A second one in the same process, as in tests, is none.
    let _ = tracing::subscriber::set_global_default(subscriber);
}

/// Logs everything that a server does, one JSON object a line.
pub(super) fn log_as_json() {
    let subscriber =
        tracing_subscriber::fmt().json().with_writer(std::io::stderr).with_max_level(Level::INFO).finish();
    // As above.
    let _ = tracing::subscriber::set_global_default(subscriber);
}
