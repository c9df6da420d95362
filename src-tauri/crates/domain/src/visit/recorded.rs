//! The offset that a record says the unit carries: what the last visit left in it, or the register's bare number.

use uom::si::f64::Pressure;

use super::earlier::same_unit;
use super::{Draft, Earlier, Known, fitted, moment};
use crate::head::Gradient;

/// Where the newest record of the offset stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum OnRecord {
    /// With the last visit. It keeps a pressure, which no change of density moves.
    Visit,
    /// In the register, as a bare number.
    Register,
}

/// An offset by a record.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Recorded {
    pub(super) value: Pressure,
    /// The date of the record; may be empty.
    pub(super) date: String,
}

/// Tells where the offset stands that the unit was left with; nowhere where another unit is fitted. The last visit goes
/// before the register's bare number, unless that one is newer or the visit was to another unit.
pub(super) fn on_record(draft: &Draft) -> Option<OnRecord> {
    if fitted::fitted(draft).is_some() {
        return None;
    }
    let row = &draft.instrument;
    let written = moment::days(&row.offset_date);
    let holds = |visit: &Earlier| {
        let is_last = written.is_none_or(|day| moment::days(&visit.date).is_some_and(|of| of >= day));
        !visit.left.trim().is_empty() && is_last && same_unit(draft, visit.serial.trim())
    };
    if row.earlier.last().is_some_and(holds) {
        return Some(OnRecord::Visit);
    }
    (!row.offset_on_record.trim().is_empty()).then_some(OnRecord::Register)
}

/// Returns the offset on record.
pub(super) fn recorded(draft: &Draft, known: &Known, gradient: Gradient) -> Option<Recorded> {
    match on_record(draft)? {
        OnRecord::Visit => {
            let last = known.earlier.last()?;
            Some(Recorded { value: last.left?, date: last.date.clone() })
        }
        OnRecord::Register => {
            let value = known.unit.pressure(known.offset_on_record?, gradient);
            Some(Recorded { value, date: draft.instrument.offset_date.trim().to_owned() })
        }
    }
}
