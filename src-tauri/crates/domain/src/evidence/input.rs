//! Independent primitive inputs.

use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{
    Acceleration, Length, MassDensity, Pressure, TemperatureCoefficient, TemperatureInterval, Time, Velocity,
};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::temperature_coefficient::per_kelvin;
use uom::si::temperature_interval::kelvin;
use uom::si::time::second;
use uom::si::velocity::meter_per_second;

use super::{Distribution, EvidenceError, Spread};

/// Names an input within its case.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InputId(pub(super) usize);

/// What kind of quantity something is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// Pressure.
    Pressure,
    /// Length.
    Length,
    /// Density.
    Density,
    /// Acceleration.
    Acceleration,
    /// Time.
    Time,
    /// Velocity.
    Velocity,
    /// Difference of temperatures.
    Warmth,
    /// Expansion with temperature.
    Expansion,
    /// A plain number.
    Ratio,
}

/// A quantity of any of the kinds that a case uses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// Pressure.
    Pressure(Pressure),
    /// Length.
    Length(Length),
    /// Density.
    Density(MassDensity),
    /// Acceleration.
    Acceleration(Acceleration),
    /// Time.
    Time(Time),
    /// Velocity.
    Velocity(Velocity),
    /// Difference of temperatures.
    Warmth(TemperatureInterval),
    /// Expansion with temperature.
    Expansion(TemperatureCoefficient),
    /// A plain number.
    Ratio(f64),
}

impl Amount {
    pub(super) fn of(dimension: Dimension, si: f64) -> Amount {
        match dimension {
            Dimension::Pressure => Amount::Pressure(Pressure::new::<pascal>(si)),
            Dimension::Length => Amount::Length(Length::new::<meter>(si)),
            Dimension::Density => Amount::Density(MassDensity::new::<kilogram_per_cubic_meter>(si)),
            Dimension::Acceleration => {
                Amount::Acceleration(Acceleration::new::<meter_per_second_squared>(si))
            }
            Dimension::Time => Amount::Time(Time::new::<second>(si)),
            Dimension::Velocity => Amount::Velocity(Velocity::new::<meter_per_second>(si)),
            Dimension::Warmth => Amount::Warmth(TemperatureInterval::new::<kelvin>(si)),
            Dimension::Expansion => Amount::Expansion(TemperatureCoefficient::new::<per_kelvin>(si)),
            Dimension::Ratio => Amount::Ratio(si),
        }
    }
}

/// An independent input: a value, how far it may be off, and what people call it.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    pub(super) label: String,
    pub(super) dimension: Dimension,
    pub(super) value: f64,
    pub(super) spread: Spread<f64>,
    pub(super) assumed: bool,
}

macro_rules! kinds {
    ($($(#[$doc:meta])* $name:ident($quantity:ty) = $dimension:ident;)*) => {
        impl Input {
            $($(#[$doc])*
            pub fn $name(label: impl Into<String>, value: $quantity, spread: Spread<$quantity>) -> Input {
                Input {
                    label: label.into(),
                    dimension: Dimension::$dimension,
                    value: value.value,
                    spread: spread.map(|q| q.value),
                    assumed: false,
                }
            })*
        }
    };
}

kinds! {
    /// Returns a pressure: a reading, an offset, what the sensor may be off by.
    pressure(Pressure) = Pressure;
    /// Returns a length: a dip, a hatch height, a riser height.
    length(Length) = Length;
    /// Returns a density.
    density(MassDensity) = Density;
    /// Returns an acceleration: gravity.
    acceleration(Acceleration) = Acceleration;
    /// Returns a time: how long after the dip, how long the damping lags.
    time(Time) = Time;
    /// Returns a velocity: how fast the level moves.
    velocity(Velocity) = Velocity;
    /// Returns a difference of temperatures: how much warmer a tape is than when it was checked.
    warmth(TemperatureInterval) = Warmth;
    /// Returns an expansion with temperature: a tape's.
    expansion(TemperatureCoefficient) = Expansion;
}

impl Input {
    /// Returns a plain number: the scale of a display unit whose definition is not known.
    pub fn ratio(label: impl Into<String>, value: f64, spread: Spread<f64>) -> Input {
        Input { label: label.into(), dimension: Dimension::Ratio, value, spread, assumed: false }
    }

    /// Marks the input as assumed rather than seen today, so that it is listed with its share.
    #[must_use]
    pub fn assumed(mut self) -> Input {
        self.assumed = true;
        self
    }

    /// Returns its value alone, as something exactly known: how another day took it.
    pub(super) fn as_taken(&self) -> Input {
        let label = format!("{}, as taken then", self.label);
        Input { label, spread: Spread::Exact, assumed: false, ..self.clone() }
    }

    /// Returns what people call it.
    #[must_use]
    pub fn label(&self) -> &str {
        &self.label
    }

    /// Returns its kind of quantity.
    #[must_use]
    pub fn dimension(&self) -> Dimension {
        self.dimension
    }

    /// Returns its value.
    #[must_use]
    pub fn value(&self) -> Amount {
        Amount::of(self.dimension, self.value)
    }

    /// Returns its standard uncertainty.
    #[must_use]
    pub fn standard(&self) -> Amount {
        Amount::of(self.dimension, self.standard_si())
    }

    /// Returns the shape of its uncertainty.
    #[must_use]
    pub fn distribution(&self) -> Distribution {
        self.spread.distribution()
    }

    pub(super) fn standard_si(&self) -> f64 {
        self.spread.stated() / self.spread.divisor()
    }

    /// Refuses what no result may be built on.
    pub(super) fn verify(&self) -> Result<(), EvidenceError> {
        if !self.value.is_finite() {
            return Err(EvidenceError::NotANumber { label: self.label.clone() });
        }
        let standard = self.standard_si();
        let usable = standard.is_finite() && standard >= 0.0 && self.spread.divisor() > 0.0;
        if usable && self.spread.freedom() > 0.0 {
            Ok(())
        } else {
            Err(EvidenceError::BadUncertainty { label: self.label.clone() })
        }
    }
}
