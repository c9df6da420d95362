//! Reconciliation, budgets, coverage factors and probabilities.

use std::collections::BTreeMap;

use domain::evidence::{
    Ask, Carried, Case as Evidence, Column, Estimate, Input, InputId, LevelId, OffsetId, Outcome, Reading,
    Reconciled, Rule, Spread, conformance_probability, coverage_95,
};
use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, Length, MassDensity, Pressure};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;

use crate::case::{Case, Compared};

fn pa(value: f64) -> Pressure {
    Pressure::new::<pascal>(value)
}

fn m(value: f64) -> Length {
    Length::new::<meter>(value)
}

fn rho(value: f64) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(value)
}

fn g(value: f64) -> Acceleration {
    Acceleration::new::<meter_per_second_squared>(value)
}

fn solve(case: &Evidence, offset: OffsetId, column: Column) -> Option<Reconciled> {
    let ask = Ask { offset, display: pa(0.0), rule: Rule::TrueAtZero, target: pa(0.0), column };
    match case.reconcile(&ask).unwrap() {
        Outcome::Determined(solved) => Some(*solved),
        Outcome::NotDetermined(_) => None,
    }
}

/// Builds the evidence of one visit as a case.
struct Built {
    case: Evidence,
    inputs: BTreeMap<String, InputId>,
    column: Column,
    offset: OffsetId,
}

impl Built {
    fn of(made: &Case) -> Built {
        let mut case = Evidence::new();
        let mut inputs = BTreeMap::new();
        for (name, (value, u)) in made.pairs("inputs") {
            let input = match name.as_str() {
                "density" | "air" => Input::density(&name, rho(value), Spread::Standard(rho(u))),
                "gravity" => Input::acceleration(&name, g(value), Spread::Standard(g(u))),
                "accuracy" | "allowance" => Input::pressure(&name, pa(value), Spread::Standard(pa(u))),
                _ => Input::length(&name, m(value), Spread::Standard(m(u))),
            };
            let id = case.input(input);
            inputs.insert(name, id);
        }
        let column = Column::new(inputs["density"], inputs["gravity"]).against(inputs["air"]);
        let carried = made.part("offset").map_or(Carried::Unknown, |offset| {
            let (value, u) = (pa(offset.number("value")), pa(offset.number("u")));
            Carried::Known(case.input(Input::pressure("offset", value, Spread::Standard(u))))
        });
        let offset = case.offset(carried);
        let mut built = Built { case, inputs, column, offset };
        let levels: Vec<LevelId> =
            made.list("readings").iter().map(|reading| built.reading(reading)).collect();
        made.list("levels").iter().for_each(|one| built.level(one, &levels));
        made.list("risers").iter().for_each(|riser| built.riser(riser));
        made.list("vented").iter().for_each(|vented| built.vented(vented));
        built.case.allow_zero(&[built.inputs["allowance"], built.inputs["accuracy"]]);
        built
    }

    fn pressure(&mut self, made: &Case) -> InputId {
        let (value, u) = (pa(made.number("value")), pa(made.number("u")));
        self.case.input(Input::pressure("reading", value, Spread::Standard(u)))
    }

    fn length(&mut self, made: &Case) -> InputId {
        let (value, u) = (m(made.number("value")), m(made.number("u")));
        self.case.input(Input::length("length", value, Spread::Standard(u)))
    }

    fn reading(&mut self, made: &Case) -> LevelId {
        let level = self.case.level();
        let mut parts = vec![self.pressure(made)];
        if made.flag("under_head") {
            parts.push(self.inputs["accuracy"]);
        }
        let (offset, column) = (self.offset, self.column);
        self.case.reading(&Reading { offset, level, column, parts, elapsed: None, lag: None });
        level
    }

    fn level(&mut self, made: &Case, levels: &[LevelId]) {
        let own = self.length(made);
        let named = |names: Vec<&str>| names.into_iter().map(|name| self.inputs[name]).collect::<Vec<_>>();
        let (mut plus, minus) = (named(made.texts("plus")), named(made.texts("minus")));
        plus.push(own);
        let by = self.case.reference("level");
        self.case.level_is(by, levels[made.place("level")], &plus, &minus);
    }

    fn riser(&mut self, made: &Case) {
        let height = self.length(made);
        let by = self.case.reference("riser");
        self.case.riser(by, &[(self.column, height)]);
    }

    fn vented(&mut self, made: &Case) {
        let shown = self.pressure(made);
        let by = self.case.reference("vented");
        self.case.vented(by, self.offset, &[shown], &[]);
    }
}

