//! Goes through a draft once and makes its case.

use std::collections::BTreeMap;

use uom::si::f64::{Pressure, Ratio};

use super::columns::{Laid, agreed};
use super::start::Builder;
use crate::evidence::slips::{ByRegister, Measure, Register};
use crate::evidence::{Ask, Case, EvidenceError, Input, InputId, LevelId, ReferenceId, Series, Spread};
use crate::head::mounting::Place;
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
    /// The scatter of that series.
    pub(in crate::visit) scatter: Option<InputId>,
    /// What runs in the riser, taken off readings under head.
    pub(in crate::visit) flow: Option<InputId>,
    /// How far what a metre of liquid presses may be off, standard, as a part of it.
    pub(in crate::visit) density_part: Ratio,
    /// Which input is the number typed at which spot, in the order they came in.
    pub(in crate::visit) typed: Vec<(InputId, Spot)>,
    pub(super) laid: Laid,
}

impl Built {
    /// Takes what the register's heights and fills make as one more reference: a standing head with its own uncertainty,
    /// whatever the mounting.
    pub(in crate::visit) fn by_register(&mut self, known: &Known) -> Register {
        let label = "standing head by the register";
        let none = Pressure::default();
        let head = self.case.input(Input::pressure(label, none, Spread::Exact));
        let by = self.case.reference(label);
        let (parts, heights) = self.laid.of_register(&mut self.case, known);
        self.case.standing_with(by, &parts, &[head]);
        let mounting = &known.mounted.mounting;
        let height = |(place, input): (Place, InputId)| {
            let (measure, height) = match place {
                Place::Sensor => (Measure::Riser, Some(mounting.riser())),
                Place::Top => (Measure::Top, mounting.top()),
                Place::Tap => (Measure::Tap, mounting.tap()),
                Place::Zero => return None,
            };
            let height = height.unwrap_or_default();
            Some(ByRegister { input, measure, height, agreed: agreed(place, height) })
        };
        Register { head, heights: heights.into_iter().filter_map(height).collect() }
    }

    /// Returns the density of what fills leg or capillaries.
    pub(in crate::visit) fn fill(&self) -> Option<InputId> {
        self.laid.fill()
    }

    /// States in a copy of the case what the standing head is by a height measured today.
    pub(in crate::visit) fn suppose_height(
        &self,
        case: &mut Case,
        known: &Known,
        by: ReferenceId,
        height: InputId,
    ) {
        // What only the copy gets must not be taken for the case's own.
        let parts = self.laid.clone().standing(case, known, height);
        case.standing(by, &parts);
    }

    /// States in a copy of the case the densities that follow from other conditions.
    pub(in crate::visit) fn suppose_conditions(&self, case: &mut Case, conditions: &Conditions) {
        self.laid.restate(case, conditions);
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
