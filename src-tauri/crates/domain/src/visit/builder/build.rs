//! Goes through a draft once and makes its case.

use super::start::Builder;
use crate::evidence::{Ask, Case, EvidenceError, LevelId, ReferenceId};
use crate::visit::conditions::Conditions;
use crate::visit::entries::Entries;
use crate::visit::known::Known;
use crate::visit::{Draft, Moment, PieceId, Timing};

/// A case built from a visit, and what is asked of it.
pub(in crate::visit) struct Built {
    pub(in crate::visit) case: Case,
    pub(in crate::visit) ask: Ask,
    /// Which reference stands for which piece.
    pub(in crate::visit) references: Vec<(PieceId, ReferenceId)>,
    /// When the display the trim starts from was read.
    pub(in crate::visit) read_at: Moment,
    /// The level that the evidence speaks of, if any does.
    pub(in crate::visit) level: Option<LevelId>,
}

/// Builds the case, or tells that there is no display reading to start from.
pub(in crate::visit) fn build(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    timing: Timing,
) -> Option<Result<Built, EvidenceError>> {
    let mut builder = Builder::new(draft, known, conditions, entries);
    let standing = builder.standing(timing)?;
    let built =
        draft.pieces.iter().filter(|piece| piece.timing == timing).try_for_each(|piece| builder.piece(piece));
    Some(built.map(|()| builder.finish(standing)))
}
