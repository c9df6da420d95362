//! What is left over the span once the display stands where it stands: today, and over the site's year.
//!
//! Both what was measured today (a visit) and what is merely intended (a plan) come through here; only a visit has
//! uncertainties, because only a visit has evidence.

use uom::si::f64::{Length, Pressure, ThermodynamicTemperature};

use super::{Choice, Claim, Known, Remark, Show};
use crate::after::{BestTrim, Corrected, Day, Scale, Seasons, Trimmed, Worst, corrected};
use crate::evidence::LevelError;
use crate::head::mounting::{Installed, MountingError, State};
use crate::head::{Gradient, Surroundings};

/// At which parts of the span the error is told.
pub const PARTS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

/// The error at one level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointLeft {
    /// Part of the span, 0 to 1.
    pub part: f64,
    /// The level.
    pub level: Length,
    /// The error today.
    pub today: Length,
    /// Its expanded uncertainty, 95 %; none where there is no evidence.
    pub expanded: Option<Length>,
    /// The error when the liquid is coldest; none where the register does not say how cold that is.
    pub coldest: Option<Length>,
    /// The error when it is warmest.
    pub warmest: Option<Length>,
}

/// What is left over the span.
#[derive(Debug, Clone, PartialEq)]
pub struct LeftOver {
    /// What the two ends of the range stand for.
    pub scale: Scale,
    /// The display as it was trimmed, or as it was left.
    pub trimmed: Trimmed,
    /// The errors at 0, 25, 50, 75 and 100 %.
    pub points: Vec<PointLeft>,
    /// The coldest and the warmest of the year, where the register has both.
    pub year: Option<(ThermodynamicTemperature, ThermodynamicTemperature)>,
    /// The worst error: of the year where it is known, else of today.
    pub worst: Option<Worst>,
    /// The temperature at which a trim would leave the least, where that is much less.
    pub best: Option<BestTrim>,
    /// LRV and URV that would leave less, where the worst exceeds a third of the tolerance and they help.
    pub corrected: Option<Corrected>,
    /// A third of the tolerance.
    pub third: Length,
}

/// A display that stands somewhere.
pub(super) struct Standing<'a> {
    /// The columns of the day.
    pub(super) today: Day,
    /// What the display shows today with the surface at the tank's zero.
    pub(super) at_zero: Pressure,
    /// What it stands beside where the trim would have put it.
    pub(super) beside: Pressure,
    /// The level the trim is true at.
    pub(super) true_at: Length,
    /// The errors as found, with their uncertainties, one for each of [`PARTS`].
    pub(super) found: Option<&'a [LevelError]>,
}

/// Less than this part of the worst must be left for another trim or another range to be worth a word.
const WORTH: f64 = 0.8;

/// Works out what is left, or nothing where LRV and URV meet.
pub(super) fn left_over(known: &Known, unit: Gradient, standing: &Standing<'_>) -> Option<LeftOver> {
    let scale = scale(known, unit)?;
    let true_there = Trimmed { day: standing.today, at_zero: standing.at_zero };
    let trimmed = true_there.off_by(standing.beside);
    let seasons = seasons(known);
    let year = seasons.as_ref().and_then(|seasons| Some((seasons.coldest()?, seasons.warmest()?)));
    let today = Seasons::only(standing.today);
    let all = seasons.as_ref().unwrap_or(&today);
    let worst = all.worst(&trimmed, &scale, known.span);
    let far = |than: Length| worst.is_some_and(|worst| than < worst.error.abs() * WORTH);
    let third = known.level.tolerance / 3.0;
    let beyond = worst.is_some_and(|worst| worst.error.abs() > third);
    let best = all.best_trim(&true_there, standing.true_at, &scale, known.span);
    let offered = corrected(&trimmed, &scale, known.span, all).ok().flatten();
    Some(LeftOver {
        points: points(known, &scale, &trimmed, standing, year),
        year: year.map(|(cold, warm)| (cold.temperature, warm.temperature)),
        worst,
        best: best.filter(|best| beyond && far(best.worst)),
        corrected: offered.filter(|offered| beyond && far(offered.worst.error.abs())),
        third,
        scale,
        trimmed,
    })
}

