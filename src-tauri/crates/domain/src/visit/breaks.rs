//! A visit that is taken up again after a long break: what was made safe then need not be safe now.

use super::{Choice, Draft, Key, Moment, Remark, Spot};

/// From this long a break on the safety list is gone through again.
const LONG_BREAK_MILLIS: i64 = 2 * 60 * 60 * 1000;

/// Rows of an earlier list stand this far apart; no list is so long.
const ROWS_OF_A_LIST: u32 = 1000;

impl Draft {
    /// Takes a visit up again that was left at a moment. After a long break the safety list stands open again; how
    /// it was answered before is kept beside it and goes into the record.
    ///
    /// Nothing is asked again once everything is back in service: nobody touches anything any more.
    pub fn take_up(&mut self, left: Moment, now: Moment) {
        let long = now.0.saturating_sub(left.0) >= LONG_BREAK_MILLIS;
        if long && !self.back_in_service() {
            self.ask_safety_again();
        }
    }

    fn back_in_service(&self) -> bool {
        let answered = |row| self.answers.get(Spot::row(Key::BackItem, row)).is_some();
        (0..).zip(&self.instrument.back).all(|(row, _)| answered(row))
    }

    fn ask_safety_again(&mut self) {
        let before = self.answers.iter().filter(|(spot, _)| spot.key == Key::SafetyItemEarlier);
        let breaks = before.map(|(spot, _)| spot.row / ROWS_OF_A_LIST).max().unwrap_or(0);
        let first = (breaks + 1) * ROWS_OF_A_LIST;
        for (key, earlier) in
            [(Key::SafetyItem, Key::SafetyItemEarlier), (Key::SafetyReason, Key::SafetyReasonEarlier)]
        {
            for (row, _) in (0..ROWS_OF_A_LIST).zip(&self.instrument.safety) {
                self.answers.set_aside(Spot::row(key, row), Spot::row(earlier, first + row));
            }
        }
    }

    /// Returns the caution that stands on every step while the safety list is to be gone through again.
    #[must_use]
    pub fn safety_again(&self) -> Option<Remark> {
        let before = self.answers.iter().any(|(spot, _)| spot.key == Key::SafetyItemEarlier);
        let open = (0..).zip(&self.instrument.safety).any(|(row, _)| {
            let choice = self.answers.choice(Spot::row(Key::SafetyItem, row));
            !matches!(choice, Some(Choice::Done | Choice::DoesNotApply))
        });
        (before && open).then(|| {
            Remark::danger(
                "safe.again",
                "Two hours or more have passed since the safety list was gone through.",
                "Go through it again at Make safe before you touch anything.",
            )
        })
    }
}

/// Returns the item's row in the list that an earlier answer belongs to.
#[must_use]
pub fn earlier_row(row: u32) -> u32 {
    row % ROWS_OF_A_LIST
}
