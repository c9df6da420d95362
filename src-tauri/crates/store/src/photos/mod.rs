//! Photos: files named by the BLAKE3 hash of their bytes, in a folder beside the database.
//!
//! A photo is written under the name of a partial file, pushed to the storage, compared with its hash as a whole, and
//! only then renamed to `ab/<hash>`; the database says that it is here after that. So a file with such a name is whole,
//! and a row that says *here* has its file. What a kill or a power cut leaves between is put right by
//! [`crate::Store::tidy_photos`], which never removes a whole photo that an entry names.
//!
//! Records never wait for photos: an observation that names a photo may come first, and the photo is then *awaited*, until
//! its file is kept here or found here. No photo comes to a phone over the exchange. To the hub it goes in pieces of 256 KiB,
//! each a call of its own.

mod cite;
mod disk;
mod free;
mod keep;
mod pieces;
mod row;
mod shelf;
mod tidy;

pub use disk::Disk;
pub use free::{Freed, Space};
pub use keep::photo_hash;
pub use pieces::CHUNK;
pub use row::PhotoState;
pub use shelf::Shelf;
pub use tidy::Tidied;

pub(crate) use cite::{observation, observations_of, photos_of, visit};
pub(crate) use row::{Known, seal, state, take_over};
