//! Dates, as far as a visit needs them: is a tape's check overdue on the day?

use super::{Draft, Key, Spot};

/// No clock is further from UTC, in minutes.
const MOST_OFFSET: i64 = 18 * 60;

/// Returns the day a visit began on where the technician was, as days since 1970-01-01. A visit that does not say how far its
/// clock was from UTC is counted by UTC.
pub(super) fn day(draft: &Draft) -> i64 {
    let ahead = draft.answers.text(Spot::of(Key::ClockOffset)).trim().parse::<i64>().ok();
    let ahead = ahead.filter(|minutes| minutes.abs() <= MOST_OFFSET).unwrap_or_default();
    draft.begun.0.saturating_add(ahead * 60_000).div_euclid(86_400_000)
}

/// Returns the days since 1970-01-01 of a date written `2027-03-31`, or `None` for anything else.
#[must_use]
pub fn day_of(date: &str) -> Option<i64> {
    days(date)
}

/// Returns the days since 1970-01-01 of a date.
///
/// The count of days by the civil calendar is the usual one: years begin in March, so that the leap day comes last.
pub(super) fn days(date: &str) -> Option<i64> {
    let mut parts = date.trim().splitn(3, '-');
    let mut part = || parts.next()?.parse::<i64>().ok();
    let (year, month, day) = (part()?, part()?, part()?);
    if !(1970..=9999).contains(&year) || !(1..=12).contains(&month) || !(1..=31).contains(&day) {
        return None;
    }
    let year = if month <= 2 { year - 1 } else { year };
    let (era, of_era) = (year.div_euclid(400), year.rem_euclid(400));
    let of_year = (153 * ((month + 9) % 12) + 2) / 5 + day - 1;
    Some(era * 146_097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719_468)
}

/// Returns the date of a day counted from 1970-01-01, as it is written: `2027-03-31`.
#[must_use]
pub fn date(day: i64) -> String {
    let shifted = day.saturating_add(719_468);
    let (era, of_era) = (shifted.div_euclid(146_097), shifted.rem_euclid(146_097));
    let of = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * of + of / 4 - of / 100);
    let from_march = (5 * of_year + 2) / 153;
    let day = of_year - (153 * from_march + 2) / 5 + 1;
    let month = if from_march < 10 { from_march + 3 } else { from_march - 9 };
    let year = era * 400 + of + i64::from(month <= 2);
    format!("{year:04}-{month:02}-{day:02}")
}

/// Tells whether a check that was due on a date is overdue on a day. An empty date is never overdue; one that cannot be
/// read is not judged, and so not overdue.
pub(super) fn overdue(due: &str, day: i64) -> bool {
    days(due).is_some_and(|due| day > due)
}

#[cfg(test)]
mod tests {
    use super::{date, days, overdue};

    #[test]
    fn days_are_counted_as_the_calendar_counts() {
        // 2000-03-01 is day 11 017 (30 years, 7 leap days before, 60 days of 2000).
        assert_eq!(days("2000-03-01"), Some(11_017));
        assert_eq!(days("1970-01-01"), Some(0));
        assert_eq!(days("2024-02-29").zip(days("2024-03-01")), Some((19_782, 19_783)));
        assert_eq!(days("soon"), None);
    }

    #[test]
    fn a_date_and_its_day_lead_to_each_other() {
        for text in ["1970-01-01", "2000-02-29", "2026-11-25", "2099-12-31", "2100-03-01"] {
            assert_eq!(date(days(text).unwrap()), text);
        }
    }

    #[test]
    fn a_check_is_good_to_the_end_of_its_day() {
        assert!(!overdue("2000-03-01", 11_017));
        assert!(overdue("2000-03-01", 11_018));
        assert!(!overdue("", 20_000));
    }
}
