//! The running reminder of inhibited alarms.

use domain::visit::{Choice, Draft, Key, Spot};

use crate::view::Reminder;
use crate::{Now, when};

/// Returns how long alarms stay inhibited, until Back in service is done.
pub(super) fn reminder(draft: &Draft, now: Now) -> Option<Reminder> {
    let ends = draft.inhibited_until()?;
    let alarms_back = (0..)
        .zip(&draft.instrument.back)
        .all(|(row, _)| draft.answers.choice(Spot::row(Key::BackItem, row)) == Some(Choice::Done));
    if alarms_back {
        return None;
    }
    let left = (ends.0 - now.wall.0).div_euclid(60_000);
    let until = when::minute(ends, now.offset_minutes);
    let text = if left >= 0 {
        format!("Alarms inhibited until {until}")
    } else {
        format!("Alarm inhibition ran out at {until}: tell the control room")
    };
    Some(Reminder { text, minutes_left: i32::try_from(left).unwrap_or(i32::MIN) })
}
