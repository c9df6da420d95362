//! The ports as an ordinary computer gives them.
//!
//! They also serve a phone until its own key store is reached through a native plugin: the key then lies in
//! the app's private folder, which the platform's backups must leave out.

mod clock;
mod entropy;
mod frames;
mod keys;

pub use clock::HostClock;
pub use entropy::HostEntropy;
pub use frames::RecordedFrames;
pub use keys::KeyFolder;
