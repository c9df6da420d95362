//! Lengths: the systems people use, a length as read, a length as printed.

use uom::si::f64::Length;
use uom::si::length::{centimeter, foot, inch, meter, millimeter};

use super::EntryProblem;
use super::print_length::{LengthStyle, print_length};

/// The system of length units that people use at a site.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LengthSystem {
    /// Feet and inches.
    Feet,
    /// Metres.
    Metres,
}

impl LengthSystem {
    /// Returns the system that a register's word (`ft` or `m`) stands for.
    #[must_use]
    pub fn from_word(word: &str) -> Option<LengthSystem> {
        match word {
            "ft" => Some(LengthSystem::Feet),
            "m" => Some(LengthSystem::Metres),
            _ => None,
        }
    }

    /// Returns the other system.
    #[must_use]
    pub fn other(self) -> LengthSystem {
        match self {
            LengthSystem::Feet => LengthSystem::Metres,
            LengthSystem::Metres => LengthSystem::Feet,
        }
    }

    /// Returns how this system shows a length of unknown make: feet, inches and eighths, or metres to 1 mm.
    #[must_use]
    pub fn style(self) -> LengthStyle {
        match self {
            LengthSystem::Feet => LengthStyle::FeetInches(8),
            LengthSystem::Metres => LengthStyle::Metres(3),
        }
    }
}

/// A length as read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LengthEntry {
    /// The length.
    pub value: Length,
    /// What the writing resolves: one unit of the last digit, or of the fraction as written. `7 1/2"` resolves
    /// half an inch; of several repeats the finest says how the tape was read.
    pub resolution: Length,
    /// The system it was written in.
    pub system: LengthSystem,
}

impl LengthEntry {
    /// Returns the same length in the other system.
    #[must_use]
    pub fn echo(&self) -> String {
        print_length(self.value, self.system.other().style())
    }
}

/// Why a length was not taken.
pub type LengthProblem = EntryProblem<Length>;

/// A unit of length people write.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LengthUnit {
    /// Foot.
    Foot,
    /// Inch.
    Inch,
    /// Metre.
    Metre,
    /// Centimetre.
    Centimetre,
    /// Millimetre.
    Millimetre,
}

impl LengthUnit {
    /// Returns the unit a word or mark stands for; the word in lower case.
    pub(super) fn from_word(word: &str) -> Option<LengthUnit> {
        Some(match word {
            "ft" | "foot" | "feet" | "'" => LengthUnit::Foot,
            "in" | "inch" | "inches" | "\"" => LengthUnit::Inch,
            "m" | "metre" | "metres" | "meter" | "meters" => LengthUnit::Metre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => LengthUnit::Centimetre,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => LengthUnit::Millimetre,
            _ => return None,
        })
    }

    /// Returns its symbol.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            LengthUnit::Foot => "ft",
            LengthUnit::Inch => "in",
            LengthUnit::Metre => "m",
            LengthUnit::Centimetre => "cm",
            LengthUnit::Millimetre => "mm",
        }
    }

    /// Returns so many of this unit.
    #[must_use]
    pub fn length(self, value: f64) -> Length {
        match self {
            LengthUnit::Foot => Length::new::<foot>(value),
            LengthUnit::Inch => Length::new::<inch>(value),
            LengthUnit::Metre => Length::new::<meter>(value),
            LengthUnit::Centimetre => Length::new::<centimeter>(value),
            LengthUnit::Millimetre => Length::new::<millimeter>(value),
        }
    }

    /// Returns how many of this unit a length is.
    #[must_use]
    pub fn value(self, length: Length) -> f64 {
        match self {
            LengthUnit::Foot => length.get::<foot>(),
            LengthUnit::Inch => length.get::<inch>(),
            LengthUnit::Metre => length.get::<meter>(),
            LengthUnit::Centimetre => length.get::<centimeter>(),
            LengthUnit::Millimetre => length.get::<millimeter>(),
        }
    }

    /// Returns the system it belongs to.
    #[must_use]
    pub fn system(self) -> LengthSystem {
        match self {
            LengthUnit::Foot | LengthUnit::Inch => LengthSystem::Feet,
            LengthUnit::Metre | LengthUnit::Centimetre | LengthUnit::Millimetre => LengthSystem::Metres,
        }
    }
}
