//! Making this phone belong to a hub.
//!
//! The person scans the code that the hub shows. The phone makes sure that the hub is the organisation's (whoever carries
//! the question checks that before the one-time code goes out), shows six digits, and waits until a supervisor, who sees
//! the same six, confirms it. From then on its certificate, an entry like any other, vouches for its log.

mod asked;
mod confirmed;
mod shown;

pub use asked::{Invited, Met};
pub use confirmed::Awaited;