/// The other side minimises over every quantity at once, this one iterates the linearised equations; they meet in the
/// same point. A hundred-thousandth of the uncertainty is what either may stop short of it.
pub(crate) fn reconciled(made: &Case, compared: &mut Compared) {
    let built = Built::of(made);
    let found = solve(&built.case, built.offset, built.column);
    let Some(expected) = made.part("determined") else {
        compared.hold(found.is_none(), || "a shift was given that is not determined".into());
        return;
    };
    let Some(found) = found else {
        compared.hold(false, || "no shift was given, and it is determined".into());
        return;
    };
    let standard = expected.number("standard");
    compared.near("shift", found.shift.value.get::<pascal>(), expected.number("shift"), 1e-5 * standard);
    compared.near("standard uncertainty", found.shift.standard.get::<pascal>(), standard, 1e-5 * standard);
    compared.hold(found.leans_on_allowance == expected.flag("by_allowance"), || {
        format!("leaning on the allowance is {}", found.leans_on_allowance)
    });
}

fn spread<Q>(line: &Case, unit: impl Fn(f64) -> Q) -> Spread<Q> {
    let size = unit(line.number("size"));
    match line.text("shape") {
        "standard" => Spread::Standard(size),
        "expanded" => Spread::Expanded { half: size, factor: line.number("factor") },
        "rectangular" => Spread::Rectangular(size),
        "triangular" => Spread::Triangular(size),
        "arcsine" => Spread::Arcsine(size),
        "repeats" => Spread::Repeats { standard: size, freedom: line.number("freedom") },
        other => panic!("no shape {other}"),
    }
}

/// One reading of many parts over one level of many parts: the shift is an explicit function, and both sides
/// propagate it to first order, so only the last digits of a double may differ.
pub(crate) fn budgets(made: &Case, compared: &mut Compared) {
    let mut case = Evidence::new();
    let one = |name: &str| made.part(name).unwrap();
    let (liquid, gas, local) = (one("density"), one("air"), one("gravity"));
    let density = |name, line: &Case| Input::density(name, rho(line.number("value")), spread(line, rho));
    let [liquid, gas] = [case.input(density("liquid", &liquid)), case.input(density("air", &gas))];
    let local = case.input(Input::acceleration("gravity", g(local.number("value")), spread(&local, g)));
    let column = Column::new(liquid, local).against(gas);
    let pressure = |line: &Case| Input::pressure("part", pa(line.number("value")), spread(line, pa));
    let parts = made.list("pressures").iter().map(|line| case.input(pressure(line))).collect();
    let length = |line: &Case| Input::length("part", m(line.number("value")), spread(line, m));
    let heights: Vec<InputId> = made.list("lengths").iter().map(|line| case.input(length(line))).collect();
    let offset = case.offset(Carried::Unknown);
    let level = case.level();
    case.reading(&Reading { offset, level, column, parts, elapsed: None, lag: None });
    let by = case.reference("level");
    case.level_is(by, level, &heights, &[]);
    let found = solve(&case, offset, column).unwrap().shift;
    let standard = made.number("standard");
    compared.near("shift", found.value.get::<pascal>(), made.number("shift"), 1e-6 * standard);
    compared.near("standard uncertainty", found.standard.get::<pascal>(), standard, 1e-9 * standard);
    if let Some(freedom) = made.optional("freedom") {
        compared.near("degrees of freedom", found.freedom, freedom, 1e-8 * freedom);
        // A whole number of degrees, hit to the last digit, may be truncated either way.
        if (freedom - freedom.round()).abs() < 1e-7 {
            return;
        }
    }
    // From 1e5 degrees on the normal distribution stands in for Student's: t is larger by (z2 + 1) / 4 of the inverse.
    let normal =
        made.optional("freedom").filter(|freedom| *freedom >= 1e5).map_or(0.0, |freedom| 1.3 / freedom);
    let expanded = made.number("expanded");
    compared.near(
        "expanded uncertainty",
        found.expanded.get::<pascal>(),
        expanded,
        (1e-8 + normal) * expanded,
    );
}

/// Twelve digits by halving, and as many by SciPy; from 1e5 degrees on the normal distribution stands in.
pub(crate) fn coverage(made: &Case, compared: &mut Compared) {
    let expected = made.number("factor");
    compared.near("coverage factor", coverage_95(made.number("freedom")), expected, 1e-9 * expected);
}

/// Student's t is not asked here: the uncertainty is taken as known, as JCGM 106 does in its examples.
pub(crate) fn conformance(made: &Case, compared: &mut Compared) {
    let standard = m(made.number("standard"));
    let error = Estimate {
        value: m(made.number("error")),
        standard,
        expanded: standard * coverage_95(f64::INFINITY),
        coverage: coverage_95(f64::INFINITY),
        freedom: f64::INFINITY,
    };
    let found = conformance_probability(&error, m(made.number("tolerance")));
    compared.near("probability", found, made.number("probability"), 1e-9);
}
