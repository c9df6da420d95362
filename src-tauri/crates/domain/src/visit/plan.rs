//! An instrument planned at the desk, before anybody goes there: how to range it, what everyone will see, which sensor
//! fits, and what the year will do to it.
//!
//! Nothing here is a visit: it is worked out from the register alone, at the season's temperature. So it is there for
//! instruments too that no visit may be made to; why not is said beside the numbers.

use uom::si::f64::{Length, Pressure, TemperatureInterval};
use uom::si::temperature_interval::kelvin as kelvins;
use uom::si::thermodynamic_temperature::kelvin;

use super::left_over::{LeftOver, Standing, day, left_over};
use super::{
    Choice, Claim, Conditions, Fault, Highest, Instrument, Known, Pressing, Remark, SensorRange, Show, flow,
    safety,
};
use crate::head::mounting::Installed;
use crate::quantity::{PressureUnit, ReadingUnit, print_decimal, read_pressure};
use crate::ranging::{Need, Offered, RangePlan, Sized, Way, size, ways};

/// One sensor, judged for this installation under both ways to range it.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// The sensor.
    pub sensor: Offered,
    /// True for the one that is fitted by the register.
    pub fitted: bool,
    /// How it fits the way the register wants.
    pub sized: Sized,
    /// True where it would fit the other way to range.
    pub other_way: bool,
}

/// An instrument as planned.
#[derive(Debug, Clone, PartialEq)]
pub struct Planned {
    /// The register row, read.
    pub known: Known,
    /// Density, air and gravity of the season.
    pub conditions: Conditions,
    /// The mounting, with its columns.
    pub installed: Installed,
    /// Both ways to range it.
    pub ways: [RangePlan; 2],
    /// The way the register wants.
    pub wanted: Way,
    /// The highest pressure.
    pub highest: Highest,
    /// The sensors: those that fit first, best first.
    pub sensors: Vec<Candidate>,
    /// What is left over the span with the range in the register, trimmed true at the tank's zero in this season.
    pub left: Option<LeftOver>,
    /// What is assumed.
    pub assumptions: Vec<Remark>,
    /// What is to be said.
    pub remarks: Vec<Remark>,
    /// Why no visit may be made; none where one may.
    pub refusal: Option<Remark>,
    /// The unit in which the register writes this sensor's limits.
    pub pressures: ReadingUnit,
}

/// Plans an instrument with the sensors on offer.
///
/// # Errors
///
/// The faults of the register row: without it nothing can be worked out.
pub fn plan(row: &Instrument, ranges: &[SensorRange]) -> Result<Planned, Vec<Fault>> {
    let known = Known::read(row)?;
    let conditions = Conditions::of_season(&known).map_err(|error| fault("site", &error))?;
    let installed = conditions.at_work.clone();
    let ways = ways(&installed, known.action, Pressure::default()).map_err(|error| fault("span", &error))?;
    let wanted = if known.plan == Choice::HeadInRange { Way::Raw } else { Way::Trimmed };
    let highest = Highest::of(&known, &installed, true);
    let sensors = sensors(&known, &installed, &ways, wanted, &highest, ranges);
    let today = day(&installed);
    let standing = Standing {
        today,
        at_zero: known.zero_reading(conditions.gradient),
        beside: Pressure::default(),
        true_at: Length::default(),
        found: None,
    };
    let left = left_over(&known, conditions.gradient, &standing);
    let pressures = read_pressure(&row.limits.url).map_or(PASCALS, |entry| entry.unit);
    let mut plan = Planned {
        assumptions: Vec::new(),
        remarks: Vec::new(),
        refusal: safety::refusal(row),
        known,
        conditions,
        installed,
        ways,
        wanted,
        highest,
        sensors,
        left,
        pressures,
    };
    plan.assumptions = plan.assumed(row, ranges);
    plan.remarks = plan.said();
    Ok(plan)
}

const PASCALS: ReadingUnit = ReadingUnit::Pressure(PressureUnit::Pascal);

fn fault(field: &str, error: &dyn std::fmt::Display) -> Vec<Fault> {
    vec![Fault { field: field.to_owned(), text: error.to_string() }]
}

/// How far the sensor's temperature swings: with nothing better known, as far as the liquid's.
fn swing(known: &Known) -> TemperatureInterval {
    let between = known.coldest.zip(known.warmest);
    let kelvin_between = between.map_or(0.0, |(cold, warm)| warm.get::<kelvin>() - cold.get::<kelvin>());
    TemperatureInterval::new::<kelvins>(kelvin_between.abs())
}

