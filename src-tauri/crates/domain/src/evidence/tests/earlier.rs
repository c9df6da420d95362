//! An earlier visit as evidence, by hand calculation.

use rstest::rstest;

use super::tower::{Tower, density, near};
use crate::evidence::{EarlierVisit, EvidenceError, Input, InputId, Spread};

/// An earlier visit that gave an offset of so many pascals at a density; the riser is 20 m.
fn earlier(tower: &mut Tower, offset: f64, rho: f64, own: Spread<f64>, moved: f64, minus: Vec<InputId>) {
    let offset = tower.pressure("offset then", offset, own);
    let moved = tower.pressure("moved since", 0.0, Spread::Standard(moved));
    let then = tower.case.input(Input::density("density then", density(rho), Spread::Exact));
    let (now, riser) = (tower.water, tower.length("riser by the register", 20.0, Spread::Exact));
    let then = now.of_density(then);
    let by = tower.case.reference("visit of 2025-11-20");
    let told = EarlierVisit { offset, moved, then, now, riser, accuracy: None, plus: Vec::new(), minus };
    tower.case.earlier(by, &told);
}

#[rstest]
#[case::same_density(1000.0)]
#[case::warmer_then(998.0)]
fn the_offset_of_another_day_is_brought_to_todays_density(#[case] rho: f64) {
    // z = 50 Pa and 20 m of 1000 kg/m3 today: whatever the density then, the display must lose 50 + 196 133 Pa.
    let mut tower = Tower::exact(Some(0.0));
    tower.reads(250_000.0, Spread::Exact);
    let pressed = rho * 9.80665 * 20.0;
    earlier(&mut tower, -(50.0 + pressed), rho, Spread::Standard(30.0), 40.0, Vec::new());
    let solved = tower.solved();
    near(solved.shift.value.value, -(50.0 + 196_133.0), 1e-3);
    // Its own 30 Pa and the 40 Pa that the zero may have moved.
    near(solved.shift.standard.value, 50.0, 1e-3);
    assert!(!solved.leans_on_allowance);
}

#[rstest]
fn without_the_offset_carried_it_tells_no_shift() {
    let mut tower = Tower::exact(None);
    tower.reads(250_000.0, Spread::Exact);
    earlier(&mut tower, -196_133.0, 1000.0, Spread::Standard(30.0), 40.0, Vec::new());
    assert!(tower.outcome().unwrap().determined().is_none());
}

/// Today a measured riser with an offset known, then the same riser by the same drawing or by another.
fn two_risers(shared: bool) -> f64 {
    let mut tower = Tower::exact(Some(0.0));
    tower.reads(250_000.0, Spread::Exact);
    tower.vented(0.0, Spread::Exact);
    let drawing = tower.length("drawing", 20.0, Spread::Standard(0.025));
    let by = tower.case.reference("measured riser");
    tower.case.riser(by, &[(tower.water, drawing)]);
    let other = if shared { drawing } else { tower.length("another drawing", 20.0, Spread::Standard(0.025)) };
    earlier(&mut tower, -196_133.0, 1000.0, Spread::Exact, 0.0, vec![other]);
    tower.solved().shift.standard.value
}

#[rstest]
fn a_shared_drawing_cannot_check_itself() {
    // 25 mm of 9806.65 Pa/m: alone 245.17 Pa, and no surer for having been used twice; over sqrt 2 when independent.
    near(two_risers(true), 245.166, 0.01);
    near(two_risers(false), 245.166 / 2.0_f64.sqrt(), 0.01);
}

#[rstest]
fn parts_of_the_wrong_kind_are_refused() {
    let mut tower = Tower::exact(Some(0.0));
    tower.reads(250_000.0, Spread::Exact);
    let pressure = tower.pressure("a pressure", 1.0, Spread::Exact);
    earlier(&mut tower, -196_133.0, 1000.0, Spread::Exact, 0.0, vec![pressure]);
    assert!(matches!(tower.outcome(), Err(EvidenceError::WrongKind { .. })));
}

/// What the zero has moved since, what the sensor was off by under head, and lengths that stand otherwise today than that
/// day took them, by hand: z = moved + accuracy - B - offset - 9806.65 x (what stands more in plus, less in minus).
#[rstest]
fn what_is_told_of_the_time_between_counts_with_its_sign() {
    let mut tower = Tower::exact(Some(0.0));
    tower.reads(250_000.0, Spread::Exact);
    let offset = tower.pressure("offset then", -196_183.0, Spread::Standard(30.0));
    let moved = tower.pressure("moved since", 7.0, Spread::Exact);
    let accuracy = tower.pressure("accuracy", 2.0, Spread::Exact);
    let riser = tower.length("riser by the register", 20.0, Spread::Exact);
    let (plus, minus) = (
        tower.length("hatch", 8.0, Spread::Standard(0.004)),
        tower.length("floor", 0.5, Spread::Standard(0.003)),
    );
    let by = tower.case.reference("visit");
    let told = EarlierVisit {
        offset,
        moved,
        then: tower.water,
        now: tower.water,
        riser,
        accuracy: Some(accuracy),
        plus: vec![plus],
        minus: vec![minus],
    };
    tower.case.earlier(by, &told);
    let solved = tower.solved();
    near(solved.shift.value.value, -(196_183.0 + 7.0 + 2.0), 1e-6);
    let part = |label: &str| solved.budget.iter().find(|row| row.label == label).unwrap().sensitivity;
    near(part("hatch"), 9806.65, 1e-6);
    near(part("floor"), -9806.65, 1e-6);
    // 4 and 3 mm are 5 mm.
    near(solved.shift.standard.value, 30.0_f64.hypot(0.005 * 9806.65), 1e-6);
}
