//! The hub's own people: passwords, signing in, and what each may do.

mod names;
mod password;
mod signing_in;

pub use names::names;
pub use password::{Password, hash_password, is_password};
pub use signing_in::{SIGNED_IN_SECONDS, SignedIn, csrf_of, hold, sign_in, sign_out};
