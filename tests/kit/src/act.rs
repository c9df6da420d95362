//! One thing a person does on a visit.

use domain::visit::{Choice, Key, PieceKind, Spot, Timing};
use field::view::Change;

/// One thing a person does on a visit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Act {
    /// Chooses one of a few.
    Chooses(Spot, Choice),
    /// Types a number on the app's pad.
    Pads(Spot, String),
    /// Types words on the keyboard.
    Writes(Spot, String),
    /// Adds a piece of evidence.
    Adds(PieceKind, Timing),
}

impl Act {
    /// Chooses, where a question is asked once.
    #[must_use]
    pub fn chooses(key: Key, choice: Choice) -> Act {
        Act::Chooses(Spot::of(key), choice)
    }

    /// Types a number, where it is asked once.
    #[must_use]
    pub fn pads(key: Key, text: &str) -> Act {
        Act::Pads(Spot::of(key), text.to_owned())
    }

    /// Types words, where they are asked once.
    #[must_use]
    pub fn writes(key: Key, text: &str) -> Act {
        Act::Writes(Spot::of(key), text.to_owned())
    }

    /// Returns the change that the pages would send for it.
    #[must_use]
    pub fn change(&self) -> Change {
        match self {
            Act::Chooses(spot, choice) => answer(*spot, choice.word()),
            Act::Pads(spot, text) | Act::Writes(spot, text) => answer(*spot, text),
            Act::Adds(kind, timing) => Change::Add { kind: *kind, timing: *timing },
        }
    }
}

/// Returns the change by which the pages put a text at a spot.
#[must_use]
pub fn answer(spot: Spot, text: &str) -> Change {
    Change::Answer { key: spot.key, piece: spot.piece.0, row: spot.row, text: text.to_owned() }
}
