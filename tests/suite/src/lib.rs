//! What several suites share: chance with its seed in the open, and the key of the examples on the wire.

mod chance;
mod example;

pub use chance::Chance;
pub use example::key;
