//! What a hanging tape shows otherwise than the height, and what several dips share of it.

use rstest::rstest;
use uom::si::f64::{Area, Force, Pressure, TemperatureCoefficient, TemperatureInterval};
use uom::si::pressure::gigapascal;
use uom::si::ratio::part_per_million;
use uom::si::temperature_coefficient::per_kelvin;
use uom::si::temperature_interval::kelvin;

use super::tower::{Tower, metres, near};
use crate::evidence::tape::{Hung, by_temperature, stretch, upright};
use crate::evidence::{Distribution, EvidenceError, Input, InputId, Spread};

fn kelvins(value: f64) -> TemperatureInterval {
    TemperatureInterval::new::<kelvin>(value)
}

#[rstest]
// 12 m x 1.17e-5 x 20 K = 2.808 mm.
#[case::warm(12.0, 20.0, 0.002_808)]
#[case::cold(12.0, -20.0, -0.002_808)]
#[case::as_it_was_checked(12.0, 0.0, 0.0)]
fn a_warm_tape_reads_too_little(#[case] read: f64, #[case] warmer: f64, #[case] adds: f64) {
    let expansion = TemperatureCoefficient::new::<per_kelvin>(1.17e-5);
    near(by_temperature(metres(read), expansion, kelvins(warmer)).value, adds, 1e-12);
}

#[rstest]
// 15 N / (3e-6 m2 x 200e9 Pa) = 25 millionths; lighter than it was checked under, it is shorter.
#[case::bob(15.0, 3.0, Some(25.0))]
#[case::lighter(-15.0, 3.0, Some(-25.0))]
#[case::no_section(15.0, 0.0, None)]
#[case::negative_section(15.0, -3.0, None)]
#[case::endless(f64::INFINITY, 3.0, None)]
#[case::no_number(f64::NAN, 3.0, None)]
fn a_bob_stretches(#[case] pull: f64, #[case] section: f64, #[case] part: Option<f64>) {
    let section = Area::new::<uom::si::area::square_millimeter>(section);
    let pull = Force::new::<uom::si::force::newton>(pull);
    let seen = stretch(pull, section, Pressure::new::<gigapascal>(200.0));
    assert_eq!(seen.is_some(), part.is_some());
    if let (Some(seen), Some(part)) = (seen, part) {
        near(seen.get::<part_per_million>(), part, 1e-9);
    }
}

#[rstest]
// Three, four, five.
#[case::right(5.0, 3.0, Some(4.0))]
#[case::other_side(5.0, -3.0, Some(4.0))]
#[case::plumb(5.0, 0.0, Some(5.0))]
#[case::flat(5.0, 5.0, None)]
#[case::too_far(5.0, 6.0, None)]
#[case::no_number(f64::NAN, 1.0, None)]
fn a_slanting_line_spans_less(#[case] along: f64, #[case] sideways: f64, #[case] height: Option<f64>) {
    let seen = upright(metres(along), metres(sideways)).map(|height| height.value);
    assert_eq!(seen.is_some(), height.is_some());
    near(seen.unwrap_or_default(), height.unwrap_or_default(), 1e-12);
}

/// A tower whose level is only known by two dips of 10 m each, and everything but the tape's warmth is exact.
struct TwoDips {
    tower: Tower,
    expansion: InputId,
}

impl TwoDips {
    fn new() -> TwoDips {
        let mut tower = Tower::exact(None);
        tower.reads(100_000.0, Spread::Exact);
        let expansion = TemperatureCoefficient::new::<per_kelvin>(1e-5);
        let expansion = tower.case.input(Input::expansion("expansion of the tape", expansion, Spread::Exact));
        TwoDips { tower, expansion }
    }

    fn warmer(&mut self, by: f64, standard: f64) -> InputId {
        self.tower.case.input(Input::warmth("tape warmer", kelvins(by), Spread::Standard(kelvins(standard))))
    }

    fn dip(&mut self, warmer: InputId) {
        let read = self.tower.length("dip", 10.0, Spread::Exact);
        let hung = Hung { warmth: Some((self.expansion, warmer)), ..Hung::plumb(read) };
        let by = self.tower.case.reference("dip");
        self.tower.case.level_by_tape(by, self.tower.level, false, &hung, [&[], &[]]);
    }