fn points(
    known: &Known,
    scale: &Scale,
    trimmed: &Trimmed,
    standing: &Standing<'_>,
    year: Option<(&Day, &Day)>,
) -> Vec<PointLeft> {
    let point = |(place, part): (usize, f64)| {
        let level = known.span * part;
        let on = |day: &Day| trimmed.error(scale, level, day);
        PointLeft {
            part,
            level,
            today: on(&standing.today),
            expanded: standing.found.and_then(|found| found.get(place)).map(|error| error.expanded),
            coldest: year.map(|(cold, _)| on(cold)),
            warmest: year.map(|(_, warm)| on(warm)),
        }
    };
    PARTS.into_iter().enumerate().map(point).collect()
}

/// What the ends of the range stand for: the levels they name where the display shows levels, else 0 and 100 %.
pub(super) fn scale(known: &Known, unit: Gradient) -> Option<Scale> {
    let range = known.range(unit)?;
    let named = known.unit.length_unit().filter(|_| known.plan == Choice::HeadInOffset);
    let (low, high) = named.map_or((Length::default(), known.span), |length| {
        (length.length(known.lrv), length.length(known.urv))
    });
    Some(Scale { range, low, high })
}

/// The site's year, where the register says how cold and how warm it gets and the formulas reach that far.
fn seasons(known: &Known) -> Option<Seasons> {
    let (coldest, warmest) = (known.coldest?, known.warmest?);
    let around = Surroundings::assumed(known.latitude, known.altitude).ok()?;
    Seasons::between(coldest.min(warmest), coldest.max(warmest), |at| {
        installed(known, &around, at).map(|installed| day(&installed))
    })
    .ok()
}

/// The mounting on its vessel at its working pressure, tank, line and fill all at one temperature: of the year only the
/// liquid's coldest and warmest are known, and what stands outdoors beside it goes with it.
pub(super) fn installed(
    known: &Known,
    around: &Surroundings,
    at: ThermodynamicTemperature,
) -> Result<Installed, MountingError> {
    let state = State { gauge: known.mounted.working, ..State::at(around, at) };
    known.mounted.mounting.install(&known.vessel(), &state)
}

/// What an installation presses.
pub(super) fn day(installed: &Installed) -> Day {
    Day {
        temperature: installed.state().tank,
        head: installed.standing_head(),
        gradient: installed.per_level(),
    }
}

impl LeftOver {
    /// Returns what is to be said of it: notes, and a warning where a year carries it beyond the tolerance.
    #[must_use]
    pub fn remarks(&self, known: &Known, show: &Show<'_>) -> Vec<Remark> {
        let mut said = Vec::new();
        if self.year.is_none() {
            let text = "How cold and how warm the liquid gets is not in the register (or lies outside what the formulas cover): \
                only today is judged.";
            said.push(Remark::note("after.year_unknown", text));
        }
        let Some(worst) = &self.worst else { return said };
        let where_ = format!(
            "at {} with the liquid at {}",
            show.length(worst.level),
            show.temperature(worst.day.temperature)
        );
        let (error, third) = (show.signed(worst.error), show.small(self.third));
        if worst.error.abs() > known.level.tolerance {
            said.push(Remark::warning(
                Claim::Nothing,
                "after.beyond_tolerance",
                format!("Over the year it will be off by up to {error}, beyond the tolerance: {where_}."),
                "Trim at a temperature nearer to the middle of the year, correct the range, or ask for a wider tolerance.",
            ));
        } else if worst.error.abs() > self.third {
            let text = format!(
                "Over the year it will be off by up to {error}, more than a third of the tolerance ({third}): {where_}."
            );
            said.push(Remark::note("after.beyond_third", text));
        }
        if let Some(best) = &self.best {
            let at = show.temperature(best.temperature);
            let (less, now) = (show.small(best.worst), show.small(worst.error.abs()));
            let halved = if best.worst <= worst.error.abs() * 0.5 { " That halves it." } else { "" };
            let text = format!(
                "A trim with the liquid at {at} would leave at most {less} over the year instead of {now}.{halved}"
            );
            said.push(Remark::note("after.best_trim", text));
        }
        said
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::length::{meter, millimeter};
    use uom::si::thermodynamic_temperature::degree_celsius;

    use super::*;
    use crate::ranging::{Action, Range};

    fn known() -> Known {
        let row = r#"{"tag":"LT-1","service":"tower","serial":"A1","unit":"m","riser":"9 m","riser_from":"tape",
            "site":{"name":"Cold Ash","latitude":"51","altitude":"120 m","liquid_temperature":"12 degC","lengths":"m"},
            "liquid":{"name":"water"},"span":"6 m","lrv":"0","urv":"6",
            "limits":{"lrl":"-2 bar","url":"3 bar","min_span":"0.1 bar","max_working":"6 bar","accuracy":"0.05 %",
            "zero_allowance":"2 mbar"},"tolerance":"48 mm","trim_rule":"true_at_zero","head_plan":"head_in_offset"}"#;
        Known::read(&serde_json::from_str(row).unwrap()).unwrap()
    }

