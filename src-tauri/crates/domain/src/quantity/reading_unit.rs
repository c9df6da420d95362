//! The unit a display is scaled in.
//!
//! Three kinds. A *liquid length* (`ft`, `m`) counts lengths of today's liquid: what one unit presses follows
//! from its density and from gravity, so a [`Gradient`] is needed to turn it into pascals. A *water column*
//! (`ftH2O`, `inH2O@60F`) is a fixed pressure that carries its definition in its name. A plain *pressure unit*
//! (`psi`, `kPa`) is defined exactly.

use uom::si::f64::{Pressure, Ratio};
use uom::si::length::meter;
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;

use super::{EntryError, LengthUnit};
use crate::head::Gradient;

/// Standard gravity, m/s2: 3rd CGPM (1901), resolution 2.
const STANDARD_GRAVITY: f64 = 9.80665;

/// What a water column is defined by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ColumnBasis {
    /// 1000 kg/m3 and standard gravity; also called "4 degC".
    Conventional,
    /// Water at 60 degF and standard gravity.
    At60F,
    /// Water at 68 degF (20 degC) and standard gravity.
    At68F,
    /// Nobody knows.
    NotKnown,
}

impl ColumnBasis {
    /// The density the column is made of, kg/m3.
    ///
    /// 60 degF: 999.016, as the register's convention states it (IAPWS R6-95 gives 999.017, within 1e-6). 68
    /// degF: 998.207 (IAPWS R6-95 gives 998.2072 at 20 degC). For a basis nobody knows the conventional value.
    fn density(self) -> f64 {
        match self {
            ColumnBasis::Conventional | ColumnBasis::NotKnown => 1000.0,
            ColumnBasis::At60F => 999.016,
            ColumnBasis::At68F => 998.207,
        }
    }

    fn suffix(self) -> &'static str {
        match self {
            ColumnBasis::Conventional => "",
            ColumnBasis::At60F => "@60F",
            ColumnBasis::At68F => "@68F",
            ColumnBasis::NotKnown => "@?",
        }
    }

    fn from_suffix(suffix: &str) -> Option<ColumnBasis> {
        Some(match suffix {
            "" | "@4c" | "@39.2f" => ColumnBasis::Conventional,
            "@60f" => ColumnBasis::At60F,
            "@68f" | "@20c" => ColumnBasis::At68F,
            "@?" => ColumnBasis::NotKnown,
            _ => return None,
        })
    }
}

/// A unit of pressure with an exact definition.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PressureUnit {
    /// Pascal.
    Pascal,
    /// Hectopascal.
    Hectopascal,
    /// Millibar.
    Millibar,
    /// Kilopascal.
    Kilopascal,
    /// Bar.
    Bar,
    /// Megapascal.
    Megapascal,
    /// Pound-force per square inch.
    Psi,
    /// Kilogram-force per square centimetre.
    KilogramForce,
}

impl PressureUnit {
    /// Every one of them.
    pub const ALL: [PressureUnit; 8] = [
        PressureUnit::Pascal,
        PressureUnit::Hectopascal,
        PressureUnit::Millibar,
        PressureUnit::Kilopascal,
        PressureUnit::Bar,
        PressureUnit::Megapascal,
        PressureUnit::Psi,
        PressureUnit::KilogramForce,
    ];

    fn pascals(self) -> f64 {
        match self {
            PressureUnit::Pascal => 1.0,
            PressureUnit::Hectopascal | PressureUnit::Millibar => 100.0,
            PressureUnit::Kilopascal => 1000.0,
            PressureUnit::Bar => 100_000.0,
            PressureUnit::Megapascal => 1_000_000.0,
            // 0.45359237 kg (1959 agreement) at standard gravity on a square of 0.0254 m.
            PressureUnit::Psi => 0.453_592_37 * STANDARD_GRAVITY / (0.0254 * 0.0254),
            PressureUnit::KilogramForce => 98_066.5,
        }
    }

    /// Returns its symbol.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            PressureUnit::Pascal => "Pa",
            PressureUnit::Hectopascal => "hPa",
            PressureUnit::Millibar => "mbar",
            PressureUnit::Kilopascal => "kPa",
            PressureUnit::Bar => "bar",
            PressureUnit::Megapascal => "MPa",
            PressureUnit::Psi => "psi",
            PressureUnit::KilogramForce => "kgf/cm2",
        }
    }
}

/// The unit a display is scaled in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ReadingUnit {
    /// A length of the liquid that is in the tank today.
    Liquid(LengthUnit),
    /// A column of water by definition.
    Water(LengthUnit, ColumnBasis),
    /// A pressure.
    Pressure(PressureUnit),
}

const KNOWN: &str = "ft, m, in, mm, cm of the liquid; ftH2O, inH2O, mH2O, mmH2O, cmH2O with @60F, @68F or @?; psi, kPa, bar, mbar, kgf/cm2, Pa, hPa, MPa";

