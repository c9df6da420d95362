//! After the trim: what is left over the span, today and over the year.
//!
//! A trim is exact at one level and one temperature. Over the rest of the span the display is off by what the
//! range's pascals a metre differ from the liquid's; on another day the columns press differently, the standing
//! head among them. All of it is kept apart from [`crate::ranging`], which knows no temperature, and from
//! [`crate::evidence`], which knows one day.
//!
//! ```text
//! display  r(L, T) = a + B(T) - B(T0) + k(T) L        a: the display at the tank's zero on the day of the trim
//! level seen       = low + (r - LRV) / (URV - LRV) (high - low)
//! error            = level seen - L
//! ```
//!
//! Both are straight lines in the level, so the worst lies at an end of the span. Temperatures between coldest and
//! warmest are looked at as well: water is densest at 4 degC.

mod correct;
mod scale;
mod seasons;
#[cfg(test)]
mod tests;
mod trimmed;

pub use correct::{Corrected, corrected};
pub use scale::Scale;
pub use seasons::{BestTrim, Seasons, Worst};
pub use trimmed::{Day, Trimmed};
