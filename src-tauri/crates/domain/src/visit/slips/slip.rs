//! One slip, with what likely happened.

use crate::visit::{Doubt, PieceId, Remark, Step};

/// One slip as it is told.
#[derive(Debug, Clone, PartialEq)]
pub struct Slip {
    /// What it is about: its code, and where the reason for going on is kept.
    pub doubt: Doubt,
    /// The step on which the suspected number was typed.
    pub step: Step,
    /// The piece of evidence it belongs to, if to one.
    pub piece: Option<PieceId>,
    /// What was seen.
    pub seen: String,
    /// What was expected, and by what.
    pub expected: String,
    /// What likely happened, likeliest first.
    pub causes: Vec<SlipCause>,
    /// How to tell these apart.
    pub apart: String,
}

/// Something that likely happened.
#[derive(Debug, Clone, PartialEq)]
pub struct SlipCause {
    /// A stable word for it.
    pub code: &'static str,
    /// What.
    pub what: String,
    /// Why it would explain the numbers.
    pub why: String,
    /// How to find out.
    pub tell: String,
}

/// Takes away what a slip says better: the same doubt without causes, evidence that disagrees, a level outside the tank.
pub(in crate::visit) fn said_once(slips: &[Slip], remarks: &mut Vec<Remark>) {
    let covers = |slip: &Slip| match slip.doubt {
        Doubt::SlipNumbers => vec![Doubt::ReferencesDisagree, Doubt::OutsideTank],
        Doubt::SlipOffset => vec![Doubt::HeadUnlikely],
        other => vec![other],
    };
    let covered: Vec<u32> = slips.iter().flat_map(covers).map(Doubt::row).collect();
    remarks.retain(|remark| remark.reason_row == 0 || !covered.contains(&remark.reason_row));
}

impl Slip {
    /// Tells whether the shift rests on the numbers it is about.
    #[must_use]
    pub fn of_the_shift(&self) -> bool {
        matches!(self.doubt, Doubt::SlipNumbers | Doubt::SlipOffset)
    }

    /// Returns it as a warning that takes a reason, for a record and wherever there is no room for more.
    #[must_use]
    pub fn remark(&self) -> Remark {
        let named: Vec<&str> = self.causes.iter().map(|cause| cause.what.as_str()).collect();
        let likely = match named.as_slice() {
            [] => "No single usual slip explains it.".to_owned(),
            named => format!("Likely: {}.", named.join("; or ")),
        };
        Remark::doubt(
            self.doubt,
            format!("{} {}", self.seen, self.expected),
            format!("{likely} {}", self.apart),
        )
    }
}
