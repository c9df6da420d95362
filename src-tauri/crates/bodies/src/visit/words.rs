//! Words that stand in bodies for the choices of the program. Frozen: a word never gets a second meaning.

use domain::visit::{PieceKind, Timing};

/// Each kind of evidence, with the version of the body that has it first.
const KINDS: [(PieceKind, u32); 8] = [
    (PieceKind::KnownEmpty, 1),
    (PieceKind::Dip, 1),
    (PieceKind::Drop, 1),
    (PieceKind::Riser, 1),
    (PieceKind::Vented, 1),
    (PieceKind::Overflow, 2),
    (PieceKind::OtherInstrument, 2),
    (PieceKind::EarlierVisit, 2),
];

const TIMINGS: [Timing; 2] = [Timing::Before, Timing::After];

/// Returns the word for a kind of evidence.
pub(super) fn of_kind(kind: PieceKind) -> &'static str {
    match kind {
        PieceKind::KnownEmpty => "known_empty",
        PieceKind::Dip => "dip",
        PieceKind::Drop => "drop",
        PieceKind::Riser => "riser",
        PieceKind::Vented => "vented",
        PieceKind::Overflow => "overflow",
        PieceKind::OtherInstrument => "other_instrument",
        PieceKind::EarlierVisit => "earlier_visit",
    }
}

/// Returns the kind of evidence that a word stands for in a version of the body.
pub(super) fn kind(word: &str, version: u32) -> Option<PieceKind> {
    let had = KINDS.into_iter().filter(|(_, since)| *since <= version);
    had.map(|(kind, _)| kind).find(|kind| of_kind(*kind) == word)
}

/// Returns the word for before or after the trim.
pub(super) fn of_timing(timing: Timing) -> &'static str {
    match timing {
        Timing::Before => "before",
        Timing::After => "after",
    }
}

/// Returns what a word says about before or after the trim.
pub(super) fn timing(word: &str) -> Option<Timing> {
    TIMINGS.into_iter().find(|timing| of_timing(*timing) == word)
}
