//! Tapes: what several dips share, and how each of them hung.

use std::collections::BTreeMap;

use uom::si::f64::{Length, Ratio};

use super::start::Builder;
use crate::evidence::tape::Hung;
use crate::evidence::{Input, InputId, Spread};
use crate::visit::tape::Hanging;
use crate::visit::{Key, KnownTape, Piece, Spot, moment, usual};

/// What belongs to the tapes of a visit beyond their stated uncertainty: one input for all that is measured with one.
#[derive(Debug, Default)]
pub(super) struct Tapes {
    expansions: BTreeMap<String, InputId>,
    /// By the tape, and by what its thermometer was read as: read twice alike, it is off by the same.
    warmer: BTreeMap<(String, u64), InputId>,
    stretches: BTreeMap<String, InputId>,
}

impl Builder<'_> {
    pub(super) fn tape(&mut self, piece: &Piece) -> InputId {
        let id = self.draft.answers.text(Spot::piece(piece.id, Key::TapeUsed, 0)).trim().to_owned();
        self.tape_called(id)
    }

    pub(super) fn tape_called(&mut self, id: String) -> InputId {
        if let Some(input) = self.tapes.get(&id) {
            return *input;
        }
        let standard = self.known.tape(&id).standard_on(moment::day(self.draft));
        let input =
            self.case.input(Input::length(called(&id), Length::default(), Spread::Standard(standard)));
        self.tapes.insert(id, input);
        input
    }

    /// How the tape of a piece hung, with `read` the input of what was read off it.
    pub(super) fn hung(&mut self, piece: &Piece, read: InputId, mean: Length) -> Hung {
        let hanging = Hanging::of(self.draft, self.known, self.entries, piece, mean);
        let slant = hanging.slant().map(|slant| {
            let half = Spread::Rectangular(slant * usual::SLANT);
            self.case.input(Input::length("slant of the line", slant, half))
        });
        let warmth = hanging.warmer().map(|warmer| {
            let at = (hanging.tape.id.clone(), warmer.value.to_bits());
            let label = format!("{} warmer than it is true at", called(&hanging.tape.id));
            let half = Spread::Rectangular(usual::tape_temperature());
            let case = &mut self.case;
            let taken = || case.input(Input::warmth(label, warmer, half));
            let warmer = *self.hung.warmer.entry(at).or_insert_with(taken);
            (self.expansion(&hanging.tape), warmer)
        });
        let stretch = self.stretch(&hanging.tape);
        Hung { read, warmth, stretch, slant }
    }

    fn expansion(&mut self, tape: &KnownTape) -> InputId {
        let case = &mut self.case;
        let make = || {
            let expansion = tape.made.expansion;
            let label = format!("expansion of {}", called(&tape.id));
            let half = Spread::Rectangular(expansion * usual::TAPE_EXPANSION);
            let steel = tape.made.taken_as_steel;
            let label =
                if steel { format!("{label}, taken as steel that is true at 20 degC") } else { label };
            let input = Input::expansion(label, expansion, half);
            case.input(if steel { input.assumed() } else { input })
        };
        *self.hung.expansions.entry(tape.id.clone()).or_insert_with(make)
    }

    fn stretch(&mut self, tape: &KnownTape) -> Option<InputId> {
        let stretch = tape.made.stretch;
        let case = &mut self.case;
        let make = || {
            let label = format!("{} under its bob", called(&tape.id));
            let half = Spread::Rectangular(stretch.value.abs() * usual::TAPE_STRETCH);
            case.input(Input::ratio(label, stretch.value, half))
        };
        (stretch != Ratio::default())
            .then(|| *self.hung.stretches.entry(tape.id.clone()).or_insert_with(make))
    }
}

/// What a tape is called in the budget. What is written on it usually says so itself.
fn called(id: &str) -> String {
    if id.is_empty() { "tape, not named".to_owned() } else { format!("tape {id}") }
}
