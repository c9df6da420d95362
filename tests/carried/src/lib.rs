//! A phone's core, the real carrier and the real hub as a process: what the tests of this package are made of.
//!
//! - [`Hub`] is `headmark-hub`, founded in a folder of its own, served, killed and started again.
//! - [`Phone`] is a phone's core that speaks TLS with it.
//! - [`Proxy`] stands between the two: it cuts, delays, and counts what goes over the wire.
//! - [`fifty()`] reads the fifty visits that were frozen for measuring.
//! - [`Held`] is what a hub holds, by its own export.

mod chance;
mod commands;
mod fifty;
mod held;
mod hub;
mod network;
mod objects;
mod phone;
mod photos;
mod postgres;
mod proxy;
mod tally;
mod writing;

pub use chance::Chance;
pub use fifty::{Fifty, fifty};
pub use held::Held;
pub use hub::{Hub, whole};
pub use network::network;
pub use objects::Objects;
pub use phone::{Phone, Sent};
pub use photos::PhotosSent;
pub use postgres::{control_postgres, database};
pub use proxy::{Proxy, Way};
pub use tally::{Counted, Tally};
