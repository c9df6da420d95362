//! The installation drawn to scale from its numbers, and the standing offset over the visits. Screens and reports only draw what stands here.

mod described;
mod dimensions;
mod drawing;
mod installation;
mod labels;
mod lines;
mod offsets;
mod sheet;
mod vessel;

pub use drawing::{Drawing, Role, Shape};
pub use installation::{Installation, Mark};
pub use offsets::{OffsetPoint, Offsets};
