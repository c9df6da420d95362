//! Steps that nobody told of: where the numbers change by more than they drift.

use uom::si::f64::Pressure;
use uom::si::pressure::pascal;

use super::line::{Line, Row, STEPS};
use crate::evidence::alarm::STEPS as STEPS_BY_CHANCE;
use crate::evidence::{beyond_by_chance, coverage_95};

/// Visits wanted on either side of a step.
const SIDE: usize = 2;

/// A step of the standing offset that no unit change and no move explains.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OffsetStep {
    /// The place of the first visit after it, from 0.
    pub before_visit: usize,
    /// By how much the offset stepped.
    pub size: Pressure,
    /// Standard uncertainty of that.
    pub standard: Pressure,
    /// Expanded uncertainty, 95 %.
    pub expanded: Pressure,
    /// How often chance alone makes such a step somewhere in a history that merely drifts, at most.
    pub chance: f64,
}

/// Visits up to which a step there and a step back are looked for together: the pairs grow with the square.
const PAIRS_UP_TO: usize = 40;

/// Returns the rows before which the line steps, in order.
pub(super) fn find(rows: &[Row]) -> Vec<usize> {
    let mut found = Vec::new();
    loop {
        let more = one_more(rows, &found).or_else(|| two_more(rows, &found));
        let Some(more) = more else { return found };
        found.extend(more);
        found.sort_unstable();
    }
}

/// Returns the likeliest further step, if the data allow one.
fn one_more(rows: &[Row], found: &[usize]) -> Option<Vec<usize>> {
    let places = places(rows.len(), found);
    likeliest(rows, found, places.iter().map(|place| vec![*place]).collect())
}

/// Returns the likeliest two further steps: up and down again, neither of which stands out while the other is
/// taken for scatter.
fn two_more(rows: &[Row], found: &[usize]) -> Option<Vec<usize>> {
    if rows.len() > PAIRS_UP_TO {
        return None;
    }
    let places = places(rows.len(), found);
    let pairs = places.iter().flat_map(|one| {
        let apart = move |two: &&usize| **two >= one + SIDE;
        places.iter().filter(apart).map(|two| vec![*one, *two])
    });
    likeliest(rows, found, pairs.collect())
}

/// Returns the candidate whose least plain step is plainest, if chance makes none as plain.
fn likeliest(rows: &[Row], found: &[usize], candidates: Vec<Vec<usize>>) -> Option<Vec<usize>> {
    let looked_at = candidates.len();
    let judged = candidates.into_iter().filter_map(|candidate| {
        let steps: Vec<usize> = found.iter().chain(&candidate).copied().collect();
        let line = Line::fit(rows, &steps)?;
        let chances = (found.len()..steps.len()).map(|nth| chance(&line, STEPS + nth, looked_at));
        Some((chances.fold(0.0, f64::max), candidate))
    });
    let least = judged.min_by(|one, two| one.0.total_cmp(&two.0));
    least.filter(|(chance, _)| *chance <= STEPS_BY_CHANCE).map(|(_, candidate)| candidate)
}

fn places(count: usize, found: &[usize]) -> Vec<usize> {
    (1..count).filter(|place| wide(count, found, *place)).collect()
}

/// Tells whether a step at this place leaves enough visits on either side of it.
fn wide(count: usize, found: &[usize], place: usize) -> bool {
    let edges = found.iter().copied().chain([0, count]);
    edges.into_iter().all(|edge| edge.abs_diff(place) >= SIDE)
}

/// Free residuals from which on a step must stand out from the scatter seen as well as from what was stated. Fewer
/// tell too little of the scatter: the stated uncertainties alone decide then, and where none are stated no step is
/// named, since four visits lie on two parallel lines easily.
const SCATTER_TELLS: usize = 4;

/// Returns how often chance makes a step as large, over all places looked at.
fn chance(line: &Line, at: usize, places: usize) -> f64 {
    let beyond = |(standard, freedom): (f64, f64)| beyond_by_chance(line.coefficient(at) / standard, freedom);
    let by_scatter = line.standard_by_scatter(at).filter(|_| line.free >= SCATTER_TELLS);
    if by_scatter.is_none() && !line.stated {
        return 1.0;
    }
    let chance = beyond(line.standard(at)).max(by_scatter.map_or(0.0, beyond));
    #[allow(clippy::cast_precision_loss)] // Visits to one instrument.
    let places = places as f64;
    (chance * places).min(1.0)
}

/// Returns the steps of a fitted line, as they are told.
pub(super) fn told(line: &Line, found: &[usize], rows: usize, since: usize) -> Vec<OffsetStep> {
    let told = found.iter().enumerate().map(|(nth, place)| {
        let (standard, freedom) = line.standard(STEPS + nth);
        let pa = Pressure::new::<pascal>;
        OffsetStep {
            before_visit: since + place,
            size: pa(line.coefficient(STEPS + nth)),
            standard: pa(standard),
            expanded: pa(coverage_95(freedom) * standard),
            chance: chance(line, STEPS + nth, rows.saturating_sub(2 * SIDE - 1)),
        }
    });
    told.collect()
}
