//! Lengths as the trade prints them.

use uom::si::f64::Length;
use uom::si::length::{foot, inch, meter, millimeter};

use super::LengthSystem;

/// How a length is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LengthStyle {
    /// Feet, inches and a fraction of so many parts to the inch (8, 16): `22 ft 7 1/2 in`.
    FeetInches(u16),
    /// Feet with so many decimal places: `22.625 ft`.
    Feet(usize),
    /// Metres with so many decimal places: `6.896 m`.
    Metres(usize),
    /// Whole millimetres: `6896 mm`.
    Millimetres,
}

/// Prints a length, rounded to what the style can show.
///
/// What is printed reads back as the same length within half of the last place, without a doubt.
#[must_use]
pub fn print_length(length: Length, style: LengthStyle) -> String {
    match style {
        LengthStyle::FeetInches(parts) => feet_inches(length.get::<inch>(), parts.max(1)),
        LengthStyle::Feet(places) => format!("{} ft", print_decimal(length.get::<foot>(), places)),
        LengthStyle::Metres(places) => format!("{} m", print_decimal(length.get::<meter>(), places)),
        LengthStyle::Millimetres => format!("{} mm", print_decimal(length.get::<millimeter>(), 0)),
    }
}

/// Prints a length in one system and then in the other: `22 ft 7 in = 6.883 m`.
#[must_use]
pub fn print_both(length: Length, first: LengthSystem) -> String {
    let one = print_length(length, first.style());
    format!("{one} = {}", print_length(length, first.other().style()))
}

/// Prints a number with so many decimal places; what rounds to nothing has no sign.
#[must_use]
pub fn print_decimal(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    if text.chars().all(|c| matches!(c, '-' | '0' | '.')) {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    }
}

fn feet_inches(inches: f64, parts: u16) -> String {
    // Rounded once, in the smallest part, so that a carry runs through inches and feet by itself.
    let steps = libm::round(inches.abs() * f64::from(parts));
    if !steps.is_finite() || steps > 9e15 {
        return format!("{inches} in");
    }
    // Whole, not negative and within what a double tells apart: the cast loses nothing.
    let steps = steps as u64;
    let sign = if inches < 0.0 && steps > 0 { "-" } else { "" };
    let parts = u64::from(parts);
    let (feet, rest) = (steps / (12 * parts), steps % (12 * parts));
    let inches = mixed(rest / parts, rest % parts, parts);
    if feet == 0 { format!("{sign}{inches} in") } else { format!("{sign}{feet} ft {inches} in") }
}

fn mixed(whole: u64, part: u64, parts: u64) -> String {
    let by = common(part, parts);
    match (whole, part) {
        (_, 0) => format!("{whole}"),
        (0, _) => format!("{}/{}", part / by, parts / by),
        _ => format!("{whole} {}/{}", part / by, parts / by),
    }
}

fn common(a: u64, b: u64) -> u64 {
    if b == 0 { a.max(1) } else { common(b, a % b) }
}
