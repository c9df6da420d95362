//! Display readings: what adds up to one, and which level it saw.

use uom::si::f64::{Pressure, Time};
use uom::si::time::second;

use super::start::Builder;
use super::unit::Standing;
use crate::evidence::{Drift, Input, InputId, LevelId, Reading, Spread};
use crate::head::Gradient;
use crate::visit::{Choice, Key, Moment, Spot, Timing, usual};

/// A time from one moment to another, as known by when things were entered.
fn elapsed(from: f64, to: Moment) -> Time {
    #[allow(clippy::cast_precision_loss)] // Milliseconds of a visit are far below 2^53.
    Time::new::<second>((to.0 as f64 - from) / 1000.0)
}

impl Builder<'_> {
    /// What adds up to a display reading: the number, its step, and what the sensor may be off by under head.
    pub(super) fn shown(
        &mut self,
        spot: Spot,
        (pressure, step): (Pressure, Pressure),
        label: &str,
        under_head: bool,
    ) -> Vec<InputId> {
        let number = self.number(spot, (pressure, step), label);
        let mut parts = vec![number];
        if under_head {
            parts.push(self.accuracy);
        }
        parts.extend(self.marks.get("vent").copied());
        parts
    }

    /// The number typed at a spot, with its last digit: one cause, however many pieces of evidence it stands for.
    fn number(&mut self, spot: Spot, (pressure, step): (Pressure, Pressure), label: &str) -> InputId {
        if let Some((number, _)) = self.typed.iter().find(|(_, typed)| *typed == spot) {
            return *number;
        }
        let number = self.case.input(Input::pressure(label, pressure, Spread::Rectangular(step * 0.5)));
        self.typed.push((number, spot));
        number
    }

    /// A blocked or wet vent lets the weather into every reading, alike.
    pub(super) fn blocked_vent(&mut self) {
        if self.draft.answers.choice(Spot::of(Key::VentLooked)) == Some(Choice::VentBlocked) {
            let half = Gradient::CONVENTIONAL_WATER.pressure(usual::blocked_vent());
            let input =
                Input::pressure("blocked or wet vent path", Pressure::default(), Spread::Rectangular(half));
            self.accuracy_also(input);
        }
    }

    /// What runs in the riser is in every reading that the tank presses on, alike; so it is taken off them as one cause.
    pub(super) fn flow_in_riser(&mut self, timing: Timing) {
        let [found, left] = self.flows;
        let felt = if timing == Timing::Before { found } else { left };
        self.flow = felt.map(|felt| {
            let spread = Spread::Rectangular(felt.half);
            self.case.input(Input::pressure("flow in the riser, taken off", -felt.by, spread))
        });
    }

    pub(super) fn accuracy_also(&mut self, input: Input) {
        let id = self.case.input(input);
        self.marks.insert("vent", id);
    }

    pub(super) fn share_level(&mut self, under_head: bool) -> LevelId {
        let level = self.case.level();
        if let Some(now) = self.now {
            let parts = self.standing_parts(now, under_head);
            let (offset, column) = (now.offset, self.column);
            self.case.reading(&Reading { offset, level, column, parts, elapsed: None, lag: None });
            self.shared_level = Some(level);
        }
        level
    }

    fn standing_parts(&mut self, now: Standing, under_head: bool) -> Vec<InputId> {
        if let Some(parts) = &self.standing_parts {
            return parts.clone();
        }
        let mut parts = self.shown(now.spot, (now.pressure, now.step), "display", under_head);
        parts.extend(self.scatter);
        parts.extend(self.flow);
        self.standing_parts = Some(parts.clone());
        parts
    }

    /// A level at the moment of a reference, carried to the series of readings by the rate that the series shows.
    pub(super) fn carried_level(&mut self, now: Standing, drift: Drift, taken: f64) -> LevelId {
        let level = self.case.level();
        let one = Time::new::<second>(1.0);
        let time = elapsed(taken, now.at);
        let rate = self.gradient.length(drift.over(one)) / one;
        let standard = self.gradient.length(drift.standard_over(one)) / one;
        let case = &mut self.case;
        let rated = || Input::velocity("rate of the level by the readings", rate, Spread::Standard(standard));
        let velocity = *self.velocity.get_or_insert_with(|| case.input(rated()));
        let entered = Spread::Rectangular(usual::entered());
        let between = self.case.input(Input::time("time between readings and reference", time, entered));
        let parts = self.standing_parts(now, true);
        let (offset, column, lag) = (now.offset, self.column, self.lag);
        self.case.reading(&Reading { offset, level, column, parts, elapsed: Some(between), lag });
        self.case.rate(level, velocity);
        self.carried_by = (rate * time).abs();
        level
    }

    pub(super) fn own_reading(&mut self, spot: Spot, level: LevelId, taken: Option<f64>, under_head: bool) {
        let (Some((pressure, step)), Some(now)) = (self.entries.reading(spot), self.now) else { return };
        let Some(at) = self.draft.answers.get(spot).map(|answer| answer.at) else { return };
        let label = if spot.key == Key::ReadingBefore { "display before" } else { "display after" };
        let mut parts = self.shown(spot, (pressure, step), label, under_head);
        parts.extend(self.flow);
        let elapsed = taken.map(|taken| {
            let time = elapsed(taken, at);
            self.case.input(Input::time(
                "time between reading and reference",
                time,
                Spread::Rectangular(usual::entered()),
            ))
        });
        let lag = elapsed.and(self.lag);
        self.case.reading(&Reading { offset: now.offset, level, column: self.column, parts, elapsed, lag });
        if at >= now.at {
            self.now = Some(Standing { pressure, step, at, spot, ..now });
        }
    }
}
