//! What the rows of a check come to.

use uom::si::electric_current::milliampere;
use uom::si::f64::{Pressure, Ratio};
use uom::si::ratio::ratio;

use super::asks::{applied_unit, at_hand, trimmed};
use super::rows::{PointRow, When, rows};
use crate::head::Gradient;
use crate::quantity::print_decimal;
use crate::ranging::Range;
use crate::ranging::five_point::{Findings, FivePointError, Judgement, Point, Quality, findings, judge};
use crate::visit::advice::Shift;
use crate::visit::conditions::Conditions;
use crate::visit::entries::Entries;
use crate::visit::levels::milliamperes;
use crate::visit::recorded::recorded;
use crate::visit::{Choice, Draft, Key, Known, Spot, Value};

/// What was checked by one of the two: by the display or by the loop current.
#[derive(Debug, Clone, PartialEq)]
pub struct Checked {
    /// True for the loop current, false for the display.
    pub by_current: bool,
    /// What was found.
    pub findings: Findings,
    /// What it is judged by; none where the source is not known yet.
    pub quality: Option<Quality>,
    /// How it was judged, or why it cannot be; none where the source is not known yet.
    pub judgement: Option<Result<Judgement, FivePointError>>,
}

/// A check as found or as left.
#[derive(Debug, Clone, PartialEq)]
pub struct FivePoint {
    /// As found or as left.
    pub when: When,
    /// Its rows, with one empty row at the end.
    pub rows: Vec<PointRow>,
    /// What was found, by the display and by the loop current, where there is anything.
    pub checks: Vec<Checked>,
    /// What stands between an applied pressure and what should be shown; none where it is not known.
    pub offset: Option<Pressure>,
    /// The range it was made on.
    pub range: Range,
}

/// Works out a check, where there is one.
pub(in crate::visit) fn checked(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    shift: &Shift,
    when: When,
) -> Option<FivePoint> {
    if !at_hand(draft) || (when == When::Left && !trimmed(draft)) {
        return None;
    }
    let range = known.range(conditions.gradient)?;
    let offset = offset(draft, known, conditions, entries, shift, when);
    let rows = rows(draft, entries, &range, when, |applied| Some(applied + offset?));
    let bench = Bench { known, conditions, entries, range, when };
    let checks = [false, true].into_iter().filter_map(|by_current| bench.check(&rows, by_current)).collect();
    Some(FivePoint { when, rows, checks, offset, range })
}

/// What is added to an applied value to give what should be shown: nothing for a simulated level, the offset in force
/// for a pressure on the sensor.
pub(super) fn offset(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    shift: &Shift,
    when: When,
) -> Option<Pressure> {
    match draft.answers.choice(Spot::of(Key::AppliedAs))? {
        Choice::SimulatedLevel => Some(Pressure::default()),
        _ if when == When::Left => Some(shift.result.as_ref()?.total.as_ref()?.value),
        _ => carried(draft, known, conditions, entries),
    }
}

fn carried(draft: &Draft, known: &Known, conditions: &Conditions, entries: &Entries) -> Option<Pressure> {
    let typed = entries.reading(Spot::of(Key::OffsetValue)).map(|(value, _)| value);
    match draft.answers.choice(Spot::of(Key::OffsetKnown))? {
        Choice::OffsetReadToday => typed,
        Choice::OffsetClearedToday => Some(Pressure::default()),
        Choice::OffsetFromRecord => {
            typed.or_else(|| Some(recorded(draft, known, conditions.gradient)?.value))
        }
        _ => None,
    }
}

impl FivePoint {
    /// Returns what the usual walk applies in a row, in the unit applied values are written in, with its symbol.
    #[must_use]
    pub fn to_apply(&self, draft: &Draft, liquid: Gradient, row: &PointRow) -> Option<(String, String)> {
        let part = row.wanted?.get::<ratio>();
        let due = self.range.lrv() + (self.range.urv() - self.range.lrv()) * part;
        let unit = applied_unit(draft)?;
        let number = unit.reading(due - self.offset?, liquid);
        Some((print_decimal(number, unit.places()), unit.symbol()))
    }
}

struct Bench<'a> {
    known: &'a Known,
    conditions: &'a Conditions,
    entries: &'a Entries,
    range: Range,
    when: When,
}

impl Bench<'_> {
    fn check(&self, rows: &[PointRow], by_current: bool) -> Option<Checked> {
        let taken = rows
            .iter()
            .filter_map(|row| if by_current { row.current.as_ref() } else { row.display.as_ref() });
        let points: Vec<Point> = taken.filter_map(|point| point.as_ref().ok()).copied().collect();
        let findings = findings(&points).ok()?;
        let quality = self.quality(by_current);
        let judgement = quality.map(|quality| judge(&findings, &quality));
        Some(Checked { by_current, findings, quality, judgement })
    }

    fn quality(&self, by_current: bool) -> Option<Quality> {
        let part = |pressure: Pressure| pressure / self.range.span();
        let source = self.entries.reading(Spot::of(Key::SourceUncertainty))?.0;
        let tolerance = self.conditions.gradient.pressure(self.known.level.tolerance);
        let meter = self.entries.number(Key::MeterUncertainty).filter(|_| by_current);
        Some(Quality {
            tolerance: part(tolerance),
            source: part(source),
            meter: meter.filter(|meter| *meter > 0.0).map(|meter| Ratio::new::<ratio>(meter / LOOP)),
            digit: self.digit(by_current),
        })
    }

    /// The finest digit that was written: who writes 6.5 on a display of hundredths left a nought out.
    fn digit(&self, by_current: bool) -> Ratio {
        let keys = self.when.keys();
        let key = if by_current { keys.current } else { keys.display };
        let written = self.entries.iter().filter(|(spot, _)| spot.key == key);
        let steps = written.filter_map(|(_, entry)| match entry.value? {
            Value::Current(_) => Some(milliamperes(entry.resolution).get::<milliampere>() / LOOP),
            Value::Reading { .. } => Some(entry.resolution / self.range.span().value),
            _ => None,
        });
        Ratio::new::<ratio>(steps.reduce(f64::min).unwrap_or(0.0))
    }
}

/// The loop from end to end, mA.
const LOOP: f64 = 16.0;
