//! Our own detector, for codes on bent, oblique, dim or small labels.
//!
//! Other detectors decide black and white first and measure edges after. Here three corner squares are enough to begin
//! with: a grid is laid through them and moved until the parts that every code has (squares, timing lines,
//! alignment marks) agree best with the shades themselves. What the grid then shows is read module by module.

mod fitted;
mod grid;
mod marks;
mod modules;
mod search;

pub(crate) use fitted::{Fitted, certain, fitted};