    /// The level by both dips, with its standard uncertainty.
    fn level(&self) -> (f64, f64) {
        let (_, level) = self.tower.solved().levels[0];
        (level.value.value, level.standard.value)
    }
}

/// 10 m x 1e-5 x 10 K = 1 mm; known within 2 K it is known within 0.2 mm, and a second dip with the same tape beside the
/// same thermometer does not help. Had each its own, the mean would be surer by the root of two.
#[test]
fn two_dips_share_what_their_tape_is_off_by() {
    let mut shared = TwoDips::new();
    let warmer = shared.warmer(10.0, 2.0);
    shared.dip(warmer);
    shared.dip(warmer);
    let mut apart = TwoDips::new();
    for _ in 0..2 {
        let warmer = apart.warmer(10.0, 2.0);
        apart.dip(warmer);
    }
    for (dips, standard) in [(shared, 2e-4), (apart, 2e-4 / 2.0_f64.sqrt())] {
        let (level, seen) = dips.level();
        near(level, 10.001, 1e-6);
        // Exact statements hold to a tenth of a micrometre, which adds in squares.
        near(seen, standard, 1e-6);
    }
}

/// A dip up and a drop down with one warm tape are off in opposite ways: their difference shows it twice.
#[test]
fn a_dip_and_a_drop_are_off_in_opposite_ways() {
    for (down, level) in [(false, 10.001), (true, 20.0 - 10.001)] {
        let mut tower = Tower::exact(None);
        tower.reads(100_000.0, Spread::Exact);
        let expansion = TemperatureCoefficient::new::<per_kelvin>(1e-5);
        let expansion = tower.case.input(Input::expansion("expansion", expansion, Spread::Exact));
        let warmer = tower.case.input(Input::warmth("warmer", kelvins(10.0), Spread::Standard(kelvins(2.0))));
        let (read, hatch) =
            (tower.length("read", 10.0, Spread::Exact), tower.length("hatch", 20.0, Spread::Exact));
        let hung = Hung { warmth: Some((expansion, warmer)), ..Hung::plumb(read) };
        let by = tower.case.reference("tape");
        let from: &[InputId] = if down { &[hatch] } else { &[] };
        tower.case.level_by_tape(by, tower.level, down, &hung, [from, &[]]);
        let solved = tower.solved();
        near(solved.levels[0].1.value.value, level, 1e-6);
        let row = solved.budget.iter().find(|row| row.label == "warmer").unwrap();
        // A metre of level is 9806.65 Pa to the shift; a kelvin is 0.1 mm of level.
        near(row.sensitivity, if down { -9806.65e-4 } else { 9806.65e-4 }, 1e-6);
        assert_eq!(row.distribution, Distribution::Normal);
    }
}

#[test]
fn stretch_and_slant_add_up_with_the_rest() {
    let mut tower = Tower::exact(None);
    tower.reads(100_000.0, Spread::Exact);
    let read = tower.length("read", 10.0, Spread::Exact);
    let stretch = tower.case.input(Input::ratio("stretch", 25e-6, Spread::Standard(2.5e-6)));
    let slant = tower.length("slant", 0.004, Spread::Standard(0.001));
    let hung = Hung { stretch: Some(stretch), slant: Some(slant), ..Hung::plumb(read) };
    let by = tower.case.reference("dip");
    let floor = tower.length("floor", 0.5, Spread::Exact);
    tower.case.level_by_tape(by, tower.level, false, &hung, [&[floor], &[]]);
    let (_, level) = tower.solved().levels[0];
    near(level.value.value, 0.5 + 10.0 + 0.000_25 - 0.004, 1e-6);
    // 10 m x 2.5 millionths and 1 mm, in squares.
    near(level.standard.value, 25e-6_f64.hypot(0.001), 1e-6);
}

#[test]
fn inputs_of_another_kind_are_refused() {
    let mut tower = Tower::exact(None);
    tower.reads(100_000.0, Spread::Exact);
    let read = tower.length("read", 10.0, Spread::Exact);
    let by = tower.case.reference("dip");
    let hung = Hung { warmth: Some((read, read)), ..Hung::plumb(read) };
    tower.case.level_by_tape(by, tower.level, false, &hung, [&[], &[]]);
    assert!(matches!(tower.case.reconcile(&tower.ask()), Err(EvidenceError::WrongKind { .. })));
}
