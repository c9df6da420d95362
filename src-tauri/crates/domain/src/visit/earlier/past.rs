//! The earlier visits together: drift, steps, and when to come back.

use uom::si::f64::{Length, Pressure, Ratio, Time};
use uom::si::length::meter;
use uom::si::ratio::ratio;
use uom::si::time::day;

use super::{KnownEarlier, usable::differs};
use crate::head::Gradient;
use crate::history::{
    Act, Drift, Fresh, History, Months, NextInterval, NotJudged, Seen, Staircase, at_common_density, look,
};
use crate::visit::Known;

/// One visit of the past, brought to the common density.
#[derive(Debug, Clone, PartialEq)]
pub struct PastVisit {
    /// The day as written.
    pub date: String,
    /// The day, counted from 1970-01-01.
    pub day: i64,
    /// The standing offset at the common density with its standard uncertainty.
    pub offset: Option<(Pressure, Pressure)>,
    /// What the unit was left with.
    pub left: Option<Pressure>,
    /// Error as found.
    pub error: Option<Length>,
    /// The tolerance it was judged by.
    pub tolerance: Length,
    /// Serial number.
    pub serial: String,
    /// It belongs to the present run of the history: same unit, same place.
    pub current: bool,
}

/// When to come back.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The interval in force.
    pub interval: Months,
    /// What the staircase makes of it.
    pub next: NextInterval,
    /// The day it is due, counted from 1970-01-01: the interval's end, or the day before which drift reaches the
    /// tolerance where that comes first.
    pub due: i64,
    /// The day on which the drift reaches the tolerance, where a drift shows.
    pub reaches: Option<i64>,
}

impl Plan {
    /// Tells whether the drift brings the next visit forward.
    #[must_use]
    pub fn by_drift(&self) -> bool {
        self.reaches == Some(self.due)
    }
}

/// An instrument's past.
#[derive(Debug, Clone, PartialEq)]
pub struct Past {
    /// Its visits, in the order they were made.
    pub visits: Vec<PastVisit>,
    /// Drift and steps of the visits that hold a standing offset; places count those visits only.
    pub history: History,
    /// When to come back, or why that is not said.
    pub plan: Result<Plan, NotJudged>,
    /// The gradient that offsets were brought to.
    pub common: Gradient,
}

impl Past {
    /// Looks at earlier visits, and at today's behind them if there is one.
    #[must_use]
    pub fn of(known: &Known, today: Option<&KnownEarlier>, common: Gradient) -> Past {
        let all: Vec<&KnownEarlier> = known.earlier.iter().chain(today).collect();
        let mut visits: Vec<PastVisit> = all.iter().map(|visit| brought(visit, known, common)).collect();
        let (places, seen): (Vec<usize>, Vec<Seen>) = seen(&visits, &all).into_iter().unzip();
        let present = all.last().map_or("", |visit| visit.serial.as_str());
        let present = if today.is_some() && !present.is_empty() { present } else { &known.serial };
        // A unit of which no visit holds an offset yet has no history, whatever the one before it had.
        let is_new = seen.last().is_some_and(|last| differs(&last.serial, present));
        let history = if is_new { none_yet(seen.len()) } else { look(&seen) };
        let since = places.get(history.since).copied().unwrap_or(usize::MAX);
        visits.iter_mut().enumerate().for_each(|(place, visit)| visit.current = place >= since);
        let plan = plan(&visits, known, &history, common);
        Past { visits, history, plan, common }
    }

    /// Returns the visit that a place of the history names.
    #[must_use]
    pub fn visit(&self, place: usize) -> Option<&PastVisit> {
        self.visits.iter().filter(|visit| visit.offset.is_some()).nth(place)
    }

    /// Returns how many visits the drift rests on.
    #[must_use]
    pub fn used(&self) -> usize {
        self.visits.iter().filter(|visit| visit.current && visit.offset.is_some()).count()
    }

    /// Returns the drift, where one was judged.
    #[must_use]
    pub fn drift(&self) -> Option<&Drift> {
        self.history.drift.as_ref().ok()
    }
}

