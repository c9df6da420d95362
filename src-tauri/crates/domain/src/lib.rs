//! The job's maths and rules: what a level transmitter at the foot of a riser should read, how far to shift
//! it, how sure that is, and what a visit must hold before it may be signed.
//!
//! Pure: no file, socket, clock or random source. Quantities cross public borders as `uom` types. Every
//! transcendental function comes from `libm`, so that a phone and a hub compute the same digits.

pub mod after;
pub mod evidence;
pub mod head;
pub mod history;
pub mod quantity;
pub mod ranging;
pub mod sketch;
pub mod visit;
