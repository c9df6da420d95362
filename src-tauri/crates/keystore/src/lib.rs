//! The signing key, sealed by the phone's own key store.
//!
//! A phone that was restored from a backup, or copied onto another, must begin a log of its own: two phones that sign
//! with one key fork its log. So the secret key lies in a file that only this install can open. It is sealed
//! (AES-256-GCM) with a key that never leaves the platform's key store, and together with the install marker, 16 random
//! bytes in the same folder, which the platform's backups leave out. Where either is missing the key is lost
//! ([`field::KeysError::Lost`]) and `field` begins a new log; drafts and the old log's records stay.
//!
//! - [`SealedFolder`] is the port [`field::Keys`]: the folder, the marker, and the take-over of the unsealed keys that
//!   earlier installs kept. It knows no platform.
//! - [`KeyStore`] is what it asks of a platform.
//! - [`java`] is the platform's key store where that is reached through Java: Android's.
//!
//! What this does not do: keep a key from someone who runs code as this app on an unlocked phone; and take back what a
//! take-over cannot. An earlier install's key had lain in a file, so whoever copied that file before has the key, and
//! flash storage may hold deleted bytes for a while. No key store of Apple's is reached: there is no such build.

mod files;
mod folder;
mod form;
pub mod java;
mod marker;
#[cfg(test)]
mod on_a_phone;
#[cfg(test)]
mod power;
mod sealing;
#[cfg(test)]
mod stand_in;
mod taking_over;

pub use files::Files;
pub use folder::SealedFolder;
pub use sealing::{Ciphered, KeyStore, NONCE};
