//! An instrument as planned, worded.

use domain::head::mounting::{Lever, Medium, Sensitivity, Step};
use domain::quantity::LengthUnit;
use domain::ranging::{ErrorTerm, Judged, LimitRule, Misfit, RangePlan, Shown, Way, zero_wording};
use domain::visit::{Candidate, Instrument, Planned, Pressing, Show};
use uom::si::electric_current::milliampere;
use uom::si::f64::{Length, Pressure, Ratio};
use uom::si::length::{meter, millimeter};
use uom::si::pressure::pascal;
use uom::si::ratio::{percent, ratio};

use super::left::{left, part};
use super::sketch;
use crate::message;
use crate::view::{PlanMove, PlanNumber, PlanPoint, PlanRange, PlanSensor, PlanView, PlanWay};

/// Returns a plan as the screen is given it.
pub(crate) fn plan(row: &Instrument, plan: &Planned) -> PlanView {
    let show = plan.show();
    let installed = &plan.installed;
    PlanView {
        tag: row.tag.clone(),
        service: row.service.clone(),
        site: row.site.name.clone(),
        refusal: plan.refusal.as_ref().map(message::plain),
        messages: plan.remarks.iter().map(message::plain).collect(),
        unit: plan.known.unit.definition(),
        standing_head: number(plan, &show, installed.standing_head()),
        at_zero: felt(plan, &show, installed.lrv()),
        at_full: felt(plan, &show, installed.urv()),
        per_level: per_level(plan, &show),
        highest: highest(plan, &show),
        sketch: sketch::planned(&plan.known, &show),
        ranges: ranges(plan, &show),
        sensors: plan.sensors.iter().map(|one| sensor(plan, &show, one)).collect(),
        left: plan.left.as_ref().map(|of| left(of, &plan.known, &show)),
        moves: moves(plan, &show),
        assumptions: plan.assumptions.iter().map(message::plain).collect(),
    }
}

fn number(plan: &Planned, show: &Show<'_>, pressure: Pressure) -> PlanNumber {
    PlanNumber { value: show.change(pressure), echo: plan.pressure(pressure) }
}

fn felt(plan: &Planned, show: &Show<'_>, pressure: Pressure) -> PlanNumber {
    PlanNumber { value: plan.pressure(pressure), echo: show.change(pressure) }
}

fn per_level(plan: &Planned, show: &Show<'_>) -> PlanNumber {
    let unit = if plan.known.people == domain::quantity::LengthSystem::Feet {
        LengthUnit::Foot
    } else {
        LengthUnit::Metre
    };
    let pressed = plan.installed.per_level().pressure(unit.length(1.0));
    let per = unit.symbol();
    PlanNumber {
        value: format!("{:.1} Pa per {per}", pressed.get::<pascal>()),
        echo: format!("{} of reading per {per} of level", show.uncertainty(pressed)),
    }
}

fn highest(plan: &Planned, show: &Show<'_>) -> PlanNumber {
    let of = &plan.highest;
    let to = if of.overflow { "the overflow" } else { "100 %" };
    let standing = format!("with the level at {to}, {}", show.length(of.level));
    let by = if of.by == Pressing::Level {
        standing
    } else {
        let all = of.all.iter().filter(|(by, _)| *by != of.by);
        let others = all.map(|(by, pressure)| format!("{} {}", by.name(), plan.pressure(*pressure)));
        format!("by {}, {standing}; beside it {}", of.by.name(), others.collect::<Vec<_>>().join(", "))
    };
    PlanNumber {
        value: plan.pressure(of.pressure),
        echo: format!(
            "{by}; the sensor fitted now takes {}",
            plan.pressure(plan.known.sensor.limits.max_working)
        ),
    }
}

fn ranges(plan: &Planned, show: &Show<'_>) -> Vec<PlanRange> {
    let mut ranges: Vec<PlanRange> = plan.ways.iter().map(|way| range(plan, show, way)).collect();
    ranges.sort_by_key(|range| !range.wanted);
    ranges
}

fn range(plan: &Planned, show: &Show<'_>, way: &RangePlan) -> PlanRange {
    PlanRange {
        way: if way.way == Way::Raw { PlanWay::Raw } else { PlanWay::Trimmed },
        wanted: way.way == plan.wanted,
        lrv: show.change(way.range.lrv()),
        urv: show.change(way.range.urv()),
        offset: show.change(way.offset),
        unit: plan.known.unit.symbol(),
        wording: zero_wording(way.range.lrv(), plan.installed.mounting()),
        points: way.points.iter().map(|shown| point(show, shown)).collect(),
    }
}

fn point(show: &Show<'_>, shown: &Shown) -> PlanPoint {
    PlanPoint {
        part: part(shown.fraction.get::<ratio>()),
        level: show.length(shown.level),
        display: show.number(shown.display),
        current: format!("{:.2}", shown.current.get::<milliampere>()),
        control_room: show.length(shown.control_room),
    }
}

