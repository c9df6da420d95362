//! The PIN of a technician: what a record says of how whoever signed was confirmed rests on it.
//!
//! Each person who works with a phone may set one, for this phone alone. Its hash is kept beside the person's own number
//! and nowhere else: in no record, bundle or log line, and nothing of it is sent. It keeps a colleague who borrows the
//! phone from signing as somebody else with a record that says `pin`.
//!
//! What it does not do: keep anybody from their work. Whoever forgot it signs without it, with a reason, and the record
//! says `none`. Nor does it stand up to somebody who takes the data file out of the phone: ten thousand numbers of four
//! digits are tried in minutes, however dear each try is.

mod confirm;
mod hash;
mod kept;
mod rule;
mod setting;
mod tries;

pub(crate) use kept::row_of;
pub(crate) use tries::{waits_said, wrong_said};
