//! Flow in the riser: what it makes a transmitter at the foot read wrong.
//!
//! The pipe's friction is Darcy-Weisbach's with the factor of Colebrook and White. Water that is drawn through the riser
//! arrives at the foot with less pressure by the friction, by what the entry costs and by what it took to set it
//! moving: `hf + (1 + K) v2/2g`. Water that is filled through it raises the foot by the friction alone, because its
//! velocity head at the foot and its loss where it leaves into the bowl cancel. Bends and valves on the way cost
//! their own, `K v2/2g`, either way. A line that branches off a dead leg sees nothing of all this.

use uom::si::acceleration::meter_per_second_squared;
use uom::si::dynamic_viscosity::pascal_second;
use uom::si::f64::{Acceleration, DynamicViscosity, Length, MassDensity, Velocity, VolumeRate};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::velocity::meter_per_second;
use uom::si::volume_rate::cubic_meter_per_second;

use super::HeadError;
use super::error::within;

/// Below this Reynolds number flow is taken as laminar.
const LAMINAR: f64 = 2300.0;
/// From this one on it is taken as turbulent. In between nobody can say which it is; the factor is carried over in a
/// straight line, so that more flow never means less loss.
const TURBULENT: f64 = 4000.0;

/// Which way the water goes through the riser.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Down and out: the foot reads low.
    Drawing,
    /// Up into the tank: the foot reads high.
    Filling,
}

/// A riser as a pipe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pipe {
    bore: f64,
    length: f64,
    roughness: f64,
    entry: f64,
    fittings: f64,
}

/// What runs in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Running {
    /// Its density.
    pub density: MassDensity,
    /// Its viscosity.
    pub viscosity: DynamicViscosity,
    /// Local gravity.
    pub gravity: Acceleration,
}

/// What one flow does in a pipe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flow {
    /// Mean velocity.
    pub velocity: Velocity,
    /// Reynolds number.
    pub reynolds: f64,
    /// Darcy's friction factor.
    pub factor: f64,
    /// Head lost to friction.
    pub friction: Length,
    /// Head lost in bends and valves.
    pub fittings: Length,
    /// Velocity head.
    pub velocity_head: Length,
    entry: f64,
}

impl Pipe {
    /// Returns a pipe by its bore, length, absolute roughness and the loss of its entry in velocity heads.
    ///
    /// # Errors
    ///
    /// [`HeadError::OutOfRange`] for a bore outside 1 mm to 10 m, a length outside 0 to 1000 m, a roughness outside 0 to
    /// a twentieth of the bore (where Colebrook's formula ends) or an entry loss outside 0 to 100.
    pub fn new(bore: Length, length: Length, roughness: Length, entry: f64) -> Result<Pipe, HeadError> {
        let bore = within("Bore", bore.get::<meter>(), "m", (0.001, "1 mm"), (10.0, "10 m"))?;
        let length = within("Pipe length", length.get::<meter>(), "m", (0.0, "0 m"), (1000.0, "1000 m"))?;
        let rough = roughness.get::<meter>();
        within("Roughness over bore", rough / bore, "", (0.0, "0"), (0.05, "0.05"))?;
        let entry = within("Entry loss", entry, "velocity heads", (0.0, "0"), (100.0, "100"))?;
        Ok(Pipe { bore, length, roughness: rough, entry, fittings: 0.0 })
    }

    /// Returns the pipe with the loss of its bends and valves together, in velocity heads.
    ///
    /// # Errors
    ///
    /// [`HeadError::OutOfRange`] for a loss outside 0 to 1000.
    pub fn with_fittings(self, loss: f64) -> Result<Pipe, HeadError> {
        let fittings = within("Loss in fittings", loss, "velocity heads", (0.0, "0"), (1000.0, "1000"))?;
        Ok(Pipe { fittings, ..self })
    }

    /// Returns its bore.
    #[must_use]
    pub fn bore(&self) -> Length {
        Length::new::<meter>(self.bore)
    }

    /// Returns its length.
    #[must_use]
    pub fn length(&self) -> Length {
        Length::new::<meter>(self.length)
    }

    /// Returns what a flow does in it.
    #[must_use]
    pub fn flow(&self, rate: VolumeRate, of: &Running) -> Flow {
        let velocity = mean_velocity(rate.abs(), Length::new::<meter>(self.bore));
        let head = velocity_head(velocity, of.gravity);
        let density = of.density.get::<kilogram_per_cubic_meter>();
        let viscosity = of.viscosity.get::<pascal_second>();
        let reynolds = density * velocity.get::<meter_per_second>() * self.bore / viscosity;
        let factor = friction_factor(reynolds, self.roughness / self.bore);
        // Standing water has no factor and no friction; infinity times nothing must not get out.
        let friction =
            if reynolds > 0.0 { head * (factor * self.length / self.bore) } else { Length::default() };
        let fittings = head * self.fittings;
        Flow { velocity, reynolds, factor, friction, fittings, velocity_head: head, entry: self.entry }
    }

