//! What a flow does to the display.

use uom::si::f64::{Length, Pressure, VolumeRate};
use uom::si::length::meter;
use uom::si::pressure::pascal;

use super::{Flow, state};
use crate::head::mounting::Medium;
use crate::head::{self, Running, Way, water_viscosity};
use crate::visit::conditions::Conditions;
use crate::visit::entries::Entries;
use crate::visit::{Draft, Known, KnownPipe, When, usual};

/// What a flow makes the display read wrong by.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(in crate::visit) struct Effect {
    /// By how much, negative when it reads low: what is taken off.
    pub(in crate::visit) by: Pressure,
    /// How far that may be off, half-width.
    pub(in crate::visit) half: Pressure,
}

/// A riser that the register describes, with what runs in it today.
pub(in crate::visit) struct Waterway<'a> {
    pub(in crate::visit) pipe: &'a KnownPipe,
    running: Running,
}

impl<'a> Waterway<'a> {
    /// Returns the riser; none where the register does not describe it.
    pub(in crate::visit) fn of(known: &'a Known, conditions: &Conditions) -> Option<Waterway<'a>> {
        let pipe = known.pipe()?;
        let (installed, densities) = (&conditions.installed, conditions.installed.densities());
        let viscosity = match pipe.viscosity {
            Some(stated) => stated,
            None => water_viscosity(installed.state().line).ok()?,
        };
        let density = densities.of(Medium::Line).or(densities.of(Medium::Process))?;
        Some(Waterway { pipe, running: Running { density, viscosity, gravity: conditions.gravity } })
    }

    /// Returns what a rate does in the pipe.
    pub(in crate::visit) fn flow(&self, rate: VolumeRate) -> head::Flow {
        self.pipe.pipe.flow(rate, &self.running)
    }

    /// Returns how far the foot reads wrong at the largest usual flow, the worse of both ways.
    pub(in crate::visit) fn worst(&self) -> Length {
        let most = self.flow(self.pipe.most);
        most.error(Way::Drawing).abs().max(most.error(Way::Filling).abs())
    }

    /// Returns the largest rate at which the error stays within a bound.
    pub(in crate::visit) fn harmless(&self, bound: Length, way: Way) -> Option<VolumeRate> {
        self.pipe.pipe.largest_within(bound, way, &self.running)
    }

    /// Returns what a height of the riser's own liquid presses. The air beside it does not run with it.
    fn presses(&self, height: Length) -> Pressure {
        let pascals = self.running.density.value * self.running.gravity.value * height.get::<meter>();
        Pressure::new::<pascal>(pascals)
    }

    /// The part by which the pipe as described may err against the pipe as it is.
    fn share(&self) -> f64 {
        if self.pipe.roughness_stated { usual::PIPE } else { usual::PIPE_ROUGHNESS_UNKNOWN }
    }

    /// Returns what the largest usual flow makes a reading at the foot wrong by.
    pub(in crate::visit) fn at_most(&self, way: Way) -> Pressure {
        self.error(self.pipe.most, way)
    }

    fn error(&self, rate: VolumeRate, way: Way) -> Pressure {
        self.presses(self.flow(rate).error(way))
    }

    /// A known rate is corrected for; what is open is the rate itself and the pipe.
    fn at(&self, rate: VolumeRate, way: Way, metered: bool) -> Effect {
        let by = self.error(rate, way);
        let off = if metered { usual::RATE_METERED } else { usual::RATE_ESTIMATED };
        let beside = |times: f64| (self.error(rate * times, way) - by).abs();
        let rates = beside(1.0 + off).max(beside(1.0 - off));
        Effect { by, half: both(rates, by.abs() * self.share()) }
    }

    /// Known to run, but not how much: anywhere between nothing and the largest usual flow, so half of that is taken off.
    fn some(&self, way: Way) -> Effect {
        let most = self.error(self.pipe.most, way);
        Effect { by: most * 0.5, half: both(most.abs() * 0.5, most.abs() * self.share()) }
    }

    /// Nobody knows whether any runs. It mostly does not, so nothing is taken off; but it may be the worst of either way.
    fn any(&self) -> Effect {
        let worst = self.presses(self.worst());
        Effect { by: Pressure::default(), half: both(worst, worst * self.share()) }
    }
}

fn both(one: Pressure, other: Pressure) -> Pressure {
    Pressure::new::<pascal>(libm::hypot(one.get::<pascal>(), other.get::<pascal>()))
}

/// Returns what the flow does to the display; none where it does nothing, nobody spoke of it, or nobody can tell because the
/// register does not describe the pipe.
pub(in crate::visit) fn effect(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    when: When,
) -> Option<Effect> {
    let way = Waterway::of(known, conditions)?;
    match state(draft, known, entries, when) {
        Flow::NotSaid | Flow::Still => None,
        Flow::NotKnown => Some(way.any()),
        Flow::Runs { way: which, rate: Some(rate), metered } => Some(way.at(rate, which, metered)),
        Flow::Runs { way: which, rate: None, .. } => Some(way.some(which)),
    }
}
