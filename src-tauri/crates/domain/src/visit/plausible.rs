//! Readings that the sensor cannot make: beyond its limits with the offset it carries.
//!
//! What a display shows is what the sensor feels plus the offset. With the offset known the display's own limits
//! follow from LRL and URL; with it unknown they are as wide as any offset the unit can hold.

use uom::si::f64::Pressure;

use super::conditions::Conditions;
use super::entries::Entries;
use super::{Choice, Draft, Key, Known, Remark, Show, Spot};

/// Objects to every reading that lies beyond what the display can show: with the offset that was seen, or, where that
/// one may be the wrong number, with any offset that the unit can hold.
pub(super) fn object(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &mut Entries,
    any_offset: bool,
) {
    let spots: Vec<Spot> = entries.iter().map(|(spot, _)| spot).filter(|spot| reads(spot.key)).collect();
    for spot in spots {
        let Some((reading, _)) = entries.reading(spot) else { continue };
        let offset = if any_offset { None } else { carried(draft, entries, spot.key) };
        let limits = Shows::of(known, offset);
        if !limits.hold(reading) {
            entries.object(spot, limits.remark(known, conditions));
        }
    }
}

fn reads(key: Key) -> bool {
    matches!(
        key,
        Key::Display
            | Key::DisplayAfterBleed
            | Key::DisplayCleared
            | Key::DisplayRepeat
            | Key::ReadingBefore
            | Key::ReadingAfter
            | Key::VentedReading
            | Key::DisplayLeft
            | Key::CheckDisplay
            | Key::CheckDisplayLeft
    )
}

/// The least and the most a display can show.
struct Shows {
    least: Pressure,
    most: Pressure,
    offset: Option<Pressure>,
}

impl Shows {
    fn of(known: &Known, offset: Option<Pressure>) -> Shows {
        let limits = &known.sensor.limits;
        let (low, high) = match offset {
            Some(offset) => (offset, offset),
            None => {
                let widest = limits.trim_limit.unwrap_or(limits.url);
                (-widest, widest)
            }
        };
        Shows { least: limits.lrl + low, most: limits.url + high, offset }
    }

    fn hold(&self, reading: Pressure) -> bool {
        (self.least..=self.most).contains(&reading)
    }

    fn remark(&self, known: &Known, conditions: &Conditions) -> Remark {
        let show = Show::new(known, conditions.gradient);
        let offset = self.offset.map_or_else(
            || "whatever offset it carries".to_owned(),
            |offset| format!("with the offset of {}", show.reading(offset)),
        );
        Remark::impossible(
            "reading.beyond_limits",
            format!(
                "The sensor's limits let the display show {} to {}, {offset}.",
                show.number(self.least),
                show.reading(self.most)
            ),
            "Read the display again and check digits, sign and unit; check the offset too.",
        )
    }
}

/// The offset that stood when a reading was taken, where it was seen today.
fn carried(draft: &Draft, entries: &Entries, key: Key) -> Option<Pressure> {
    let seen = || entries.reading(Spot::of(Key::OffsetValue)).map(|(value, _)| value);
    match draft.answers.choice(Spot::of(Key::OffsetKnown))? {
        // After the trim the offset is another one.
        _ if matches!(key, Key::DisplayLeft | Key::CheckDisplayLeft) => None,
        Choice::OffsetReadToday => seen(),
        Choice::OffsetClearedToday if key == Key::Display => seen(),
        Choice::OffsetClearedToday => Some(Pressure::default()),
        _ => None,
    }
}
