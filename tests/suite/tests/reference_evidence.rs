//! The reconciliation, its uncertainty and its verdicts against published and independently computed values.
//! Values, sources and tolerances: `reference/evidence.json`.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)] // A panic in a test is its message.

use domain::evidence::{
    Ask, Carried, Case, Column, Conformity, Estimate, Input, InputId, LevelId, Outcome, Reading, Reconciled,
    Repeat, Repeats, Rule, Spread, Together, conformance_probability, coverage_95,
};
use rstest::rstest;
use serde_json::Value;
use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, Length, MassDensity, Pressure, Time, Velocity};
use uom::si::length::{foot, meter, millimeter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::time::second;
use uom::si::velocity::meter_per_second;

/// 0.45359237 kg x 9.80665 m/s2 over (0.0254 m)^2.
const PSI: f64 = 0.453_592_37 * 9.80665 / (0.0254 * 0.0254);

fn entry(id: &str) -> Value {
    let all: Value = serde_json::from_str(include_str!("../reference/evidence.json")).unwrap();
    let entries = all["entries"].as_array().unwrap();
    entries.iter().find(|entry| entry["id"] == id).unwrap_or_else(|| panic!("no entry {id}")).clone()
}

fn given<'e>(entry: &'e Value, name: &str) -> &'e Value {
    let rows = entry["inputs"].as_array().unwrap();
    let more = entry["worked_with"].as_array();
    let mut all = rows.iter().chain(more.into_iter().flatten());
    &all.find(|row| row["name"] == name).unwrap_or_else(|| panic!("no input {name}"))["value"]
}

fn number(entry: &Value, name: &str) -> f64 {
    given(entry, name).as_f64().unwrap()
}

fn numbers(value: &Value) -> Vec<f64> {
    let read = |one: &Value| one.as_f64().unwrap_or_else(|| one.as_str().unwrap().parse().unwrap());
    value.as_array().unwrap().iter().map(read).collect()
}

/// Holds a value to the entry's expectation, within the entry's own tolerance.
fn hold(entry: &Value, name: &str, seen: f64) {
    let rows = entry["expected"].as_array().unwrap();
    let row = rows.iter().find(|row| row["name"] == name).unwrap_or_else(|| panic!("nothing expects {name}"));
    let (expected, within) = (row["value"].as_f64().unwrap(), row["tol"].as_f64().unwrap());
    assert!(
        (seen - expected).abs() <= within,
        "{}: {name} is {seen}, expected {expected} within {within}",
        entry["id"]
    );
}

fn pa(value: f64) -> Pressure {
    Pressure::new::<pascal>(value)
}

fn m(value: f64) -> Length {
    Length::new::<meter>(value)
}

/// A case with one level, one unknown offset and one column.
struct Bench {
    case: Case,
    ask: Ask,
    level: LevelId,
}

impl Bench {
    fn new(rho: (f64, f64), air: f64, g: (f64, f64)) -> Bench {
        Bench::carrying(rho, air, g, false)
    }

    fn carrying(rho: (f64, f64), air: f64, g: (f64, f64), cleared: bool) -> Bench {
        let mut case = Case::new();
        let density = |value| MassDensity::new::<kilogram_per_cubic_meter>(value);
        let gravity = |value| Acceleration::new::<meter_per_second_squared>(value);
        let water = case.input(Input::density("density", density(rho.0), Spread::Standard(density(rho.1))));
        let air = case.input(Input::density("air", density(air), Spread::Exact));
        let g = case.input(Input::acceleration("gravity", gravity(g.0), Spread::Standard(gravity(g.1))));
        let zero = case.input(Input::pressure("cleared", pa(0.0), Spread::Exact));
        let offset = case.offset(if cleared { Carried::Known(zero) } else { Carried::Unknown });
        let column = Column::new(water, g).against(air);
        let ask = Ask { offset, display: pa(0.0), rule: Rule::TrueAtZero, target: pa(0.0), column };
        let level = case.level();
        Bench { case, ask, level }
    }

    /// One where a metre is a pascal and nothing is uncertain, for budgets of bare numbers.
    fn bare() -> Bench {
        Bench::new((1.0, 0.0), 0.0, (1.0, 0.0))
    }

