//! Reading lengths as people write them.

use uom::si::f64::Length;
use uom::si::length::kilometer;

use super::ask::ask;
use super::figure::{Figure, Numeral};
use super::length_parts::{Amount, Part, Written};
use super::length_ways::{bare_ways, comma_ways, missing_ways};
use super::print_length::print_length;
use super::{Candidate, Doubtful, EntryError, LengthEntry, LengthProblem, LengthSystem, LengthUnit};

pub(super) const EXAMPLE: &str = "22 ft 7 1/2 in, 22.63 ft, 6.88 m or 6880 mm";

/// Reads a length: `22' 7 1/2"`, `22 ft 7.5 in`, `7 1/2"`, `6.88 m`, `6,88 m`, `6880 mm`, with or without a sign.
///
/// A number without a unit, a doubtful comma (`1,234 m`) and feet followed by a number without a mark are
/// asked, never guessed; `people` only decides which way is offered first.
///
/// ```
/// use domain::quantity::{LengthSystem, print_length, LengthStyle, read_length};
///
/// let entry = read_length("22' 7 1/2\"", LengthSystem::Feet)?;
/// assert_eq!(entry.echo(), "6.896 m");
/// let asked = read_length("22.7", LengthSystem::Feet).unwrap_err();
/// let texts: Vec<_> = asked.candidates().iter().map(|way| way.text.as_str()).collect();
/// assert_eq!(texts, ["22.7 ft", "22 ft 7 in", "22.7 m"]);
/// # Ok::<(), domain::quantity::LengthProblem>(())
/// ```
///
/// # Errors
///
/// [`super::EntryProblem::Doubtful`] with the ways to read it; [`super::EntryProblem::Refused`] where there is
/// none, where inches reach twelve behind feet, or beyond 10 km.
pub fn read_length(text: &str, people: LengthSystem) -> Result<LengthEntry, LengthProblem> {
    let written = Written::of(text, EXAMPLE)?;
    let again = |why, texts| {
        let label = |text: String, entry: LengthEntry| candidate(text, &entry);
        Err(ask(why, texts, |text| read_length(text, people), label))
    };
    if let Some(texts) = comma_ways(&written) {
        return again(Doubtful::Comma, texts);
    }
    if written.dash {
        return again(Doubtful::Dash, vec![written.without_dash()]);
    }
    if written.parts.iter().all(|part| part.unit.is_none()) {
        return again(Doubtful::NoUnit, bare_ways(&written, people)?);
    }
    if written.parts.iter().any(|part| part.unit.is_none()) {
        return again(Doubtful::NoUnitAfterFeet, missing_ways(&written)?);
    }
    clear(&written).map_err(LengthProblem::Refused)
}

/// Reads a length in which every part has its unit.
fn clear(written: &Written) -> Result<LengthEntry, EntryError> {
    let (value, step, unit) = match written.parts.as_slice() {
        [one] => simple(one)?,
        [large, small] => compound(written, large, small)?,
        _ => return Err(written.not_understood()),
    };
    let value = if written.negative { -value } else { value };
    let limit = Length::new::<kilometer>(10.0);
    if !value.value.is_finite() || value.abs() > limit {
        let text = written.typed.clone();
        return Err(EntryError::Beyond { text, limits: "lengths reach to 10 km here" });
    }
    Ok(LengthEntry { value, resolution: step, system: unit.system() })
}

fn simple(part: &Part) -> Result<(Length, Length, LengthUnit), EntryError> {
    let unit = part.unit.unwrap_or(LengthUnit::Metre);
    let (value, step) = part.amount.number()?;
    Ok((unit.length(value), unit.length(step), unit))
}

fn compound(
    written: &Written,
    large: &Part,
    small: &Part,
) -> Result<(Length, Length, LengthUnit), EntryError> {
    let (whole, first, _) = simple(large)?;
    let (rest, step, unit) = simple(small)?;
    let too_much = match (large.unit, small.unit) {
        (Some(LengthUnit::Foot), Some(LengthUnit::Inch)) => EntryError::TooManyInches,
        (Some(LengthUnit::Metre), Some(LengthUnit::Centimetre | LengthUnit::Millimetre)) => {
            EntryError::TooManyMillimetres
        }
        _ => return Err(written.not_understood()),
    };
    if written.negative_second {
        return Err(EntryError::NegativeInches);
    }
    if !large.amount.is_whole() {
        return Err(EntryError::PartAndSmaller);
    }
    // A hair below the whole unit still reads as inches: 11.999999999999999 is what was written.
    let (many, _) = small.amount.number()?;
    let limit = first.value / unit.length(1.0).value;
    if many >= limit - 1e-12 {
        return Err(too_much);
    }
    Ok((whole + rest, step, unit))
}

fn candidate(text: String, entry: &LengthEntry) -> Candidate<Length> {
    let label = format!("{text} = {}", print_length(entry.value, entry.system.other().style()));
    Candidate { text, value: entry.value, label }
}

/// The figure of a clear number.
pub(super) fn figure(amount: &Amount) -> Option<Figure> {
    match amount {
        Amount::Number(Numeral::Clear(figure)) => Some(*figure),
        _ => None,
    }
}
