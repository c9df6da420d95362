//! What is said of the flow.

use uom::si::f64::Length;
use uom::si::length::meter;
use uom::si::pressure::pascal;

use super::effect::Waterway;
use super::{Effect, Flow, changed, effect, state};
use crate::head::Way;
use crate::visit::conditions::Conditions;
use crate::visit::entries::Entries;
use crate::visit::{Claim, Doubt, Draft, Known, Remark, Show, When};

const ASK: &str =
    "Ask the control room for pumps and valves; stop the flow if you may, wait, and read again.";
const DESCRIBE: &str = "Have the riser's bore and its largest flow put into the register.";

/// Returns what is to be said where the display is read as found.
pub(in crate::visit) fn remarks(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
) -> Vec<Remark> {
    let told =
        Told { known, show: Show::new(known, conditions.gradient), way: Waterway::of(known, conditions) };
    let felt = effect(draft, known, conditions, entries, When::Found).unwrap_or_default();
    match state(draft, known, entries, When::Found) {
        Flow::NotSaid | Flow::Still => Vec::new(),
        Flow::NotKnown => vec![told.not_known()],
        Flow::Runs { way, rate, .. } => {
            let most = told.way.as_ref().map(|way| way.pipe.most);
            let above = rate.zip(most).filter(|(rate, most)| rate > most).map(|(rate, most)| {
                let print = |rate| known.flow_unit.print(rate);
                Remark::warning(
                    Claim::Nothing,
                    "riser.flow_above_usual",
                    format!("{} is more than the riser's largest usual flow, {}.", print(rate), print(most)),
                    "Check the number and its unit.",
                )
            });
            let rate = rate.map(|rate| known.flow_unit.print(rate));
            [Some(told.runs(way, rate, felt)), above].into_iter().flatten().collect()
        }
    }
}

struct Told<'a> {
    known: &'a Known,
    show: Show<'a>,
    way: Option<Waterway<'a>>,
}

impl Told<'_> {
    fn third(&self) -> Length {
        self.known.level.tolerance / 3.0
    }

    fn runs(&self, way: Way, rate: Option<String>, felt: Effect) -> Remark {
        let done = match way {
            Way::Drawing => "drawn out through the riser",
            Way::Filling => "filled in through the riser",
        };
        let Some(pipe) = &self.way else {
            let text = format!(
                "Water is {done}, so the display reads {}; the register does not describe the pipe, so by how much is not known \
                 and nothing is corrected.",
                low_or_high(way)
            );
            return Remark::doubt(Doubt::RiserFlows, text, format!("{ASK} {DESCRIBE}"));
        };
        let known_rate = rate.is_some();
        let rate = rate.unwrap_or_else(|| {
            format!("Water, up to {} at most,", self.known.flow_unit.print(pipe.pipe.most))
        });
        let level = self.show.liquid().length(felt.by);
        let text = format!(
            "{rate} is {done}: the display is off by {} ({}), ± {}. {} {}",
            self.show.change(felt.by),
            self.show.signed(level),
            self.show.uncertainty(felt.half),
            if known_rate {
                "That is corrected, and counts in the uncertainty."
            } else {
                "With the rate not known half of its largest is corrected, and all of it counts in the uncertainty."
            },
            self.harmless(pipe)
        );
        let off = self.show.liquid().length(felt.by.abs().max(felt.half));
        if off > self.third() {
            Remark::doubt(Doubt::RiserFlows, text, ASK)
        } else {
            Remark::note("riser.flow_small", text)
        }
    }

    fn not_known(&self) -> Remark {
        let Some(pipe) = &self.way else {
            let text = "Nobody knows whether water runs in the riser, and the register does not describe it: how far the display \
                        may be off is not known, and nothing is widened for it.";
            return Remark::doubt(Doubt::FlowNotKnown, text, format!("{ASK} {DESCRIBE}"));
        };
        let text = format!(
            "Nobody knows whether water runs in the riser. {} {}",
            self.at_most(pipe),
            self.harmless(pipe)
        );
        if pipe.worst() > self.third() {
            let text = format!("{text} The uncertainty is widened by the worse of the two.");
            Remark::doubt(Doubt::FlowNotKnown, text, ASK)
        } else {
            Remark::note("riser.flow_small", text)
        }
    }

    fn at_most(&self, pipe: &Waterway<'_>) -> String {
        let flow = pipe.flow(pipe.pipe.most);
        format!(
            "At its largest usual flow, {}, the display would be off by {} drawn out and {} filled in.",
            self.known.flow_unit.print(pipe.pipe.most),
            self.show.signed(flow.error(Way::Drawing)),
            self.show.signed(flow.error(Way::Filling))
        )
    }

    fn harmless(&self, pipe: &Waterway<'_>) -> String {
        format!("Harmless, within a third of the tolerance: {}.", harmless(self.known, pipe))
    }
}

