//! A tower to try things on: the inputs a visit would bring, each with an uncertainty that a test can change.

use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, Length, MassDensity, Pressure};
use uom::si::length::{foot, meter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;

use crate::evidence::{
    Ask, Carried, Case, Column, EvidenceError, Input, InputId, LevelId, OffsetId, Outcome, Reading,
    Reconciled, Rule, Spread,
};

pub(super) fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

pub(super) fn feet(value: f64) -> Length {
    Length::new::<foot>(value)
}

pub(super) fn pascals(value: f64) -> Pressure {
    Pressure::new::<pascal>(value)
}

pub(super) fn density(value: f64) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(value)
}

pub(super) fn gravity(value: f64) -> Acceleration {
    Acceleration::new::<meter_per_second_squared>(value)
}

/// One foot of water at 1000 kg/m3 and 9.80665 m/s2, in pascals: the conventional foot of water.
pub(super) const FOOT: f64 = 1000.0 * 9.80665 * 0.3048;

pub(super) struct Tower {
    pub(super) case: Case,
    pub(super) water: Column,
    pub(super) offset: OffsetId,
    pub(super) level: LevelId,
    pub(super) display: Pressure,
    pub(super) target: Pressure,
    pub(super) rule: Rule,
}

impl Tower {
    /// Everything exact, no air, one unit of reading one unit of liquid.
    pub(super) fn exact(carried: Option<f64>) -> Tower {
        Tower::with(carried, Spread::Exact, Spread::Exact)
    }

    /// Water known to a quarter of a kilogram per cubic metre under a gravity known to half a milligal's zero more.
    pub(super) fn real(carried: Option<f64>) -> Tower {
        let (water, g) = (Spread::Standard(density(0.25)), Spread::Standard(gravity(0.0005)));
        Tower::with(carried, water, g)
    }

    fn with(carried: Option<f64>, water: Spread<MassDensity>, g: Spread<Acceleration>) -> Tower {
        let mut case = Case::new();
        let water = case.input(Input::density("density of the water", density(1000.0), water));
        let g = case.input(Input::acceleration("local gravity", gravity(9.80665), g));
        let carried = carried.map(|value| {
            let input = Input::pressure("offset carried", pascals(value), Spread::Exact);
            case.input(input)
        });
        let offset = case.offset(carried.map_or(Carried::Unknown, Carried::Known));
        let level = case.level();
        Tower {
            case,
            water: Column::new(water, g),
            offset,
            level,
            display: pascals(0.0),
            target: pascals(0.0),
            rule: Rule::TrueAtZero,
        }
    }

    pub(super) fn pressure(&mut self, label: &str, value: f64, spread: Spread<f64>) -> InputId {
        let input = Input::pressure(label, pascals(value), spread.map(pascals));
        self.case.input(input)
    }

    pub(super) fn length(&mut self, label: &str, value: f64, spread: Spread<f64>) -> InputId {
        let input = Input::length(label, metres(value), spread.map(metres));
        self.case.input(input)
    }

    /// The display in pascals, seen at the tower's level.
    pub(super) fn reads(&mut self, shown: f64, off: Spread<f64>) -> InputId {
        let input = self.pressure("display", shown, off);
        self.display = pascals(shown);
        self.reads_as(&[input], self.level);
        input
    }

    pub(super) fn reads_as(&mut self, parts: &[InputId], level: LevelId) {
        let (offset, column) = (self.offset, self.water);
        let reading = Reading { offset, level, column, parts: parts.to_vec(), elapsed: None, lag: None };
        self.case.reading(&reading);
    }

    pub(super) fn dipped(&mut self, level: f64, off: Spread<f64>) {
        let dip = self.length("dip", level, off);
        let by = self.case.reference("dip from the floor");
        self.case.level_is(by, self.level, &[dip], &[]);
    }

    pub(super) fn riser(&mut self, height: f64, off: Spread<f64>) {
        let height = self.length("riser height", height, off);
        let by = self.case.reference("measured riser");
        self.case.riser(by, &[(self.water, height)]);
    }

    pub(super) fn vented(&mut self, shown: f64, off: Spread<f64>) {
        let shown = self.pressure("vented display", shown, off);
        let by = self.case.reference("vented check");
        self.case.vented(by, self.offset, &[shown], &[]);
    }

    pub(super) fn allow_zero(&mut self, off: Spread<f64>) {
        let allowance = self.pressure("the sensor's own zero", 0.0, off);
        self.case.allow_zero(&[allowance]);
    }

    /// The rule by which the display shows the referenced level in conventional feet.
    pub(super) fn true_at_reference(&mut self, per_foot: f64) {
        self.rule = Rule::TrueAtReference { level: self.level, shown: pascals(per_foot), length: feet(1.0) };
    }

    pub(super) fn ask(&self) -> Ask {
        Ask {
            offset: self.offset,
            display: self.display,
            rule: self.rule,
            target: self.target,
            column: self.water,
        }
    }

    pub(super) fn outcome(&self) -> Result<Outcome, EvidenceError> {
        self.case.reconcile(&self.ask())
    }

    pub(super) fn solved(&self) -> Reconciled {
        match self.outcome().unwrap() {
            Outcome::Determined(result) => *result,
            Outcome::NotDetermined(ways) => panic!("not determined; ways out: {ways:?}"),
        }
    }
}

pub(super) fn near(seen: f64, expected: f64, within: f64) {
    assert!((seen - expected).abs() <= within, "saw {seen}, expected {expected} within {within}");
}
