//! Slopes against small steps of the whole, and the sum of small changes.

use proptest::prelude::*;
use uom::si::temperature_interval::kelvin;

use super::measures::*;

/// The inputs of an installation, each of which can be moved.
#[derive(Clone)]
struct Inputs {
    mounting: Mounting,
    vessel: Vessel,
    state: State,
    level: f64,
}

impl Inputs {
    fn of(mounting: Mounting) -> Inputs {
        let process = liquid(1000.0, 0.0004);
        let vessel = Vessel { process, vapour: Some(steam()), span: metres(2.0) };
        let gauge = Pressure::new::<bar>(0.6);
        Inputs { mounting, vessel, state: State { gauge, ..round() }, level: 0.7 }
    }

    fn pressure(&self) -> f64 {
        pa(self.mounting.install(&self.vessel, &self.state).unwrap().pressure_at(metres(self.level)))
    }

    fn sensitivities(&self) -> Vec<Sensitivity> {
        self.mounting.install(&self.vessel, &self.state).unwrap().sensitivities(metres(self.level))
    }

    /// Moves an input; a density by making the liquid of another one.
    fn moved(&self, lever: Lever, by: f64) -> Inputs {
        let mut to = self.clone();
        let state = &mut to.state;
        let warmer = |t: &mut ThermodynamicTemperature| *t = celsius(t.get::<degree_celsius>() + by);
        match lever {
            Lever::Level => to.level += by,
            Lever::Riser => to.mounting = to.mounting.with_riser(to.mounting.riser() + metres(by)),
            Lever::Top => *top(&mut to.mounting) += metres(by),
            Lever::Tap => *tap(&mut to.mounting) += metres(by),
            Lever::Gravity => state.gravity += Acceleration::new::<meter_per_second_squared>(by),
            Lever::TankTemperature => warmer(&mut state.tank),
            Lever::LineTemperature => warmer(&mut state.line),
            Lever::FillTemperature => warmer(&mut state.fill),
            Lever::WorkingPressure => state.gauge += Pressure::new::<pascal>(by),
            Lever::Density(Medium::Air) => state.air += dense(by),
            Lever::Density(Medium::Fill) => *fill(&mut to.mounting) = liquid(940.0 + by, 0.001),
            Lever::Density(_) => {}
        }
        to
    }
}

fn top(mounting: &mut Mounting) -> &mut Length {
    match mounting {
        Mounting::DryLeg { top, .. }
        | Mounting::WetLeg { top, .. }
        | Mounting::TwoSeals { top, .. }
        | Mounting::Interface { top, .. } => top,
        other => panic!("{other:?}"),
    }
}

fn tap(mounting: &mut Mounting) -> &mut Length {
    match mounting {
        Mounting::OneSeal { tap, .. } | Mounting::TwoSeals { tap, .. } => tap,
        other => panic!("{other:?}"),
    }
}

fn fill(mounting: &mut Mounting) -> &mut Liquid {
    match mounting {
        Mounting::WetLeg { fill, .. }
        | Mounting::OneSeal { fill, .. }
        | Mounting::TwoSeals { fill, .. }
        | Mounting::Interface { fill, .. } => fill,
        other => panic!("{other:?}"),
    }
}

fn small(step: Step) -> f64 {
    match step {
        Step::Height(_) | Step::Gravity(_) => 1e-3,
        Step::Density(_) | Step::Temperature(_) => 1e-2,
        Step::Pressure(_) => 500.0,
    }
}

#[test]
fn every_slope_agrees_with_small_steps_of_the_whole() {
    for mounting in each() {
        let inputs = Inputs::of(mounting);
        for sensitivity in inputs.sensitivities() {
            let lever = sensitivity.lever;
            if matches!(lever, Lever::Density(medium) if !matches!(medium, Medium::Air | Medium::Fill)) {
                continue; // Moved by hand below: a vessel's liquid stands in its tank and in its line.
            }
            let by = small(sensitivity.step);
            let slope =
                (inputs.moved(lever, by).pressure() - inputs.moved(lever, -by).pressure()) / (2.0 * by);
            let stated = pa(sensitivity.adds);
            let near = 1e-6 * stated.abs().max(0.01);
            assert!((slope - stated).abs() < near, "{mounting:?} {lever:?}: {slope} {stated}");
        }
    }
}

