//! What a visit leaves over the span, in numbers for the record and lines for the working.

use uom::si::f64::{Length, Pressure};
use uom::si::length::meter;
use uom::si::pressure::pascal;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::advice::Shift;
use super::conditions::Conditions;
use super::left::Left;
use super::left_over::{LeftOver, PARTS, Standing, day, left_over, scale};
use super::{Advised, Choice, Draft, Key, Known, ResultKey, Show, Spot, WorkLine};
use crate::evidence::{Ask, LevelError, Reconciled, Solved};

/// The errors as found at each of [`PARTS`], with everything that riser, tank and evidence share counted once.
pub(super) fn found(
    known: &Known,
    conditions: &Conditions,
    ask: &Ask,
    solved: &Solved<'_>,
) -> Option<Vec<LevelError>> {
    let scale = scale(known, conditions.gradient)?;
    let levels = PARTS.map(|part| known.span * part);
    solved.over_span(ask, Pressure::default(), &scale, &levels).ok().flatten()
}

/// What is left over the span: as it was trimmed, as it is to be trimmed, or as it was found where it is left alone.
pub(super) fn after(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    shift: &Shift,
    left: &Left,
) -> Option<LeftOver> {
    if shift.advised == Advised::Blocked {
        return None;
    }
    let result = shift.result.as_deref()?;
    let today = day(&conditions.installed);
    let level = shift.level.filter(|_| shift.at_reference);
    let pressed = |level: Length| result.per_metre * level.get::<meter>();
    let at_zero =
        level.map_or_else(|| known.zero_reading(conditions.gradient), |level| result.to - pressed(level));
    let scale = scale(known, conditions.gradient)?;
    let as_pressure = |error: Length| if shift.at_reference { scale.pressure(error) } else { pressed(error) };
    let standing = Standing {
        today,
        at_zero,
        beside: beside(draft, shift, left).map_or_else(Pressure::default, as_pressure),
        true_at: level.unwrap_or_default(),
        found: shift.over_span.as_deref(),
    };
    left_over(known, conditions.gradient, &standing)
}

/// How far the display stands beside the mark: as left where it was trimmed, as found where it is not; none while the
/// trim is still to come.
fn beside(draft: &Draft, shift: &Shift, left: &Left) -> Option<Length> {
    let chosen = |key| draft.answers.choice(Spot::of(key));
    let error = match (chosen(Key::Decision), chosen(Key::TrimResult)) {
        (Some(Choice::Trim), Some(Choice::TrimTook)) => left.left.as_ref(),
        (Some(Choice::Trim), Some(Choice::PutBack)) | (Some(Choice::Leave), _) => left.found.as_ref(),
        (None, _) if shift.advised == Advised::DoNotAdjust => left.found.as_ref(),
        _ => None,
    };
    error.map(|error| error.value)
}

/// Returns the results for the record.
pub(super) fn results(left: &LeftOver) -> Vec<(ResultKey, f64, &'static str)> {
    let metres = |length: Length| length.get::<meter>();
    let mut lines = Vec::new();
    if let Some(worst) = &left.worst {
        lines.push((ResultKey::WorstError, metres(worst.error), "m"));
        lines.push((ResultKey::WorstAtLevel, metres(worst.level), "m"));
        lines.push((ResultKey::WorstAtTemperature, worst.day.temperature.get::<degree_celsius>(), "degC"));
    }
    if let Some(best) = &left.best {
        lines.push((ResultKey::BestTrimTemperature, best.temperature.get::<degree_celsius>(), "degC"));
        lines.push((ResultKey::BestTrimWorst, metres(best.worst), "m"));
    }
    if let Some(corrected) = &left.corrected {
        lines.push((ResultKey::CorrectedLrv, corrected.range.lrv().get::<pascal>(), "Pa"));
        lines.push((ResultKey::CorrectedUrv, corrected.range.urv().get::<pascal>(), "Pa"));
        lines.push((ResultKey::CorrectedWorst, metres(corrected.worst.error.abs()), "m"));
    }
    if let Some(full) = left.points.last() {
        lines.push((ResultKey::ErrorAtFull, metres(full.today), "m"));
        lines
            .extend(full.expanded.map(|expanded| (ResultKey::ErrorAtFullUncertainty, metres(expanded), "m")));
    }
    lines
}

/// Returns the lines of the working.
pub(super) fn working(show: &Show<'_>, left: &LeftOver, result: &Reconciled) -> Vec<WorkLine> {
    let line = |what: &str, how: String, value: String| WorkLine { what: what.to_owned(), how, value };
    let mut lines = Vec::new();
    if let Some(full) = left.points.last() {
        let display = left.trimmed.display(full.level, &left.trimmed.day);
        lines.push(line(
            "left over at 100 % today",
            format!(
                "display {} there, which LRV and URV make {}; the level is {}; a metre presses {}",
                show.reading(display),
                show.length(left.scale.seen(display)),
                show.length(full.level),
                show.reading(result.per_metre)
            ),
            show.signed(full.today),
        ));
    }
    if let (Some(worst), Some((coldest, warmest))) = (&left.worst, left.year) {
        let now = left.trimmed.day;
        lines.push(line(
            "worst over the year",
            format!(
                "{} to {}: at {} the standing head is {} of today's and a metre of tank {} of today's; level {}",
                show.temperature(coldest),
                show.temperature(warmest),
                show.temperature(worst.day.temperature),
                ratio_of(worst.day.head, now.head),
                ratio_of(per_metre(&worst.day), per_metre(&now)),
                show.length(worst.level)
            ),
            show.signed(worst.error),
        ));
    }
    if let Some(corrected) = &left.corrected {
        lines.push(line(
            "LRV and URV that would leave less",
            format!(
                "midway between the least and the most that the display reaches at either end over the year; at most {} is left then",
                show.small(corrected.worst.error.abs())
            ),
            format!("{} and {}", show.reading(corrected.range.lrv()), show.reading(corrected.range.urv())),
        ));
    }
    lines
}

fn per_metre(day: &crate::after::Day) -> Pressure {
    day.gradient.pressure(Length::new::<meter>(1.0))
}

fn ratio_of(one: Pressure, other: Pressure) -> String {
    if other.value.abs() < 1e-9 { "as much".to_owned() } else { format!("{:.5}", (one / other).value) }
}
