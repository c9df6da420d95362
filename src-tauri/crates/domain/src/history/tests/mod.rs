//! The history by hand: lines, steps and intervals that a pocket calculator follows.

mod bad_input;
mod drifts;
mod intervals;
mod made;
mod steps;
