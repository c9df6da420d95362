//! The ports as an ordinary computer gives them.
//!
//! A desktop has no key store that would seal the signing key: there it lies in a private folder, which backups must
//! leave out. So it does on a phone whose own key store is not reached: an Apple one.

mod clock;
mod entropy;
mod frames;
mod key_name;
mod keys;
mod private;

pub use clock::HostClock;
pub use entropy::HostEntropy;
pub use frames::RecordedFrames;
pub use key_name::KeyName;
pub use keys::KeyFolder;
pub use private::PrivateFolder;