/// The history of a unit of which nothing is known, behind those that there were before it.
fn none_yet(since: usize) -> History {
    History { since, fresh: Some(Fresh::UnitChanged), drift: Err(NotJudged::NoVisits), steps: Vec::new() }
}

fn brought(visit: &KnownEarlier, known: &Known, common: Gradient) -> PastVisit {
    let offset = visit.standing.map(|standing| {
        let offset = at_common_density(standing.offset, known.riser, standing.gradient, common);
        (offset, standing.standard)
    });
    PastVisit {
        date: visit.date.clone(),
        day: visit.day,
        offset,
        left: visit.left,
        error: visit.error,
        tolerance: visit.tolerance.unwrap_or(known.level.tolerance),
        serial: visit.serial.clone(),
        current: false,
    }
}

fn at(days: i64) -> Time {
    #[allow(clippy::cast_precision_loss)] // Days of the calendar.
    Time::new::<day>(days as f64)
}

/// A move is remembered until the next visit that holds an offset.
fn seen(visits: &[PastVisit], all: &[&KnownEarlier]) -> Vec<(usize, Seen)> {
    let mut moved = false;
    let mut seen = Vec::new();
    for (place, (visit, earlier)) in visits.iter().zip(all).enumerate() {
        moved |= earlier.moved;
        if let Some((offset, standard)) = visit.offset {
            let serial = visit.serial.chars().filter(|c| c.is_alphanumeric()).collect();
            seen.push((place, Seen { at: at(visit.day), offset, standard: Some(standard), serial, moved }));
            moved = false;
        }
    }
    seen
}

fn plan(visits: &[PastVisit], known: &Known, history: &History, common: Gradient) -> Result<Plan, NotJudged> {
    let last = visits.last().ok_or(NotJudged::NoVisits)?;
    // The staircase climbs by what one unit did over one interval: it begins anew with another, and with a move.
    let anew = history.fresh.is_some();
    let before = visits.iter().rev().nth(1).filter(|before| !anew || before.current);
    if anew && before.is_none() {
        return begun(known, last);
    }
    #[allow(clippy::cast_precision_loss)] // Days of the calendar.
    let since = before.map(|before| Months::of_days((last.day - before.day) as f64));
    let interval = known.interval.or(since.filter(|since| since.0 > 0.0)).ok_or(NotJudged::NoInterval)?;
    let error = last.error.ok_or(NotJudged::NoError)?;
    let part = error.get::<meter>() / last.tolerance.get::<meter>();
    let next = Staircase::default().next(interval, Ratio::new::<ratio>(part))?;
    #[allow(clippy::cast_possible_truncation)] // Whole days.
    let stairs = last.day + next.next.days() as i64;
    let reaches = history.drift.as_ref().ok().and_then(|drift| reaches(drift, last, common));
    let due = reaches.map_or(stairs, |reaches| reaches.min(stairs));
    Ok(Plan { interval, next, due, reaches })
}

/// The plan after the first visit to a unit: the interval in force, which nothing has spoken for or against yet.
fn begun(known: &Known, last: &PastVisit) -> Result<Plan, NotJudged> {
    if !last.current {
        return Err(NotJudged::NoVisits);
    }
    let interval = known.interval.ok_or(NotJudged::NoInterval)?;
    let next = NextInterval { ratio: Ratio::default(), act: Act::Begin, next: interval };
    #[allow(clippy::cast_possible_truncation)] // Whole days.
    Ok(Plan { interval, next, due: last.day + interval.days() as i64, reaches: None })
}

/// The day on which a drift that shows takes the unit out of tolerance, not before the last visit.
fn reaches(drift: &Drift, last: &PastVisit, common: Gradient) -> Option<i64> {
    if !drift.shows() {
        return None;
    }
    let held = last.left.unwrap_or_else(|| drift.value_at(at(last.day)));
    let time = drift.crosses(held, common.pressure(last.tolerance))?.get::<day>();
    #[allow(clippy::cast_possible_truncation)] // Saturates, and is bounded below.
    Some((libm::floor(time) as i64).max(last.day))
}
