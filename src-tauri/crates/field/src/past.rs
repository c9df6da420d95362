//! What is known of earlier visits: the register's list and this phone's own signed records, as one list.

use bodies::Visit;
use domain::visit::{Draft, Earlier, Instrument, Moment, day_of, told};

use crate::{Error, Phone, tag, when};

/// How many own records of one instrument are looked through, newest first.
const MOST_RECORDS: u32 = 40;
/// How many earlier visits a row holds at most: the newest.
const MOST_EARLIER: usize = 60;

/// A register row with its past.
pub(crate) struct WithPast {
    /// The row; its list holds the own records too.
    pub(crate) row: Instrument,
    /// Own records that could not be read and so are not in it.
    pub(crate) unread: usize,
}

impl Phone {
    /// Returns the register's row with the phone's own records in its list of earlier visits.
    pub(crate) fn row_with_past(&self, tag: &str) -> Result<WithPast, Error> {
        let mut row = self.register_row(tag)?;
        let signed = self.store().signed_of(&tag::key(&row.tag), MOST_RECORDS)?;
        let mut own = Vec::new();
        let mut unread = 0;
        // In the order they were signed: a clock that was set back must show, not be sorted away.
        for visit in signed.iter().rev() {
            match self.line_of(visit.place) {
                Ok(line) => own.push(line),
                Err(Error::Store(error)) => return Err(Error::Store(error)),
                // A record of a newer program, or a damaged one, is shown where records are listed. It counts here.
                Err(_) => unread += 1,
            }
        }
        row.earlier = merged(row.earlier, own);
        Ok(WithPast { row, unread })
    }

    fn line_of(&self, place: store::Place) -> Result<Earlier, Error> {
        let kept = self.kept_entry(place)?;
        let entry = record::open(&kept)?;
        let visit = Visit::of_entry(&entry)?;
        let claimed = entry.header.claimed;
        let day = when::sortable_day(Moment(claimed.millis), claimed.offset_minutes);
        Ok(told(&Draft::again(&visit.finished), &visit.finished.results, day))
    }
}

/// Merges both by date. Of two lines of one day the phone's own stays: it is the record itself.
fn merged(register: Vec<Earlier>, own: Vec<Earlier>) -> Vec<Earlier> {
    let own_days: Vec<Option<i64>> = own.iter().map(|line| day_of(&line.date)).collect();
    let other = |line: &Earlier| !own_days.contains(&day_of(&line.date));
    let mut all: Vec<Earlier> = register.into_iter().filter(other).collect();
    all.sort_by_key(|line| day_of(&line.date));
    let in_order = own_days.is_sorted();
    all.extend(own);
    if in_order {
        // Stable, so that two visits of one day keep the order they were made in.
        all.sort_by_key(|line| day_of(&line.date));
    }
    let too_many = all.len().saturating_sub(MOST_EARLIER);
    all.split_off(too_many)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(date: &str, serial: &str) -> Earlier {
        Earlier { date: date.into(), serial: serial.into(), ..Earlier::default() }
    }

    fn dates(list: &[Earlier]) -> Vec<(&str, &str)> {
        list.iter().map(|line| (line.date.as_str(), line.serial.as_str())).collect()
    }

    #[test]
    fn both_lists_become_one_by_date_with_no_visit_twice() {
        let register = vec![line("2025-11-20", "hub"), line("2023-11-20", "hub")];
        let own = vec![line("2024-11-20", "own"), line("2025-11-20", "own")];
        let all = merged(register, own);
        assert_eq!(dates(&all), [("2023-11-20", "hub"), ("2024-11-20", "own"), ("2025-11-20", "own")]);
    }

    #[test]
    fn a_clock_that_was_set_back_is_not_sorted_away() {
        let own = vec![line("2025-11-20", "first"), line("2024-01-01", "second")];
        assert_eq!(dates(&merged(Vec::new(), own)), [("2025-11-20", "first"), ("2024-01-01", "second")]);
    }

    #[test]
    fn the_newest_stay_of_too_many() {
        let register = (0..80).map(|at| line(&domain::visit::date(20_000 + at), "")).collect();
        let all = merged(register, Vec::new());
        assert_eq!((all.len(), day_of(&all[0].date)), (MOST_EARLIER, Some(20_020)));
    }
}
