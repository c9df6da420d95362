//! Display, loop and control room against each other.

use uom::si::f64::Length;

use super::find::Visit;
use super::{Slip, SlipCause};
use crate::evidence::slips::{CurrentCause, CurrentSeen, RoomCause, current_causes, room_causes};
use crate::visit::levels::{FOUND, loop_bound, milliamperes, room_bound};
use crate::visit::{Doubt, Key, LevelTold, Show, Spot, Step, Teller};

/// Tells why the loop, or the control room, means another level than the display.
pub(super) fn loop_and_room(visit: &Visit<'_>, found: &[LevelTold]) -> Vec<Slip> {
    current(visit, found).into_iter().chain(room(visit, found)).collect()
}

fn level(found: &[LevelTold], teller: Teller) -> Option<Length> {
    found.iter().find(|told| told.teller == teller).and_then(|told| told.level)
}

fn current(visit: &Visit<'_>, found: &[LevelTold]) -> Option<Slip> {
    let Visit { known, conditions, entries, .. } = visit;
    let (display, loop_level) = (level(found, Teller::Display)?, level(found, Teller::Current)?);
    let bound = loop_bound(known, conditions, entries, FOUND);
    if (display - loop_level).abs() <= bound {
        return None;
    }
    let range = known.range(conditions.gradient)?;
    let (shown, _) = entries.reading(Spot::of(Key::Display))?;
    let seen = entries.number(Key::LoopCurrent)?;
    let of_span = |length: Length| conditions.gradient.pressure(length) / range.span();
    let causes = current_causes(&CurrentSeen {
        current: range.fraction(range.value(milliamperes(seen))),
        display: range.fraction(shown),
        standing: conditions.installed.standing_head() / range.span(),
        near: of_span(bound),
    });
    let show = Show::new(known, conditions.gradient);
    let expected = range.current(shown).get::<uom::si::electric_current::milliampere>();
    Some(Slip {
        doubt: Doubt::CurrentDiffers,
        step: Step::AsFound,
        piece: None,
        seen: format!("The loop carries {seen} mA, which means {}.", show.length(loop_level)),
        expected: format!(
            "For the display's {} the register's range wants {expected:.2} mA.",
            show.reading(shown)
        ),
        causes: causes.into_iter().take(3).map(of_current).collect(),
        apart: "Read LRV and URV on the unit first; where they are the register's, the output is to be looked at. An offset trim mends none of these.".into(),
    })
}

fn of_current(cause: CurrentCause) -> SlipCause {
    let (code, what, why, tell) = match cause {
        CurrentCause::Held => (
            "output_held",
            "the output is held at a fixed value from a loop test",
            "the current stands exactly on a test point",
            "Watch whether it moves with the display; release it with the loop in manual.",
        ),
        CurrentCause::OtherAction => (
            "other_action",
            "the signal is turned round",
            "with 20 mA at the other end it fits",
            "Read on the unit which end 4 mA stands for.",
        ),
        CurrentCause::RangeAndHead => (
            "range_and_head",
            "the range on the unit takes the standing head out, or lets it in, other than the register says",
            "moved by the standing head it fits",
            "Read LRV and URV on the unit.",
        ),
        CurrentCause::RangeUnit => (
            "range_unit",
            "the range was entered in another unit",
            "with feet taken for metres, or inches for feet, it fits",
            "Read LRV and URV on the unit, with their unit.",
        ),
        CurrentCause::OutputTrim => (
            "output_trim",
            "the output was trimmed off, or the meter is",
            "it is off by less than an output trim can make it",
            "Measure with another meter; compare at two points.",
        ),
        CurrentCause::OtherRange => (
            "other_range",
            "the unit was ranged anew since the register was written",
            "another LRV or URV would fit",
            "Read LRV and URV on the unit and have the register mended.",
        ),
    };
    SlipCause { code, what: what.into(), why: why.into(), tell: tell.into() }
}

fn room(visit: &Visit<'_>, found: &[LevelTold]) -> Option<Slip> {
    let Visit { known, conditions, entries, .. } = visit;
    let by_loop = level(found, Teller::Current);
    let told = by_loop.or(level(found, Teller::Display))?;
    let room = level(found, Teller::ControlRoom)?;
    let bound = room_bound(known, conditions, entries, FOUND, by_loop.is_some());
    if (room - told).abs() <= bound {
        return None;
    }
    let show = Show::new(known, conditions.gradient);
    let standing = conditions.gradient.length(conditions.installed.standing_head());
    let causes = room_causes(room, told, standing, bound);
    Some(Slip {
        doubt: Doubt::ControlRoomDiffers,
        step: Step::AsFound,
        piece: None,
        seen: format!("The control room sees {} ({}).", show.length(room), show.signed(room - told)),
        expected: format!("The instrument tells {}.", show.length(told)),
        causes: causes.into_iter().map(of_room).collect(),
        apart: "Ask which range, unit and scaling the control room applies to this signal.".into(),
    })
}

fn of_room(cause: RoomCause) -> SlipCause {
    let made = |code, what: &str, why: String, tell: &str| SlipCause {
        code,
        what: what.into(),
        why,
        tell: tell.into(),
    };
    match cause {
        RoomCause::Head => made(
            "room_head",
            "the standing head is taken out there too, or left in there",
            "moved by the standing head it fits".into(),
            "Ask for the scaling's zero.",
        ),
        RoomCause::Unit { times } => made(
            "room_unit",
            "the control room is scaled in another unit",
            format!("times {times:.3} it fits"),
            "Ask for the unit on their screen.",
        ),
        RoomCause::OtherRange => made(
            "room_range",
            "the control room has another range",
            "another scaling would fit".into(),
            "Ask for the range they have for 4 and 20 mA.",
        ),
    }
}
