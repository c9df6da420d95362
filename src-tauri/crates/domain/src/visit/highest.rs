//! The highest pressure that comes to the sensor, and by what.

use uom::si::f64::{Length, Pressure};

use super::Known;
use crate::head::mounting::Installed;

/// What brings a pressure to the sensor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pressing {
    /// The highest level, standing.
    Level,
    /// A surge on top of the highest level.
    Surge,
    /// A pump against a shut valve.
    ShutOff,
    /// A pressure test of the line.
    Hydrotest,
}

impl Pressing {
    /// Returns what it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Pressing::Level => "the highest level",
            Pressing::Surge => "a surge on top of the highest level",
            Pressing::ShutOff => "a pump against a shut valve",
            Pressing::Hydrotest => "a pressure test of the line",
        }
    }
}

/// The pressures that can come to the sensor, and the highest of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Highest {
    /// The highest pressure.
    pub pressure: Pressure,
    /// What brings it.
    pub by: Pressing,
    /// The level that standing and surge are reckoned to.
    pub level: Length,
    /// True where that is the overflow, false where it is not known and 100 % stands for it.
    pub overflow: bool,
    /// All that the register tells of, the standing level first.
    pub all: Vec<(Pressing, Pressure)>,
}

impl Highest {
    /// Reckons the pressures with the columns as installed; a pressure test only where it is asked for, since none is made
    /// while a unit is trimmed.
    pub(super) fn of(known: &Known, installed: &Installed, tested: bool) -> Highest {
        let level = known.overflow.unwrap_or(known.span).max(known.span);
        let standing = installed.highest(level);
        let stated = &known.overpressure;
        let all = [
            (Pressing::Level, Some(standing)),
            (Pressing::Surge, stated.surge.map(|surge| standing + surge)),
            (Pressing::ShutOff, stated.shut_off),
            (Pressing::Hydrotest, stated.hydrotest.filter(|_| tested)),
        ];
        let all: Vec<_> = all.into_iter().filter_map(|(by, pressure)| Some((by, pressure?))).collect();
        let (by, pressure) = all
            .iter()
            .copied()
            .fold((Pressing::Level, standing), |most, one| if one.1 > most.1 { one } else { most });
        Highest { pressure, by, level, overflow: known.overflow.is_some(), all }
    }

    /// Returns what goes beyond a maximum.
    pub fn above(&self, most: Pressure) -> impl Iterator<Item = (Pressing, Pressure)> + '_ {
        self.all.iter().copied().filter(move |(_, pressure)| *pressure > most)
    }

    /// Returns the kinds that the register states nothing of.
    #[must_use]
    pub fn not_stated(&self) -> Vec<Pressing> {
        let stated = |by: &Pressing| self.all.iter().any(|(one, _)| one == by);
        [Pressing::Surge, Pressing::ShutOff, Pressing::Hydrotest]
            .into_iter()
            .filter(|by| !stated(by))
            .collect()
    }
}
