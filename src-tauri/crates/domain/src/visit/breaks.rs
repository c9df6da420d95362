//! A visit that is taken up again after a long break: what was so then need not be so now.
//!
//! What is asked again: the safety list, who in the control room was told (another may sit there now), for how long alarms
//! are inhibited (what was stated may have run out), and how many are here (one may have left). What was measured stands:
//! it was so when it was read, and its time is kept with it.

use super::{Choice, Draft, Key, Moment, Remark, Spot};
use crate::quantity::read_number;

/// From this long a break on the safety list is gone through again.
const LONG_BREAK_MILLIS: i64 = 2 * 60 * 60 * 1000;

/// Rows of an earlier list stand this far apart; no list is so long.
const ROWS_OF_A_LIST: u32 = 1000;

/// What is asked once and asked again after a long break, and where it is kept as it was before.
const AGAIN: [(Key, Key); 3] = [
    (Key::ControlRoomTold, Key::ControlRoomToldEarlier),
    (Key::InhibitMinutes, Key::InhibitMinutesEarlier),
    (Key::Crew, Key::CrewEarlier),
];

/// Lists that are asked again, and where they are kept.
const LISTS_AGAIN: [(Key, Key); 2] =
    [(Key::SafetyItem, Key::SafetyItemEarlier), (Key::SafetyReason, Key::SafetyReasonEarlier)];

impl Draft {
    /// Takes a visit up again that was left at a moment. After a long break the safety list stands open again, and so does
    /// what else may have changed; how it was answered before is kept beside it and goes into the record.
    ///
    /// Nothing is asked again once everything is back in service: nobody touches anything any more.
    pub fn take_up(&mut self, left: Moment, now: Moment) {
        let long = now.0.saturating_sub(left.0) >= LONG_BREAK_MILLIS;
        if long && !self.back_in_service() {
            self.ask_again();
        }
    }

    fn back_in_service(&self) -> bool {
        let answered = |row| self.answers.get(Spot::row(Key::BackItem, row)).is_some();
        (0..).zip(&self.instrument.back).all(|(row, _)| answered(row))
    }

    fn ask_again(&mut self) {
        let first = (self.breaks() + 1) * ROWS_OF_A_LIST;
        for (key, earlier) in LISTS_AGAIN {
            for (row, _) in (0..ROWS_OF_A_LIST).zip(&self.instrument.safety) {
                self.answers.set_aside(Spot::row(key, row), Spot::row(earlier, first + row));
            }
        }
        for (key, earlier) in AGAIN {
            self.answers.set_aside(Spot::of(key), Spot::row(earlier, first));
        }
    }

    /// How many breaks something is kept from.
    fn breaks(&self) -> u32 {
        let kept = |key| LISTS_AGAIN.iter().chain(&AGAIN).any(|(_, earlier)| *earlier == key);
        let before = self.answers.iter().filter(|(spot, _)| kept(spot.key));
        before.map(|(spot, _)| spot.row / ROWS_OF_A_LIST).max().unwrap_or(0)
    }

    /// Returns the caution that stands on every step while what may have changed over a break is to be gone through again.
    #[must_use]
    pub fn safety_again(&self) -> Option<Remark> {
        let before = self.breaks() > 0;
        let open = (0..).zip(&self.instrument.safety).any(|(row, _)| {
            let choice = self.answers.choice(Spot::row(Key::SafetyItem, row));
            !matches!(choice, Some(Choice::Done | Choice::DoesNotApply))
        });
        let untold = self.answers.get(Spot::of(Key::ControlRoomTold)).is_none();
        (before && (open || untold)).then(|| {
            Remark::danger(
                "safe.again",
                "Two hours or more have passed since the safety list was gone through.",
                "Go through it again at Make safe before you touch anything. Tell the control room that you are back, and \
                 see how long alarms stay inhibited.",
            )
        })
    }

    /// Returns until when alarms are inhibited, as it was stated last: what was stated before a break still runs, or has run
    /// out meanwhile. None where nothing was stated, or nothing that can be read.
    #[must_use]
    pub fn inhibited_until(&self) -> Option<Moment> {
        let before = self.answers.iter().filter(|(spot, _)| spot.key == Key::InhibitMinutesEarlier);
        let stated = self.answers.get(Spot::of(Key::InhibitMinutes));
        let stated = stated.or(before.last().map(|(_, answer)| answer))?;
        let minutes = read_number(&stated.text).ok()?.value;
        #[allow(clippy::cast_possible_truncation)] // A stated time of minutes; what is absurd saturates.
        let millis = (minutes * 60_000.0) as i64;
        (minutes > 0.0).then(|| Moment(stated.at.0.saturating_add(millis)))
    }
}

