//! Levels that are told without a tape: by a running overflow, by another instrument.

use uom::si::f64::{Length, Ratio};

use super::start::Builder;
use crate::evidence::{Case, Column, Input, InputId, LevelId, ReferenceId, Spread};
use crate::head::Gradient;
use crate::visit::other::{self, Told};
use crate::visit::{Key, Piece, Spot, overflow, usual};

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
        let hatch = self.known.hatch.filter(|_| told.by_hatch);
        let hatch = hatch.map(|hatch| (hatch, self.mark("hatch mark above zero", hatch)));
        let shares =
            Shares { hatch, column: self.column, gradient: self.gradient, density_part: self.density_part };
        let number = shares.level(&mut self.case, by, level, &told, &[line]);
        let spot = Spot::piece(piece.id, Key::OtherLevel, 0);
        self.typed.extend(number.map(|number| (number, spot)));
    }
}

/// What another instrument may share with the rest of the evidence.
pub(in crate::visit) struct Shares {
    /// The hatch mark with its input, where the instrument is referred to it.
    pub(in crate::visit) hatch: Option<(Length, InputId)>,
    /// The liquid above the tank's zero.
    pub(in crate::visit) column: Column,
    /// What a metre of it presses.
    pub(in crate::visit) gradient: Gradient,
    /// How far that may be off, standard, as a part of it.
    pub(in crate::visit) density_part: Ratio,
}

impl Shares {
    /// States a level by an instrument's own error, by the mark it is referred to and by the liquid it is pressed by, as
    /// far as it shares these with other evidence. What it shares is taken out of its stated uncertainty, not added to it.
    /// Returns the input that is the level as it was told, where one is.
    pub(in crate::visit) fn level(
        &self,
        case: &mut Case,
        by: ReferenceId,
        level: LevelId,
        told: &Told,
        more: &[InputId],
    ) -> Option<InputId> {
        let stated = told.expanded * 0.5;
        let mark = if self.hatch.is_some() { usual::mark() } else { Length::default() };
        let pressed = if told.by_pressure { told.level * self.density_part } else { Length::default() };
        let own = stated * stated_without(stated, [mark, pressed]);
        let read = Spread::Rectangular(told.step * 0.5);
        let read = case.input(Input::length(format!("{} as read", told.name), Length::default(), read));
        let more = [&[read], more].concat();
        if told.by_pressure {
            let pressed = self.gradient.pressure(told.level);
            let label = format!("{} by pressure", told.name);
            let own = Spread::Standard(self.gradient.pressure(own));
            let own = case.input(Input::pressure(label, pressed, own));
            let mut more = more;
            if let Some((hatch, mark)) = self.hatch {
                // Only what the mark is off by counts here: its height stands in the level that was told.
                let taken = Input::length("hatch mark as taken, below it", -hatch, Spread::Exact);
                more.extend([mark, case.input(taken)]);
            }
            case.pressed(by, level, self.column.in_true_pascals(), &[own], &more);
            return None;
        }
        let at = |height| Input::length(told.name.clone(), height, Spread::Standard(own));
        match self.hatch {
            Some((hatch, mark)) => {
                let down = case.input(at(hatch - told.level));
                case.level_is(by, level, &[&[mark], more.as_slice()].concat(), &[down]);
                None
            }
            None => {
                let told = case.input(at(told.level));
                case.level_is(by, level, &[&[told], more.as_slice()].concat(), &[]);
                Some(told)
            }
        }
    }
}

/// The part of a stated standard uncertainty that is left when shared ones are taken out of it; a tenth at least, so
/// that nobody's statement makes an instrument exact.
fn stated_without(stated: Length, shared: [Length; 2]) -> f64 {
    let taken: f64 = shared.into_iter().map(|shared| (shared / stated).value).map(|part| part * part).sum();
    libm::sqrt((1.0 - taken).max(0.01))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::length::millimeter;

    use super::*;

    // What is left of 10 mm: the root of 1 - 0.6^2, and of 1 - 0.6^2 - 0.48^2. Nothing is left of what is all shared, so a
    // tenth stays.
    #[rstest]
    #[case::nothing_shared([0.0, 0.0], 1.0)]
    #[case::one([6.0, 0.0], 0.8)]
    #[case::both([6.0, 4.8], 0.64)]
    #[case::all([10.0, 0.0], 0.1)]
    #[case::more_than_all([8.0, 8.0], 0.1)]
    fn what_is_shared_is_taken_out_of_what_is_stated(#[case] shared: [f64; 2], #[case] left: f64) {
        let millimetres = Length::new::<millimeter>;
        let found = stated_without(millimetres(10.0), shared.map(millimetres));
        assert!((found - left).abs() < 1e-12, "{found}");
    }
}