fn sensors(
    known: &Known,
    installed: &Installed,
    ways: &[RangePlan; 2],
    wanted: Way,
    highest: &Highest,
    ranges: &[SensorRange],
) -> Vec<Candidate> {
    let mut offered = vec![known.fitted("As fitted now")];
    offered.extend(ranges.iter().filter_map(|range| range.read().ok()));
    let size_for = |plan: &RangePlan| {
        size(&offered, &Need::of(plan, Some(highest.pressure), installed.per_level(), swing(known)))
    };
    let [trimmed, raw] = ways;
    let (this, that) = if wanted == Way::Raw { (raw, trimmed) } else { (trimmed, raw) };
    let other = size_for(that);
    let candidates = size_for(this).into_iter().filter_map(|sized| {
        let other_way = other.iter().any(|other| other.place == sized.place && other.fits());
        let fitted = sized.place == 0;
        Some(Candidate { sensor: offered.get(sized.place)?.clone(), fitted, sized, other_way })
    });
    candidates.collect()
}

impl Planned {
    /// Prints a pressure in the unit of the sensor's limits, to about a millimetre of water: what a drum feels is a few
    /// hundredths of a bar, and two digits of it are no number to range a sensor by. Noughts at the end say nothing.
    #[must_use]
    pub fn pressure(&self, pressure: Pressure) -> String {
        let value = self.pressures.reading(pressure, self.conditions.gradient);
        let text = print_decimal(value, self.pressures.places());
        let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
        format!("{text} {}", self.pressures.symbol())
    }

    /// Returns the printer for this instrument.
    #[must_use]
    pub fn show(&self) -> Show<'_> {
        Show::new(&self.known, self.conditions.gradient)
    }

    /// Returns the range that was planned for the way the register wants.
    #[must_use]
    pub fn wanted(&self) -> &RangePlan {
        let [trimmed, raw] = &self.ways;
        if self.wanted == Way::Raw { raw } else { trimmed }
    }

    fn assumed(&self, row: &Instrument, ranges: &[SensorRange]) -> Vec<Remark> {
        let known = &self.known;
        let at = self.show().temperature(self.conditions.temperature);
        let mut said = vec![
            note(format!(
                "The liquid, {}, is at {at} everywhere: this season's temperature, from the register.",
                row.liquid.name
            )),
            note(
                "The sensor shows nothing of its own at atmosphere: what it really shows comes on top of the offset.",
            ),
            note("The control room shows LRV to URV as level 0 to 100 %."),
            note(flow::at_the_desk(known, &self.conditions)),
        ];
        said.extend(self.installed.assumptions().into_iter().map(note));
        if known.unit.is_liquid_length() {
            let text = format!(
                "One {} of the display is one of liquid at {at}; the unit keeps that when the liquid warms or cools.",
                known.unit.symbol()
            );
            said.push(note(text));
        }
        if !self.highest.overflow {
            said.push(note(
                "The overflow level is not in the register: the highest pressure is reckoned to 100 %.",
            ));
        }
        let open: Vec<&str> = self.highest.not_stated().into_iter().map(Pressing::name).collect();
        if !open.is_empty() {
            let text = format!(
                "Not counted, because the register states nothing of it: {}. Compare that with the maximum working pressure yourself.",
                open.join(", ")
            );
            said.push(note(text));
        }
        if !ranges.is_empty() {
            said.push(note("What is not stated of a sensor is not counted in its expected error: compare like with like."));
        }
        if ranges.iter().any(|range| !range.ten_kelvin.trim().is_empty()) {
            said.push(note("The sensor's own temperature is taken to swing as far as the liquid's; in the sun it swings further."));
        }
        said
    }

    fn said(&self) -> Vec<Remark> {
        let mut said: Vec<Remark> = Vec::new();
        said.extend(
            self.installed
                .warnings()
                .into_iter()
                .map(|text| Remark::warning(Claim::Nothing, "plan.mounting", text, "")),
        );
        said.extend(self.range_differs());
        said
    }

    /// Compares the range in the register with the one that follows from its own measures.
    fn range_differs(&self) -> Option<Remark> {
        let set = self.known.range(self.conditions.gradient)?;
        let planned = self.wanted().range;
        let per_level = self.installed.per_level();
        let apart =
            [set.lrv() - planned.lrv(), set.urv() - planned.urv()].map(|by| per_level.length(by).abs());
        let worst = apart[0].max(apart[1]);
        (worst > self.known.level.tolerance / 3.0).then(|| {
            let show = self.show();
            Remark::warning(
                Claim::NumbersWrong,
                "plan.range_differs",
                format!(
                    "The register has LRV {} and URV {}; by its own measures they would be {} and {}.",
                    show.reading(set.lrv()),
                    show.reading(set.urv()),
                    show.reading(planned.lrv()),
                    show.reading(planned.urv())
                ),
                "Find out which is right before anybody goes there: the riser, the span, the liquid or the range.",
            )
        })
    }
}

fn note(text: impl Into<String>) -> Remark {
    Remark::note("plan.assumed", text)
}
