//! Numbers as this instrument's people read them.

use uom::si::f64::{Length, Pressure, ThermodynamicTemperature};
use uom::si::length::{inch, meter, millimeter};

use super::Known;
use crate::head::Gradient;
use crate::head::mounting::Mounting;
use crate::quantity::{
    LengthSystem, TemperatureScale, print_both, print_decimal, print_length, print_temperature,
};

/// Prints lengths in the site's units and readings in the display's.
#[derive(Debug, Clone, Copy)]
pub struct Show<'a> {
    known: &'a Known,
    liquid: Gradient,
}

impl<'a> Show<'a> {
    /// Returns the printer for an instrument and the gradient of the day.
    #[must_use]
    pub fn new(known: &'a Known, liquid: Gradient) -> Show<'a> {
        Show { known, liquid }
    }

    /// Returns how the instrument is mounted.
    #[must_use]
    pub fn mounting(&self) -> &'a Mounting {
        &self.known.mounted.mounting
    }

    /// Returns the gradient of the day.
    #[must_use]
    pub fn liquid(&self) -> Gradient {
        self.liquid
    }

    /// Prints a length in the site's units: `22 ft 7 1/2 in`, `6.896 m`.
    #[must_use]
    pub fn length(&self, length: Length) -> String {
        print_length(length, self.known.people.style())
    }

    /// Prints a length in both systems.
    #[must_use]
    pub fn both(&self, length: Length) -> String {
        print_both(length, self.known.people)
    }

    /// Prints a small length, such as an error or an uncertainty, to a tenth of a millimetre's worth: `0.52 in`,
    /// `13.2 mm`. What turns out to be large is printed as any length.
    #[must_use]
    pub fn small(&self, length: Length) -> String {
        if length.get::<meter>().abs() >= LARGE {
            return self.length(length);
        }
        match self.known.people {
            LengthSystem::Feet => format!("{} in", print_decimal(length.get::<inch>(), 2)),
            LengthSystem::Metres => format!("{} mm", print_decimal(length.get::<millimeter>(), 1)),
        }
    }

    /// Prints a small length with its sign always shown.
    #[must_use]
    pub fn signed(&self, length: Length) -> String {
        plus(length.get::<meter>(), self.small(length))
    }

    /// Prints a temperature on the scale that goes with the site's lengths.
    #[must_use]
    pub fn temperature(&self, temperature: ThermodynamicTemperature) -> String {
        let scale = match self.known.people {
            LengthSystem::Feet => TemperatureScale::Fahrenheit,
            LengthSystem::Metres => TemperatureScale::Celsius,
        };
        print_temperature(temperature, scale)
    }

    /// Prints a reading as a bare number.
    #[must_use]
    pub fn number(&self, reading: Pressure) -> String {
        print_decimal(self.known.unit.reading(reading, self.liquid), self.known.unit.places())
    }

    /// Prints a reading with its unit: `57.32 ft`.
    #[must_use]
    pub fn reading(&self, reading: Pressure) -> String {
        format!("{} {}", self.number(reading), self.known.unit.symbol())
    }

    /// Prints a change of reading with its sign always shown.
    #[must_use]
    pub fn change(&self, change: Pressure) -> String {
        plus(self.known.unit.reading(change, self.liquid), self.reading(change))
    }

    /// Prints an uncertainty of a reading, one place finer than a reading.
    #[must_use]
    pub fn uncertainty(&self, pressure: Pressure) -> String {
        let value = self.known.unit.reading(pressure, self.liquid).abs();
        format!("{} {}", print_decimal(value, self.known.unit.places() + 1), self.known.unit.symbol())
    }
}

/// From here on, in metres, nobody thinks in inches or millimetres.
const LARGE: f64 = 0.6;

fn plus(value: f64, text: String) -> String {
    if value >= 0.0 && !text.starts_with('-') { format!("+{text}") } else { text }
}