/// 0.7 m of level on the wet leg: 10 m/s2 times the height each medium stands on the high side more than on the low.
#[test]
fn densities_work_over_the_height_they_stand() {
    let found = Inputs::of(each()[3]).sensitivities();
    let of = |medium| pa(found.iter().find(|one| one.lever == Lever::Density(medium)).unwrap().adds);
    assert!((of(Medium::Process) - 7.0).abs() < 1e-9);
    assert!((of(Medium::Line) - 5.0).abs() < 1e-9);
    assert!((of(Medium::Vapour) - 18.0).abs() < 1e-9);
    assert!((of(Medium::Fill) + 30.0).abs() < 1e-9);
    assert_eq!(found.iter().filter(|one| one.lever == Lever::Density(Medium::Air)).count(), 0);
}

/// A fill of 940 kg/m3 that grows by 0.001 per kelvin loses 0.94 kg/m3 in one: over 3 m, 28.2 Pa less on the low side.
#[test]
fn a_warmer_leg_reads_higher() {
    let found = Inputs::of(each()[3]).sensitivities();
    let fill = found.iter().find(|one| one.lever == Lever::FillTemperature).unwrap();
    assert_eq!(fill.step, Step::Temperature(uom::si::f64::TemperatureInterval::new::<kelvin>(1.0)));
    assert!((pa(fill.adds) - 28.2).abs() < 0.01, "{fill:?}");
}

#[test]
fn at_the_edge_of_a_formula_the_slope_is_taken_over_one_side() {
    let state = State { tank: celsius(0.0), line: celsius(0.0), ..round() };
    let vessel = Vessel { process: Liquid::water(), vapour: None, span: metres(2.0) };
    let installed = each()[0].install(&vessel, &state).unwrap();
    let found = installed.sensitivities(metres(2.0));
    let slope = |lever| pa(found.iter().find(|one| one.lever == lever).unwrap().adds);
    // Below 4 degC water grows denser as it warms: 0.068 kg/m3 in a kelvin at 0 degC, over 2 m and over 3 m.
    assert!((slope(Lever::TankTemperature) - 1.36).abs() < 0.05, "{found:?}");
    assert!((slope(Lever::LineTemperature) - 2.04).abs() < 0.08, "{found:?}");
}

/// Water at 100 degC grows by 7.5e-4 of itself in a kelvin (a common table value): 0.72 kg/m3 less, over 2 m 14.4 Pa.
#[test]
fn at_the_upper_edge_too() {
    let state = State { tank: celsius(100.0), ..round() };
    let vessel = Vessel { process: Liquid::water(), vapour: None, span: metres(2.0) };
    let found = each()[0].install(&vessel, &state).unwrap().sensitivities(metres(2.0));
    let slope = pa(found.iter().find(|one| one.lever == Lever::TankTemperature).unwrap().adds);
    assert!((slope + 14.4).abs() < 0.7, "{slope}");
}

proptest! {
    /// Small changes of everything at once add up, each by its sensitivity.
    #[test]
    fn small_changes_add_up(
        which in 0usize..8,
        by in proptest::collection::vec(-1.0..1.0_f64, 16),
    ) {
        let inputs = Inputs::of(each()[which]);
        let mut moved = inputs.clone();
        let mut sum = 0.0;
        let levers = inputs.sensitivities();
        let levers = levers.iter().filter(|one| !matches!(one.lever, Lever::Density(medium) if medium != Medium::Air));
        for (one, share) in levers.zip(&by) {
            let by = share * small(one.step) * 0.1;
            moved = moved.moved(one.lever, by);
            sum += pa(one.adds) * by;
        }
        let seen = moved.pressure() - inputs.pressure();
        prop_assert!((seen - sum).abs() < 1e-4 + 1e-3 * sum.abs(), "{} {}", seen, sum);
    }
}
