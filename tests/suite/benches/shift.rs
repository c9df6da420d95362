//! How long a shift takes to be worked out, with its uncertainty, budget and ways out.
//!
//! It is worked out anew after every key of the number pad, so it must stay far below what a thumb notices: under 1 ms.

use criterion::{Criterion, criterion_group, criterion_main};
use domain::evidence::{Ask, Carried, Case, Column, Input, Reading, Rule, Spread};
use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, Length, MassDensity, Pressure};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;

/// A dip and a riser with what is known of density, gravity, tape and sensor: eight inputs, four equations.
fn case() -> (Case, Ask) {
    let mut case = Case::new();
    let density = MassDensity::new::<kilogram_per_cubic_meter>;
    let pressure = Pressure::new::<pascal>;
    let length = Length::new::<meter>;
    let gravity = Acceleration::new::<meter_per_second_squared>;
    let rho = case.input(Input::density("density", density(999.1), Spread::Standard(density(0.3))));
    let air = case.input(Input::density("air", density(1.22), Spread::Standard(density(0.06))));
    let g = case.input(Input::acceleration("gravity", gravity(9.8017), Spread::Standard(gravity(4e-4))));
    let column = Column::new(rho, g).against(air);
    let offset = case.offset(Carried::Unknown);
    let level = case.level();
    let shown =
        case.input(Input::pressure("display", pressure(110_000.0), Spread::Rectangular(pressure(15.0))));
    let half = pressure(100.0);
    let accuracy = Input::pressure("accuracy", Pressure::default(), Spread::Expanded { half, factor: 2.0 });
    let accuracy = case.input(accuracy);
    let parts = vec![shown, accuracy];
    case.reading(&Reading { offset, level, column, parts, elapsed: None, lag: None });
    let by = case.reference("dip");
    let dip = case.input(Input::length("dip", length(2.41), Spread::Standard(length(0.004))));
    case.level_is(by, level, &[dip], &[]);
    let by = case.reference("riser");
    let riser = case.input(Input::length("riser", length(9.55), Spread::Standard(length(0.006))));
    case.riser(by, &[(column, riser)]);
    let zero = Input::pressure("zero", Pressure::default(), Spread::Rectangular(pressure(140.0)));
    let zero = case.input(zero);
    case.allow_zero(&[zero, accuracy]);
    let ask = Ask {
        offset,
        display: pressure(110_000.0),
        rule: Rule::TrueAtZero,
        target: Pressure::default(),
        column,
    };
    (case, ask)
}

fn shift(bench: &mut Criterion) {
    let (case, ask) = case();
    bench.bench_function("shift with uncertainty", |run| run.iter(|| case.reconcile(&ask)));
}

criterion_group!(benches, shift);
criterion_main!(benches);