/// Returns what is assumed of the flow before anybody is there.
pub(in crate::visit) fn at_the_desk(known: &Known, conditions: &Conditions) -> String {
    let way = Waterway::of(known, conditions);
    let told = Told { known, show: Show::new(known, conditions.gradient), way };
    match &told.way {
        Some(pipe) => format!("The liquid stands still. {} {}", told.at_most(pipe), told.harmless(pipe)),
        None if known.may_flow() => {
            "The liquid stands still: flow in the riser would change what the sensor feels.".to_owned()
        }
        None => "No flow in the riser reaches the sensor.".to_owned(),
    }
}

/// Returns the largest flows that are harmless, in words.
pub(super) fn harmless(known: &Known, pipe: &Waterway<'_>) -> String {
    let third = known.level.tolerance / 3.0;
    let print = |way, done| {
        let rate = pipe.harmless(third, way);
        rate.map_or_else(
            || format!("any flow {done}"),
            |rate| format!("up to {} {done}", known.flow_unit.print(rate)),
        )
    };
    format!("{}, {}", print(Way::Drawing, "drawn out"), print(Way::Filling, "filled in"))
}

fn low_or_high(way: Way) -> &'static str {
    match way {
        Way::Drawing => "low",
        Way::Filling => "high",
    }
}

/// Returns what is assumed where nobody spoke of the flow.
pub(in crate::visit) fn assumption(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
) -> Option<Remark> {
    if state(draft, known, entries, When::Found) != Flow::NotSaid {
        return None;
    }
    let way = Waterway::of(known, conditions);
    let told = Told { known, show: Show::new(known, conditions.gradient), way };
    let mut text = "Assumed: no water ran in the riser while the display was read.".to_owned();
    if let Some(pipe) = &told.way {
        text = format!("{text} {} {}", told.at_most(pipe), told.harmless(pipe));
    }
    Some(Remark::note("assumed.still", text))
}

/// Says that the display to be holds while the flow runs, and what it becomes when it stops.
pub(in crate::visit) fn at_the_target(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    to: uom::si::f64::Pressure,
) -> Option<Remark> {
    let felt = effect(draft, known, conditions, entries, When::Found)?;
    let show = Show::new(known, conditions.gradient);
    // A part of a millimetre is nobody's target.
    (show.liquid().length(felt.by).abs() > Length::new::<meter>(5e-4)).then(|| {
        let text = format!(
            "The display to be holds while this flow runs. With the water standing it becomes {}.",
            show.reading(to - felt.by)
        );
        Remark::note("riser.flow_target", text)
    })
}

/// Returns what is to be said where the display is read as left, and another flow runs than as found.
pub(in crate::visit) fn remarks_left(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    target: Option<uom::si::f64::Pressure>,
) -> Vec<Remark> {
    let state = |when| state(draft, known, entries, when);
    if state(When::Found) == state(When::Left) {
        return Vec::new();
    }
    if known.pipe().is_none() {
        return vec![Remark::doubt(
            Doubt::FlowChanged,
            "The flow in the riser is another one than when the display was read as found, and the register does not describe \
             the pipe: what that moves the display by is not known.",
            format!("Read again with the flow as it was, or with none. {DESCRIBE}"),
        )];
    }
    let moved = changed(draft, known, conditions, entries);
    let Some(target) = target.filter(|_| moved.by.get::<pascal>().abs() + moved.half.get::<pascal>() > 1.0)
    else {
        return Vec::new();
    };
    let show = Show::new(known, conditions.gradient);
    let text = format!(
        "The flow in the riser changed since the display was read as found: that moves it by {}, ± {}. It should show {} now.",
        show.change(moved.by),
        show.uncertainty(moved.half),
        show.reading(target)
    );
    vec![Remark::note("riser.flow_changed", text)]
}
