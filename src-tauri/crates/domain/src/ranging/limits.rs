//! Whether the sensor can take the range and the offset: judged by totals.
//!
//! What a display shows is what the sensor feels plus the *total* offset the unit carries, so the sensor feels
//! `LRV - o` at the LRV and `URV - o` at the URV. A limit judged by today's change instead of the total would
//! call the same tower good or bad by the history of its trims. With the total unknown, what depends on it is
//! *not judged*, never taken as zero.

use std::fmt;

use uom::si::f64::Pressure;
use uom::si::pressure::pascal;

use super::Range;

/// What a sensor can take. Gauge pressures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sensor {
    /// LRL, lower range limit.
    pub lrl: Pressure,
    /// URL, upper range limit.
    pub url: Pressure,
    /// The least span it may be ranged to.
    pub min_span: Pressure,
    /// Maximum working pressure.
    pub max_working: Pressure,
    /// The largest total offset it can hold, of either sign; none where no limit is stated.
    pub trim_limit: Option<Pressure>,
}

/// A rule a range or an offset is judged by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LimitRule {
    /// What the sensor feels at the LRV lies within LRL and URL.
    LowerEnd,
    /// What the sensor feels at the URV lies within LRL and URL.
    UpperEnd,
    /// The total offset lies within the trim limit.
    TrimLimit,
    /// The span is no less than the minimum span.
    MinimumSpan,
    /// The highest working pressure is no more than the maximum working pressure.
    WorkingPressure,
}

impl LimitRule {
    /// Returns a stable word for it.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            LimitRule::LowerEnd => "limit.lower_end",
            LimitRule::UpperEnd => "limit.upper_end",
            LimitRule::TrimLimit => "limit.trim",
            LimitRule::MinimumSpan => "limit.min_span",
            LimitRule::WorkingPressure => "limit.working_pressure",
        }
    }

    /// Returns what it is about, as a sentence begins with it.
    #[must_use]
    pub fn subject(self) -> &'static str {
        match self {
            LimitRule::LowerEnd => "What the sensor feels at the LRV",
            LimitRule::UpperEnd => "What the sensor feels at the URV",
            LimitRule::TrimLimit => "The total offset",
            LimitRule::MinimumSpan => "The span",
            LimitRule::WorkingPressure => "The highest working pressure",
        }
    }
}

/// How a rule was judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Judged {
    /// It holds.
    Holds,
    /// It does not.
    Broken,
    /// Something is not known; [`Unknown`] says what.
    NotJudged(Unknown),
}

/// What keeps a rule from being judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unknown {
    /// The total offset the unit carries.
    Offset,
    /// A trim limit: none is stated.
    TrimLimit,
    /// The highest working pressure.
    WorkingPressure,
}

impl fmt::Display for Unknown {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Unknown::Offset => "the offset the unit carries is not known; read it on the unit",
            Unknown::TrimLimit => "no trim limit is stated in the register",
            Unknown::WorkingPressure => "the overflow level is not known",
        })
    }
}

/// One rule with what was found and what is allowed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judgement {
    /// The rule.
    pub rule: LimitRule,
    /// How it came out.
    pub judged: Judged,
    /// What was found, where it is known.
    pub found: Option<Pressure>,
    /// The least that is allowed, if there is a least.
    pub least: Option<Pressure>,
    /// The most that is allowed, if there is a most.
    pub most: Option<Pressure>,
}

impl Judgement {
    /// Returns the judgement in a sentence, with pressures as `show` prints them.
    #[must_use]
    pub fn sentence(&self, show: impl Fn(Pressure) -> String) -> String {
        let subject = self.rule.subject();
        if let Judged::NotJudged(unknown) = self.judged {
            return format!("{subject} is not judged: {unknown}.");
        }
        let found = self.found.map_or_else(String::new, &show);
        let allowed = match (self.least, self.most) {
            (Some(least), Some(most)) => format!("{} to {} is allowed", show(least), show(most)),
            (Some(least), None) => format!("{} is the least", show(least)),
            (None, Some(most)) => format!("{} is the most", show(most)),
            (None, None) => "nothing is stated".to_owned(),
        };
        let verdict = if self.judged == Judged::Broken { " That is outside." } else { "" };
        format!("{subject} is {found}; {allowed}.{verdict}")
    }
}

/// The offset a unit carries after a shift: what it carried before and what was added. `None` where what it
/// carried is not known.
#[must_use]
pub fn total_offset(carried: Option<Pressure>, shift: Pressure) -> Option<Pressure> {
    carried.map(|carried| carried + shift)
}

impl Sensor {
    /// Judges a range and a *total* offset, and the highest pressure the process can bring (overflow level,
    /// plus surge where one is stated). One judgement for each rule, always in the same order.
    #[must_use]
    pub fn judge(&self, range: &Range, total: Option<Pressure>, highest: Option<Pressure>) -> Vec<Judgement> {
        let felt = |end: Pressure| total.map(|total| end - total);
        let (least, most) = (Some(self.lrl), Some(self.url));
        vec![
            judgement(LimitRule::LowerEnd, felt(range.lrv()), Unknown::Offset, least, most),
            judgement(LimitRule::UpperEnd, felt(range.urv()), Unknown::Offset, least, most),
            self.trim(total),
            judgement(LimitRule::MinimumSpan, Some(range.span()), Unknown::Offset, Some(self.min_span), None),
            judgement(
                LimitRule::WorkingPressure,
                highest,
                Unknown::WorkingPressure,
                None,
                Some(self.max_working),
            ),
        ]
    }

    fn trim(&self, total: Option<Pressure>) -> Judgement {
        match self.trim_limit {
            Some(limit) => judgement(LimitRule::TrimLimit, total, Unknown::Offset, Some(-limit), Some(limit)),
            None => judgement(LimitRule::TrimLimit, None, Unknown::TrimLimit, None, None),
        }
    }
}

fn judgement(
    rule: LimitRule,
    found: Option<Pressure>,
    unknown: Unknown,
    least: Option<Pressure>,
    most: Option<Pressure>,
) -> Judgement {
    let judged = match found.filter(|found| !found.value.is_nan()) {
        None => Judged::NotJudged(unknown),
        Some(found) if within(found, least, most) => Judged::Holds,
        Some(_) => Judged::Broken,
    };
    Judgement { rule, judged, found, least, most }
}

/// A limit is reached, not passed, within a billionth of itself and a tenth of a pascal: the last digits of a
/// conversion must not decide.
fn within(found: Pressure, least: Option<Pressure>, most: Option<Pressure>) -> bool {
    let slack = |limit: Pressure| limit.abs() * 1e-9 + Pressure::new::<pascal>(0.1);
    least.is_none_or(|least| found >= least - slack(least))
        && most.is_none_or(|most| found <= most + slack(most))
}
