//! A bundle file: the way home by cable, share sheet or memory card, through anybody's hands.
//!
//! It carries all entries that are not known to be in the hub's backup, whoever signed them, with the keys and
//! certificates by which they can be verified and the newest receipts. Taking one in twice changes nothing, and of one
//! that was cut everything that came whole is taken in. It also says where this phone stands, so that a hub can answer
//! it with a bundle to be carried back.

mod covered;
mod made;
mod make;
mod relayed;
mod take;
