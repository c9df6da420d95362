//! Which of the sensor ranges on offer fit an installation, and how well each would measure there.
//!
//! What is on offer is data of the utility's; nothing is built in. A range fits when no limit is broken, judged
//! by totals ([`Sensor::judge`]); a misfit says why. Those that fit are ranked by the error to be expected of
//! them *on this span*: what a sensor is off by is stated of its URL, so the same sensor on a small part of its
//! range is off by a larger part of the span.

use std::cmp::Ordering;

use uom::si::f64::{Length, Pressure, Ratio, TemperatureInterval};
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;
use uom::si::temperature_interval::kelvin;

use super::{Judged, Judgement, LimitRule, Range, RangePlan, Sensor};
use crate::head::Gradient;

/// What a sensor may be off by, each as the maker states it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SensorErrors {
    /// Reference accuracy, expanded with k = 2.
    pub accuracy: Pressure,
    /// What its zero may have moved since it was last seen at atmosphere, half-width.
    pub zero_allowance: Pressure,
    /// What it may drift in a year, half-width; nothing where none is stated.
    pub drift: Pressure,
    /// What 10 K may move it, half-width; nothing where none is stated.
    pub ten_kelvin: Pressure,
}

/// A sensor range on offer.
#[derive(Debug, Clone, PartialEq)]
pub struct Offered {
    /// What the utility calls it.
    pub name: String,
    /// What it can take.
    pub limits: Sensor,
    /// The most it may be turned down, URL over span; none where only a minimum span is stated.
    pub most_turndown: Option<Ratio>,
    /// What it may be off by.
    pub errors: SensorErrors,
}

/// What an installation asks of a sensor, ranged in one of the two ways.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Need {
    /// LRV and URV as the display means them.
    pub range: Range,
    /// The *total* offset that goes with them.
    pub offset: Pressure,
    /// The highest pressure the process can bring to the sensor; none where it is not known.
    pub highest: Option<Pressure>,
    /// What a metre of tank presses.
    pub gradient: Gradient,
    /// How far the sensor's temperature is taken to swing, from one end to the other.
    pub swing: TemperatureInterval,
}

impl Need {
    /// Returns what a planned range asks.
    #[must_use]
    pub fn of(
        plan: &RangePlan,
        highest: Option<Pressure>,
        gradient: Gradient,
        swing: TemperatureInterval,
    ) -> Need {
        Need { range: plan.range, offset: plan.offset, highest, gradient, swing }
    }
}

/// One of the things an expected error is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ErrorTerm {
    /// The reference accuracy.
    Accuracy,
    /// The allowance on the zero.
    Zero,
    /// A year's drift.
    Drift,
    /// The sensor's own warming and cooling.
    Temperature,
}

impl ErrorTerm {
    /// Returns what it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            ErrorTerm::Accuracy => "reference accuracy",
            ErrorTerm::Zero => "zero allowance",
            ErrorTerm::Drift => "a year's drift",
            ErrorTerm::Temperature => "its own temperature",
        }
    }
}

/// The error to be expected of a sensor on this span: its standard uncertainties in quadrature, times two.
#[derive(Debug, Clone, PartialEq)]
pub struct Expected {
    /// What it is made of, as standard uncertainties; what nobody stated is left out.
    pub terms: Vec<(ErrorTerm, Pressure)>,
    /// Expanded, k = 2.
    pub expanded: Pressure,
    /// The same as a height of the tank's liquid.
    pub level: Length,
    /// The same as a part of the span.
    pub of_span: Ratio,
}

/// Why a sensor range does not fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Misfit {
    /// A limit is broken.
    Limit(Judgement),
    /// It would be turned down further than it may be.
    Turndown {
        /// URL over span here.
        found: Ratio,
        /// The most that is allowed.
        most: Ratio,
    },
}

impl Misfit {
    /// Returns the reason as a sentence, with pressures as `show` prints them.
    #[must_use]
    pub fn sentence(&self, show: impl Fn(Pressure) -> String) -> String {
        match self {
            Misfit::Limit(judgement) => broken(judgement, show),
            Misfit::Turndown { found, most } => format!(
                "Turndown: its URL is {:.1} times the span; {:.1} times is the most.",
                found.get::<ratio>(),
                most.get::<ratio>()
            ),
        }
    }
}

/// One sensor range, judged for an installation.
#[derive(Debug, Clone, PartialEq)]
pub struct Sized {
    /// Which, by its place in what was offered.
    pub place: usize,
    /// Why it does not fit; nothing where it does.
    pub misfits: Vec<Misfit>,
    /// What could not be judged, though a limit is stated.
    pub open: Vec<Judgement>,
    /// URL over span here.
    pub turndown: Ratio,
    /// What is left between the highest end of the range, as the sensor feels it, and its URL. Negative where it
    /// is too small.
    pub to_spare: Pressure,
    /// The error to be expected.
    pub expected: Expected,
}

impl Sized {
    /// Tells whether no limit is broken.
    #[must_use]
    pub fn fits(&self) -> bool {
        self.misfits.is_empty()
    }
}