    fn pressure(&mut self, value: f64, spread: Spread<f64>) -> InputId {
        let input = Input::pressure("pressure", pa(value), in_unit(spread, pa));
        self.case.input(input)
    }

    fn length(&mut self, value: f64, spread: Spread<f64>) -> InputId {
        let input = Input::length("length", m(value), in_unit(spread, m));
        self.case.input(input)
    }

    fn reads(&mut self, shown: f64, parts: &[InputId]) {
        self.ask.display = pa(shown);
        let reading = Reading {
            offset: self.ask.offset,
            level: self.level,
            column: self.ask.column,
            parts: parts.to_vec(),
            elapsed: None,
            lag: None,
        };
        self.case.reading(&reading);
    }

    fn level_is(&mut self, parts: &[InputId]) {
        let by = self.case.reference("reference");
        self.case.level_is(by, self.level, parts, &[]);
    }

    fn solved(&self) -> Reconciled {
        match self.case.reconcile(&self.ask).unwrap() {
            Outcome::Determined(solved) => *solved,
            Outcome::NotDetermined(ways) => panic!("not determined; ways out {ways:?}"),
        }
    }
}

fn in_unit<Q>(spread: Spread<f64>, unit: impl Fn(f64) -> Q) -> Spread<Q> {
    match spread {
        Spread::Exact => Spread::Exact,
        Spread::Standard(u) => Spread::Standard(unit(u)),
        Spread::Expanded { half, factor } => Spread::Expanded { half: unit(half), factor },
        Spread::Rectangular(a) => Spread::Rectangular(unit(a)),
        Spread::Triangular(a) => Spread::Triangular(unit(a)),
        Spread::Arcsine(a) => Spread::Arcsine(unit(a)),
        Spread::Repeats { standard, freedom } => Spread::Repeats { standard: unit(standard), freedom },
    }
}

/// Adds components up in a reading whose level is exact: the shift's uncertainty is theirs.
fn added(components: &[(f64, f64)]) -> Estimate<Pressure> {
    let mut bench = Bench::bare();
    let parts: Vec<InputId> = components
        .iter()
        .map(|(standard, freedom)| {
            bench.pressure(0.0, Spread::Repeats { standard: *standard, freedom: *freedom })
        })
        .collect();
    bench.reads(0.0, &parts);
    let nothing = bench.length(0.0, Spread::Exact);
    bench.level_is(&[nothing]);
    bench.solved().shift
}

#[rstest]
fn the_end_gauges_budget_comes_out_as_printed() {
    // The components and their degrees of freedom stand in the entry as text.
    let entry = entry("f001");
    let text = given(&entry, "u_components").as_str().unwrap();
    let components: Vec<(f64, f64)> = text
        .split(", ")
        .map(|component| {
            let (standard, freedom) = component.split_once(" (").unwrap();
            let digits: String = freedom.chars().filter(char::is_ascii_digit).collect();
            (standard.parse().unwrap(), digits.parse().unwrap())
        })
        .collect();
    assert_eq!(components.len(), 6);
    let shift = added(&components);
    hold(&entry, "uc", shift.standard.value);
    hold(&entry, "nu_eff", shift.freedom);
}

#[rstest]
#[case("f005")]
#[case("f007")]
fn effective_freedom_and_expanded_uncertainty(#[case] id: &str) {
    let entry = entry(id);
    let (standard, freedom) = (numbers(given(&entry, "u")), numbers(given(&entry, "df")));
    let shift = added(&standard.into_iter().zip(freedom).collect::<Vec<_>>());
    hold(&entry, "uc", shift.standard.value);
    hold(&entry, "nu_eff", shift.freedom);
    hold(&entry, "k95_floor_nu", shift.coverage);
    hold(&entry, "U95", shift.expanded.value);
}

#[rstest]
#[case("f008")]
#[case("f010")]
#[case("f012")]
fn coverage_factors(#[case] id: &str) {
    let entry = entry(id);
    hold(&entry, "k", coverage_95(number(&entry, "df")));
}

