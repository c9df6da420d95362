//! The rows of a check as read.

use uom::si::electric_current::milliampere;
use uom::si::f64::{ElectricCurrent, Pressure, Ratio};
use uom::si::ratio::ratio;

use crate::ranging::Range;
use crate::ranging::five_point::{FivePointError, Point, Run};
use crate::visit::entries::Entries;
use crate::visit::{Draft, Key, Spot, Value};

/// Before or after the trim.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum When {
    /// As found.
    Found,
    /// As left.
    Left,
}

/// Under which keys the rows stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PointKeys {
    /// What was applied.
    pub applied: Key,
    /// What the display showed.
    pub display: Key,
    /// What the loop carried.
    pub current: Key,
}

impl When {
    /// Returns the keys of its rows.
    #[must_use]
    pub fn keys(self) -> PointKeys {
        match self {
            When::Found => PointKeys {
                applied: Key::CheckApplied,
                display: Key::CheckDisplay,
                current: Key::CheckCurrent,
            },
            When::Left => PointKeys {
                applied: Key::CheckAppliedLeft,
                display: Key::CheckDisplayLeft,
                current: Key::CheckCurrentLeft,
            },
        }
    }
}

/// Nobody takes more points: four times up and down.
pub(super) const MOST_ROWS: u32 = 40;

/// Returns the last row that holds anything.
pub(super) fn last_filled(draft: &Draft, when: When) -> Option<u32> {
    let keys = when.keys();
    let filled = |row: &u32| {
        [keys.applied, keys.display, keys.current]
            .into_iter()
            .any(|key| draft.answers.get(Spot::row(key, *row)).is_some())
    };
    (0..MOST_ROWS).filter(filled).max()
}

/// One row of a check.
#[derive(Debug, Clone, PartialEq)]
pub struct PointRow {
    /// Its row in the answers.
    pub row: u32,
    /// What the usual walk up and down applies next, as part of the span; none where that walk is done.
    pub wanted: Option<Ratio>,
    /// Which way it goes.
    pub run: Run,
    /// What was applied, as part of the span; none while it is empty or cannot be told.
    pub applied: Option<Ratio>,
    /// Why what was applied makes no point; none where it makes one.
    pub outside: Option<FivePointError>,
    /// What should have been shown.
    pub due: Option<Pressure>,
    /// The point the display makes, or why it makes none.
    pub display: Option<Result<Point, FivePointError>>,
    /// The point the current makes, or why it makes none.
    pub current: Option<Result<Point, FivePointError>>,
    /// True where something stands in it.
    pub filled: bool,
}

/// Reads the rows: `due` tells what should be shown for what was applied.
pub(super) fn rows(
    draft: &Draft,
    entries: &Entries,
    range: &Range,
    when: When,
    due: impl Fn(Pressure) -> Option<Pressure>,
) -> Vec<PointRow> {
    let keys = when.keys();
    let mut walk = Walk::default();
    let last = last_filled(draft, when).map_or(0, |last| last + 1);
    let read = |key, row| entries.reading(Spot::row(key, row)).map(|(reading, _)| reading);
    let row = |row| {
        let wanted = walk.wanted();
        let due = read(keys.applied, row).and_then(&due);
        let part = due.map(|due| range.fraction(due));
        let outside = part.and_then(|part| Point::new(Run::Up, part, part).err());
        let applied = part.filter(|_| outside.is_none());
        let run = match applied {
            Some(applied) => walk.goes_to(applied),
            None => walk.next_run(),
        };
        let due = due.filter(|_| outside.is_none());
        let display = due.zip(read(keys.display, row));
        let display = display.map(|(due, shown)| Point::by_display(range, run, due, shown));
        let current = due.zip(current(entries, keys.current, row));
        let current = current.map(|(due, shown)| Point::by_current(range, run, due, shown));
        let filled = row < last;
        PointRow { row, wanted, run, applied, outside, due, display, current, filled }
    };
    (0..(last + 1).min(MOST_ROWS)).map(row).collect()
}

fn current(entries: &Entries, key: Key, row: u32) -> Option<ElectricCurrent> {
    match entries.at(Spot::row(key, row))?.value {
        Some(Value::Current(current)) => Some(ElectricCurrent::new::<milliampere>(current)),
        _ => None,
    }
}

/// The walk up and down the range: 0, 25, 50, 75, 100 and back.
#[derive(Default)]
struct Walk {
    applied: Vec<Ratio>,
}

impl Walk {
    fn last(&self) -> Option<(Run, i8)> {
        let run = *Run::of_each(&self.applied).last()?;
        #[allow(clippy::cast_possible_truncation)] // Held to 0..=4.
        let place = libm::round(self.applied.last()?.get::<ratio>() * 4.0).clamp(0.0, 4.0) as i8;
        Some((run, place))
    }

    fn wanted(&self) -> Option<Ratio> {
        let place = match self.last() {
            None => 0,
            Some((Run::Up, 4)) => 3,
            Some((Run::Up, place)) => place + 1,
            Some((Run::Down, 0)) => return None,
            Some((Run::Down, place)) => place - 1,
        };
        Some(Ratio::new::<ratio>(f64::from(place) / 4.0))
    }

    /// The way the next point of the usual walk goes.
    fn next_run(&self) -> Run {
        match self.last() {
            Some((Run::Up, 4)) => Run::Down,
            Some((Run::Down, 0)) | None => Run::Up,
            Some((run, _)) => run,
        }
    }

    fn goes_to(&mut self, applied: Ratio) -> Run {
        self.applied.push(applied);
        self.last().map_or(Run::Up, |(run, _)| run)
    }
}
