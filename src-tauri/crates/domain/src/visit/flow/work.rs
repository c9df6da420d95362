//! What the flow does, in numbers for the record and lines for the working.

use uom::si::f64::{Pressure, VolumeRate};
use uom::si::length::{meter, millimeter};
use uom::si::pressure::pascal;
use uom::si::velocity::meter_per_second;
use uom::si::volume_rate::cubic_meter_per_second;

use super::effect::Waterway;
use super::said::harmless;
use super::{Flow, effect, state};
use crate::head::Way;
use crate::quantity::{FlowUnit, print_decimal};
use crate::visit::conditions::Conditions;
use crate::visit::entries::Entries;
use crate::visit::{Draft, Known, ResultKey, Show, When, WorkLine, working};

/// Returns the results for the record: what was corrected for, how sure that is, and how much would be harmless.
pub(in crate::visit) fn results(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
) -> Vec<(ResultKey, f64, &'static str)> {
    let Some(way) = Waterway::of(known, conditions) else { return Vec::new() };
    let effect = |when| effect(draft, known, conditions, entries, when);
    let pascals = |pressure: Pressure| pressure.get::<pascal>();
    let mut lines = Vec::new();
    if let Some(felt) = effect(When::Found) {
        lines.push((ResultKey::FlowError, pascals(felt.by), "Pa"));
        lines.push((ResultKey::FlowErrorHalfWidth, pascals(felt.half), "Pa"));
        let third = known.level.tolerance / 3.0;
        let rates = [(ResultKey::HarmlessDrawn, Way::Drawing), (ResultKey::HarmlessFilled, Way::Filling)];
        let rate =
            |(key, which)| Some((key, way.harmless(third, which)?.get::<cubic_meter_per_second>(), "m3/s"));
        lines.extend(rates.into_iter().filter_map(rate));
    }
    if state(draft, known, entries, When::Found) != state(draft, known, entries, When::Left) {
        let left = effect(When::Left).unwrap_or_default();
        lines.push((ResultKey::FlowErrorLeft, pascals(left.by), "Pa"));
    }
    lines
}

/// Returns the working: the flow as found, the flow as left where it is another, and how much would be harmless.
pub(in crate::visit) fn lines(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
) -> Vec<WorkLine> {
    let Some(way) = Waterway::of(known, conditions) else { return Vec::new() };
    let show = Show::new(known, conditions.gradient);
    let state = |when| state(draft, known, entries, when);
    let one = |when, what: &str| {
        let felt = effect(draft, known, conditions, entries, when)?;
        let value = format!("{} ± {}", show.change(felt.by), show.uncertainty(felt.half));
        Some(working::line(what, how(&way, known, state(when)), value))
    };
    let mut lines: Vec<WorkLine> =
        one(When::Found, "flow in the riser makes the display read").into_iter().collect();
    if state(When::Found) != state(When::Left) {
        lines.extend(one(When::Left, "the flow as left makes it read"));
    }
    if !lines.is_empty() {
        let how = format!("error within a third of the tolerance of {}", show.small(known.level.tolerance));
        lines.push(working::line("flow that is harmless", how, harmless(known, &way)));
    }
    lines
}

fn how(way: &Waterway<'_>, known: &Known, state: Flow) -> String {
    match state {
        Flow::Runs { way: which, rate: Some(rate), .. } => formula(way, known, which, rate),
        Flow::Runs { way: which, rate: None, .. } => {
            format!(
                "rate not known; half of what the largest does: {}",
                formula(way, known, which, way.pipe.most)
            )
        }
        _ => format!(
            "not known whether any runs; nothing corrected, as wide as the largest: {}",
            formula(way, known, Way::Drawing, way.pipe.most)
        ),
    }
}

/// Darcy-Weisbach with its numbers put in, in millimetres of the liquid.
fn formula(way: &Waterway<'_>, known: &Known, which: Way, rate: VolumeRate) -> String {
    let flow = way.flow(rate);
    let pipe = &way.pipe.pipe;
    let head = |height: uom::si::f64::Length| print_decimal(height.get::<millimeter>(), 1);
    let (friction, fittings, velocity) = (head(flow.friction), head(flow.fittings), head(flow.velocity_head));
    let sum = match which {
        Way::Drawing => format!(
            "-({friction} + {fittings} + (1 + {}) x {velocity}) mm",
            print_decimal(flow.entry_loss(), 2)
        ),
        Way::Filling => format!("{friction} + {fittings} mm"),
    };
    format!(
        "{} through {} mm: {} m/s, Re {:.0}, f {} (Colebrook); over {} m friction {friction}, fittings {fittings}, v2/2g \
         {velocity} mm; {sum}",
        known.flow_unit.print(rate),
        print_decimal(pipe.bore().get::<millimeter>(), 1),
        print_decimal(flow.velocity.get::<meter_per_second>(), 3),
        flow.reynolds,
        print_decimal(flow.factor, 4),
        print_decimal(pipe.length().get::<meter>(), 2),
    )
}

/// Returns how a rate was read: in another unit, and as a velocity where the pipe is known.
pub(in crate::visit) fn echo(known: &Known, number: f64) -> String {
    let rate = known.flow_unit.rate(number);
    let other = match known.flow_unit {
        FlowUnit::LitrePerSecond => FlowUnit::CubicMetrePerHour,
        _ => FlowUnit::LitrePerSecond,
    };
    let velocity = known.pipe().map(|pipe| crate::head::mean_velocity(rate, pipe.pipe.bore()));
    let velocity = velocity.map_or_else(String::new, |velocity| {
        format!("; {} m/s in the riser", print_decimal(velocity.get::<meter_per_second>(), 2))
    });
    format!("{}{velocity}", other.print(rate))
}
