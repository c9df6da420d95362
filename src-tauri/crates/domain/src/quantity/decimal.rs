//! Decimal fractions: how records keep measured and computed numbers, free of binary rounding.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A decimal fraction `mantissa * 10^exponent`, without trailing zeros in the mantissa.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Decimal {
    /// The digits.
    pub mantissa: i64,
    /// The power of ten.
    pub exponent: i8,
}

impl Decimal {
    /// Digits kept behind the point: results are rounded to 1e-6 of their unit.
    pub const PLACES: i8 = 6;

    /// Rounds a number to 1e-6, halves away from zero; `None` for what is not finite or too large to keep.
    #[must_use]
    pub fn rounded(value: f64) -> Option<Decimal> {
        let scaled = libm::round(value * 1e6);
        // Above 2^53 neighbouring whole numbers are no longer told apart, so the digits would be invented.
        if !scaled.is_finite() || scaled.abs() > 9_007_199_254_740_992.0 {
            return None;
        }
        #[allow(clippy::cast_possible_truncation)]
        Some(Decimal::trimmed(scaled as i64, -Decimal::PLACES))
    }

    /// Takes trailing zeros off the mantissa, so that equal numbers have one form.
    #[must_use]
    pub fn trimmed(mut mantissa: i64, mut exponent: i8) -> Decimal {
        if mantissa == 0 {
            return Decimal { mantissa: 0, exponent: 0 };
        }
        while mantissa % 10 == 0 && exponent < i8::MAX {
            mantissa /= 10;
            exponent += 1;
        }
        Decimal { mantissa, exponent }
    }

    /// Returns the nearest floating-point number.
    #[must_use]
    pub fn to_f64(self) -> f64 {
        // Through text: the parser rounds once, a product with a power of ten would round twice.
        format!("{}e{}", self.mantissa, self.exponent).parse().unwrap_or(f64::NAN)
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.exponent >= 0 {
            write!(out, "{}{}", self.mantissa, "0".repeat(usize::from(self.exponent.unsigned_abs())))
        } else {
            let places = usize::from(self.exponent.unsigned_abs());
            let digits = format!("{:0>width$}", self.mantissa.unsigned_abs(), width = places + 1);
            let (whole, part) = digits.split_at(digits.len() - places);
            write!(out, "{}{whole}.{part}", if self.mantissa < 0 { "-" } else { "" })
        }
    }
}
