//! How a transmitter sits at its vessel: columns on either side of the sensor.
//!
//! One model covers every mounting. Each side of the sensor is a list of [`Column`]s, followed from the sensor to the
//! one place where both sides meet, and the differential pressure is what the high side presses less what the low
//! side does ([`Columns`]). A [`Mounting`] is a preset that lays these columns from a few measures. On a [`Vessel`]
//! in a [`State`] it becomes an [`Installed`]: standing head, what a metre of level presses, signed LRV and URV,
//! [`Sensitivity`] to each input, and what is assumed and to be warned of.
//!
//! Liquids are taken as still and of one temperature in each column. A capillary's own elasticity, the seals'
//! spring rate, and flow in the lines are not part of the model.

mod build;
mod check;
mod column;
mod error;
mod installed;
mod preset;
mod said;
mod sensitivity;
mod state;
#[cfg(test)]
mod tests;

pub use column::{Column, Columns, End, Medium, Place, Side};
pub use error::MountingError;
pub use installed::Installed;
pub use preset::Mounting;
pub use said::Pulled;
pub use sensitivity::{Lever, Sensitivity, Step};
pub use state::{Densities, State, Vapour, Vessel};
