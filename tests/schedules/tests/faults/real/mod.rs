//! The phone's own core over its own store, and the hub's store in a file, each on a storage that loses its power.

mod device;
mod handset;
mod hub;
mod hurt;
mod shelf;
mod storage;

pub use handset::Handset;
pub use hub::OnFile;
