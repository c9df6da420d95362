//! Goes through a draft once and makes its case.

use std::collections::BTreeMap;

use uom::si::f64::Pressure;

use super::start::Builder;
use crate::evidence::{Ask, Case, EvidenceError, InputId, LevelId, ReferenceId, Series};
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
    /// What readings under head share.
    pub(in crate::visit) accuracy: InputId,
    /// The display's last digit.
    pub(in crate::visit) step: Pressure,
    /// Marks that pieces share.
    pub(in crate::visit) marks: BTreeMap<&'static str, InputId>,
    /// Tapes used.
    pub(in crate::visit) tapes: BTreeMap<String, InputId>,
    /// Several display readings taken as one.
    pub(in crate::visit) series: Option<Series>,
    /// The scatter of a series of readings: its input, how many were taken, its standard uncertainty.
    pub(in crate::visit) scatter: Option<(InputId, f64, Pressure)>,
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
