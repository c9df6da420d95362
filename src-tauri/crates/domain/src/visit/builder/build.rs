//! Goes through a draft once and makes its case.

use std::collections::BTreeMap;

use uom::si::f64::Pressure;

use super::columns::Laid;
use super::start::Builder;
use crate::evidence::{Ask, Case, EvidenceError, Input, InputId, LevelId, ReferenceId, Series, Spread};
use crate::visit::conditions::Conditions;
use crate::visit::entries::Entries;
use crate::visit::known::Known;
use crate::visit::{Draft, Moment, PieceId, Spot, Timing};

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
    /// Which input is the number typed at which spot, in the order they came in.
    pub(in crate::visit) typed: Vec<(InputId, Spot)>,
    pub(super) laid: Laid,
}

impl Built {
    /// Takes the register's riser as one more reference, and returns the input that it is.
    pub(in crate::visit) fn riser_by_register(&mut self, known: &Known) -> InputId {
        let label = "riser by the register";
        let spread = Spread::Standard(Known::riser_standard(known.riser_from));
        let height = self.case.input(Input::length(label, known.riser, spread));
        let by = self.case.reference(label);
        let parts = self.laid.standing(&mut self.case, known, height);
        self.case.standing(by, &parts);
        height
    }
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
