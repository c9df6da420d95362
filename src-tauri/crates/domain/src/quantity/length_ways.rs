//! The ways in which a doubtful length can be meant, as texts that read without doubt.

use super::figure::{Figure, Numeral};
use super::length_parts::{Amount, Part, Written};
use super::read_length::{EXAMPLE, figure};
use super::{EntryError, LengthSystem, LengthUnit};

/// Both readings of the first doubtful comma, if there is one.
pub(super) fn comma_ways(written: &Written) -> Option<Vec<String>> {
    let doubtful = |part: &Part| match part.amount {
        Amount::Number(Numeral::Doubtful { decimal, thousands }) => Some((decimal, thousands)),
        _ => None,
    };
    let at = written.parts.iter().position(|part| doubtful(part).is_some())?;
    let (decimal, thousands) = doubtful(written.parts.get(at)?)?;
    let with = |figure: Figure| {
        let mut parts = written.parts.clone();
        if let Some(part) = parts.get_mut(at) {
            part.amount = Amount::Number(Numeral::Clear(figure));
        }
        written.with(&parts)
    };
    Some(vec![with(decimal), with(thousands)])
}

/// The ways to read numbers without any unit; those of the site's own system first.
pub(super) fn bare_ways(written: &Written, people: LengthSystem) -> Result<Vec<String>, EntryError> {
    let ways = match written.parts.as_slice() {
        [one] => one_number(written, one, people),
        [feet, inches] => two_numbers(written, feet, inches),
        _ => Vec::new(),
    };
    if ways.is_empty() { Err(not_understood(written)) } else { Ok(ways) }
}

fn one_number(written: &Written, part: &Part, people: LengthSystem) -> Vec<String> {
    let mut feet = vec![with_unit(written, part, LengthUnit::Foot)];
    feet.extend(point_for_feet(written, part));
    let mut metres = vec![with_unit(written, part, LengthUnit::Metre)];
    let many = part.amount.number().map_or(0.0, |(value, _)| value);
    if matches!(part.amount, Amount::Mixed { .. }) {
        // A fraction is written of inches far more often than of anything else.
        feet.insert(0, with_unit(written, part, LengthUnit::Inch));
        metres.clear();
    } else {
        if many >= 24.0 && part.amount.is_whole() {
            feet.push(with_unit(written, part, LengthUnit::Inch));
        }
        if many >= 100.0 {
            metres.extend(
                [LengthUnit::Centimetre, LengthUnit::Millimetre].map(|unit| with_unit(written, part, unit)),
            );
        }
    }
    match people {
        LengthSystem::Feet => feet.into_iter().chain(metres).collect(),
        LengthSystem::Metres => metres.into_iter().chain(feet).collect(),
    }
}

fn with_unit(written: &Written, part: &Part, unit: LengthUnit) -> String {
    written.with(&[Part { unit: Some(unit), ..*part }])
}

/// `22.7` said for 22 ft 7 in: the point as the gap between feet and inches.
fn point_for_feet(written: &Written, part: &Part) -> Option<String> {
    let number = figure(&part.amount)?;
    let (feet, inches) = number.split()?;
    let digits = number.text().len() - feet.to_string().len() - 1;
    let looks_like_inches = (1..=11).contains(&inches) && digits <= 2;
    looks_like_inches.then(|| format!("{}{feet} ft {inches} in", written.sign()))
}

fn two_numbers(written: &Written, first: &Part, second: &Part) -> Vec<String> {
    let feet = Part { unit: Some(LengthUnit::Foot), ..*first };
    let inches = Part { unit: Some(LengthUnit::Inch), ..*second };
    let mut ways = vec![written.with(&[feet, inches])];
    let (front, behind) = (first.amount.text(), second.amount.text());
    let thousands = first.amount.is_whole() && second.amount.is_whole() && behind.len() == 3;
    if thousands {
        ways.extend(["mm", "m"].map(|unit| format!("{}{front}{behind} {unit}", written.sign())));
    }
    ways
}

/// The ways to read a length in which some numbers have a unit and others have none.
pub(super) fn missing_ways(written: &Written) -> Result<Vec<String>, EntryError> {
    let [first, second] = written.parts.as_slice() else { return Err(not_understood(written)) };
    let ways = match (first.unit, second.unit) {
        (Some(LengthUnit::Foot), None) => {
            let decimal = format!("{}{}.{} ft", written.sign(), first.amount.text(), second.amount.text());
            let inches = Part { unit: Some(LengthUnit::Inch), ..*second };
            let both_whole = first.amount.is_whole() && second.amount.is_whole();
            [Some(written.with(&[*first, inches])), both_whole.then_some(decimal)]
        }
        (None, Some(LengthUnit::Inch)) => {
            let feet = Part { unit: Some(LengthUnit::Foot), ..*first };
            [Some(written.with(&[feet, *second])), None]
        }
        (Some(LengthUnit::Metre), None) => {
            let centimetres = Part { unit: Some(LengthUnit::Centimetre), ..*second };
            let decimal = format!("{}{}.{} m", written.sign(), first.amount.text(), second.amount.text());
            [Some(written.with(&[*first, centimetres])), Some(decimal)]
        }
        (None, Some(_)) => {
            // Digits grouped with a space, as in 1 234 mm.
            let unit = second.unit.map_or("", LengthUnit::symbol);
            let (front, behind) = (first.amount.text(), second.amount.text());
            let groups =
                first.amount.is_whole() && behind.split('.').next().is_some_and(|part| part.len() == 3);
            [groups.then(|| format!("{}{front}{behind} {unit}", written.sign())), None]
        }
        _ => [None, None],
    };
    let ways: Vec<_> = ways.into_iter().flatten().collect();
    if ways.is_empty() { Err(not_understood(written)) } else { Ok(ways) }
}

fn not_understood(written: &Written) -> EntryError {
    EntryError::NotUnderstood { text: written.typed.clone(), example: EXAMPLE }
}
