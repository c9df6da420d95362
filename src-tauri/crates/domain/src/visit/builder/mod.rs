//! The visit's evidence as a case of independent inputs and equations.
//!
//! [`build()`] goes through the draft once: the state of the unit and the display reading that stands for the visit
//! ([`mod@unit`]), then every piece of evidence ([`pieces`], [`dips`]) with the readings ([`readings`]) and levels
//! ([`levels`]) it speaks of, then what is asked ([`finish`]). What several pieces share (a tape, a mark on the tank,
//! the columns' density) is one input, made where it is first used.

mod build;
mod columns;
mod dips;
mod earlier;
mod finish;
mod levels;
mod marks;
mod pieces;
mod readings;
mod start;
mod tapes;
mod told;
mod unit;

pub(super) use build::{Built, build};
pub(super) use dips::{DipRow, dip_rows};
pub(super) use marks::surveyed;
pub(super) use told::Shares;
