//! Water, other liquids, air and gravity: what a metre of liquid presses at a site, and what its flow takes away.
//!
//! Every formula names its source, its range and how far it may be off; outside its range it says so instead
//! of answering.

mod air;
mod error;
mod flow;
mod gradient;
mod gravity;
mod liquid;
pub mod mounting;
mod surge;
mod surroundings;
#[cfg(test)]
mod tests;
mod viscosity;
mod water;

pub use air::{air_density, standard_atmosphere};
pub use error::HeadError;
pub use flow::{Flow, Pipe, Running, Way, mean_velocity, velocity_head};
pub use gradient::Gradient;
pub use gravity::{gravity, gravity_uncertainty};
pub use liquid::Liquid;
pub use surge::{Wall, surge, wave_speed};
pub use surroundings::Surroundings;
pub use viscosity::water_viscosity;
pub use water::{water_density, water_density_uncertainty};
