//! The bytes of photos: in a local folder, in memory, or in a store that speaks S3.
//!
//! A photo comes in pieces of 256 KiB, in any order, each kept by itself under the length of the photo that it is of, so that any process of a hub can take the next
//! and a link that breaks loses one piece at most. When the last is here they are put together beside the photo's place,
//! hashed on the way, and moved into place only when the hash is the photo's name; a local file is then synced, and only
//! after that is the photo called whole. What does not come to its hash is dropped and has to come anew.

mod failure;
mod names;
mod opening;
mod read;
mod receive;

pub use names::{PIECE, piece_count, piece_length};
pub use opening::{PhotoStore, S3};
pub use receive::{Piece, Taken};
