//! Water, other liquids, air and gravity: what a metre of liquid presses at a site.
//!
//! Every formula names its source, its range and how far it may be off; outside its range it says so instead
//! of answering.

mod air;
mod error;
mod gradient;
mod gravity;
mod liquid;
mod surroundings;
#[cfg(test)]
mod tests;
mod water;

pub use air::{air_density, standard_atmosphere};
pub use error::HeadError;
pub use gradient::Gradient;
pub use gravity::{gravity, gravity_uncertainty};
pub use liquid::Liquid;
pub use surroundings::Surroundings;
pub use water::{water_density, water_density_uncertainty};
