//! The hub's side of an exchange with a phone, apart from the network: simulations call it directly.
//!
//! [`hello()`] says what is wanted; [`push()`] takes in what came, in one durable transaction, and only then signs receipts.
//! [`take_bundle()`] does the same with a file, and [`bundle_back()`] writes the one that goes back.
//! Every call may be repeated. One bad entry stops no other.

mod by_file;
mod feed;
mod hello;
mod news;
mod older;
mod opening;
mod push;
mod receipts;
mod returning;
mod session;
mod taking;

pub use by_file::{Back, Brought, bundle_back, take_bundle};
pub use hello::hello;
pub use opening::{Keys, Opened, open_all};
pub use push::{PushError, push};
pub(crate) use receipts::read as read_receipt;
pub use receipts::{give_receipts, receipts_of};
pub use taking::{Came, Taken};
