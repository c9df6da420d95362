//! Pieces of evidence, each as one equation.

use uom::si::f64::{Length, Pressure};

use super::start::Builder;
use crate::evidence::{Column, EvidenceError, Input, InputId, ReferenceId, Spread};
use crate::visit::known::Known;
use crate::visit::{Choice, Key, Piece, PieceKind, Spot, usual, vented};

/// The drawing among the marks.
pub(super) const DRAWING: &str = "riser off the drawing";

impl Builder<'_> {
    pub(super) fn piece(&mut self, piece: &Piece) -> Result<(), EvidenceError> {
        match piece.kind {
            PieceKind::KnownEmpty => self.known_empty(piece),
            PieceKind::Dip | PieceKind::Drop => return self.dips(piece),
            PieceKind::Riser => self.riser(piece),
            PieceKind::Vented => self.vented(piece),
            PieceKind::Overflow => self.overflow(piece),
            PieceKind::OtherInstrument => self.other_instrument(piece),
            PieceKind::EarlierVisit => self.earlier(piece),
        }
        Ok(())
    }

    pub(super) fn known_empty(&mut self, piece: &Piece) {
        let half = match self.draft.answers.choice(Spot::piece(piece.id, Key::EmptySeen, 0)) {
            Some(Choice::SillSeen) => usual::empty_seen(),
            Some(Choice::EmptyBySteadyReading) => usual::empty_by_steady_reading(),
            Some(Choice::EmptyByReport) => usual::empty_by_report(),
            _ => return,
        };
        let by = self.reference(piece, "tank known empty");
        let sill = self.mark("outlet sill", self.known.sill);
        let seen = Input::length("how the empty tank was seen", Length::default(), Spread::Rectangular(half));
        let seen = self.case.input(seen);
        let level = self.level_for(piece, None, false);
        self.case.level_is(by, level, &[sill, seen], &[]);
    }

    pub(super) fn riser(&mut self, piece: &Piece) {
        let Some((height, step)) = self.entries.piece_length(piece.id, Key::RiserHeight, 0) else { return };
        let how = self.draft.answers.choice(Spot::piece(piece.id, Key::RiserHow, 0));
        let Some(how) = how else { return };
        let by = self.reference(piece, "measured riser");
        let standard = Known::riser_standard(how).max(step / libm::sqrt(12.0));
        let label = if self.known.between_seals() { "height from seal to seal" } else { "riser height" };
        let height = self.height(how, Input::length(label, height, Spread::Standard(standard)));
        self.typed.push((height, Spot::piece(piece.id, Key::RiserHeight, 0)));
        let parts = self.laid.standing(&mut self.case, self.known, height);
        self.case.standing(by, &parts);
    }

    /// A riser off the drawing is one input with what an earlier visit took off the same drawing.
    fn height(&mut self, how: Choice, height: Input) -> InputId {
        let drawn = how == Choice::ByDrawing;
        let same = self.marks.get(DRAWING).copied().filter(|id| {
            drawn && self.case.input_named(*id).is_some_and(|input| input.value() == height.value())
        });
        let id = same.unwrap_or_else(|| self.case.input(height));
        if drawn {
            self.marks.insert(DRAWING, id);
        }
        id
    }

    pub(super) fn vented(&mut self, piece: &Piece) {
        let spot = Spot::piece(piece.id, Key::VentedReading, 0);
        let Some((pressure, step)) = self.entries.reading(spot) else { return };
        let Some(now) = self.now else { return };
        let equalised = vented::equalised(&self.draft.instrument);
        let (check, reading) = if equalised {
            ("equalised zero", "equalised reading")
        } else {
            ("vented check", "vented reading")
        };
        let by = self.reference(piece, check);
        let mut parts = self.shown(spot, (pressure, step), reading, false);
        let half = self.known.sensor.accuracy;
        let own = Input::pressure(
            if equalised { "sensor accuracy with both sides alike" } else { "sensor accuracy at atmosphere" },
            Pressure::default(),
            Spread::Expanded { half, factor: 2.0 },
        );
        parts.push(self.case.input(own));
        let left = self.left_standing(piece);
        self.case.vented(by, now.offset, &parts, &left);
    }

    /// A stub of liquid that stayed on the sensor while it was vented.
    fn left_standing(&mut self, piece: &Piece) -> Vec<(Column, InputId)> {
        let Some((height, step)) = self.entries.piece_length(piece.id, Key::VentedLeft, 0) else {
            return Vec::new();
        };
        let half = usual::vented_left().max(step * 0.5);
        let left = Input::length("liquid left on the sensor", height, Spread::Rectangular(half));
        vec![(self.column, self.case.input(left))]
    }

    pub(super) fn reference(&mut self, piece: &Piece, label: &str) -> ReferenceId {
        let by = self.case.reference(label);
        self.references.push((piece.id, by));
        by
    }
}
