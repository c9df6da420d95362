//! Plain numbers.

use super::ask::ask;
use super::lead::Lead;
use super::{Candidate, Doubtful, EntryError, EntryProblem};

/// The largest plain number that is taken.
const LARGEST: f64 = 1e12;
const EXAMPLE: &str = "12.3 or -0.45";

/// A number as read, with what its last digit stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NumberEntry {
    /// The number.
    pub value: f64,
    /// One unit of the last digit written.
    pub resolution: f64,
}

/// Why a number was not taken.
pub type NumberProblem = EntryProblem<f64>;

/// Reads a number with a decimal point or a decimal comma, a sign, and at will a power of ten (`2.1e-4`).
///
/// A single comma with three digits behind it (`1,234`) is asked, not guessed.
///
/// # Errors
///
/// [`EntryProblem::Doubtful`] with both readings of a doubtful comma; [`EntryProblem::Refused`] for anything
/// that is no number or is beyond 1e12.
pub fn read_number(text: &str) -> Result<NumberEntry, NumberProblem> {
    let lead = Lead::of(text, EXAMPLE)?;
    let power = power_of_ten(&lead)?;
    let figure = match lead.figure() {
        Ok(figure) => figure,
        Err(texts) => return Err(ask(Doubtful::Comma, texts, read_number, candidate)),
    };
    let scale: f64 = format!("1e{power}").parse().unwrap_or(f64::NAN);
    let value = lead.signed(figure) * scale;
    if value.is_nan() || value.abs() > LARGEST {
        return Err(EntryError::Beyond { text: lead.typed, limits: "at most 1e12 is taken" }.into());
    }
    Ok(NumberEntry { value, resolution: figure.step() * scale })
}

fn power_of_ten(lead: &Lead) -> Result<i16, EntryError> {
    if lead.rest.is_empty() {
        return Ok(0);
    }
    let bad = || EntryError::NotANumber { text: lead.typed.clone() };
    let power: i16 = lead.rest.strip_prefix(['e', 'E']).ok_or_else(bad)?.parse().map_err(|_| bad())?;
    if power.abs() <= 30 { Ok(power) } else { Err(bad()) }
}

fn candidate(text: String, entry: NumberEntry) -> Candidate<f64> {
    Candidate { label: text.clone(), text, value: entry.value }
}
