//! What is assumed of a mounting, and what it warns of.

use uom::si::f64::{Length, Pressure};

use super::{Column, Installed, Medium, Mounting, Side};
use crate::head::Gradient;

/// A liquid column under so much suction cannot be relied on: it breaks by vapour or by gas coming out of it. As a
/// height of water, m. Common practice, no source; water boils at 10 m at sea level and earlier on a hill.
const HOLDS: f64 = -7.0;

/// A column that is pulled further than it can be held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pulled {
    /// On which side of the sensor.
    pub side: Side,
    /// The least pressure in it, below the air's.
    pub least: Pressure,
}

impl Installed {
    /// Returns the side whose liquid is pulled below 7 m of water when the level is at zero and the vessel stands at
    /// no more than atmospheric pressure, the further one first.
    #[must_use]
    pub fn pulled(&self) -> Option<Pulled> {
        let sides = [Side::High, Side::Low];
        let pulled = sides.map(|side| Pulled { side, least: self.least(side) });
        let worst = if pulled[0].least <= pulled[1].least { pulled[0] } else { pulled[1] };
        let holds = Gradient::CONVENTIONAL_WATER.pressure(Length::new::<uom::si::length::meter>(HOLDS));
        (worst.least < holds).then_some(worst)
    }

    /// The least pressure along a side's liquids, followed from where the sides meet to the sensor.
    fn least(&self, side: Side) -> Pressure {
        let mut at = self.state().gauge.min(Pressure::default());
        let mut least = Pressure::default();
        for column in self.columns().side(side).iter().rev() {
            let far = at;
            at += column.density * self.columns().gravity * column.rise(Length::default());
            if is_liquid(column) {
                least = least.min(far).min(at);
            }
        }
        least
    }

    /// Returns what to be warned of, a sentence each.
    #[must_use]
    pub fn warnings(&self) -> Vec<String> {
        let mut said = Vec::new();
        if let Some(pulled) = self.pulled() {
            let metres = Gradient::CONVENTIONAL_WATER.length(pulled.least).value;
            let side = if pulled.side == Side::High { "high" } else { "low" };
            said.push(format!(
                "The liquid on the {side} side is pulled to {metres:.1} m of water. Below about -7 m a column is not held: \
                 it breaks by vapour or dissolved gas. Mount the transmitter lower."
            ));
        }
        if matches!(self.mounting(), Mounting::AboveDatum { .. }) {
            said.push(
                "An open impulse line up to a transmitter above the tap loses its liquid when air gets in. See that it is full \
                 before you trust a reading."
                    .into(),
            );
        }
        said
    }

    /// Returns what is assumed, a sentence each.
    #[must_use]
    pub fn assumptions(&self) -> Vec<String> {
        let gas = match self.vessel().vapour.filter(|_| self.mounting().has_vapour()) {
            Some(super::Vapour::Density(_)) => {
                Some("The gas over the liquid has the stated density at any pressure and temperature.")
            }
            Some(super::Vapour::Ideal(_)) => Some(
                "The gas over the liquid is an ideal gas at the stated pressure, temperature and molar mass.",
            ),
            None => None,
        };
        let own = match self.mounting() {
            Mounting::Riser { .. } | Mounting::AboveDatum { .. } => {
                "The line is full of the tank's liquid, without air."
            }
            Mounting::DryLeg { .. } => {
                "The dry leg holds nothing but the vessel's gas; condensate in it would read low."
            }
            Mounting::WetLeg { .. } => {
                "The wet leg is full to its top; a leg that has lost liquid reads high."
            }
            Mounting::OneSeal { .. } => {
                "The capillary has one temperature from end to end, and its fill does not boil or leak."
            }
            Mounting::TwoSeals { .. } => {
                "Both capillaries hold the same fill at one temperature, so the transmitter's own height cancels."
            }
            Mounting::Probe { .. } => {
                "The cable's vent is open and dry, and the probe hangs where it was measured."
            }
            Mounting::Interface { .. } => {
                "The total level stays above the upper tap, the leg is full, and the line to the sensor holds the heavier liquid."
            }
        };
        [Some(own), gas].into_iter().flatten().map(str::to_owned).collect()
    }
}

fn is_liquid(column: &Column) -> bool {
    !matches!(column.what, Medium::Vapour | Medium::Air)
}
