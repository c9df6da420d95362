//! Where the standing head is taken out today, as far as the numbers tell.
//!
//! Asked before any shift is given, because only one place may take it out. The numbers suggest; the person
//! decides. What the numbers leave open is *not settled*, with what would settle it.

use uom::si::f64::{Length, Pressure};
use uom::si::pressure::pascal;

use super::Range;
use crate::head::Gradient;
use crate::visit::Choice;

/// What is known before the question is answered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeadQuestion {
    /// The total offset the unit carries; none where nobody knows it.
    pub carried: Option<Pressure>,
    /// The range as set.
    pub range: Range,
    /// The standing head to be expected from the register's riser.
    pub standing_head: Pressure,
    /// What a metre of tank presses.
    pub tank_gradient: Gradient,
    /// Level at 100 %.
    pub span: Length,
    /// The display as found.
    pub display: Option<Pressure>,
    /// What the loop current carries on the range as set ([`Range::value`]); none where it was not measured.
    pub current: Option<Pressure>,
    /// The level the control room sees.
    pub control_room: Option<Length>,
}

/// Where the standing head seems to be taken out, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeadPlace {
    /// One of the `Choice::Head...`.
    pub choice: Choice,
    /// What speaks for it, a sentence each; for *not settled* what would settle it comes last.
    pub reasons: Vec<String>,
}

/// Whether a place takes the standing head out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Takes {
    Yes,
    No,
    Open,
}

impl HeadQuestion {
    /// Suggests where the standing head is taken out.
    #[must_use]
    pub fn suggest(&self) -> HeadPlace {
        let head = self.standing_head;
        let all = self.tank_gradient.pressure(self.span);
        if !head.value.is_finite() || head.abs() < all.abs() * SMALLEST {
            let reason =
                "The standing head is less than 5 % of the span, too little for the numbers to tell.";
            return not_settled(vec![
                reason.into(),
                "Settle it from the unit's settings and the drawing.".into(),
            ]);
        }
        let mut reasons = Vec::new();
        let offset = self.offset(&mut reasons);
        let range = self.range_takes(&mut reasons);
        let control = self.control_room(&mut reasons);
        decide(offset, range, control, reasons)
    }

    fn near(&self, one: Pressure, other: Pressure) -> bool {
        (one - other).abs() <= self.standing_head.abs() * NEAR
    }

    fn offset(&self, reasons: &mut Vec<String>) -> Takes {
        let zero = Pressure::new::<pascal>(0.0);
        let Some(carried) = self.carried else { return self.offset_by_display(reasons) };
        let (takes, reason) = if self.near(carried, -self.standing_head) {
            (Takes::Yes, "The offset the unit carries is the standing head with a minus.")
        } else if self.near(carried, zero) {
            (Takes::No, "The offset the unit carries is near zero: it leaves the standing head in.")
        } else {
            (Takes::Open, "The offset the unit carries is neither zero nor the standing head.")
        };
        reasons.push(reason.into());
        takes
    }

    /// With the offset unknown a display can still rule one of the two out: trimmed it shows 0 to the span, raw
    /// it shows the standing head more than that.
    fn offset_by_display(&self, reasons: &mut Vec<String>) -> Takes {
        reasons.push("The offset the unit carries is not known.".into());
        let Some(display) = self.display else { return Takes::Open };
        let margin = self.standing_head.abs() * NEAR;
        let span = self.tank_gradient.pressure(self.span);
        let fits = |zero: Pressure| display >= zero - margin && display <= zero + span + margin;
        let (takes, reason) = match (fits(Pressure::new::<pascal>(0.0)), fits(self.standing_head)) {
            (true, false) => (
                Takes::Yes,
                "The display lies between level zero and span, where it could not lie with the standing head in.",
            ),
            (false, true) => (Takes::No, "The display lies where it can only lie with the standing head in."),
            (true, true) => (Takes::Open, "The display could be a level with or without the standing head."),
            (false, false) => {
                (Takes::Open, "The display fits neither with the standing head nor without it.")
            }
        };
        reasons.push(reason.into());
        takes
    }

    fn range_takes(&self, reasons: &mut Vec<String>) -> Takes {
        // Reversed ends: the empty end of the range is the one nearer to the bottom of the tank.
        let empty = if self.range.lrv() <= self.range.urv() { self.range.lrv() } else { self.range.urv() };
        let (takes, reason) = if self.near(empty, self.standing_head) {
            (Takes::Yes, "The LRV stands at the standing head.")
        } else if self.near(empty, Pressure::new::<pascal>(0.0)) {
            (Takes::No, "The LRV stands near zero: the range leaves the standing head in.")
        } else {
            (Takes::Open, "The LRV is neither zero nor the standing head.")
        };
        reasons.push(reason.into());
        takes
    }

    fn control_room(&self, reasons: &mut Vec<String>) -> Takes {
        let empty = if self.range.lrv() <= self.range.urv() { self.range.lrv() } else { self.range.urv() };
        let carried = self.current.or(self.display);
        let (Some(seen), Some(carried)) = (self.control_room, carried) else {
            reasons.push("There is no control-room level to compare with.".into());
            return Takes::Open;
        };
        let seen = self.tank_gradient.pressure(seen);
        let sent = carried - empty;
        let (takes, reason) = if self.near(seen, sent) {
            (Takes::No, "The control room sees what the loop carries: it takes nothing out.")
        } else if self.near(seen, sent - self.standing_head) {
            (Takes::Yes, "The control room sees less than the loop carries, by the standing head.")
        } else {
            (
                Takes::Open,
                "The control room sees something else than the loop carries, with or without the standing head.",
            )
        };
        reasons.push(reason.into());
        takes
    }
}

/// Two numbers are near when they differ by less than a tenth of the standing head: zero errors, densities and
/// rounded settings lie well inside, and the standing head itself well outside.
const NEAR: f64 = 0.1;
/// A standing head below a twentieth of the span hides among those.
const SMALLEST: f64 = 0.05;

fn decide(offset: Takes, range: Takes, control: Takes, mut reasons: Vec<String>) -> HeadPlace {
    let places = [offset, range, control];
    let taken = places.iter().filter(|takes| **takes == Takes::Yes).count();
    let open = places.contains(&Takes::Open);
    let choice = match (taken, open) {
        (2 | 3, _) => Choice::HeadTwice,
        (1, _) if offset == Takes::Yes && range == Takes::No => Choice::HeadInOffset,
        (1, _) if range == Takes::Yes && offset == Takes::No => Choice::HeadInRange,
        (1, false) => Choice::HeadInControlRoom,
        (0, false) => Choice::HeadNowhere,
        _ => return not_settled_for(offset, range, reasons),
    };
    reasons.retain(|reason| !reason.is_empty());
    HeadPlace { choice, reasons }
}

fn not_settled_for(offset: Takes, range: Takes, mut reasons: Vec<String>) -> HeadPlace {
    reasons.push(
        match (offset, range) {
            (Takes::Open, _) => "Read the offset on the unit to settle it.",
            (_, Takes::Open) => "Check LRV and URV on the unit to settle it.",
            _ => "Ask the control room which level it sees, and how it is scaled.",
        }
        .into(),
    );
    not_settled(reasons)
}

fn not_settled(reasons: Vec<String>) -> HeadPlace {
    HeadPlace { choice: Choice::HeadNotSettled, reasons }
}
