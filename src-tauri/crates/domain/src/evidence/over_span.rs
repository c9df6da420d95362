//! The error after a trim, at other levels than the one it was made true at.
//!
//! The trim keeps a number, the shift that was keyed in; everything it was worked out from is still what it was.
//! So the error elsewhere is a function of the same unknowns and inputs, and what they share with the shift is
//! counted once: after an empty tank a density that is not well known matters over the height above zero alone.

use uom::si::f64::{Length, Pressure};
use uom::si::length::meter;

use super::equation::{Form, Var};
use super::{Ask, Case, EvidenceError, LevelError, Solved};
use crate::after::Scale;

impl Solved<'_> {
    /// Returns the error at each level once `added` has been added to the display, with its uncertainty; none
    /// where the evidence does not determine it.
    ///
    /// # Errors
    ///
    /// As [`Case::reconcile`].
    pub fn over_span(
        &self,
        ask: &Ask,
        added: Pressure,
        scale: &Scale,
        levels: &[Length],
    ) -> Result<Option<Vec<LevelError>>, EvidenceError> {
        let case = self.case;
        case.verify_ask(ask)?;
        let each = levels.iter().map(|level| {
            let (_, raw, _) = self.estimate(&case.display_beyond(ask, added, scale, *level))?;
            let per_metre = scale.pressure(Length::new::<meter>(1.0)).value;
            Some(raw.times(1.0 / per_metre).stated(case, Length::new::<meter>))
        });
        Ok(each.collect())
    }
}

impl Case {
    /// What the display shows at a level beyond what the range wants there.
    fn display_beyond(&self, ask: &Ask, added: Pressure, scale: &Scale, level: Length) -> Form {
        let wanted = scale.range.lrv() + scale.pressure(level - scale.low);
        let mut form = Form::constant((added - wanted).value);
        for unknown in [Case::ZERO, ask.offset.0, Case::HEAD] {
            form.add(1.0, Var::Unknown(unknown));
        }
        ask.column.press(&mut form, level.get::<meter>(), &[]);
        form
    }
}
