//! Moments as people read them, in the phone's local time.

use chrono::{DateTime, FixedOffset};
use domain::visit::Moment;

/// Returns the day and the minute: `25 Nov 2026 10:42`.
pub(crate) fn day_and_minute(moment: Moment, offset_minutes: i16) -> String {
    local(moment, offset_minutes).map_or_else(String::new, |at| at.format("%-d %b %Y %H:%M").to_string())
}

/// Returns the time of day to the second: `10:42:07`.
pub(crate) fn second(moment: Moment, offset_minutes: i16) -> String {
    local(moment, offset_minutes).map_or_else(String::new, |at| at.format("%H:%M:%S").to_string())
}

/// Returns the time of day to the minute: `10:42`.
pub(crate) fn minute(moment: Moment, offset_minutes: i16) -> String {
    local(moment, offset_minutes).map_or_else(String::new, |at| at.format("%H:%M").to_string())
}

/// Returns the day in a form that sorts: `2026-11-25`.
pub(crate) fn sortable_day(moment: Moment, offset_minutes: i16) -> String {
    local(moment, offset_minutes).map_or_else(String::new, |at| at.format("%Y-%m-%d").to_string())
}

/// A clock can claim what no calendar holds; such a moment shows as nothing.
fn local(moment: Moment, offset_minutes: i16) -> Option<DateTime<FixedOffset>> {
    let offset = FixedOffset::east_opt(i32::from(offset_minutes) * 60)?;
    Some(DateTime::from_timestamp_millis(moment.0)?.with_timezone(&offset))
}

#[cfg(test)]
mod tests {
    use super::*;

    // 2026-11-25T23:30:05Z, by `date -u -d 2026-11-25T23:30:05Z +%s`.
    const LATE: Moment = Moment(1_795_649_405_000);

    #[test]
    fn the_day_is_the_local_one() {
        assert_eq!(day_and_minute(LATE, 0), "25 Nov 2026 23:30");
        assert_eq!(day_and_minute(LATE, 60), "26 Nov 2026 00:30");
        assert_eq!(sortable_day(LATE, 60), "2026-11-26");
        assert_eq!(second(LATE, -330), "18:00:05");
    }

    #[test]
    fn a_moment_outside_every_calendar_is_nothing() {
        assert_eq!(day_and_minute(Moment(i64::MAX), 0), "");
    }
}
