//! What a change comes to, decided before anything is written: pure, and the same for every store.

mod branch;
mod counted;
mod ingest;
mod people;
mod register;

pub(crate) use branch::{at_once, walk};
pub(crate) use counted::{PEOPLE, counted, next};
pub(crate) use ingest::{Facts, Placed, Plan, decide, extends, keys_to_keep, places_to_look_up};
pub(crate) use people::{ends_sign_ins, who};
pub(crate) use register::diff;
