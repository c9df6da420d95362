//! Numbers as people read and type them.

use carried::Chance;

/// Feet, inches and quarters of an inch, given in quarters.
pub(crate) fn feet(quarters: u64) -> String {
    let (feet, inches, rest) = (quarters / 48, quarters % 48 / 4, quarters % 4);
    match rest {
        0 => format!("{feet}' {inches}\""),
        2 => format!("{feet}' {inches} 1/2\""),
        odd => format!("{feet}' {inches} {odd}/4\""),
    }
}

/// A number of hundredths, as a display shows it.
pub(crate) fn hundredths(number: i64) -> String {
    let sign = if number < 0 { "-" } else { "" };
    format!("{sign}{}.{:02}", number.abs() / 100, number.abs() % 100)
}

/// A number of tenths.
pub(crate) fn tenths(number: i64) -> String {
    let sign = if number < 0 { "-" } else { "" };
    format!("{sign}{}.{}", number.abs() / 10, number.abs() % 10)
}

/// A number about another, up to so much off either way.
pub(crate) fn about(chance: &mut Chance, middle: i64, off: i64) -> i64 {
    let spread = u64::try_from(2 * off.max(0)).unwrap_or(0);
    middle - off + i64::try_from(chance.between(0, spread)).unwrap_or(0)
}
