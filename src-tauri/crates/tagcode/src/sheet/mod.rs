//! Labels on paper: how large a label's modules come out, where the labels of a sheet lie, and the sheet as PDF, one
//! label as SVG and PNG.
//!
//! Everything is laid out in whole dots of the printer: a module whose edge falls within a dot prints wider or narrower
//! than its neighbours, and that costs reading distance. PDF, SVG and PNG draw the same rectangles.

mod error;
mod frame;
mod length;
mod paper;
mod pdf;
mod plate;
mod png;
mod shapes;
mod stock;
mod svg;

pub use error::LabelError;
pub use frame::Framed;
pub use length::{Dpi, Mm};
pub use paper::{Page, Sheets};
pub use plate::Plate;
pub use shapes::Shape;
pub use stock::{STOCKS, Stock, stock};
