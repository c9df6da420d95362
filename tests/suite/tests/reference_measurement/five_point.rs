//! Five-point checks of the textbooks.

use domain::evidence::Conformity;
use domain::ranging::five_point::{Findings, Point, Quality, Run, TUR_WANTED, findings, judge};
use domain::ranging::{Action, Range};
use uom::si::electric_current::milliampere;
use uom::si::f64::{ElectricCurrent, Pressure, Ratio};
use uom::si::pressure::pascal;
use uom::si::ratio::{percent, ratio};

use crate::facts::{Fact, group};

const FACTS: &str = include_str!("../../reference/five_point.json");

fn numbers(text: &str) -> Vec<f64> {
    text.trim_matches(['[', ']']).split(',').map(|number| number.trim().parse().unwrap()).collect()
}

fn part(percents: f64) -> Ratio {
    Ratio::new::<percent>(percents)
}

/// Points by the current they gave, on a range of 0 to 100 Pa, so that a pascal is a percent.
fn by_current(runs: &[Run], applied: &[f64], currents: &[f64]) -> Findings {
    let pascals = Pressure::new::<pascal>;
    let range = Range::new(pascals(0.0), pascals(100.0), Action::Direct).unwrap();
    let taken = runs.iter().zip(applied).zip(currents);
    let points = taken.map(|((run, applied), current)| {
        let current = ElectricCurrent::new::<milliampere>(*current);
        Point::by_current(&range, *run, pascals(*applied), current).unwrap()
    });
    findings(&points.collect::<Vec<_>>()).unwrap()
}

fn hysteresis(found: &Findings) -> f64 {
    found.hysteresis.unwrap().size.get::<percent>()
}

#[test]
fn nine_points_up_and_down() {
    let fact = &group(FACTS, "nine_points", 1)[0];
    let applied: Vec<f64> =
        numbers(fact.text("ideal")).iter().map(|ideal| (ideal - 4.0) / 16.0 * 100.0).collect();
    let runs = Run::of_each(&applied.iter().copied().map(part).collect::<Vec<_>>());
    let found = by_current(&runs, &applied, &numbers(fact.text("measured")));
    let errors: Vec<f64> = found.points.iter().map(|point| point.error().get::<percent>()).collect();
    fact.hold_all("error", "% span", &errors);
    fact.hold("max_hysteresis", "% span", hysteresis(&found));
}

#[test]
fn performance_terms_of_two_checks() {
    for fact in group(FACTS, "terms", 2) {
        let applied = numbers(fact.text("input"));
        let (up, down) = (numbers(fact.text("up")), numbers(fact.text("down")));
        let runs = [[Run::Up; 5], [Run::Down; 5]].concat();
        let found = by_current(&runs, &[applied.clone(), applied].concat(), &[up, down].concat());
        let shown = |part: Option<Ratio>| part.unwrap().get::<percent>();
        fact.hold("max_measured_error", "% span", found.worst.error().abs().get::<percent>());
        fact.hold("hysteresis", "% span", hysteresis(&found));
        fact.hold("terminal_nonlinearity_mean", "% span", shown(found.terminal));
        fact.hold("independent_nonlinearity_mean", "% span", shown(found.independent));
        fact.hold("zero_error_mean", "% span", shown(found.zero));
        fact.hold("span_error_mean", "% span", shown(found.span));
    }
}

/// Both ends of what may be true are just allowed, with a source whose own uncertainty is next to nothing.
#[test]
fn what_a_tolerance_allows_at_a_reading() {
    let fact = &group(FACTS, "allowed", 1)[0];
    let shown = fact.input("ind") / fact.input("span");
    let tolerance = part(fact.input("tol"));
    let quality = Quality { tolerance, source: part(1e-12), meter: None, digit: part(0.0) };
    let judged = |applied: f64| {
        let point = Point::new(Run::Up, Ratio::new::<ratio>(applied), Ratio::new::<ratio>(shown)).unwrap();
        judge(&findings(&[point]).unwrap(), &quality).unwrap().conformity.unwrap()
    };
    for (end, step) in [("low", -1e-9), ("high", 1e-9)] {
        let error = if end == "low" { tolerance } else { -tolerance };
        let applied = shown - error.get::<ratio>();
        fact.hold(end, "inH2O", applied * fact.input("span"));
        assert!(judged(applied) <= Conformity::ConditionalPass, "{end}");
        assert!(judged(applied + step) > Conformity::ConditionalPass, "beyond {end}");
    }
}

fn ratio_of(fact: &Fact) -> f64 {
    let source = Ratio::new::<ratio>(fact.input("U") / fact.input("span"));
    let quality = Quality { tolerance: part(fact.input("tol")), source, meter: None, digit: part(0.0) };
    let point = Point::new(Run::Up, part(0.0), part(0.0)).unwrap();
    judge(&findings(&[point]).unwrap(), &quality).unwrap().tur
}

#[test]
fn how_much_better_the_source_is() {
    let fact = &group(FACTS, "tur", 1)[0];
    fact.hold("TUR", "1", ratio_of(fact));
    group(FACTS, "tur_rule", 1)[0].hold("min_TUR", "1", TUR_WANTED);
}
