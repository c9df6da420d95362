//! How fast the level moves, and where it has got to since it was read.
//!
//! A series of readings tells a rate, and so does each reference that has a display reading before and after it. The latest
//! that moves beyond doubt counts, until one after it stands where it should have moved.

use uom::si::f64::{Length, Time};
use uom::si::time::{minute, second};

use super::conditions::Conditions;
use super::entries::Entries;
use super::{Claim, Draft, Key, Moment, Piece, Remark, Spot, Timing, series, usual};
use crate::evidence::{Bracket, Moved, Rate, Series};
use crate::head::Gradient;

/// Returns the display before and after a piece of evidence, with when the second was read; none where only one was.
pub(super) fn bracket(
    draft: &Draft,
    entries: &Entries,
    gradient: Gradient,
    scatter: Length,
    piece: &Piece,
) -> Option<(Bracket, Moment)> {
    let read = |key| {
        let spot = Spot::piece(piece.id, key, 0);
        Some((entries.reading(spot)?, draft.answers.get(spot)?.at))
    };
    let ((before, step_before), from) = read(Key::ReadingBefore)?;
    let ((after, step_after), to) = read(Key::ReadingAfter)?;
    let digits = [step_before, step_after].map(|step| gradient.length(step));
    let change = gradient.length(after - before);
    Some((Bracket { change, digits, scatter, apart: between(from, to) }, to))
}

/// Returns what one display reading scatters by, where there is a series of them.
pub(super) fn scatter(series: Option<&Series>, gradient: Gradient) -> Length {
    series.map_or_else(Length::default, |series| gradient.length(series.deviation))
}

/// Returns how fast the level moves before the trim; none where it may as well stand.
pub(super) fn rate(
    draft: &Draft,
    conditions: &Conditions,
    entries: &Entries,
    of_series: Option<&Series>,
) -> Option<Rate> {
    let gradient = conditions.gradient;
    let scatter = scatter(of_series, gradient);
    let pieces = draft.pieces.iter().filter(|piece| piece.timing == Timing::Before);
    let mut brackets: Vec<(Bracket, Moment)> =
        pieces.filter_map(|piece| bracket(draft, entries, gradient, scatter, piece)).collect();
    brackets.sort_by_key(|(_, to)| *to);
    let by_series = of_series.and_then(|series| series::rate(series, conditions));
    brackets.iter().fold(by_series, |so_far, (bracket, _)| {
        bracket.rate().or_else(|| so_far.filter(|rate| !bracket.denies(rate)))
    })
}

/// Returns where the level has got to from one moment to another; nowhere where no rate is known.
pub(super) fn since(rate: Option<Rate>, from: Option<Moment>, to: Option<Moment>) -> Moved {
    let (Some(rate), Some(from), Some(to)) = (rate, from, to) else { return Moved::default() };
    rate.over(between(from, to), usual::followed())
}

/// Says that a rate is too old to be followed on, and what to do about it.
pub(super) fn read_again(moved: &Moved, remedy: &str) -> Option<Remark> {
    moved.too_long.then(|| {
        let text = format!(
            "The level moves, and its rate was measured more than {:.0} minutes before: the target follows it no further, and is \
             less sure with every minute.",
            usual::followed().get::<minute>()
        );
        Remark::warning(Claim::Nothing, "target.read_again", text, remedy)
    })
}

fn between(from: Moment, to: Moment) -> Time {
    #[allow(clippy::cast_precision_loss)] // Milliseconds of a visit.
    Time::new::<second>((to.0 - from.0) as f64 / 1000.0)
}