impl ReadingUnit {
    /// Reads the unit as a register writes it.
    ///
    /// # Errors
    ///
    /// [`EntryError::UnknownUnit`] or [`EntryError::Empty`].
    pub fn parse(text: &str) -> Result<ReadingUnit, EntryError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(EntryError::Empty { example: "ft, ftH2O or psi" });
        }
        // Symbols tell MPa from mPa by case, so pressure units are compared as they stand.
        let pressure = PressureUnit::ALL.into_iter().find(|unit| unit.symbol() == text);
        let unknown = || EntryError::UnknownUnit { unit: text.to_owned(), known: KNOWN };
        match pressure {
            Some(unit) => Ok(ReadingUnit::Pressure(unit)),
            None => lengths(&text.to_lowercase()).ok_or_else(unknown),
        }
    }

    /// Returns its symbol, which is also how a register writes it.
    #[must_use]
    pub fn symbol(self) -> String {
        match self {
            ReadingUnit::Liquid(unit) => unit.symbol().to_owned(),
            ReadingUnit::Water(unit, basis) => format!("{}H2O{}", unit.symbol(), basis.suffix()),
            ReadingUnit::Pressure(unit) => unit.symbol().to_owned(),
        }
    }

    /// Returns what it means, in full: `feet of water at 60 degF, 999.016 kg/m3 and 9.80665 m/s2`.
    #[must_use]
    pub fn definition(self) -> String {
        match self {
            ReadingUnit::Liquid(unit) => {
                format!("{} of the liquid in the tank, at its density and the gravity of today", plural(unit))
            }
            ReadingUnit::Water(unit, basis) => column(unit, basis),
            ReadingUnit::Pressure(PressureUnit::Pascal) => "pascals".to_owned(),
            ReadingUnit::Pressure(PressureUnit::Psi) => {
                "pounds-force per square inch, 6894.757 Pa each".to_owned()
            }
            ReadingUnit::Pressure(PressureUnit::KilogramForce) => {
                "kilograms-force per square centimetre, 98066.5 Pa each".to_owned()
            }
            ReadingUnit::Pressure(unit) => format!("{}, {} Pa each", unit.symbol(), unit.pascals()),
        }
    }

    /// Returns true where one unit of reading is one unit of liquid, whatever its density.
    #[must_use]
    pub fn is_liquid_length(self) -> bool {
        matches!(self, ReadingUnit::Liquid(_))
    }

    /// Returns the length unit in the name, if there is one.
    #[must_use]
    pub fn length_unit(self) -> Option<LengthUnit> {
        match self {
            ReadingUnit::Liquid(unit) | ReadingUnit::Water(unit, _) => Some(unit),
            ReadingUnit::Pressure(_) => None,
        }
    }

    /// Returns what one unit of reading presses. The gradient counts for liquid lengths only.
    #[must_use]
    pub fn one(self, liquid: Gradient) -> Pressure {
        match self {
            ReadingUnit::Liquid(unit) => liquid.pressure(unit.length(1.0)),
            ReadingUnit::Water(unit, basis) => {
                let metres = unit.length(1.0).get::<meter>();
                Pressure::new::<pascal>(basis.density() * STANDARD_GRAVITY * metres)
            }
            ReadingUnit::Pressure(unit) => Pressure::new::<pascal>(unit.pascals()),
        }
    }

    /// Returns the pressure a reading means.
    #[must_use]
    pub fn pressure(self, reading: f64, liquid: Gradient) -> Pressure {
        self.one(liquid) * reading
    }

    /// Returns the reading a pressure makes.
    #[must_use]
    pub fn reading(self, pressure: Pressure, liquid: Gradient) -> f64 {
        (pressure / self.one(liquid)).get::<ratio>()
    }

    /// Returns the relative standard uncertainty of the unit itself: zero where it is defined.
    ///
    /// Where the temperature of a water column is not known, whichever definition was meant lies within 0.2 %
    /// of the conventional one (the farthest in use, 68 degF, lies 0.18 % below). That is a half-width; taken
    /// as rectangular it is a standard uncertainty of 0.2 % / sqrt(3).
    #[must_use]
    pub fn relative_uncertainty(self) -> Ratio {
        let not_known = matches!(self, ReadingUnit::Water(_, ColumnBasis::NotKnown));
        Ratio::new::<ratio>(if not_known { 0.002 / libm::sqrt(3.0) } else { 0.0 })
    }

    /// Returns how many decimal places show about a millimetre of water, so that a reading is neither blunt
    /// nor full of noise.
    #[must_use]
    pub fn places(self) -> usize {
        match self {
            ReadingUnit::Liquid(unit) | ReadingUnit::Water(unit, _) => match unit {
                LengthUnit::Metre => 3,
                LengthUnit::Foot | LengthUnit::Inch => 2,
                LengthUnit::Centimetre => 1,
                LengthUnit::Millimetre => 0,
            },
            ReadingUnit::Pressure(unit) => match unit {
                PressureUnit::Pascal => 0,
                PressureUnit::Hectopascal | PressureUnit::Millibar | PressureUnit::Kilopascal => 2,
                PressureUnit::Psi => 3,
                PressureUnit::Bar | PressureUnit::KilogramForce => 4,
                PressureUnit::Megapascal => 5,
            },
        }
    }
}

fn lengths(text: &str) -> Option<ReadingUnit> {
    let Some((unit, suffix)) = text.split_once("h2o") else {
        return LengthUnit::from_word(text).map(ReadingUnit::Liquid);
    };
    let suffix: String = suffix.split_whitespace().collect();
    Some(ReadingUnit::Water(LengthUnit::from_word(unit.trim())?, ColumnBasis::from_suffix(&suffix)?))
}

fn plural(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Foot => "feet",
        LengthUnit::Inch => "inches",
        LengthUnit::Metre => "metres",
        LengthUnit::Centimetre => "centimetres",
        LengthUnit::Millimetre => "millimetres",
    }
}

fn column(unit: LengthUnit, basis: ColumnBasis) -> String {
    let unit = plural(unit);
    let by = format!("{} kg/m3 and {STANDARD_GRAVITY} m/s2", basis.density());
    match basis {
        ColumnBasis::Conventional => format!("{unit} of water by convention (also called 4 degC), {by}"),
        ColumnBasis::At60F => format!("{unit} of water at 60 degF, {by}"),
        ColumnBasis::At68F => format!("{unit} of water at 68 degF (20 degC), {by}"),
        ColumnBasis::NotKnown => {
            format!("{unit} of water, temperature of the column not known; {by} taken, up to 0.2 % off")
        }
    }
}
