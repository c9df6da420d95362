//! Evidence on the screen, and what can be added.

use domain::visit::{
    Assessment, Draft, NotHere, Piece, PieceKind, Show, Step, Timing, equalised, piece_asks,
};

use super::{fields, messages, names};
use crate::view::{OfferView, PieceView};

/// Which evidence belongs to a step: what the trim rests on, or what proves it.
pub(super) fn timing(step: Step) -> Option<Timing> {
    match step {
        Step::Evidence => Some(Timing::Before),
        Step::AsLeft => Some(Timing::After),
        _ => None,
    }
}

/// Returns the evidence of a step.
pub(super) fn pieces(draft: &Draft, assessment: &Assessment, timing: Timing) -> Vec<PieceView> {
    let pieces = draft.pieces.iter().filter(|piece| piece.timing == timing);
    pieces.map(|piece| view(draft, assessment, piece)).collect()
}

fn view(draft: &Draft, assessment: &Assessment, piece: &Piece) -> PieceView {
    PieceView {
        id: piece.id.0,
        kind: piece.kind,
        timing: piece.timing,
        name: own_name(draft, piece.kind),
        help: own_help(draft, piece.kind),
        fields: fields::fields(draft, assessment, &piece_asks(draft, piece)),
        says: says(assessment, piece),
        messages: messages::all(draft, assessment.piece_remarks(piece.id)),
    }
}

/// What a piece alone says of the shift.
fn says(assessment: &Assessment, piece: &Piece) -> String {
    let shift = &assessment.shift;
    let Some(result) = shift.result.as_deref() else { return String::new() };
    let place = shift.pieces.iter().position(|id| *id == piece.id);
    let alone = place.and_then(|place| result.alone.iter().find(|alone| alone.reference.place() == place));
    let Some(estimate) = alone.and_then(|alone| alone.shift.as_ref()) else { return String::new() };
    let show = Show::new(&assessment.known, assessment.conditions.gradient);
    format!("Alone: shift {} ± {}", show.change(estimate.value), show.uncertainty(estimate.expanded))
}

/// Returns what can be added, with why not where it may not be taken here.
pub(super) fn offers(draft: &Draft, assessment: &Assessment, timing: Timing) -> Vec<OfferView> {
    let before = [
        PieceKind::KnownEmpty,
        PieceKind::Dip,
        PieceKind::Drop,
        PieceKind::Overflow,
        PieceKind::OtherInstrument,
        PieceKind::Riser,
        PieceKind::Vented,
    ];
    let after = [PieceKind::Dip, PieceKind::Drop, PieceKind::Overflow, PieceKind::OtherInstrument];
    let mut kinds = if timing == Timing::Before { before.to_vec() } else { after.to_vec() };
    if timing == Timing::Before && !draft.instrument.earlier.is_empty() {
        kinds.push(PieceKind::EarlierVisit);
    }
    let offer = |kind: &PieceKind| OfferView {
        kind: *kind,
        timing,
        name: own_name(draft, *kind),
        help: own_help(draft, *kind),
        not_here: not_here(draft, assessment, *kind),
    };
    kinds.iter().map(offer).collect()
}

/// What a kind of evidence is called here, where the mounting gives it another name than it has elsewhere.
fn own_name(draft: &Draft, kind: PieceKind) -> String {
    let own = kind == PieceKind::Vented && equalised(&draft.instrument);
    if own { names::piece(&draft.instrument, kind).into() } else { String::new() }
}

fn own_help(draft: &Draft, kind: PieceKind) -> String {
    let own = kind == PieceKind::Vented && equalised(&draft.instrument);
    if own { "Cell shut off from the process, both its sides joined.".into() } else { String::new() }
}

/// Says why a kind of evidence may not be added here; nothing where it may.
fn not_here(draft: &Draft, assessment: &Assessment, kind: PieceKind) -> String {
    match assessment.not_here(draft, kind) {
        None => String::new(),
        Some(NotHere::Because(why)) => why.into(),
        Some(NotHere::InTheList) => {
            format!("{} is in the list already.", names::piece(&draft.instrument, kind))
        }
    }
}
