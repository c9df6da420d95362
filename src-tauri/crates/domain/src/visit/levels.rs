//! Three levels side by side: display, current, control room.

use uom::si::electric_current::milliampere;
use uom::si::f64::{ElectricCurrent, Length};

use super::conditions::Conditions;
use super::entries::Entries;
use super::{Doubt, Key, Known, Remark, Show, Spot, Value, usual};
use crate::ranging::Band;

/// Who tells a level.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Teller {
    /// The display at the instrument.
    Display,
    /// The loop current.
    Current,
    /// The control room.
    ControlRoom,
}

/// One of the three levels.
#[derive(Debug, Clone, PartialEq)]
pub struct LevelTold {
    /// Who tells it.
    pub teller: Teller,
    /// As read, with its unit; empty when it was skipped.
    pub read: String,
    /// The level it means, where it means one.
    pub level: Option<Length>,
    /// What is to be said of it; may be empty.
    pub says: String,
}

/// Which answers the three levels come from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Told {
    pub(super) display: Key,
    pub(super) current: Key,
    pub(super) control_room: Key,
}

/// The three levels before anything is touched.
pub(super) const FOUND: Told =
    Told { display: Key::Display, current: Key::LoopCurrent, control_room: Key::ControlRoom };

/// The three levels after the trim.
pub(super) const LEFT: Told =
    Told { display: Key::DisplayLeft, current: Key::CurrentLeft, control_room: Key::ControlRoomLeft };

/// Returns the three levels, in their order.
pub(super) fn levels(
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    told: Told,
) -> Vec<LevelTold> {
    let show = Show::new(known, conditions.gradient);
    let display = entries.reading(Spot::of(told.display)).map(|(pressure, _)| pressure);
    let current = entries.number(told.current);
    let room = entries.length(Spot::of(told.control_room)).map(|(length, _)| length);
    let loop_level = current.and_then(|current| {
        let range = known.range(conditions.gradient)?;
        Some(known.level_of(range.value(milliamperes(current)), conditions.gradient))
    });
    let line = |teller, read: Option<String>, level, says: &str| LevelTold {
        teller,
        read: read.unwrap_or_default(),
        level,
        says: says.to_owned(),
    };
    let band = current.map(|current| Band::of(milliamperes(current)));
    vec![
        line(
            Teller::Display,
            display.map(|display| show.reading(display)),
            display.map(|display| known.level_of(display, conditions.gradient)),
            "",
        ),
        line(
            Teller::Current,
            current.map(|current| format!("{current} mA")),
            loop_level.filter(|_| band.is_some_and(Band::measures)),
            band.filter(|band| *band != Band::InRange).map_or("", Band::says),
        ),
        line(Teller::ControlRoom, room.map(|room| show.length(room)), room, ""),
    ]
}

/// Says where the three do not agree: the loop by more than it can be read, the control room by more than it is scaled.
pub(super) fn remarks(
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    levels: &[LevelTold],
    told: Told,
) -> Vec<Remark> {
    let show = Show::new(known, conditions.gradient);
    let level = |teller| levels.iter().find(|told| told.teller == teller).and_then(|told| told.level);
    let mut said = Vec::new();
    let apart = |one: Option<Length>, two: Option<Length>| Some((one? - two?).abs());
    let bound = loop_bound(known, conditions, entries, told);
    if apart(level(Teller::Display), level(Teller::Current)).is_some_and(|apart| apart > bound) {
        said.push(Remark::doubt(
            Doubt::CurrentDiffers,
            "Display and loop current mean different levels.",
            "An output trim or a changed range may be the cause: check LRV, URV and the output. An offset trim does not mend it.",
        ));
    }
    let (by_loop, by_display) = (level(Teller::Current), level(Teller::Display));
    let bound = room_bound(known, conditions, entries, told, by_loop.is_some());
    let told = by_loop.or(by_display);
    if apart(told, level(Teller::ControlRoom)).is_some_and(|apart| apart > bound) {
        let by = told
            .zip(level(Teller::ControlRoom))
            .map(|(told, room)| show.signed(room - told))
            .unwrap_or_default();
        said.push(Remark::doubt(
            Doubt::ControlRoomDiffers,
            format!("The control room sees another level ({by})."),
            "Ask which range and scaling the control room applies; it may take the standing head out there.",
        ));
    }
    said
}

/// What a clamp meter in the loop, or the scaling in a control room, may be off by: half a per cent of the span, which for a
/// meter is 0.08 mA. Common practice, no source.
const OF_SPAN: f64 = 0.005;

/// How far loop and display may mean different levels before anything is said: as far as the meter and the display's last digit
/// can put them apart together, so that honest ones are not.
pub(super) fn loop_bound(known: &Known, conditions: &Conditions, entries: &Entries, told: Told) -> Length {
    let digit = entries.reading(Spot::of(told.display)).map(|(_, step)| step).unwrap_or_default();
    known.span * OF_SPAN + conditions.gradient.length(digit * 0.5).abs()
}

/// The same for the control room: against the loop its scaling and the meter together, against the display its scaling.
pub(super) fn room_bound(
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    told: Told,
    by_loop: bool,
) -> Length {
    let digit = entries.length(Spot::of(told.control_room)).map(|(_, step)| step).unwrap_or_default();
    let meter = if by_loop { known.span * OF_SPAN } else { Length::default() };
    loop_bound(known, conditions, entries, told) + meter + digit * 0.5
}

/// Says when the current lies outside the measuring band.
pub(super) fn current_remark(entries: &Entries, key: Key) -> Option<Remark> {
    let Some(Value::Current(current)) = entries.of(key)?.value else { return None };
    let band = Band::of(milliamperes(current));
    (!band.measures()).then(|| {
        Remark::doubt(
            Doubt::CurrentOutOfBand,
            format!("{current} mA. {}", band.says()),
            "Check the loop and the unit's failure state before you trust any reading.",
        )
    })
}

/// Returns a current from its number.
pub(super) fn milliamperes(current: f64) -> ElectricCurrent {
    ElectricCurrent::new::<milliampere>(current)
}

/// Returns how far a dip may lie outside the tank before it is asked about.
pub(super) fn outside(known: &Known, level: Length) -> bool {
    let top = [Some(known.span), known.overflow, known.hatch].into_iter().flatten();
    let top = top.fold(known.span, Length::max);
    let room = usual::mark() * 10.0;
    level > top + room || level < known.floor.min(known.sill).min(Length::default()) - room
}
