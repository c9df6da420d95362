//! The display read several times in a row.

use uom::si::f64::{Pressure, Time};
use uom::si::time::{minute, second};

use super::asks::{Ask, Takes};
use super::conditions::Conditions;
use super::entries::Entries;
use super::{Choice, Claim, Draft, Key, Known, Moment, Remark, Show, Spot};
use crate::evidence::{Rate, Series};

/// More than anybody reads off a display by hand.
const MOST: u32 = 1000;

/// Asks for the display again, once it was read; one empty row follows the last one filled.
pub(super) fn asks(draft: &Draft) -> Vec<Ask> {
    if draft.answers.get(Spot::of(Key::Display)).is_none() {
        return Vec::new();
    }
    let rows = repeats(draft).map(|(spot, _)| spot.row + 1).max().unwrap_or_default();
    (0..=rows)
        .take(MOST as usize)
        .map(|row| Ask::may(Spot::row(Key::DisplayRepeat, row), Takes::Reading))
        .collect()
}

fn repeats(draft: &Draft) -> impl Iterator<Item = (Spot, Moment)> + '_ {
    let filled = draft.answers.iter().filter(|(spot, answer)| {
        spot.key == Key::DisplayRepeat && spot.row < MOST && !answer.text.trim().is_empty()
    });
    filled.map(|(spot, answer)| (spot, answer.at))
}

/// Returns the reading that stands for the visit and the repeats made after it, as one; none without repeats.
pub(super) fn taken(draft: &Draft, entries: &Entries, standing: Spot) -> Option<Series> {
    let first = draft.answers.get(standing)?.at;
    let (pressure, step) = entries.reading(standing)?;
    let since = |at: Moment| {
        #[allow(clippy::cast_precision_loss)] // Milliseconds of a visit.
        Time::new::<second>((at.0 - first.0) as f64 / 1000.0)
    };
    let mut readings = vec![(since(first), pressure)];
    let later = repeats(draft).filter(|(_, at)| *at >= first);
    readings.extend(later.filter_map(|(spot, at)| Some((since(at), entries.reading(spot)?.0))));
    let damping = Time::new::<second>(entries.number(Key::Damping).unwrap_or_default());
    Series::of(&readings, step, damping).ok()
}

/// Returns the spot of the reading that the trim starts from, as found.
pub(super) fn standing(draft: &Draft, entries: &Entries) -> Spot {
    if draft.answers.choice(Spot::of(Key::OffsetKnown)) == Some(Choice::OffsetClearedToday) {
        return Spot::of(Key::DisplayCleared);
    }
    let bled = Spot::of(Key::DisplayAfterBleed);
    if entries.reading(bled).is_some() { bled } else { Spot::of(Key::Display) }
}

/// Returns how fast the level moves by a series that moves beyond doubt.
pub(super) fn rate(series: &Series, conditions: &Conditions) -> Option<Rate> {
    let drift = series.drift.filter(|_| series.moves)?;
    let one = Time::new::<second>(1.0);
    let length = |pressure| conditions.gradient.length(pressure);
    Some(Rate::a_second(length(drift.over(one)), length(drift.standard_over(one))))
}

/// Says what the series shows.
pub(super) fn remarks(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
) -> Vec<Remark> {
    let Some(series) = taken(draft, entries, standing(draft, entries)) else { return Vec::new() };
    let show = Show::new(known, conditions.gradient);
    let scatter = format!(
        "{} readings: {}, scatter {} (standard deviation of one)",
        series.count,
        show.reading(series.value),
        show.uncertainty(series.deviation)
    );
    let mut said: Vec<Remark> = surges(&series, &show).into_iter().collect();
    let per_minute = series.drift.map(|drift| drift.over(Time::new::<minute>(1.0)));
    said.push(if series.moves {
        let drift = show.change(per_minute.unwrap_or_else(Pressure::default));
        Remark::warning(
            Claim::Nothing,
            "series.moves",
            format!("{scatter}; the display moves by {drift} a minute."),
            "Stop the flow if you may. A dip is carried to the time of the reading, and less sure for it: read, dip three times, read.",
        )
    } else {
        Remark::note("series.still", format!("{scatter}; it stands still."))
    });
    said
}

/// Says which readings stood out, and what was made of them.
fn surges(series: &Series, show: &Show<'_>) -> Option<Remark> {
    if series.spikes == 0 {
        return None;
    }
    let taken = if series.moves {
        "They are left out of the line through the others."
    } else {
        "The median of all stands for the visit, not the mean."
    };
    let stand = if series.spikes == 1 { "1 stands" } else { &format!("{} stand", series.spikes) };
    Some(Remark::warning(
        Claim::Nothing,
        "series.surges",
        format!(
            "Of {} readings {stand} out, the furthest by {}: surges, it seems. {taken}",
            series.count,
            show.change(series.furthest)
        ),
        "Ask the control room what started or stopped (a pump, a valve, a booster) and note it; read again when it is quiet.",
    ))
}
