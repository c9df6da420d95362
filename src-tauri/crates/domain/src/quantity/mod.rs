//! Numbers with units: as people write them, as the trade shows them, as records keep them.

mod decimal;

pub use decimal::Decimal;
