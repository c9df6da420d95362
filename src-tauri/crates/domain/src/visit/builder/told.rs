//! Levels that are told without a tape: by a running overflow, by another instrument.

use uom::si::f64::Length;

use super::start::Builder;
use crate::evidence::{Input, InputId, LevelId, ReferenceId, Spread};
use crate::visit::other::{self, Told};
use crate::visit::{Piece, overflow, usual};

impl Builder<'_> {
    pub(super) fn overflow(&mut self, piece: &Piece) {
        let Some(crest) = self.known.overflow else { return };
        let Some(head) = overflow::head(self.draft, self.entries, piece) else { return };
        let by = self.reference(piece, "overflow running");
        let crest = self.mark("overflow crest", crest);
        let head = Input::length("head over the crest", head.middle, Spread::Rectangular(head.half));
        let head = self.case.input(head);
        let level = self.level_for(piece, None, true);
        let line = self.straightness(piece);
        self.case.level_is(by, level, &[crest, head, line], &[]);
    }

    pub(super) fn other_instrument(&mut self, piece: &Piece) {
        let Some(told) = other::told(self.draft, self.known, self.entries, piece) else { return };
        let by = self.reference(piece, &told.name);
        let level = self.level_for(piece, None, true);
        let line = self.straightness(piece);
        self.other_level(by, level, &told, line);
    }

    /// A level by an instrument's own error, by the mark it is referred to and by the liquid it is pressed by, as far
    /// as it shares these with other evidence. What it shares is taken out of its stated uncertainty, not added to it.
    fn other_level(&mut self, by: ReferenceId, level: LevelId, told: &Told, line: InputId) {
        let stated = told.expanded * 0.5;
        let hatch = self.known.hatch.filter(|_| told.by_hatch);
        let shared = if hatch.is_some() { usual::mark() } else { Length::default() };
        let own = stated * stated_without(stated, shared);
        let read = Spread::Rectangular(told.step * 0.5);
        let read = self.case.input(Input::length(format!("{} as read", told.name), Length::default(), read));
        if told.by_pressure {
            let pressed = self.gradient.pressure(told.level);
            let label = format!("{} by pressure", told.name);
            let own = Spread::Standard(self.gradient.pressure(own));
            let own = self.case.input(Input::pressure(label, pressed, own));
            self.case.pressed(by, level, self.column.in_true_pascals(), &[own], &[read, line]);
            return;
        }
        let parts = match hatch {
            Some(hatch) => {
                let down = Input::length(told.name.clone(), hatch - told.level, Spread::Standard(own));
                let down = self.case.input(down);
                let hatch = self.mark("hatch mark above zero", hatch);
                return self.case.level_is(by, level, &[hatch, read, line], &[down]);
            }
            None => Input::length(told.name.clone(), told.level, Spread::Standard(own)),
        };
        let parts = self.case.input(parts);
        self.case.level_is(by, level, &[parts, read, line], &[]);
    }
}

/// The part of a stated standard uncertainty that is left when a shared one is taken out of it; a tenth at least, so
/// that nobody's statement makes an instrument exact.
fn stated_without(stated: Length, shared: Length) -> f64 {
    let part = (shared / stated).value;
    libm::sqrt((1.0 - part * part).max(0.01))
}
