//! LRV and URV that leave the least over the year.

use uom::si::f64::Length;

use super::{Scale, Seasons, Trimmed, Worst};
use crate::ranging::{Range, RangingError};

/// A range that fits a year better than the one in force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corrected {
    /// LRV and URV, signed.
    pub range: Range,
    /// The worst that is then left.
    pub worst: Worst,
}

/// Returns the range whose ends stand midway between the extremes that the display reaches there over the year.
///
/// The error is a straight line in the level, so with both ends balanced none between them is worse. Only what
/// the loop carries changes: the display shows what it showed.
///
/// # Errors
///
/// [`RangingError`] where the two ends would meet.
pub fn corrected(
    trimmed: &Trimmed,
    scale: &Scale,
    span: Length,
    seasons: &Seasons,
) -> Result<Option<Corrected>, RangingError> {
    let middle = |level: Length| {
        let (least, most) = seasons.extremes(|day| trimmed.display(level, day))?;
        Some((least + most) / 2.0)
    };
    let (Some(lrv), Some(urv)) = (middle(scale.low), middle(scale.high)) else { return Ok(None) };
    let range = Range::new(lrv, urv, scale.range.action())?;
    let worst = seasons.worst(trimmed, &Scale { range, ..*scale }, span);
    Ok(worst.map(|worst| Corrected { range, worst }))
}