/// Returns the item's row in the list that an earlier answer belongs to.
#[must_use]
pub fn earlier_row(row: u32) -> u32 {
    row % ROWS_OF_A_LIST
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::LONG_BREAK_MILLIS;
    use crate::visit::{Choice, Draft, Instrument, Key, Moment, Spot};

    const MINUTE: i64 = 60_000;
    const BEGUN: i64 = 1_795_600_000_000;

    fn row() -> Instrument {
        let row = r#"{"tag":"LT-1","service":"tower","serial":"A1","unit":"m","riser":"9 m","riser_from":"tape",
            "site":{"name":"Cold Ash","latitude":"51","altitude":"120 m","liquid_temperature":"12 degC","lengths":"m"},
            "liquid":{"name":"water"},"span":"6 m","lrv":"0","urv":"6",
            "limits":{"lrl":"-2 bar","url":"3 bar","min_span":"0.1 bar","max_working":"6 bar","accuracy":"0.05 %","zero_allowance":"2 mbar"},
            "tolerance":"50 mm","trim_rule":"true_at_zero","head_plan":"head_in_offset"}"#;
        serde_json::from_str(row).unwrap()
    }

    /// A visit that was made safe at its beginning, alarms inhibited for 90 minutes.
    fn made_safe() -> Draft {
        let mut draft = Draft::begin(row(), Moment(BEGUN));
        for row in 0..draft.instrument.safety.len() {
            put(&mut draft, Spot::row(Key::SafetyItem, u32::try_from(row).unwrap()), "done", 0);
        }
        for (key, text) in
            [(Key::ControlRoomTold, "R. Oake"), (Key::InhibitMinutes, "90"), (Key::Crew, "two_or_more")]
        {
            put(&mut draft, Spot::of(key), text, 0);
        }
        draft
    }

    fn put(draft: &mut Draft, spot: Spot, text: &str, minutes: i64) {
        draft.answers.put(spot, text.to_owned(), Moment(BEGUN + minutes * MINUTE));
    }

    fn after(draft: &mut Draft, from: i64, to: i64) {
        draft.take_up(Moment(BEGUN + from * MINUTE), Moment(BEGUN + to * MINUTE));
    }

    #[rstest]
    #[case::a_minute_short(LONG_BREAK_MILLIS - MINUTE, false)]
    #[case::two_hours(LONG_BREAK_MILLIS, true)]
    fn what_may_have_changed_is_asked_again_and_what_was_said_is_kept(
        #[case] away: i64,
        #[case] again: bool,
    ) {
        let mut draft = made_safe();
        put(&mut draft, Spot::of(Key::Display), "15.3", 1);
        draft.take_up(Moment(BEGUN), Moment(BEGUN + away));
        for (key, earlier, text) in [
            (Key::ControlRoomTold, Key::ControlRoomToldEarlier, "R. Oake"),
            (Key::InhibitMinutes, Key::InhibitMinutesEarlier, "90"),
            (Key::Crew, Key::CrewEarlier, "two_or_more"),
        ] {
            let kept = draft.answers.get(Spot::row(earlier, 1000));
            assert_eq!(draft.answers.get(Spot::of(key)).is_none(), again, "{key:?}");
            assert_eq!(kept.map(|answer| answer.text.as_str()), again.then_some(text));
            assert!(kept.is_none_or(|answer| answer.at == Moment(BEGUN)), "with the time it was said");
        }
        assert_eq!(draft.safety_again().is_some(), again);
        // What was measured stands.
        assert_eq!(draft.answers.text(Spot::of(Key::Display)), "15.3");
    }

    #[test]
    fn two_breaks_keep_both_answers() {
        let mut draft = made_safe();
        after(&mut draft, 0, 130);
        put(&mut draft, Spot::of(Key::ControlRoomTold), "D. Amsel", 131);
        after(&mut draft, 131, 300);
        let told = |row| draft.answers.text(Spot::row(Key::ControlRoomToldEarlier, row));
        assert_eq!((told(1000), told(2000)), ("R. Oake", "D. Amsel"));
    }

    #[test]
    fn the_list_gone_through_again_is_not_enough_while_nobody_was_told() {
        let mut draft = made_safe();
        after(&mut draft, 0, 130);
        for row in 0..draft.instrument.safety.len() {
            put(&mut draft, Spot::row(Key::SafetyItem, u32::try_from(row).unwrap()), "done", 131);
        }
        assert!(draft.safety_again().is_some());
        put(&mut draft, Spot::of(Key::ControlRoomTold), "D. Amsel", 132);
        assert!(draft.safety_again().is_none());
    }

    #[test]
    fn inhibition_runs_as_stated_last() {
        let mut draft = made_safe();
        let until = |draft: &Draft| draft.inhibited_until().map(|until| (until.0 - BEGUN) / MINUTE);
        assert_eq!(until(&draft), Some(90));
        after(&mut draft, 0, 130);
        // It ran out meanwhile, and that is to be said.
        assert_eq!(until(&draft), Some(90));
        put(&mut draft, Spot::of(Key::InhibitMinutes), "60", 131);
        assert_eq!(until(&draft), Some(191));
        after(&mut draft, 131, 300);
        assert_eq!(until(&draft), Some(191));
    }

    #[rstest]
    #[case::nothing("")]
    #[case::none("0")]
    #[case::unreadable("an hour")]
    fn what_states_no_time_inhibits_nothing(#[case] text: &str) {
        let mut draft = made_safe();
        put(&mut draft, Spot::of(Key::InhibitMinutes), text, 0);
        assert_eq!(draft.inhibited_until(), None);
    }

    #[test]
    fn nothing_is_asked_again_once_all_is_back_in_service() {
        let mut draft = made_safe();
        for row in 0..draft.instrument.back.len() {
            put(&mut draft, Spot::row(Key::BackItem, u32::try_from(row).unwrap()), Choice::Done.word(), 30);
        }
        after(&mut draft, 30, 600);
        assert_eq!(draft.answers.text(Spot::of(Key::ControlRoomTold)), "R. Oake");
    }
}
