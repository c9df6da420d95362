//! The register as it comes in: from a table (CSV) or from a register's own file (JSON), every row read by itself and
//! every bad one named.
//!
//! Both ways end in the same check, [`domain::visit::bounds::of_row`], which is the phone's too.

mod areas;
mod cells;
mod columns;
mod doubles;
mod file;
mod lines;
mod problem;
mod row;
mod sensors;
mod table;

pub use columns::{Column, Holds, columns};
pub use problem::Problem;
pub use row::{Incoming, InstrumentRow};
pub use sensors::{SensorsPut, sensors, would_put_sensors};

pub use file::read_file;
pub use table::read_table;