#[rstest]
#[case::rectangular("f013", Spread::Rectangular)]
#[case::arcsine("f015", Spread::Arcsine)]
#[case::normal("f017", |half| Spread::Expanded { half, factor: 2.0 })]
fn standard_uncertainties(#[case] id: &str, #[case] spread: fn(f64) -> Spread<f64>) {
    let entry = entry(id);
    let mut bench = Bench::bare();
    let shown = bench.pressure(0.0, spread(number(&entry, "a")));
    bench.reads(0.0, &[shown]);
    let nothing = bench.length(0.0, Spread::Exact);
    bench.level_is(&[nothing]);
    hold(&entry, "u", bench.solved().shift.standard.value);
}

/// The offset by a dip, with some of its uncertainties left out.
fn offset_by_dip(entry: &Value, keep: impl Fn(usize) -> bool) -> Estimate<Length> {
    let u = |place: usize, name: &str| if keep(place) { number(entry, name) } else { 0.0 };
    let rho = (number(entry, "rho"), u(1, "u_rho"));
    let mut bench = Bench::new(rho, 0.0, (number(entry, "g"), u(2, "u_g")));
    let shown = bench.pressure(number(entry, "p"), Spread::Standard(u(0, "u_p")));
    bench.reads(number(entry, "p"), &[shown]);
    let dip = bench.length(number(entry, "L_ref"), Spread::Standard(u(3, "u_L")));
    let repeats = bench.length(0.0, Spread::Repeats { standard: u(4, "u_rep"), freedom: 9.0 });
    bench.level_is(&[dip, repeats]);
    bench.solved().height
}

#[rstest]
#[case("f018")]
#[case("f020")]
fn an_offsets_budget(#[case] id: &str) {
    let entry = entry(id);
    let whole = offset_by_dip(&entry, |_| true);
    hold(&entry, "offset", whole.value.value);
    hold(&entry, "u_offset", whole.standard.value);
    hold(&entry, "nu_eff", whole.freedom);
    let rows = entry["expected"].as_array().unwrap();
    let components = rows.iter().find(|row| row["name"] == "components").unwrap();
    for (place, expected) in numbers(&components["value"]).into_iter().enumerate() {
        let seen = offset_by_dip(&entry, |other| other == place).standard.value;
        assert!(
            (seen - expected).abs() <= components["tol"].as_f64().unwrap(),
            "{id}: component {place} is {seen}"
        );
    }
}

#[rstest]
fn after_an_empty_tank_reference_density_acts_on_the_level_only() {
    let entry = entry("f021");
    let (h0, h1, relative) = (number(&entry, "h0"), number(&entry, "h1"), number(&entry, "rel_u_rho"));
    let mut bench = Bench::new((1000.0, 1000.0 * relative), 0.0, (9.80665, 0.0));
    let empty = bench.pressure(9806.65 * h0, Spread::Exact);
    bench.reads(9806.65 * h0, &[empty]);
    let sill = bench.length(0.0, Spread::Exact);
    bench.level_is(&[sill]);
    bench.level = bench.case.level();
    let full = bench.pressure(9806.65 * h1, Spread::Exact);
    bench.reads(9806.65 * h1, &[full]);
    let (_, level) = bench.solved().levels[1];
    assert!((level.value.value - (h1 - h0)).abs() < 1e-9);
    hold(&entry, "u_level_with_correlation", level.standard.value);
}

#[rstest]
#[case("f023", Conformity::Pass)]
#[case("f025", Conformity::ConditionalPass)]
fn guard_banded_decisions(#[case] id: &str, #[case] expected: Conformity) {
    let entry = entry(id);
    let percent = |name: &str| m(number(&entry, name));
    let seen = Conformity::of(percent("error"), percent("U"), percent("TL"));
    assert_eq!(seen, expected);
    let rows = entry["expected"].as_array().unwrap();
    let binary = rows.iter().find(|row| row["name"] == "binary").unwrap();
    assert_eq!(binary["value"] == "pass", seen.passes());
}

fn conformance(error: f64, standard: f64, tolerance: f64) -> f64 {
    let error = Estimate {
        value: m(error),
        standard: m(standard),
        expanded: m(2.0 * standard),
        coverage: 2.0,
        freedom: f64::INFINITY,
    };
    conformance_probability(&error, m(tolerance))
}

