//! The five-point check: a pressure source walks the transmitter up and down its range, and each point tells what
//! it shows too much or too little.
//!
//! Inputs and errors are parts of the span. Any subset of 0, 25, 50, 75 and 100 % may be there, in any number of
//! repeats, going up only or up and down; what the points at hand do not determine (a hysteresis without a run
//! down, a zero error without a point at zero) is left out and never taken as zero. An error is always reckoned from
//! what was really applied, so a source that was set to 24.7 % costs nothing.
//!
//! Terms are those of ISA-51.1 and IEC 61298-2, the definitions written from memory. Errors of one place are averaged
//! before zero, span, hysteresis and linearity are told; the worst point is the worst single one.

mod error;
mod findings;
mod judgement;
mod line;
mod point;

#[cfg(test)]
mod tests;

pub use error::FivePointError;
pub use findings::{Findings, Hysteresis, findings};
pub use judgement::{Judgement, Quality, TUR_WANTED, judge};
pub use point::{Point, Run};
