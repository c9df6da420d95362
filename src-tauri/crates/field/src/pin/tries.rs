//! Wrong PINs, and the waits they cost.
//!
//! A wait is counted by the clock that nobody can set, where the phone has one. That clock begins anew when the phone is
//! started; of the time before nothing is known then, so a wait goes on from there: no restart makes it shorter, and none
//! makes it begin anew. Where there is no such clock the wall clock has to do. Set forward it ends a wait early; set back
//! it begins the wait anew, and never makes it longer than that.

use serde::{Deserialize, Serialize};

use crate::Now;
use crate::counted::counted;

/// Wrong PINs in a row before the first wait. Common practice, no source; so are the waits.
const FREE: u32 = 5;
/// Seconds to wait: after the fifth wrong one in a row, after the sixth, and so on; after more than these the last.
const WAITS: [u32; 5] = [30, 60, 120, 300, 900];

/// Wrong PINs in a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub(super) struct Tries {
    /// How many.
    wrong: u32,
    /// When the last one was; none before.
    last: Option<At>,
}

/// A moment by both clocks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
struct At {
    /// The wall clock, in milliseconds since 1970.
    wall: i64,
    /// The clock that nobody sets.
    boot: Option<Boot>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
struct Boot {
    /// Which start of the phone.
    mark: [u8; 16],
    /// Milliseconds since then.
    millis: u64,
}

impl Tries {
    /// Counts a wrong one.
    pub(super) fn count(&mut self, now: Now) {
        self.wrong = self.wrong.saturating_add(1);
        self.last = Some(At::of(now));
    }

    /// Returns how many wrong ones are left until a wait; none of the wait that the last one cost.
    pub(super) fn left(&self) -> u32 {
        FREE.saturating_sub(self.wrong).max(1)
    }

    /// Returns the seconds that the last wrong one costs; 0 where it costs none.
    pub(super) fn cost(&self) -> u32 {
        wait_after(self.wrong)
    }

    /// Returns the seconds that the next wrong one would cost before which no other may be tried.
    pub(super) fn next_cost(&self) -> u32 {
        wait_after(self.wrong.saturating_add(self.left()))
    }

    /// Returns the seconds still to wait before the next one; none where it may be tried now.
    pub(super) fn wait(&self, now: Now) -> Option<u32> {
        let passed = passed(self.last?, now);
        let left = (u64::from(self.cost()) * 1000).saturating_sub(passed);
        // A second that has begun is still waited for.
        u32::try_from(left.div_ceil(1000)).ok().filter(|seconds| *seconds > 0)
    }

