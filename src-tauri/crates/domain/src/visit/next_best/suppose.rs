//! A measurement put into a copy of the case, with its ordinary uncertainty: by the same inputs and equations as it will
//! have once it is made.

use uom::si::f64::{Length, Pressure};

use super::Measure;
use crate::evidence::{Case, Input, InputId, LevelId, Reading, Spread};
use crate::visit::builder::{Built, Shares, surveyed};
use crate::visit::entries::today;
use crate::visit::other::Told;
use crate::visit::{Assessment, Choice, Conditions, Draft, Key, Known, Spot, Today, moment, usual};

/// What is known of the place and the day.
pub(super) struct Site<'a> {
    pub(super) draft: &'a Draft,
    pub(super) assessment: &'a Assessment,
    pub(super) built: &'a Built,
    /// The level that the evidence so far tells, if it tells one.
    pub(super) level: Option<Length>,
}

impl Site<'_> {
    pub(super) fn known(&self) -> &Known {
        &self.assessment.known
    }

    /// Where the level may well stand: as the evidence tells, else as the display shows less the standing head that is in
    /// it, else half-way.
    pub(super) fn about(&self) -> Length {
        let span = self.known().span;
        let within = |level: &Length| *level >= Length::default() && *level <= span;
        let conditions = &self.assessment.conditions;
        let carried = self.assessment.entries.reading(Spot::of(Key::OffsetValue)).map(|(offset, _)| offset);
        let under =
            self.built.ask.display - conditions.installed.standing_head() - carried.unwrap_or_default();
        let under = conditions.gradient.length(under);
        let shown = self.assessment.found.iter().filter_map(|told| told.level);
        // With the offset known it is known how much of the display is standing head.
        let by_offset = carried.map(|_| under);
        let guessed = by_offset.into_iter().chain(shown).chain([under]).find(within);
        self.level.or(guessed).unwrap_or(span * 0.5)
    }

    /// Adds a measurement to a case.
    pub(super) fn suppose(&self, case: &mut Case, measure: &Measure) {
        match measure {
            Measure::ReadOffset => self.offset(case),
            Measure::Temperature => self.temperature(case),
            Measure::LongerSeries => self.longer(case),
            Measure::KnownEmpty => {
                let (sill, half) = (self.known().sill, usual::empty_seen());
                let sill = self.mark(case, "outlet sill", sill);
                let seen = case.input(Input::length("seen", Length::default(), Spread::Rectangular(half)));
                self.level(case, &[sill, seen], &[], false);
            }
            Measure::Overflow => {
                let half = usual::overflow_film() * 0.5;
                let crest = self.mark(case, "overflow crest", self.known().overflow.unwrap_or_default());
                let film = case.input(Input::length("film", half, Spread::Rectangular(half)));
                self.level(case, &[crest, film], &[], true);
            }
            Measure::Dip(tape) => {
                let floor = self.known().floor;
                let mark = self.mark(case, "tank floor above zero", floor);
                let (tape, dips) = (self.tape(case, tape), dips(case, self.about() - floor));
                self.level(case, &[mark, dips, tape], &[], true);
            }
            Measure::Drop(tape) => {
                let hatch = self.known().hatch.unwrap_or_default();
                let mark = self.mark(case, "hatch mark above zero", hatch);
                let (tape, dips) = (self.tape(case, tape), dips(case, hatch - self.about()));
                self.level(case, &[mark], &[dips, tape], true);
            }
            Measure::Other(name) => self.other(case, name),
            Measure::RiserByLaser => self.riser(case, Choice::ByLaser),
            Measure::RiserByTape => self.riser(case, Choice::ByTape),
            Measure::Vented => self.vented(case),
        }
    }

    /// The offset read on the unit takes the place of one that a record says.
    fn offset(&self, case: &mut Case) {
        let step = Spread::Rectangular(self.built.step * 0.5);
        let read = Input::pressure("offset", Pressure::default(), step);
        match self.built.typed.iter().find(|(_, spot)| *spot == Spot::of(Key::OffsetValue)) {
            Some((recorded, _)) => case.restate(*recorded, read),
            None => {
                let read = case.input(read);
                case.offset_is(self.built.ask.offset, read);
            }
        }
    }

    fn other(&self, case: &mut Case, name: &str) {
        let Some(other) = self.known().others.iter().find(|other| other.name == *name) else { return };
        let told = Told {
            name: name.to_owned(),
            level: self.about(),
            step: Length::default(),
            expanded: other.expanded,
            by_hatch: other.by_hatch,
            by_pressure: other.by_pressure,
        };
        let hatch = self.known().hatch.filter(|_| told.by_hatch);
        let shares = Shares {
            hatch: hatch.map(|hatch| (hatch, self.mark(case, "hatch mark above zero", hatch))),
            column: self.built.ask.column,
            gradient: self.assessment.conditions.gradient,
            density_part: self.built.density_part,
        };
        let level = self.read(case, true);
        let by = case.reference("supposed");
        shares.level(case, by, level, &told, &[]);
    }

    /// A level that lengths tell, with a reading of the display for it.
    fn level(&self, case: &mut Case, plus: &[InputId], minus: &[InputId], under_head: bool) {
        let level = self.read(case, under_head);
        let by = case.reference("supposed");
        case.level_is(by, level, plus, minus);
    }

    /// A reading of the display over a level of its own.
    fn read(&self, case: &mut Case, under_head: bool) -> LevelId {
        let level = case.level();
        let step = Spread::Rectangular(self.built.step * 0.5);
        let mut parts = vec![case.input(Input::pressure("display", Pressure::default(), step))];
        parts.extend(under_head.then_some(self.built.accuracy));
        parts.extend(self.built.marks.get("vent"));
        parts.extend(self.built.flow);
        let (offset, column) = (self.built.ask.offset, self.built.ask.column);
        case.reading(&Reading { offset, level, column, parts, elapsed: None, lag: None });
        level
    }

    fn mark(&self, case: &mut Case, name: &'static str, at: Length) -> InputId {
        let same = self.built.marks.get(name).copied();
        same.unwrap_or_else(|| case.input(surveyed(name, at)))
    }

    fn tape(&self, case: &mut Case, name: &str) -> InputId {
        let used = self.built.tapes.get(name).copied();
        used.unwrap_or_else(|| {
            let standard = Spread::Standard(self.known().tape(name).standard_on(moment::day(self.draft)));
            case.input(Input::length("tape", Length::default(), standard))
        })
    }

    /// The riser, or with two seals the height from one to the other, measured anew; the other heights stay the register's.
    fn riser(&self, case: &mut Case, how: Choice) {
        let standard = Spread::Standard(Known::riser_standard(how));
        let mounting = &self.known().mounted.mounting;
        let height = match (mounting.tap(), mounting.top()) {
            (Some(tap), Some(top)) => top - tap,
            _ => mounting.riser(),
        };
        let height = case.input(Input::length("riser", height, standard));
        let by = case.reference("supposed");
        self.built.suppose_height(case, self.known(), by, height);
    }

    fn vented(&self, case: &mut Case) {
        let step = Spread::Rectangular(self.built.step * 0.5);
        let half = self.known().sensor.accuracy;
        let shown = case.input(Input::pressure("vented", Pressure::default(), step));
        let own = Spread::Expanded { half, factor: 2.0 };
        let own = case.input(Input::pressure("accuracy", Pressure::default(), own));
        let mut parts = vec![shown, own];
        parts.extend(self.built.marks.get("vent"));
        let by = case.reference("supposed");
        case.vented(by, self.built.ask.offset, &parts, &[]);
    }

    fn temperature(&self, case: &mut Case) {
        let known = self.known();
        let measured = Today { liquid: Some(known.temperature), ..today(self.draft, known) };
        if let Ok(measured) = Conditions::today(known, measured) {
            self.built.suppose_conditions(case, &measured);
        }
    }

    /// Ten readings more, as far apart and with as much scatter: what a series says gets surer by the root of how many
    /// it is worth, and its scatter is better known.
    fn longer(&self, case: &mut Case) {
        let (Some(scatter), Some(series)) = (self.built.scatter, self.built.series) else { return };
        let Spread::Repeats { standard, freedom } = series.spread else { return };
        #[allow(clippy::cast_precision_loss)] // Nobody reads a display 2^52 times.
        let count = series.count as f64;
        let taken = if series.moves { 2.0 } else { 1.0 };
        let worth = (freedom + taken) / count;
        let spread = Spread::Repeats {
            standard: standard * libm::sqrt(count / (count + MORE)),
            freedom: (worth * (count + MORE) - taken).max(1.0),
        };
        case.restate(scatter, Input::pressure("scatter", Pressure::default(), spread));
    }
}

/// How many readings more are proposed.
const MORE: f64 = 10.0;

/// Three dips: their scatter is what one shows as a rule, over the root of three, and three tell that no better.
fn dips(case: &mut Case, at: Length) -> InputId {
    let spread = Spread::Repeats { standard: usual::one_dip() / libm::sqrt(3.0), freedom: 2.0 };
    case.input(Input::length("dips", at, spread))
}
