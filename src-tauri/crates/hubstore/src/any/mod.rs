//! One of the three stores, chosen when the hub starts.

mod chosen;
mod dispatch;

pub use chosen::AnyStore;
