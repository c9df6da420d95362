//! What `domain` says of whole visits and of parts of them, asked from outside: one program, so that it is linked once.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a panic here is the message"
)]
#![allow(clippy::needless_pass_by_value, reason = "cases hand their JSON over whole")]

mod alarms;
mod budget;
mod earlier;
mod equalised;
mod evidence;
mod fitted;
mod five_point;
mod five_walk;
mod flow;
mod left_over;
mod mounted_slips;
mod moving;
mod next_best;
mod nonsense;
mod overpressure;
mod person;
mod tape;
mod together;
mod tower;
mod visit;
