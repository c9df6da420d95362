//! Moments in lists: day and minute, as they were where they were claimed.

use chrono::{DateTime, FixedOffset};
use record::Claimed;

/// Writes a moment as `2026-11-25 14:05 +01:00`; what is no moment as its number.
pub(super) fn minute(claimed: Claimed) -> String {
    let offset = FixedOffset::east_opt(i32::from(claimed.offset_minutes).saturating_mul(60));
    let moment = DateTime::from_timestamp_millis(claimed.millis).zip(offset);
    match moment {
        Some((moment, offset)) => moment.with_timezone(&offset).format("%Y-%m-%d %H:%M %:z").to_string(),
        None => format!("at {} ms", claimed.millis),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moment_stands_as_it_was_there() {
        // 20,782 days after 1970-01-01 is 2026-11-25.
        let millis = 20_782 * 86_400_000 + 13 * 3_600_000 + 5 * 60_000;
        assert_eq!(minute(Claimed { millis, offset_minutes: 60 }), "2026-11-25 14:05 +01:00");
        assert_eq!(minute(Claimed { millis, offset_minutes: -420 }), "2026-11-25 06:05 -07:00");
        assert_eq!(minute(Claimed { millis: i64::MAX, offset_minutes: 0 }), format!("at {} ms", i64::MAX));
    }
}