/// Judges what is on offer: those that fit first, the least expected error leading, and the smaller of two that
/// would measure alike; then the others by how much they can take.
#[must_use]
pub fn size(offered: &[Offered], need: &Need) -> Vec<Sized> {
    let mut sized: Vec<Sized> =
        offered.iter().enumerate().map(|(place, one)| judge(place, one, need)).collect();
    let url = |one: &Sized| offered.get(one.place).map_or(0.0, |one| one.limits.url.value);
    sized.sort_by(|one, two| {
        let by_fit = two.fits().cmp(&one.fits());
        let by_error = if one.fits() && two.fits() {
            one.expected.expanded.value.total_cmp(&two.expected.expanded.value)
        } else {
            Ordering::Equal
        };
        by_fit.then(by_error).then(url(one).total_cmp(&url(two))).then(one.place.cmp(&two.place))
    });
    sized
}

fn judge(place: usize, offered: &Offered, need: &Need) -> Sized {
    let span = need.range.span();
    let turndown: Ratio = offered.limits.url / span;
    let judgements = offered.limits.judge(&need.range, Some(need.offset), need.highest);
    let of = |wanted: fn(Judged) -> bool| {
        judgements.iter().copied().filter(move |one| wanted(one.judged)).collect::<Vec<Judgement>>()
    };
    let mut misfits: Vec<Misfit> =
        of(|judged| judged == Judged::Broken).into_iter().map(Misfit::Limit).collect();
    // A stated turndown and a stated minimum span mostly say the same: once is enough.
    let too_small =
        misfits.iter().any(|one| matches!(one, Misfit::Limit(limit) if limit.rule == LimitRule::MinimumSpan));
    if let Some(most) = offered.most_turndown
        && !too_small
        && turndown.value > most.value * (1.0 + 1e-9)
    {
        misfits.push(Misfit::Turndown { found: turndown, most });
    }
    let mut open = of(|judged| matches!(judged, Judged::NotJudged(_)));
    open.retain(|one| one.rule != LimitRule::TrimLimit || offered.limits.trim_limit.is_some());
    let highest_end = need.range.lrv().max(need.range.urv()) - need.offset;
    Sized {
        place,
        misfits,
        open,
        turndown,
        to_spare: offered.limits.url - highest_end,
        expected: expected(&offered.errors, need),
    }
}

/// Returns the error to be expected of a sensor: accuracy as stated with k = 2, everything else as rectangular.
fn expected(errors: &SensorErrors, need: &Need) -> Expected {
    let rectangular = |half: Pressure| half.abs() / libm::sqrt(3.0);
    // The sensor stands in the middle of its swing, on a good day.
    let warmth = errors.ten_kelvin * (need.swing.get::<kelvin>().abs() / 2.0 / 10.0);
    let all = [
        (ErrorTerm::Accuracy, errors.accuracy.abs() / 2.0),
        (ErrorTerm::Zero, rectangular(errors.zero_allowance)),
        (ErrorTerm::Drift, rectangular(errors.drift)),
        (ErrorTerm::Temperature, rectangular(warmth)),
    ];
    let terms: Vec<_> = all.into_iter().filter(|(_, standard)| standard.value > 0.0).collect();
    let squares: f64 =
        terms.iter().map(|(_, standard)| standard.get::<pascal>() * standard.get::<pascal>()).sum();
    let expanded = Pressure::new::<pascal>(2.0 * libm::sqrt(squares));
    Expected { terms, expanded, level: need.gradient.length(expanded), of_span: expanded / need.range.span() }
}

/// Says a broken limit in the words of somebody who chooses a sensor.
fn broken(judgement: &Judgement, show: impl Fn(Pressure) -> String) -> String {
    let none = Pressure::default();
    let found = judgement.found.unwrap_or(none);
    let (least, most) = (judgement.least.unwrap_or(none), judgement.most.unwrap_or(none));
    let too_high = judgement.most.is_some_and(|most| found > most);
    let (end, found_says) = (
        match judgement.rule {
            LimitRule::LowerEnd => "Lower end: at the LRV",
            _ => "Upper end: at the URV",
        },
        show(found),
    );
    match judgement.rule {
        LimitRule::LowerEnd | LimitRule::UpperEnd if too_high => format!(
            "{end} it would feel {found_says}, above its URL of {} by {}.",
            show(most),
            show(found - most)
        ),
        LimitRule::LowerEnd | LimitRule::UpperEnd => format!(
            "{end} it would feel {found_says}, below its LRL of {} by {}.",
            show(least),
            show(least - found)
        ),
        LimitRule::TrimLimit => {
            format!("Trim limit: an offset of {found_says} is needed; it holds up to {}.", show(most))
        }
        LimitRule::MinimumSpan => {
            format!("Minimum span: the span of {found_says} is less than its least, {}.", show(least))
        }
        LimitRule::WorkingPressure => {
            format!("Working pressure: the process can bring {found_says}; {} is its maximum.", show(most))
        }
    }
}
