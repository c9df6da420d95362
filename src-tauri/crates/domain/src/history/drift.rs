//! Drift: a line through the visits since the history last started anew.

use uom::si::f64::{Pressure, Time};
use uom::si::pressure::pascal;
use uom::si::time::second;

use super::line::{Line, Row, SLOPE, START, STEPS};
use super::{Fresh, NotJudged, OffsetStep, Seen, steps};
use crate::evidence::coverage_95;

/// Seconds in a year of 365.25 days.
const YEAR: f64 = 31_557_600.0;

/// How the standing offset drifts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drift {
    /// Change of the standing offset in one year.
    pub per_year: Pressure,
    /// Its standard uncertainty.
    pub standard: Pressure,
    /// Its expanded uncertainty, 95 %.
    pub expanded: Pressure,
    /// Coverage factor.
    pub coverage: f64,
    /// Effective degrees of freedom; may be infinite.
    pub freedom: f64,
    /// Standard deviation of the visits about the line; none where the line passes through all of them.
    pub scatter: Option<Pressure>,
    /// The first visit that the line was laid through.
    from: Time,
    /// Where the line stood then, on the level it has now that all steps are past.
    start: Pressure,
}

/// An instrument over its visits.
#[derive(Debug, Clone, PartialEq)]
pub struct History {
    /// The place of the visit that the present history starts with, from 0.
    pub since: usize,
    /// Why it starts there; none where it starts with the first visit known.
    pub fresh: Option<Fresh>,
    /// The drift, or why nothing is said of it.
    pub drift: Result<Drift, NotJudged>,
    /// Steps that nothing explains.
    pub steps: Vec<OffsetStep>,
}

/// Looks at an instrument's visits, given in the order in which they were made.
#[must_use]
pub fn look(visits: &[Seen]) -> History {
    let (since, fresh) = start(visits);
    let run = visits.get(since..).unwrap_or_default();
    match rows(run, since) {
        Ok(rows) => laid(run, &rows, since, fresh),
        Err(why) => History { since, fresh, drift: Err(why), steps: Vec::new() },
    }
}

/// Finds the last visit at which the history starts anew.
fn start(visits: &[Seen]) -> (usize, Option<Fresh>) {
    let (mut since, mut why, mut serial) = (0, None, "");
    for (place, visit) in visits.iter().enumerate() {
        if place > 0
            && let Some(fresh) = visit.fresh(serial)
        {
            (since, why) = (place, Some(fresh));
        }
        if !visit.serial.trim().is_empty() {
            serial = &visit.serial;
        }
    }
    (since, why)
}

/// Returns the rows of a run, or what is wrong with it.
fn rows(run: &[Seen], since: usize) -> Result<Vec<Row>, NotJudged> {
    let first = match run {
        [] => return Err(NotJudged::NoVisits),
        [first, ..] => first.at.get::<second>(),
    };
    let row = |visit: &Seen| Row {
        time: (visit.at.get::<second>() - first) / YEAR,
        value: visit.offset.get::<pascal>(),
        standard: visit.standard.map(|standard| standard.get::<pascal>()),
    };
    let rows: Vec<Row> = run.iter().map(row).collect();
    let usable = |row: &Row| {
        row.time.is_finite()
            && row.value.is_finite()
            && row.standard.is_none_or(|standard| standard > 0.0 && standard.is_finite())
    };
    if let Some(bad) = rows.iter().position(|row| !usable(row)) {
        return Err(NotJudged::NotANumber { place: since + bad + 1 });
    }
    let before = rows.iter().zip(rows.iter().skip(1)).position(|(one, next)| next.time < one.time);
    if let Some(before) = before {
        return Err(NotJudged::OutOfOrder { place: since + before + 2 });
    }
    enough(&rows, since)?;
    Ok(rows)
}

fn enough(rows: &[Row], since: usize) -> Result<(), NotJudged> {
    let stated = rows.iter().filter(|row| row.standard.is_some()).count();
    match rows {
        [] => return Err(NotJudged::NoVisits),
        [_] => return Err(NotJudged::OneVisit),
        [first, rest @ ..] if rest.iter().all(|row| row.time <= first.time) => {
            return Err(NotJudged::OneTime);
        }
        [_, _] if stated == 0 => return Err(NotJudged::NoScatter),
        _ => {}
    }
    match rows.iter().position(|row| row.standard.is_none()) {
        Some(place) if stated > 0 => Err(NotJudged::NoUncertainty { place: since + place + 1 }),
        _ => Ok(()),
    }
}

fn laid(run: &[Seen], rows: &[Row], since: usize, fresh: Option<Fresh>) -> History {
    let found = steps::find(rows);
    let none = || History { since, fresh, drift: Err(NotJudged::TooClose), steps: Vec::new() };
    let (Some(line), Some(first)) = (Line::fit(rows, &found), run.first()) else { return none() };
    let pa = Pressure::new::<pascal>;
    let (standard, freedom) = line.standard(SLOPE);
    let coverage = coverage_95(freedom);
    let stepped: f64 = (0..found.len()).map(|nth| line.coefficient(STEPS + nth)).sum();
    let drift = Drift {
        per_year: pa(line.coefficient(SLOPE)),
        standard: pa(standard),
        expanded: pa(coverage * standard),
        coverage,
        freedom,
        scatter: line.scatter.map(pa),
        from: first.at,
        start: pa(line.coefficient(START) + stepped),
    };
    History { since, fresh, drift: Ok(drift), steps: steps::told(&line, &found, rows.len(), since) }
}

impl Drift {
    /// Tells whether the drift exceeds its expanded uncertainty, so that its sign at least is known.
    #[must_use]
    pub fn shows(&self) -> bool {
        self.per_year.abs() > self.expanded
    }

    /// Returns where the line stands at a time, on its present level.
    #[must_use]
    pub fn value_at(&self, at: Time) -> Pressure {
        self.start + self.per_year * ((at - self.from).get::<second>() / YEAR)
    }

    /// Returns when the line is a limit away from an offset that is held, on the side it drifts to; the time may be
    /// past. `None` where the line is level or the limit not positive.
    #[must_use]
    pub fn crosses(&self, held: Pressure, limit: Pressure) -> Option<Time> {
        let slope = self.per_year.get::<pascal>();
        let edge = if slope > 0.0 { held + limit } else { held - limit };
        let years = (edge - self.start).get::<pascal>() / slope;
        let usable = slope.abs() > 0.0 && limit.get::<pascal>() > 0.0 && years.is_finite();
        usable.then(|| self.from + Time::new::<second>(years * YEAR))
    }
}