    /// A year that is off by so much at its worst, and by so much after the best trim.
    fn left(error: Length, best: Option<Length>) -> LeftOver {
        let day = Day {
            temperature: ThermodynamicTemperature::new::<degree_celsius>(20.0),
            head: Pressure::default(),
            gradient: Gradient::CONVENTIONAL_WATER,
        };
        let metre = Gradient::CONVENTIONAL_WATER.pressure(Length::new::<meter>(1.0));
        let range = Range::new(Pressure::default(), metre * 6.0, Action::Direct).unwrap();
        let level = Length::new::<meter>(6.0);
        let temperature = ThermodynamicTemperature::new::<degree_celsius>(16.5);
        LeftOver {
            scale: Scale { range, low: Length::default(), high: level },
            trimmed: Trimmed { day, at_zero: Pressure::default() },
            points: Vec::new(),
            year: Some((day.temperature, day.temperature)),
            worst: Some(Worst { error, level, day }),
            best: best.map(|worst| BestTrim { temperature, worst }),
            corrected: None,
            third: known().level.tolerance / 3.0,
        }
    }

    fn said(left: &LeftOver) -> Vec<(String, String)> {
        let known = known();
        let said = left.remarks(&known, &Show::new(&known, Gradient::CONVENTIONAL_WATER));
        said.into_iter().map(|remark| (remark.code, remark.text)).collect()
    }

    /// A little more than a length.
    fn beyond(length: Length) -> Length {
        Length { value: length.value.next_up(), ..length }
    }

    #[test]
    fn only_what_is_beyond_a_third_is_noted_and_only_what_is_beyond_the_tolerance_warned() {
        let (all, third) = (known().level.tolerance, known().level.tolerance / 3.0);
        for (error, code) in [
            (third, None),
            (beyond(third), Some("after.beyond_third")),
            (all, Some("after.beyond_third")),
            (beyond(all), Some("after.beyond_tolerance")),
        ] {
            for error in [error, -error] {
                let said = said(&left(error, None));
                assert_eq!(said.first().map(|(code, _)| code.as_str()), code, "{error:?}");
                assert!(said.len() <= 1, "{said:?}");
            }
        }
        let (_, text) = &said(&left(-Length::new::<millimeter>(30.0), None))[0];
        assert_eq!(
            text,
            "Over the year it will be off by up to -30.0 mm, more than a third of the tolerance (16.0 mm): at 6.000 m with \
             the liquid at 20.0 degC."
        );
    }

    #[rstest]
    #[case::just_half(15.0, "at most 15.0 mm over the year instead of 30.0 mm. That halves it.")]
    #[case::more_than_half(15.1, "at most 15.1 mm over the year instead of 30.0 mm.")]
    fn another_trim_halves_it_or_does_not(#[case] best: f64, #[case] ends: &str) {
        let millimetres = Length::new::<millimeter>;
        let said = said(&left(-millimetres(30.0), Some(millimetres(best))));
        assert_eq!(
            said[1],
            ("after.best_trim".into(), format!("A trim with the liquid at 16.5 degC would leave {ends}"))
        );
    }
}
