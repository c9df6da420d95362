//! Ways to a shift where the evidence determines none.

use uom::si::f64::{Length, Pressure};

use super::fit::determined;
use super::{Ask, Carried, Case, Input, InputId, LevelId, Reading, Rule, Spread};

/// Something that would determine the shift.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum WayOut {
    /// Read on the unit the offset it carries.
    ReadOffset,
    /// Bring a level: a dip, a drop, a tank known to be empty.
    BringLevel,
    /// Measure the riser's height.
    MeasureRiser,
    /// Make a vented check.
    VentedCheck,
    /// Clear the offset: last, with the old value recorded, the loop in manual, and the way to put it back.
    ClearOffset,
}

impl WayOut {
    /// Every way, best first.
    pub const ALL: [WayOut; 5] = [
        WayOut::ReadOffset,
        WayOut::BringLevel,
        WayOut::MeasureRiser,
        WayOut::VentedCheck,
        WayOut::ClearOffset,
    ];
}

/// Returns the single steps that would determine the shift, best first: each is added to a copy of the case,
/// and the rank of its equations decides. Empty when no single step is enough.
pub(super) fn out(case: &Case, ask: &Ask) -> Vec<WayOut> {
    WayOut::ALL.into_iter().filter(|way| leads(case, ask, *way)).collect()
}

fn leads(case: &Case, ask: &Ask, way: WayOut) -> bool {
    let mut supposed = case.clone();
    let mut asked = *ask;
    let nothing = supposed.input(Input::pressure("", Pressure::default(), Spread::Exact));
    let length = supposed.input(Input::length("", Length::default(), Spread::Exact));
    match way {
        WayOut::ReadOffset => supposed.offset_is(ask.offset, nothing),
        WayOut::ClearOffset => asked.offset = supposed.offset(Carried::Known(nothing)),
        WayOut::BringLevel => supposed.suppose_level(ask, nothing, length),
        WayOut::MeasureRiser => {
            let by = supposed.reference("");
            supposed.riser(by, &[(ask.column, length)]);
        }
        WayOut::VentedCheck => {
            let by = supposed.reference("");
            supposed.vented(by, ask.offset, &[nothing], &[]);
        }
    }
    let form = supposed.shift_form(&asked);
    determined(&supposed, &supposed.those(|_| true), &form)
}

impl Case {
    fn suppose_level(&mut self, ask: &Ask, nothing: InputId, length: InputId) {
        let level: LevelId = match ask.rule {
            Rule::TrueAtReference { level, .. } => level,
            Rule::TrueAtZero => self.level(),
        };
        let parts = vec![nothing];
        let (offset, column) = (ask.offset, ask.column);
        self.reading(&Reading { offset, level, column, parts, elapsed: None, lag: None });
        let by = self.reference("");
        self.level_is(by, level, &[length], &[]);
    }
}