#[rstest]
#[case("f028", 0.1)]
#[case("f030", 0.1)]
fn conformance_probabilities(#[case] id: &str, #[case] tolerance: f64) {
    let entry = entry(id);
    hold(&entry, "pc", conformance(number(&entry, "m"), number(&entry, "u"), tolerance));
}

#[rstest]
fn at_the_acceptance_limit_one_in_forty_four_is_accepted_falsely() {
    // At TL - U with U = 2 u; the other limit is so far away that only this one counts.
    hold(&entry("f027"), "p", 1.0 - conformance(1.0 - 0.02, 0.01, 1.0));
}

/// Several references to one level and nothing else uncertain.
fn weighed(values: &[(f64, f64)]) -> Reconciled {
    let mut bench = Bench::bare();
    let shown = bench.pressure(0.0, Spread::Exact);
    bench.reads(0.0, &[shown]);
    for (value, standard) in values {
        let length = bench.length(*value, Spread::Standard(*standard));
        bench.level_is(&[length]);
    }
    bench.solved()
}

fn hold_mean(entry: &Value, values: &[(f64, f64)]) -> Reconciled {
    // Metres of a one-pascal liquid against an exactness of a millipascal would show in the sixth digit.
    let scaled: Vec<(f64, f64)> = values.iter().map(|(value, u)| (value * 1e3, u * 1e3)).collect();
    let solved = weighed(&scaled);
    let (_, level) = solved.levels[0];
    hold(entry, "mean", level.value.value / 1e3);
    hold(entry, "u_internal", level.standard.value / 1e3);
    let redundancy = u32::try_from(solved.consistency.redundancy).unwrap();
    hold(entry, "birge", (solved.consistency.chi_square / f64::from(redundancy)).sqrt());
    solved
}

#[rstest]
#[case("f031")]
#[case("f033")]
fn two_references_weighed_and_compared(#[case] id: &str) {
    let entry = entry(id);
    let pair = [("a", "u_a"), ("b", "u_b")].map(|(value, u)| (number(&entry, value), number(&entry, u)));
    let solved = hold_mean(&entry, &pair);
    let [pair] = solved.pairs.as_slice() else { panic!("two references make one pair") };
    // The entry expands each with k = 2; ours is the 95 % factor.
    let difference = pair.difference;
    hold(&entry, "En", (difference.value.value / (2.0 * difference.standard.value)).abs());
    assert!(
        (pair.en.unwrap().abs() - difference.value.value.abs() / difference.expanded.value).abs() < 1e-12
    );
}

#[rstest]
fn three_references_weighed() {
    let entry = entry("f035");
    let text = given(&entry, "values").as_str().unwrap();
    let digits: Vec<f64> = text
        .split(|sign: char| !sign.is_ascii_digit() && sign != '.')
        .filter_map(|digits| digits.parse().ok())
        .collect();
    let values: Vec<(f64, f64)> = digits.chunks(2).map(|pair| (pair[0], pair[1])).collect();
    assert_eq!(values.len(), 3);
    hold(&entry, "chi2", hold_mean(&entry, &values).consistency.chi_square);
}

#[rstest]
#[case("h015")]
#[case("h017")]
fn three_dips_that_agree(#[case] id: &str) {
    let entry = entry(id);
    let repeats: Vec<Repeat> =
        numbers(given(&entry, "readings")).into_iter().map(|value| Repeat::counting(m(value))).collect();
    let Together::Agree { range } = Together::of(&repeats, m(number(&entry, "limit"))) else {
        panic!("{id}: the entry accepts these");
    };
    hold(&entry, "spread", range.value);
    let together = Repeats::of(&repeats, m(0.003)).unwrap();
    hold(&entry, "mean", together.mean.value);
    let Spread::Repeats { standard, .. } = together.spread else { panic!("three repeats have a scatter") };
    hold(&entry, "u_mean_typeA", standard.value);
}

