//! A riser that carries flow, as the register has it.

use serde::{Deserialize, Serialize};

/// The riser as a pipe through which the tank is filled or drawn, for what its flow does to a reading at its foot. Texts as
/// the register has them.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RiserPipe {
    /// Inner diameter (`8 in`, `200 mm`).
    #[serde(default)]
    pub bore: String,
    /// The largest flow it usually carries (`500 US gpm`, `32 L/s`).
    #[serde(default)]
    pub most_flow: String,
    /// Length of pipe from the tap of the transmitter to the tank; empty for the riser's height.
    #[serde(default)]
    pub length: String,
    /// Absolute roughness (`0.15 mm`); a usual one when empty.
    #[serde(default)]
    pub roughness: String,
    /// Loss where the water enters it from the tank, in velocity heads (number alone); a square edge when empty.
    #[serde(default)]
    pub entry: String,
    /// Loss in bends and valves between tap and tank, in velocity heads (number alone); none when empty.
    #[serde(default)]
    pub fittings: String,
    /// Viscosity in mPa s (number alone), of a liquid that is not water.
    #[serde(default)]
    pub viscosity: String,
    /// True where the transmitter's line branches off a dead leg, in which no flow runs: nothing is asked then.
    #[serde(default)]
    pub dead_leg: bool,
}
