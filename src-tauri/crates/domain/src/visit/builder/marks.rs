//! Marks and tapes: causes that several pieces of evidence share.

use uom::si::f64::Length;

use super::start::Builder;
use crate::evidence::{Input, InputId, Spread};
use crate::visit::{Key, Piece, Spot, moment, usual};

impl Builder<'_> {
    pub(super) fn mark(&mut self, name: &'static str, at: Length) -> InputId {
        if let Some(id) = self.marks.get(name) {
            return *id;
        }
        let spread = if at == Length::default() { Spread::Exact } else { Spread::Standard(usual::mark()) };
        let id = self.case.input(Input::length(name, at, spread));
        self.marks.insert(name, id);
        id
    }

    pub(super) fn tape(&mut self, piece: &Piece) -> InputId {
        let id = self.draft.answers.text(Spot::piece(piece.id, Key::TapeUsed, 0)).trim().to_owned();
        self.tape_called(id)
    }

    pub(super) fn tape_called(&mut self, id: String) -> InputId {
        if let Some(input) = self.tapes.get(&id) {
            return *input;
        }
        let tape = self.known.tapes.iter().find(|tape| tape.id == id);
        let standard = tape.map_or(usual::unnamed_tape(), |tape| {
            let overdue = moment::overdue(&tape.due, self.draft.begun);
            if overdue { tape.standard * usual::OVERDUE } else { tape.standard }
        });
        let label = if id.is_empty() { "tape, not named".to_owned() } else { format!("tape {id}") };
        let input = self.case.input(Input::length(label, Length::default(), Spread::Standard(standard)));
        self.tapes.insert(id, input);
        input
    }
}
