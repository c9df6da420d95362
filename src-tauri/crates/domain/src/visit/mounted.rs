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

impl Mounted {
    fn is(&self, kinds: &[&str]) -> bool {
        kinds.contains(&self.kind.trim())
    }

    /// Tells whether the low side is led back to the vessel.
    pub(super) fn closed(&self) -> bool {
        self.is(&["dry_leg", "wet_leg", "two_seals", "interface"])
    }

    /// Tells whether a differential cell has two connections that can be joined: a low side led back, and no seals.
    pub(super) fn two_connections(&self) -> bool {
        self.closed() && !self.seals()
    }

    /// Tells whether the vessel's gas stands over the measured liquid.
    pub(super) fn gas(&self) -> bool {
        self.closed() && !self.is(&["interface"])
    }

    /// Tells whether there are seals with capillaries.
    pub(super) fn seals(&self) -> bool {
        self.is(&["one_seal", "two_seals"])
    }

    /// Tells whether there are two seals, between which the transmitter's own height cancels.
    pub(super) fn between_seals(&self) -> bool {
        self.is(&["two_seals"])
    }

    /// Tells whether a fill stands in leg or capillaries.
    pub(super) fn filled(&self) -> bool {
        self.seals() || self.is(&["wet_leg", "interface"])
    }

    /// Tells whether the vessel's liquid stands in riser or impulse line.
    pub(super) fn line(&self) -> bool {
        !self.seals() && !self.is(&["probe"])
    }
}
