//! How the transmitter is mounted, as the register has it.

use serde::{Deserialize, Serialize};

/// How the transmitter sits at its vessel, where it is more than a riser under an open tank. Texts as the register
/// has them; each may be empty where the kind has no use for it.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mounted {
    /// `riser`, `above_datum`, `dry_leg`, `wet_leg`, `one_seal`, `two_seals`, `probe` or `interface`.
    pub kind: String,
    /// The upper tap, upper seal or top of the leg above the tank's zero.
    #[serde(default)]
    pub top: String,
    /// The lower seal above the tank's zero; empty when it is the zero.
    #[serde(default)]
    pub tap: String,
    /// Where these heights come from: `tape`, `laser` or `drawing`; empty for where the riser's comes from.
    #[serde(default)]
    pub heights_from: String,
    /// What fills leg or capillaries.
    #[serde(default)]
    pub fill: Option<Filling>,
    /// The liquid above an interface.
    #[serde(default)]
    pub light: Option<Filling>,
    /// The density of the gas over the liquid (`0.6 kg/m3`).
    #[serde(default)]
    pub vapour_density: String,
    /// Its molar mass in g/mol (number alone), where it is taken as an ideal gas.
    #[serde(default)]
    pub vapour_molar_mass: String,
    /// The vessel's working pressure above the air's (`0.4 bar`); empty for none.
    #[serde(default)]
    pub working_pressure: String,
    /// The usual temperature of the liquid in riser or impulse line; empty for the tank's.
    #[serde(default)]
    pub line_temperature: String,
    /// The usual temperature of leg or capillaries; empty for the tank's.
    #[serde(default)]
    pub fill_temperature: String,
}

/// A liquid beside the tank's own.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Filling {
    /// Its name; `water` needs no density.
    pub name: String,
    /// Its density with unit.
    #[serde(default)]
    pub density: String,
    /// The temperature that density holds at.
    #[serde(default)]
    pub at: String,
    /// Its cubic expansion coefficient per kelvin (number as written).
    #[serde(default)]
    pub expansion: String,
    /// Density standard uncertainty, as a percentage; a default when empty.
    #[serde(default)]
    pub uncertainty: String,
}