#[rstest]
#[case("h020")]
#[case("h022")]
fn a_dip_and_a_reading_minutes_apart(#[case] id: &str) {
    let entry = entry(id);
    let gallons_per_minute = 3.785_411_784e-3 / 60.0;
    let area = std::f64::consts::PI / 4.0 * number(&entry, "D").powi(2);
    let rate = number(&entry, "Q") * gallons_per_minute / area;
    hold(&entry, "rate", rate * 60_000.0);
    let shift = |carried: bool| {
        let mut bench = Bench::new((1000.0, 0.0), 0.0, (9.80665, 0.0));
        let elapsed = Time::new::<second>(number(&entry, "dt"));
        let elapsed = bench.case.input(Input::time("apart", elapsed, Spread::Exact));
        let shown = bench.pressure(150_000.0, Spread::Standard(10.0));
        let (offset, column, level) = (bench.ask.offset, bench.ask.column, bench.level);
        let parts = vec![shown];
        bench.case.reading(&Reading { offset, level, column, parts, elapsed: Some(elapsed), lag: None });
        let velocity = Velocity::new::<meter_per_second>(if carried { rate } else { 0.0 });
        let velocity = bench.case.input(Input::velocity("rate", velocity, Spread::Exact));
        bench.case.rate(level, velocity);
        let dip = bench.length(5.0, Spread::Standard(0.003));
        bench.level_is(&[dip]);
        bench.solved().error.value
    };
    hold(&entry, "error", (shift(false) - shift(true)).get::<millimeter>());
}

/// What one unit of the entry's pressures is in pascals, and of its lengths in metres.
fn units(entry: &Value) -> (f64, f64) {
    let rows = entry["inputs"].as_array().unwrap();
    if rows.iter().any(|row| row["unit"] == "psi") { (PSI, 0.3048) } else { (1000.0, 1.0) }
}

fn scenario(entry: &Value, cleared: bool) -> Bench {
    let air = number(entry, "rho_air");
    let mut bench = Bench::carrying((number(entry, "rho"), 0.0), air, (number(entry, "g"), 0.0), cleared);
    let shown = number(entry, "p_reading") * units(entry).0;
    let part = bench.pressure(shown, Spread::Exact);
    bench.reads(shown, &[part]);
    bench
}

#[rstest]
#[case("d052")]
#[case("d054")]
fn reference_one_the_tank_known_empty(#[case] id: &str) {
    let entry = entry(id);
    let mut bench = scenario(&entry, false);
    let sill = bench.length(0.0, Spread::Exact);
    bench.level_is(&[sill]);
    let solved = bench.solved();
    hold(&entry, "offset_pressure", solved.shift.value.value / PSI);
    hold(&entry, "offset_level", solved.height.value.get::<foot>());
    hold(&entry, "raw_head", -solved.height.value.get::<foot>());
    let apart = -solved.height.value.get::<foot>() - number(&entry, "drawing");
    hold(&entry, "disagreement_with_drawing", apart);
}

#[rstest]
#[case("d055")]
#[case("d057")]
fn reference_two_the_dipped_level(#[case] id: &str) {
    let entry = entry(id);
    let (pressure, length) = units(&entry);
    let mut bench = scenario(&entry, false);
    let dip = bench.length(number(&entry, "dip_level") * length, Spread::Exact);
    bench.level_is(&[dip]);
    let solved = bench.solved();
    hold(&entry, "offset_pressure", solved.shift.value.value / pressure);
    hold(&entry, "offset_level", solved.height.value.value / length);
    hold(&entry, "raw_head", number(&entry, "dip_level") - solved.height.value.value / length);
}

#[rstest]
#[case("d059")]
#[case("d061")]
fn reference_three_the_measured_riser(#[case] id: &str) {
    let entry = entry(id);
    let (pressure, length) = units(&entry);
    let mut bench = scenario(&entry, true);
    let height = bench.length(number(&entry, "riser") * length, Spread::Exact);
    let by = bench.case.reference("measured riser");
    let column = bench.ask.column;
    bench.case.riser(by, &[(column, height)]);
    let allowance = bench.pressure(0.0, Spread::Exact);
    bench.case.allow_zero(&[allowance]);
    let solved = bench.solved();
    assert!(solved.leans_on_allowance, "{id}: the sensor's own zero is left in, and the result must say so");
    hold(&entry, "offset_pressure", solved.shift.value.value / pressure);
    hold(&entry, "offset_level", solved.height.value.value / length);
    hold(&entry, "level", solved.levels[0].1.value.value / length);
}