    /// Begins a wait anew where the only clock there is was set back. Returns whether it did, and must be kept so.
    pub(super) fn follow(&mut self, now: Now) -> bool {
        let Some(last) = &mut self.last else { return false };
        let by_wall = last.boot.is_none() || now.since_boot.is_none();
        if !by_wall || now.wall.0 >= last.wall {
            return false;
        }
        *last = At::of(now);
        true
    }
}

impl At {
    fn of(now: Now) -> At {
        let boot = now.since_boot.map(|since| Boot {
            mark: since.mark,
            millis: u64::try_from(since.elapsed.as_millis()).unwrap_or(u64::MAX),
        });
        At { wall: now.wall.0, boot }
    }
}

fn wait_after(wrong: u32) -> u32 {
    let Some(beyond) = wrong.checked_sub(FREE) else { return 0 };
    let at = usize::try_from(beyond).unwrap_or(usize::MAX);
    WAITS.get(at).or(WAITS.last()).copied().unwrap_or_default()
}

/// Milliseconds that surely passed.
fn passed(last: At, now: Now) -> u64 {
    match (last.boot, At::of(now).boot) {
        (Some(then), Some(now)) if then.mark == now.mark => now.millis.saturating_sub(then.millis),
        (Some(_), Some(now)) => now.millis,
        _ => u64::try_from(now.wall.0.saturating_sub(last.wall)).unwrap_or_default(),
    }
}

/// Says what a wrong PIN costs, and how many more may be tried before that.
pub(crate) fn wrong_said(left: u32, wait: u32) -> String {
    let wait = said(wait);
    match left {
        0 => format!("This is not the PIN. Wait {wait}, then try again."),
        1 => format!("This is not the PIN. One more try, then a wait of {wait}."),
        more => format!("This is not the PIN. {more} more tries, then a wait of {wait}."),
    }
}

/// Says how long to wait before the next one.
pub(crate) fn waits_said(seconds: u32) -> String {
    format!("Too many wrong PINs: the next one can be tried in {}.", said(seconds))
}

/// Says a length of time: "30 seconds", "1 minute 20 seconds".
fn said(seconds: u32) -> String {
    let (minutes, seconds) = (seconds / 60, seconds % 60);
    let parts = [(minutes, "minute"), (seconds, "second")];
    let parts = parts.into_iter().filter(|(many, _)| *many > 0).map(|(many, what)| counted(many, what));
    parts.collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use domain::visit::Moment;
    use rstest::rstest;

    use super::*;
    use crate::SinceBoot;

    const BEGIN: i64 = 1_795_603_327_000;

    /// A moment: seconds on the wall clock from its begin, and seconds since a start of the phone with this mark.
    fn at(wall: i64, boot: Option<(u8, u64)>) -> Now {
        let since_boot =
            boot.map(|(mark, seconds)| SinceBoot { elapsed: Duration::from_secs(seconds), mark: [mark; 16] });
        Now { wall: Moment(BEGIN + wall * 1000), offset_minutes: 0, since_boot }
    }

    fn wrong(many: u32, now: Now) -> Tries {
        let mut tries = Tries::default();
        (0..many).for_each(|_| tries.count(now));
        tries
    }

    #[test]
    fn four_wrong_ones_cost_nothing_and_each_further_one_more() {
        let now = at(0, Some((1, 60)));
        let waits: Vec<_> = (0..12).map(|many| wrong(many, now).wait(now)).collect();
        let none = [None; 5];
        let costs = [30, 60, 120, 300, 900, 900, 900].map(Some);
        assert_eq!(waits, [&none[..], &costs[..]].concat());
        let left: Vec<u32> = (0..8).map(|many| wrong(many, now).left()).collect();
        assert_eq!(left, [5, 4, 3, 2, 1, 1, 1, 1]);
        let next: Vec<u32> = (0..7).map(|many| wrong(many, now).next_cost()).collect();
        assert_eq!(next, [30, 30, 30, 30, 30, 60, 120]);
        assert_eq!(wrong(u32::MAX, now).cost(), 900);
    }

    #[rstest]
    #[case::at_once(at(0, Some((1, 60))), Some(60))]
    #[case::a_second_that_has_begun(at(0, Some((1, 119))), Some(1))]
    #[case::over(at(0, Some((1, 120))), None)]
    #[case::the_wall_clock_set_forward(at(86_400, Some((1, 70))), Some(50))]
    #[case::the_wall_clock_set_back(at(-86_400, Some((1, 120))), None)]
    #[case::started_anew(at(600, Some((2, 15))), Some(45))]
    #[case::started_anew_and_set_forward(at(86_400, Some((2, 0))), Some(60))]
    #[case::started_anew_long_ago(at(5, Some((2, 60))), None)]
    #[case::the_clock_is_told_no_more(at(20, None), Some(40))]
    fn a_wait_goes_by_the_clock_that_nobody_sets(#[case] now: Now, #[case] wait: Option<u32>) {
        let mut tries = wrong(6, at(0, Some((1, 60))));
        assert_eq!(tries.wait(now), wait);
        tries.follow(now);
        assert_eq!(tries.wait(now), wait, "following changes nothing here");
    }

    #[test]
    fn without_such_a_clock_the_wall_clock_has_to_do_and_set_back_the_wait_begins_anew() {
        let mut tries = wrong(6, at(0, None));
        assert_eq!(tries.wait(at(20, None)), Some(40));
        assert_eq!(tries.wait(at(60, None)), None);
        // Set back by a day: not a day of waiting.
        assert!(tries.follow(at(-86_400, None)));
        assert_eq!(tries.wait(at(-86_400, None)), Some(60));
        assert!(!tries.follow(at(-86_350, None)));
        assert_eq!(tries.wait(at(-86_350, None)), Some(10));
        assert_eq!(tries.wait(at(-86_340, None)), None);
    }

    #[rstest]
    #[case(1, "1 second")]
    #[case(30, "30 seconds")]
    #[case(60, "1 minute")]
    #[case(61, "1 minute 1 second")]
    #[case(900, "15 minutes")]
    fn a_wait_is_said_in_minutes_and_seconds(#[case] seconds: u32, #[case] words: &str) {
        assert_eq!(said(seconds), words);
    }
}