    /// Returns the largest flow whose error stays within a bound; none where nothing that fits through makes it.
    #[must_use]
    pub fn largest_within(&self, bound: Length, way: Way, of: &Running) -> Option<VolumeRate> {
        let rate = VolumeRate::new::<cubic_meter_per_second>;
        let harmless = |flow: f64| self.flow(rate(flow), of).error(way).abs() <= bound;
        if bound <= Length::default() {
            return None;
        }
        // 30 m/s is more than any pipe of this kind carries.
        let most = 30.0 * area(self.bore);
        if harmless(most) {
            return None;
        }
        // The error grows with the flow, so halving finds the bound; fifty steps leave nothing of the range.
        let (mut low, mut high) = (0.0, most);
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if harmless(middle) { low = middle } else { high = middle }
        }
        Some(rate(low))
    }
}

impl Flow {
    /// Returns the loss of the entry in velocity heads.
    #[must_use]
    pub fn entry_loss(&self) -> f64 {
        self.entry
    }

    /// Returns how far the foot reads wrong, as a height of the liquid: negative when it reads low.
    #[must_use]
    pub fn error(&self, way: Way) -> Length {
        match way {
            Way::Drawing => -(self.friction + self.fittings + self.velocity_head * (1.0 + self.entry)),
            Way::Filling => self.friction + self.fittings,
        }
    }
}

/// Returns the mean velocity of a flow through a round section. In a tank it is the speed at which the level moves.
#[must_use]
pub fn mean_velocity(rate: VolumeRate, bore: Length) -> Velocity {
    Velocity::new::<meter_per_second>(rate.get::<cubic_meter_per_second>() / area(bore.get::<meter>()))
}

/// Returns the height that a velocity is worth: `v2/2g`.
#[must_use]
pub fn velocity_head(velocity: Velocity, gravity: Acceleration) -> Length {
    let v = velocity.get::<meter_per_second>();
    Length::new::<meter>(v * v / (2.0 * gravity.get::<meter_per_second_squared>()))
}

fn area(bore: f64) -> f64 {
    core::f64::consts::FRAC_PI_4 * bore * bore
}

/// Darcy's friction factor by Reynolds number and relative roughness.
fn friction_factor(reynolds: f64, roughness: f64) -> f64 {
    if reynolds <= LAMINAR {
        return 64.0 / reynolds;
    }
    if reynolds >= TURBULENT {
        return colebrook(reynolds, roughness);
    }
    let (from, to) = (64.0 / LAMINAR, colebrook(TURBULENT, roughness));
    from + (to - from) * (reynolds - LAMINAR) / (TURBULENT - LAMINAR)
}

/// Colebrook's formula (C. F. Colebrook, J. Inst. Civ. Eng. 11, 1939), solved by putting each value into the right side:
/// every step gains more than a digit, and a start at a usual factor takes fewer than twenty.
fn colebrook(reynolds: f64, roughness: f64) -> f64 {
    let mut x = 8.0;
    for _ in 0..40 {
        let next = -2.0 * libm::log10(roughness / 3.7 + 2.51 * x / reynolds);
        let settled = (next - x).abs() < 1e-13 * next.abs();
        x = next;
        if settled {
            break;
        }
    }
    1.0 / (x * x)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::{colebrook, friction_factor};

    /// A smooth pipe (Prandtl's formula as tabled by White, Fluid Mechanics, 6.6, from memory): four decimals.
    #[rstest]
    #[case(4e3, 0.0399)]
    #[case(1e4, 0.0309)]
    #[case(1e5, 0.0180)]
    #[case(1e6, 0.0116)]
    #[case(1e7, 0.0081)]
    fn a_smooth_pipe_rubs_as_tabled(#[case] reynolds: f64, #[case] factor: f64) {
        let found = friction_factor(reynolds, 0.0);
        assert!((found - factor).abs() < 6e-5, "{found}");
    }

    /// Where the roughness alone tells, Colebrook's formula is (2 log10(3.7 / r))^-2: a hundredth gives 0.037 904, a
    /// thousandth 0.019 635.
    #[rstest]
    #[case(0.01, 0.037_904)]
    #[case(0.001, 0.019_635)]
    fn a_rough_pipe_at_great_speed_forgets_the_speed(#[case] roughness: f64, #[case] factor: f64) {
        let found = friction_factor(1e12, roughness);
        assert!((found - factor).abs() < 1e-6, "{found}");
    }

    /// 64 over Reynolds' number below 2000 to 2300; between there and the turbulent a straight line joins both.
    #[test]
    fn a_slow_flow_rubs_by_its_thickness() {
        assert!((friction_factor(1000.0, 0.0) - 0.064).abs() < 1e-12);
        let (low, high) = (64.0 / super::LAMINAR, colebrook(super::TURBULENT, 0.001));
        let middle = friction_factor((super::LAMINAR + super::TURBULENT) / 2.0, 0.001);
        assert!((middle - (low + high) / 2.0).abs() < 1e-12, "{middle}");
    }
}
