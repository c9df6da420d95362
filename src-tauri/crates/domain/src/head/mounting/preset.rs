//! The mountings there are, each with its own measures.

use uom::si::f64::Length;

use crate::head::Liquid;

/// How a transmitter sits at its vessel. Heights are above the tank's zero unless they say otherwise; `riser` is
/// always how far the tank's zero stands above the sensing point, negative where the sensing point is higher.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Mounting {
    /// A riser or a full impulse line under an open tank.
    Riser {
        /// Tank zero above the sensing point, not negative.
        riser: Length,
    },
    /// An impulse line full of the tank's liquid, up to a transmitter above the tank's zero; open tank.
    AboveDatum {
        /// The sensing point above the tank's zero, positive.
        rise: Length,
    },
    /// A closed tank whose low side is a leg full of the vessel's gas.
    DryLeg {
        /// Tank zero above the sensing point.
        riser: Length,
        /// The upper tap.
        top: Length,
    },
    /// A closed tank whose low side is a leg kept full of liquid.
    WetLeg {
        /// Tank zero above the sensing point.
        riser: Length,
        /// The surface of the leg's liquid: the upper tap or the pot at its top.
        top: Length,
        /// What fills the leg.
        fill: Liquid,
    },
    /// One seal with a capillary on an open tank.
    OneSeal {
        /// Tank zero above the sensing point.
        riser: Length,
        /// The seal's middle, at or below the tank's zero.
        tap: Length,
        /// What fills the capillary.
        fill: Liquid,
    },
    /// Two seals on a closed tank, with capillaries of one fill.
    TwoSeals {
        /// Tank zero above the sensing point. It cancels.
        riser: Length,
        /// The lower seal's middle, at or below the tank's zero.
        tap: Length,
        /// The upper seal's middle.
        top: Length,
        /// What fills both capillaries.
        fill: Liquid,
    },
    /// A probe in the liquid, vented through its cable; open tank.
    Probe {
        /// Tank zero above the probe's diaphragm; negative where it hangs above the zero.
        riser: Length,
    },
    /// The surface between two liquids, under a level that stays above the upper tap.
    Interface {
        /// Tank zero above the sensing point.
        riser: Length,
        /// The upper tap.
        top: Length,
        /// The liquid above the interface.
        light: Liquid,
        /// What fills the leg to the upper tap.
        fill: Liquid,
    },
}

impl Mounting {
    /// Returns the mounting of an open tank with nothing said about it: a riser, or a transmitter above the zero.
    #[must_use]
    pub fn open(riser: Length) -> Mounting {
        if riser < Length::default() {
            Mounting::AboveDatum { rise: -riser }
        } else {
            Mounting::Riser { riser }
        }
    }

    /// Returns the word for it in register files.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Mounting::Riser { .. } => "riser",
            Mounting::AboveDatum { .. } => "above_datum",
            Mounting::DryLeg { .. } => "dry_leg",
            Mounting::WetLeg { .. } => "wet_leg",
            Mounting::OneSeal { .. } => "one_seal",
            Mounting::TwoSeals { .. } => "two_seals",
            Mounting::Probe { .. } => "probe",
            Mounting::Interface { .. } => "interface",
        }
    }

    /// Returns how far the tank's zero stands above the sensing point; negative where it stands below.
    #[must_use]
    pub fn riser(&self) -> Length {
        match *self {
            Mounting::AboveDatum { rise } => -rise,
            Mounting::Riser { riser }
            | Mounting::Probe { riser }
            | Mounting::DryLeg { riser, .. }
            | Mounting::WetLeg { riser, .. }
            | Mounting::OneSeal { riser, .. }
            | Mounting::TwoSeals { riser, .. }
            | Mounting::Interface { riser, .. } => riser,
        }
    }

    /// Returns the mounting with another height of the tank's zero above the sensing point, as measured today.
    #[must_use]
    pub fn with_riser(mut self, height: Length) -> Mounting {
        match &mut self {
            Mounting::AboveDatum { rise } => *rise = -height,
            Mounting::Riser { riser }
            | Mounting::Probe { riser }
            | Mounting::DryLeg { riser, .. }
            | Mounting::WetLeg { riser, .. }
            | Mounting::OneSeal { riser, .. }
            | Mounting::TwoSeals { riser, .. }
            | Mounting::Interface { riser, .. } => *riser = height,
        }
        self
    }

    /// Returns the height of the upper tap, seal or leg, where there is one.
    #[must_use]
    pub fn top(&self) -> Option<Length> {
        match *self {
            Mounting::DryLeg { top, .. }
            | Mounting::WetLeg { top, .. }
            | Mounting::TwoSeals { top, .. }
            | Mounting::Interface { top, .. } => Some(top),
            _ => None,
        }
    }

    /// Returns the height of the lower seal, where there is one.
    #[must_use]
    pub fn tap(&self) -> Option<Length> {
        match *self {
            Mounting::OneSeal { tap, .. } | Mounting::TwoSeals { tap, .. } => Some(tap),
            _ => None,
        }
    }

    /// Returns what fills the leg or the capillaries, where something does.
    #[must_use]
    pub fn fill(&self) -> Option<Liquid> {
        match *self {
            Mounting::WetLeg { fill, .. }
            | Mounting::OneSeal { fill, .. }
            | Mounting::TwoSeals { fill, .. }
            | Mounting::Interface { fill, .. } => Some(fill),
            _ => None,
        }
    }

    /// Returns the liquid above an interface, where there is one.
    #[must_use]
    pub fn light(&self) -> Option<Liquid> {
        if let Mounting::Interface { light, .. } = *self { Some(light) } else { None }
    }

    /// Tells whether the vessel is closed: the low side is led back to it.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        self.top().is_some()
    }

    /// Tells whether the vessel's own gas stands over the measured liquid (an interface has liquid over it).
    #[must_use]
    pub fn has_vapour(&self) -> bool {
        self.is_closed() && self.light().is_none()
    }

    /// Tells whether diaphragm seals stand between the vessel and the sensor.
    #[must_use]
    pub fn has_seals(&self) -> bool {
        self.tap().is_some()
    }

    /// Tells whether the vessel's liquid stands in a riser or impulse line.
    #[must_use]
    pub fn has_line(&self) -> bool {
        !self.has_seals() && !matches!(self, Mounting::Probe { .. })
    }
}
