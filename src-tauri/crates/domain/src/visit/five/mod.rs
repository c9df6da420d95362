//! The five-point check in a visit: asked only where a pressure source is at hand, as found and, after a trim, as left.
//!
//! A row of answers is what was applied and what the display and the loop showed. What should have been shown follows
//! from the range and, where a pressure on the sensor was applied, from the offset that stood then; with that offset
//! unknown nothing is judged. The rows are taken in their order, which tells the way the input was going.

mod asks;
mod checked;
mod conduct;
mod results;
mod rows;
mod said;

pub(super) use asks::asks;
pub(super) use checked::checked;
pub use checked::{Checked, FivePoint};
pub(super) use conduct::object;
pub use conduct::{asked, cautions};
pub(super) use results::results;
pub use rows::{PointKeys, PointRow, When};
pub use said::{HEADING_FOUND, HEADING_LEFT};
pub(super) use said::{remarks, working};
