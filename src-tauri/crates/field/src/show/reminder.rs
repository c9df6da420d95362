//! The running reminder of inhibited alarms.

use domain::visit::{Assessment, Choice, Draft, Key, Spot, Value};

use crate::view::Reminder;
use crate::{Now, when};

/// Returns how long alarms stay inhibited, until Back in service is done.
pub(super) fn reminder(draft: &Draft, assessment: &Assessment, now: Now) -> Option<Reminder> {
    let spot = Spot::of(Key::InhibitMinutes);
    let Some(Value::Number(minutes)) = assessment.entries.at(spot)?.value else { return None };
    let alarms_back = (0..)
        .zip(&draft.instrument.back)
        .all(|(row, _)| draft.answers.choice(Spot::row(Key::BackItem, row)) == Some(Choice::Done));
    if alarms_back || minutes <= 0.0 {
        return None;
    }
    let from = draft.answers.get(spot)?.at;
    #[allow(clippy::cast_possible_truncation)] // A stated time of minutes; what is absurd saturates.
    let ends = domain::visit::Moment(from.0.saturating_add((minutes * 60_000.0) as i64));
    let left = (ends.0 - now.wall.0).div_euclid(60_000);
    let until = when::minute(ends, now.offset_minutes);
    let text = if left >= 0 {
        format!("Alarms inhibited until {until}")
    } else {
        format!("Alarm inhibition ran out at {until}: tell the control room")
    };
    Some(Reminder { text, minutes_left: i32::try_from(left).unwrap_or(i32::MIN) })
}
