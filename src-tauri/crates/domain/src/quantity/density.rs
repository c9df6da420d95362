//! Densities with their unit.

use std::ops::RangeInclusive;

use uom::si::f64::MassDensity;
use uom::si::mass_density::kilogram_per_cubic_meter;

use super::ask::ask;
use super::lead::Lead;
use super::{Candidate, Doubtful, EntryError, EntryProblem};

const EXAMPLE: &str = "1180 kg/m3 or 1.18 SG";
const KNOWN: &str = "kg/m3, g/cm3, kg/l, t/m3, lb/ft3, SG, SG 60/60";

/// The unit a density is written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DensityUnit {
    /// Kilograms per cubic metre.
    KilogramPerCubicMetre,
    /// Grams per cubic centimetre, kilograms per litre, tonnes per cubic metre: all the same.
    GramPerCubicCentimetre,
    /// Pounds per cubic foot.
    PoundPerCubicFoot,
    /// Specific gravity against 1000 kg/m3.
    SpecificGravity,
    /// Specific gravity, both liquid and water at 60 degF.
    SpecificGravity60,
}

impl DensityUnit {
    fn from_word(word: &str) -> Option<DensityUnit> {
        let word =
            word.to_lowercase().split_whitespace().collect::<String>().replace('³', "3").replace('^', "");
        Some(match word.as_str() {
            "kg/m3" => DensityUnit::KilogramPerCubicMetre,
            "g/cm3" | "g/ml" | "kg/l" | "kg/dm3" | "t/m3" => DensityUnit::GramPerCubicCentimetre,
            "lb/ft3" => DensityUnit::PoundPerCubicFoot,
            "sg" => DensityUnit::SpecificGravity,
            "sg60/60" => DensityUnit::SpecificGravity60,
            _ => return None,
        })
    }

    /// Kilograms per cubic metre in one unit. Pound and foot by the 1959 agreement; water at 60 degF as in the
    /// reading units.
    fn one(self) -> f64 {
        match self {
            DensityUnit::KilogramPerCubicMetre => 1.0,
            DensityUnit::GramPerCubicCentimetre | DensityUnit::SpecificGravity => 1000.0,
            DensityUnit::PoundPerCubicFoot => 0.453_592_37 / (0.3048 * 0.3048 * 0.3048),
            DensityUnit::SpecificGravity60 => 999.016,
        }
    }

    /// Returns what the unit means, in full.
    #[must_use]
    pub fn definition(self) -> &'static str {
        match self {
            DensityUnit::KilogramPerCubicMetre => "kilograms per cubic metre",
            DensityUnit::GramPerCubicCentimetre => "grams per cubic centimetre, 1000 kg/m3 each",
            DensityUnit::PoundPerCubicFoot => "pounds per cubic foot, 16.01846 kg/m3 each",
            DensityUnit::SpecificGravity => "specific gravity against 1000 kg/m3",
            DensityUnit::SpecificGravity60 => {
                "specific gravity at 60 degF against water at 60 degF, 999.016 kg/m3"
            }
        }
    }
}

/// A density as read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DensityEntry {
    /// The density.
    pub value: MassDensity,
    /// One unit of the last digit written.
    pub resolution: MassDensity,
    /// The unit it was written in.
    pub unit: DensityUnit,
}

/// Why a density was not taken.
pub type DensityProblem = EntryProblem<MassDensity>;

/// Reads a density with its unit: `1180 kg/m3`, `1.18 g/cm3`, `73.7 lb/ft3`, `1.18 SG`, `1.18 SG 60/60`.
///
/// # Errors
///
/// [`EntryProblem::Doubtful`] for a missing unit or a doubtful comma; [`EntryProblem::Refused`] for anything
/// else, and outside 1 to 25 000 kg/m3.
pub fn read_density(text: &str) -> Result<DensityEntry, DensityProblem> {
    read_within(text, 1.0..=25_000.0, "densities reach from 1 to 25 000 kg/m3 here", read_density)
}

/// Reads the density of a gas with its unit: `0.6 kg/m3`.
///
/// # Errors
///
/// As [`read_density`], and outside 0.01 to 300 kg/m3.
pub fn read_gas_density(text: &str) -> Result<DensityEntry, DensityProblem> {
    read_within(text, 0.01..=300.0, "gases reach from 0.01 to 300 kg/m3 here", read_gas_density)
}

fn read_within(
    text: &str,
    bounds: RangeInclusive<f64>,
    limits: &'static str,
    again: fn(&str) -> Result<DensityEntry, DensityProblem>,
) -> Result<DensityEntry, DensityProblem> {
    let lead = Lead::of(text, EXAMPLE)?;
    let figure = match lead.figure() {
        Ok(figure) => figure,
        Err(texts) => return Err(ask(Doubtful::Comma, texts, again, candidate)),
    };
    if lead.rest.is_empty() {
        let texts = ["kg/m3", "SG", "lb/ft3"].map(|unit| lead.with(figure, unit)).to_vec();
        return Err(ask(Doubtful::NoUnit, texts, again, candidate));
    }
    let unknown = || EntryError::UnknownUnit { unit: lead.rest.clone(), known: KNOWN };
    let unit = DensityUnit::from_word(&lead.rest).ok_or_else(unknown)?;
    let value = lead.signed(figure) * unit.one();
    if !bounds.contains(&value) {
        return Err(EntryError::Beyond { text: lead.typed, limits }.into());
    }
    let density = MassDensity::new::<kilogram_per_cubic_meter>;
    Ok(DensityEntry { value: density(value), resolution: density(figure.step() * unit.one()), unit })
}

fn candidate(text: String, entry: DensityEntry) -> Candidate<MassDensity> {
    let label = format!("{text} = {:.1} kg/m3", entry.value.get::<kilogram_per_cubic_meter>());
    Candidate { text, value: entry.value, label }
}
