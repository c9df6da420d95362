//! Sending in the background: one thread that carries what the phone has to the hub, beside everything a person does.
//!
//! It begins when asked, when something was signed, when the app comes back, when the network does, and by itself after
//! a wait. It never holds a command up: commands read what it told last, and its own use of the phone is one call at a
//! time like theirs.

mod asking;
mod carrying;
mod handle;
mod patience;
mod told;
mod turns;

pub(crate) use asking::enrol;
pub(crate) use handle::Carrier;
