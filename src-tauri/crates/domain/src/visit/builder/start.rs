//! The case at its start: what every reading of the visit shares.

use std::collections::BTreeMap;

use uom::si::f64::{Length, Pressure, Ratio};
use uom::si::length::meter;

use super::columns::{self, Laid};
use super::tapes::Tapes;
use super::unit::Standing;
use crate::evidence::{Case, Column, Input, InputId, LevelId, ReferenceId, Series, Spread};
use crate::visit::conditions::Conditions;
use crate::visit::entries::Entries;
use crate::visit::flow::{self, Effect};
use crate::visit::known::Known;
use crate::visit::{Draft, PieceId, Spot, When};

/// A case under construction, with what several pieces share.
pub(super) struct Builder<'a> {
    pub(super) draft: &'a Draft,
    pub(super) known: &'a Known,
    pub(super) entries: &'a Entries,
    pub(super) gradient: crate::head::Gradient,
    pub(super) case: Case,
    pub(super) column: Column,
    pub(super) laid: Laid,
    pub(super) accuracy: InputId,
    pub(super) shared_level: Option<LevelId>,
    pub(super) now: Option<Standing>,
    pub(super) references: Vec<(PieceId, ReferenceId)>,
    pub(super) marks: BTreeMap<&'static str, InputId>,
    pub(super) tapes: BTreeMap<String, InputId>,
    pub(super) hung: Tapes,
    pub(super) level: Option<LevelId>,
    pub(super) lag: Option<InputId>,
    pub(super) density_standard: uom::si::f64::MassDensity,
    /// How far what a metre of liquid presses may be off, standard, as a part of it.
    pub(super) density_part: Ratio,
    /// Several display readings taken as the one that stands for the visit, and the input of their scatter.
    pub(super) series: Option<Series>,
    pub(super) scatter: Option<InputId>,
    /// What adds up to the reading that stands for the visit, once it is used.
    pub(super) standing_parts: Option<Vec<InputId>>,
    /// How fast the level moves by the series, once it is used.
    pub(super) velocity: Option<InputId>,
    /// How far the level moved between the series and the reference at hand.
    pub(super) carried_by: Length,
    /// What the flow in the riser does to the display as found and as left, and its input once it is known which counts.
    pub(super) flows: [Option<Effect>; 2],
    pub(super) flow: Option<InputId>,
    /// Which input is the number typed at which spot.
    pub(super) typed: Vec<(InputId, Spot)>,
}

impl<'a> Builder<'a> {
    pub(super) fn new(
        draft: &'a Draft,
        known: &'a Known,
        conditions: &Conditions,
        entries: &'a Entries,
    ) -> Builder<'a> {
        let mut case = Case::new();
        let laid = columns::lay(&mut case, known, conditions);
        let half = known.sensor.accuracy;
        let accuracy = Input::pressure(
            "sensor accuracy under head",
            Pressure::default(),
            Spread::Expanded { half, factor: 2.0 },
        );
        let accuracy = case.input(accuracy);
        let gradient = conditions.gradient;
        Builder {
            draft,
            known,
            entries,
            gradient,
            case,
            column: laid.level,
            laid,
            accuracy,
            shared_level: None,
            now: None,
            references: Vec::new(),
            marks: BTreeMap::new(),
            tapes: BTreeMap::new(),
            hung: Tapes::default(),
            level: None,
            lag: None,
            density_standard: conditions.density_standard,
            density_part: density_part(conditions),
            series: None,
            scatter: None,
            standing_parts: None,
            velocity: None,
            carried_by: Length::default(),
            flows: [When::Found, When::Left]
                .map(|when| flow::effect(draft, known, conditions, entries, when)),
            flow: None,
            typed: Vec::new(),
        }
    }
}

/// How far what a metre of liquid presses may be off by its density, standard, as a part of it.
fn density_part(conditions: &Conditions) -> Ratio {
    let metre = Length::new::<meter>(1.0);
    let off: Pressure = conditions.density_standard * conditions.gravity * metre;
    off / conditions.gradient.pressure(metre)
}
