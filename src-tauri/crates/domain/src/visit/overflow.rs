//! The overflow is running: the surface stands at its crest, or a little above, never below.

use super::asks::{Ask, Takes, one_of};
use super::entries::Entries;
use super::{Choice, Draft, Key, Known, Piece, Remark, Spot, usual};
use uom::si::f64::Length;

/// Head over the crest: the middle of what it may be, and the half-width.
pub(super) struct Head {
    pub(super) middle: Length,
    pub(super) half: Length,
}

/// Returns what the answers say of the head over the crest. Both ways are one-sided: the head is never negative.
pub(super) fn head(draft: &Draft, entries: &Entries, piece: &Piece) -> Option<Head> {
    match draft.answers.choice(Spot::piece(piece.id, Key::OverflowSeen, 0))? {
        Choice::Film => {
            let half = usual::overflow_film() * 0.5;
            Some(Head { middle: half, half })
        }
        Choice::HeadMeasured => {
            let (measured, step) = entries.piece_length(piece.id, Key::OverflowHead, 0)?;
            let half = usual::overflow_head().max(step * 0.5);
            // What lies below the crest is cut off, so that no doubt about a small head reaches under it.
            let (low, high) = ((measured - half).max(Length::default()), measured + half);
            Some(Head { middle: (low + high) * 0.5, half: (high - low) * 0.5 })
        }
        _ => None,
    }
}

/// Returns what is asked about a running overflow.
pub(super) fn asks(draft: &Draft, piece: &Piece) -> Vec<Ask> {
    let at = |key| Spot::piece(piece.id, key, 0);
    let mut asked = vec![
        Ask::may(at(Key::ReadingBefore), Takes::Reading),
        Ask::must(at(Key::OverflowSeen), one_of(&[Choice::Film, Choice::HeadMeasured])),
    ];
    if draft.answers.choice(at(Key::OverflowSeen)) == Some(Choice::HeadMeasured) {
        asked.push(Ask::must(at(Key::OverflowHead), Takes::Length));
    }
    asked.push(Ask::may(at(Key::ReadingAfter), Takes::Reading));
    asked
}

/// Returns what is to be said about it.
pub(super) fn remarks(known: &Known) -> Vec<Remark> {
    let caution = Remark::danger(
        "overflow.caution",
        "Use an overflow that runs already. Never fill a tank until it overflows, and never hold an overflow back.",
        "Tell the control room that it runs: water is being lost, and where it goes it can do harm.",
    );
    if known.overflow.is_some() {
        return vec![caution];
    }
    let text = "The register has no overflow crest for this tank, so a running overflow tells no level.";
    let remedy = "Bring another reference, or have the height of the crest put into the register.";
    vec![caution, Remark::refusal("overflow.unknown", text, remedy)]
}
