//! The numbers of a check, as signed records hold them.

use uom::si::f64::Ratio;
use uom::si::ratio::percent;

use super::checked::{Checked, FivePoint};
use super::rows::When;
use crate::visit::ResultKey;

/// Zero, span, hysteresis, worst, verdict.
type Keys = [ResultKey; 5];

/// Returns what a check came to: which number, its value and unit.
pub(in crate::visit) fn results(check: &FivePoint) -> Vec<(ResultKey, f64, &'static str)> {
    check.checks.iter().flat_map(|checked| one(keys(check.when, checked.by_current), checked)).collect()
}

fn one(
    [zero, span, hysteresis, worst, verdict]: Keys,
    checked: &Checked,
) -> Vec<(ResultKey, f64, &'static str)> {
    let found = &checked.findings;
    let parts: [(ResultKey, Option<Ratio>); 4] = [
        (zero, found.zero),
        (span, found.span),
        (hysteresis, found.hysteresis.map(|hysteresis| hysteresis.size)),
        (worst, Some(found.worst.error())),
    ];
    let parts = parts.into_iter().filter_map(|(key, part)| Some((key, part?.get::<percent>(), "%")));
    parts.chain([(verdict, checked.verdict_number(), "1")]).collect()
}

fn keys(when: When, by_current: bool) -> Keys {
    match (when, by_current) {
        (When::Found, false) => [
            ResultKey::CheckFoundZero,
            ResultKey::CheckFoundSpan,
            ResultKey::CheckFoundHysteresis,
            ResultKey::CheckFoundWorst,
            ResultKey::CheckFoundVerdict,
        ],
        (When::Found, true) => [
            ResultKey::CheckFoundCurrentZero,
            ResultKey::CheckFoundCurrentSpan,
            ResultKey::CheckFoundCurrentHysteresis,
            ResultKey::CheckFoundCurrentWorst,
            ResultKey::CheckFoundCurrentVerdict,
        ],
        (When::Left, false) => [
            ResultKey::CheckLeftZero,
            ResultKey::CheckLeftSpan,
            ResultKey::CheckLeftHysteresis,
            ResultKey::CheckLeftWorst,
            ResultKey::CheckLeftVerdict,
        ],
        (When::Left, true) => [
            ResultKey::CheckLeftCurrentZero,
            ResultKey::CheckLeftCurrentSpan,
            ResultKey::CheckLeftCurrentHysteresis,
            ResultKey::CheckLeftCurrentWorst,
            ResultKey::CheckLeftCurrentVerdict,
        ],
    }
}