fn sensor(plan: &Planned, show: &Show<'_>, one: &Candidate) -> PlanSensor {
    let (limits, sized) = (&one.sensor.limits, &one.sized);
    let expected = &sized.expected;
    let of_span = |share: Ratio| format!("{:.2} % of span", share.get::<percent>());
    // Of a sensor that does not fit, only why not is of use.
    let fits = |text: String| if sized.fits() { text } else { String::new() };
    PlanSensor {
        name: one.sensor.name.clone(),
        range: format!("{} to {}", plan.pressure(limits.lrl), plan.pressure(limits.url)),
        fitted: one.fitted,
        fits: sized.fits(),
        error: fits(format!("± {} ({})", show.small(expected.level), of_span(expected.of_span))),
        made_of: fits(made_of(show, plan, &expected.terms)),
        room: fits(format!(
            "URL is {:.1} times the span; {} to spare at the top",
            sized.turndown.get::<ratio>(),
            plan.pressure(sized.to_spare)
        )),
        reasons: reasons(plan, one),
    }
}

fn made_of(show: &Show<'_>, plan: &Planned, terms: &[(ErrorTerm, Pressure)]) -> String {
    let gradient = plan.installed.per_level();
    let term = |(term, standard): &(ErrorTerm, Pressure)| {
        format!("{} {}", term.name(), show.small(gradient.length(*standard)))
    };
    let terms: Vec<String> = terms.iter().map(term).collect();
    match terms.len() {
        0 => "Nothing is stated that it could be made of.".into(),
        _ => format!("2 x the root of the sum of squares of: {} (each standard).", terms.join(", ")),
    }
}

fn reasons(plan: &Planned, one: &Candidate) -> Vec<String> {
    let print = |pressure| plan.pressure(pressure);
    let misfit = |misfit: &Misfit| match misfit {
        Misfit::Limit(limit) if limit.rule == LimitRule::WorkingPressure => overpressed(plan, one),
        _ => misfit.sentence(print),
    };
    let mut said: Vec<String> = one.sized.misfits.iter().map(misfit).collect();
    let open = one.sized.open.iter().filter(|limit| matches!(limit.judged, Judged::NotJudged(_)));
    said.extend(open.map(|limit| limit.sentence(print)));
    if !one.sized.fits() && one.other_way {
        let other = if plan.wanted == Way::Raw {
            "with the standing head in the offset"
        } else {
            "with the standing head in the range"
        };
        said.push(format!("Ranged the other way, {other}, it would fit."));
    }
    said
}

/// Names everything that presses more on a sensor than it takes.
fn overpressed(plan: &Planned, one: &Candidate) -> String {
    let most = one.sensor.limits.max_working;
    let beyond = plan.highest.above(most);
    let beyond: Vec<_> =
        beyond.map(|(by, pressure)| format!("{} brings {}", by.name(), plan.pressure(pressure))).collect();
    format!("Working pressure: {}; {} is its maximum.", beyond.join(", "), plan.pressure(most))
}

/// What each input moves, in steps that happen.
fn moves(plan: &Planned, show: &Show<'_>) -> Vec<PlanMove> {
    let installed = &plan.installed;
    let zero = installed.sensitivities(Length::default());
    let full = installed.sensitivities(installed.span());
    let level = |adds: Pressure| show.signed(installed.per_level().length(adds));
    zero.iter()
        .zip(&full)
        .filter_map(|(zero, full)| {
            let (what, times) = practical(plan, show, zero)?;
            let nothing = |adds: Pressure| installed.per_level().length(adds * times).abs() < hair();
            if nothing(zero.adds) && nothing(full.adds) {
                return None;
            }
            Some(PlanMove { what, at_zero: level(zero.adds * times), at_full: level(full.adds * times) })
        })
        .collect()
}

/// Less than this is not worth a line.
fn hair() -> Length {
    Length::new::<millimeter>(0.05)
}

/// The input with a step of it that a person can picture, and how many units that is.
fn practical(plan: &Planned, show: &Show<'_>, one: &Sensitivity) -> Option<(String, f64)> {
    let what = match one.lever {
        Lever::Level => return None,
        Lever::Riser => "sensor lower (riser longer)".to_owned(),
        Lever::Top => "upper tap higher".to_owned(),
        Lever::Tap => "lower seal higher".to_owned(),
        Lever::Density(medium) => format!("{} denser", name(medium)),
        Lever::Gravity => "gravity stronger".to_owned(),
        Lever::TankTemperature => "tank warmer".to_owned(),
        Lever::LineTemperature => "riser or line warmer".to_owned(),
        Lever::FillTemperature => "fill warmer".to_owned(),
        Lever::WorkingPressure => "working pressure higher".to_owned(),
    };
    let (by, times) = match one.step {
        Step::Height(_) => {
            let inch = plan.known.people == domain::quantity::LengthSystem::Feet;
            let step = Length::new::<millimeter>(if inch { 25.4 } else { 10.0 });
            (show.small(step), step.get::<meter>())
        }
        // A kilogram more is a wet day for a liquid; for a gas it would be another gas.
        Step::Density(_) if matches!(one.lever, Lever::Density(Medium::Air | Medium::Vapour)) => {
            ("0.1 kg/m3".to_owned(), 0.1)
        }
        Step::Density(_) => ("1 kg/m3".to_owned(), 1.0),
        Step::Gravity(_) => ("0.001 m/s2".to_owned(), 0.001),
        Step::Temperature(_) => ("1 K".to_owned(), 1.0),
        Step::Pressure(_) => ("1 kPa".to_owned(), 1000.0),
    };
    Some((format!("{what} by {by}"), times))
}

fn name(medium: Medium) -> &'static str {
    match medium {
        Medium::Process => "tank liquid",
        Medium::Line => "riser or line liquid",
        Medium::Light => "upper liquid",
        Medium::Fill => "fill",
        Medium::Vapour => "gas over the liquid",
        Medium::Air => "air",
    }
}
