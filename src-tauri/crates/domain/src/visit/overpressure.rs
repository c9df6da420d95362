//! What presses on the sensor beside the standing column, as the register has it.

use serde::{Deserialize, Serialize};

/// Pressures that come and go at the sensor, above the air's. Texts as the register has them, each with its unit; empty
/// where there is none, or nobody knows.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Overpressure {
    /// What a surge adds to the highest level's pressure.
    #[serde(default)]
    pub surge: String,
    /// What a pump against a shut valve brings to the sensor.
    #[serde(default)]
    pub shut_off: String,
    /// What a pressure test of the line brings to the sensor while it stays connected.
    #[serde(default)]
    pub hydrotest: String,
}
