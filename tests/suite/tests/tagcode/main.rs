//! Reading and drawing tag codes: made photographs in all the states a label comes in, files that are not what they
//! say, and pictures in which there is nothing to read.

#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // A panic here is the message.

mod beside;
mod drawn;
mod facts;
mod files;
mod identification;
mod kinds;
mod nothing;
mod photographs;
mod reach;
mod sizes;
mod view;
