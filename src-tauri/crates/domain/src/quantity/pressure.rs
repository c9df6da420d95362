//! Pressures with their unit.

use uom::si::f64::Pressure;
use uom::si::pressure::{megapascal, pascal};

use super::ask::ask;
use super::figure::Figure;
use super::lead::Lead;
use super::{Candidate, Doubtful, EntryError, EntryProblem, PressureUnit, ReadingUnit};
use crate::head::Gradient;

const EXAMPLE: &str = "30 psi, 2.1 bar or 12 ftH2O";
const KNOWN: &str = "psi, kPa, bar, mbar, kgf/cm2, Pa, hPa, MPa, ftH2O, inH2O, mH2O, mmH2O, cmH2O";

/// A gauge pressure as read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PressureEntry {
    /// The pressure.
    pub value: Pressure,
    /// One unit of the last digit written.
    pub resolution: Pressure,
    /// The unit it was written in.
    pub unit: ReadingUnit,
}

/// Why a pressure was not taken.
pub type PressureProblem = EntryProblem<Pressure>;

/// Reads a gauge pressure with its unit: `30 psi`, `2.1 bar`, `12 ftH2O`, `1.5 kgf/cm2`.
///
/// A number without a unit is asked. `psig`, `barg` and `kPag` say gauge and are taken; absolute units are
/// refused, because everything here is measured against the air outside.
///
/// # Errors
///
/// [`EntryProblem::Doubtful`] for a missing unit or a doubtful comma; [`EntryProblem::Refused`] otherwise.
pub fn read_pressure(text: &str) -> Result<PressureEntry, PressureProblem> {
    let lead = Lead::of(text, EXAMPLE)?;
    let figure = match lead.figure() {
        Ok(figure) => figure,
        Err(texts) => return Err(ask(Doubtful::Comma, texts, read_pressure, candidate)),
    };
    if lead.rest.is_empty() {
        let texts = ["psi", "kPa", "bar"].map(|unit| lead.with(figure, unit)).to_vec();
        return Err(ask(Doubtful::NoUnit, texts, read_pressure, candidate));
    }
    let unit = pressure_unit(&lead.rest)?;
    taken(&lead, figure, unit).map_err(EntryProblem::Refused)
}

fn taken(lead: &Lead, figure: Figure, unit: ReadingUnit) -> Result<PressureEntry, EntryError> {
    // Water columns and pressure units are fixed pressures; a gradient only matters to liquid lengths.
    let one = unit.one(Gradient::CONVENTIONAL_WATER);
    let value = one * lead.signed(figure);
    if !value.value.is_finite() || value.abs() > Pressure::new::<megapascal>(100.0) {
        let text = lead.typed.clone();
        return Err(EntryError::Beyond { text, limits: "pressures reach to 100 MPa here" });
    }
    Ok(PressureEntry { value, resolution: one * figure.step(), unit })
}

fn pressure_unit(text: &str) -> Result<ReadingUnit, EntryError> {
    let unknown = || EntryError::UnknownUnit { unit: text.to_owned(), known: KNOWN };
    let lower = text.to_lowercase();
    if let Some(gauge) = ["psi", "bar", "kpa", "mbar"].iter().find(|unit| lower == format!("{unit}g")) {
        return any_case(gauge).ok_or_else(unknown);
    }
    if ["psia", "bara", "kpaa", "mbara"].contains(&lower.as_str()) || lower.contains("abs") {
        return Err(EntryError::Absolute { unit: text.to_owned() });
    }
    match any_case(text).ok_or_else(unknown)? {
        ReadingUnit::Liquid(_) => Err(EntryError::LengthForPressure { unit: text.to_owned() }),
        unit => Ok(unit),
    }
}

/// The unit as written, or in any case where that cannot be mistaken.
fn any_case(text: &str) -> Option<ReadingUnit> {
    let lower = text.to_lowercase();
    let by_case = || PressureUnit::ALL.into_iter().find(|unit| unit.symbol().to_lowercase() == lower);
    let unmistakable = lower != "mpa";
    ReadingUnit::parse(text).ok().or_else(|| by_case().filter(|_| unmistakable).map(ReadingUnit::Pressure))
}

fn candidate(text: String, entry: PressureEntry) -> Candidate<Pressure> {
    let label = format!("{text} = {:.2} kPa", entry.value.get::<pascal>() / 1000.0);
    Candidate { text, value: entry.value, label }
}
