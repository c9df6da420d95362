//! Numbers with units: as people write them, as the trade shows them, as records keep them.
//!
//! Reading never guesses. What has no unit, or a comma that can mean two things, comes back as a *doubtful*
//! [`EntryProblem`] with the ways it can be meant, each as a text that reads without doubt. Everything read
//! tells what its last digit stands for, because that is part of how sure it is.

mod ask;
mod decimal;
mod density;
mod figure;
mod flow_rate;
mod lead;
mod length;
mod length_parts;
mod length_ways;
mod number;
mod percent;
mod position;
mod pressure;
mod print_length;
mod problem;
mod read_length;
mod reading_unit;
mod temperature;
#[cfg(test)]
mod tests;
mod typed;

pub use decimal::Decimal;
pub use density::{DensityEntry, DensityProblem, DensityUnit, read_density, read_gas_density};
pub use flow_rate::{FlowEntry, FlowProblem, FlowUnit, read_flow};
pub use length::{LengthEntry, LengthProblem, LengthSystem, LengthUnit};
pub use number::{NumberEntry, NumberProblem, read_number};
pub use percent::{PercentEntry, PercentProblem, read_percent};
pub use position::Position;
pub use pressure::{PressureEntry, PressureProblem, read_pressure};
pub use print_length::{LengthStyle, print_both, print_decimal, print_length};
pub use problem::{Candidate, Doubtful, EntryError, EntryProblem};
pub use read_length::read_length;
pub use reading_unit::{ColumnBasis, PressureUnit, ReadingUnit};
pub use temperature::{
    TemperatureEntry, TemperatureProblem, TemperatureScale, print_temperature, read_temperature,
};
