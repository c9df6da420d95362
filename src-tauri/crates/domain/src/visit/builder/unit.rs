//! The states of the unit: which offset it carried, and the display reading that stands for the visit.

use uom::si::f64::{Pressure, Time};
use uom::si::time::second;

use super::start::Builder;
use crate::evidence::{Carried, Input, OffsetId, Spread};
use crate::visit::recorded::recorded;
use crate::visit::{Choice, Key, Moment, Spot, Timing, series};

/// A display reading that stands for the visit: what it showed, when, in which state of the unit.
#[derive(Clone, Copy)]
pub(super) struct Standing {
    pub(super) pressure: Pressure,
    /// Its last digit.
    pub(super) step: Pressure,
    pub(super) at: Moment,
    pub(super) offset: OffsetId,
    /// Where it was typed; the first of them where it was read several times.
    pub(super) spot: Spot,
}

impl Builder<'_> {
    /// The display reading that stands for the visit, with the states of the unit before it.
    pub(super) fn standing(&mut self, timing: Timing) -> Option<Standing> {
        let standing = match timing {
            Timing::Before => self.standing_before()?,
            Timing::After => {
                let offset = self.case.offset(Carried::Unknown);
                self.display(Spot::of(Key::DisplayLeft), offset)?
            }
        };
        let damping = self.entries.number(Key::Damping).filter(|seconds| *seconds > 0.0);
        self.lag = damping.map(|seconds| {
            let lag = Time::new::<second>(seconds);
            self.case.input(Input::time("damping of the display", lag, Spread::Rectangular(lag * 0.2)))
        });
        let standing = if timing == Timing::Before { self.in_series(standing) } else { standing };
        self.now = Some(standing);
        self.blocked_vent();
        self.flow_in_riser(timing);
        Some(standing)
    }

    pub(super) fn standing_before(&mut self) -> Option<Standing> {
        let found = self.carried();
        if self.draft.answers.choice(Spot::of(Key::OffsetKnown)) == Some(Choice::OffsetClearedToday) {
            let zero = Input::pressure("offset cleared today", Pressure::default(), Spread::Exact);
            let zero = self.case.input(zero);
            let cleared = self.case.offset(Carried::Known(zero));
            return self.display(Spot::of(Key::DisplayCleared), cleared);
        }
        let bled = self.display(Spot::of(Key::DisplayAfterBleed), found);
        bled.or_else(|| self.display(Spot::of(Key::Display), found))
    }

    pub(super) fn display(&self, spot: Spot, offset: OffsetId) -> Option<Standing> {
        let (pressure, step) = self.entries.reading(spot)?;
        let at = self.draft.answers.get(spot)?.at;
        Some(Standing { pressure, step, at, offset, spot })
    }

    /// Where the display was read several times, all of them stand for the visit, as one.
    fn in_series(&mut self, standing: Standing) -> Standing {
        let spot = series::standing(self.draft, self.entries);
        let Some(series) = series::taken(self.draft, self.entries, spot) else { return standing };
        let scatter = Input::pressure(
            format!("scatter of {} display readings", series.count),
            Pressure::default(),
            series.spread,
        );
        self.scatter = Some(self.case.input(scatter));
        self.series = Some(series);
        let last = self.draft.answers.iter().filter(|(spot, _)| spot.key == Key::DisplayRepeat);
        let at = last.map(|(_, answer)| answer.at).fold(standing.at, Moment::max);
        Standing { pressure: series.value, at, ..standing }
    }

    /// The state of the unit as found, with what is known of its offset.
    pub(super) fn carried(&mut self) -> OffsetId {
        let answer = self.draft.answers.choice(Spot::of(Key::OffsetKnown));
        let typed = self.entries.reading(Spot::of(Key::OffsetValue));
        let carried = match (answer, typed) {
            (Some(Choice::OffsetReadToday | Choice::OffsetClearedToday), Some((value, step))) => {
                let input =
                    Input::pressure("offset read on the unit", value, Spread::Rectangular(step * 0.5));
                let input = self.case.input(input);
                self.typed.push((input, Spot::of(Key::OffsetValue)));
                Carried::Known(input)
            }
            (Some(Choice::OffsetFromRecord), typed) => {
                let recorded = || {
                    let of = recorded(self.draft, self.known, self.gradient)?;
                    let date = if of.date.is_empty() { String::new() } else { format!(" of {}", of.date) };
                    Some((of.value, date))
                };
                match typed.map(|(value, _)| (value, String::new())).or_else(recorded) {
                    Some((value, date)) => {
                        // What stood in a record may have been touched since: the allowance on the zero stands for that.
                        let half = self.known.sensor.zero_allowance;
                        let input = Input::pressure(
                            format!("offset by the last record{date}"),
                            value,
                            Spread::Rectangular(half),
                        );
                        let input = self.case.input(input);
                        self.typed.push((input, Spot::of(Key::OffsetValue)));
                        Carried::OnRecord(input)
                    }
                    None => Carried::Unknown,
                }
            }
            _ => Carried::Unknown,
        };
        self.case.offset(carried)
    }
}
