//! Each preset by hand: gravity 10 m/s2, air 1.2 kg/m3, gas 2 kg/m3, liquid 1000, fill 940, light liquid 780.

use rstest::rstest;

use super::measures::*;

#[rstest]
// (1000 - 1.2) x 10 x 3 m
#[case::riser(0, 29_964.0, 9_988.0)]
// -(1000 - 1.2) x 10 x 1.5 m
#[case::above_datum(1, -14_982.0, 9_988.0)]
// (1000 - 2) x 10 x 0.5 m: the leg's gas and the vessel's gas are the same height from zero up
#[case::dry_leg(2, 4_990.0, 9_980.0)]
// 1000 x 10 x 0.5 + 2 x 10 x 2.5 - 940 x 10 x 3.0
#[case::wet_leg(3, 5_000.0 + 50.0 - 28_200.0, 9_980.0)]
// fill from +1.0 down to -0.25, liquid up to zero, air back up to 1.0 against the same air:
// -940 x 10 x 1.25 + 1000 x 10 x 0.25 + 1.2 x 10 x 1.0
#[case::one_seal(4, -11_750.0 + 2_500.0 + 12.0, 9_988.0)]
// 940 x 10 x 0.75 + 1000 x 10 x 0.25 + 2 x 10 x 2.5 - 940 x 10 x 3.5
#[case::two_seals(5, 7_050.0 + 2_500.0 + 50.0 - 32_900.0, 9_980.0)]
// the probe hangs 0.1 m above zero
#[case::probe(6, -998.8, 9_988.0)]
// 1000 x 10 x 0.5 + 780 x 10 x 2.5 - 940 x 10 x 3.0
#[case::interface(7, 5_000.0 + 19_500.0 - 28_200.0, 2_200.0)]
fn standing_head_and_what_a_metre_adds(#[case] which: usize, #[case] head: f64, #[case] metre: f64) {
    let installed = each()[which].install(&vessel(liquid(1000.0, 0.0), 2.0), &round()).unwrap();
    assert!((pa(installed.standing_head()) - head).abs() < 1e-6, "{installed:?}");
    assert!((pa(installed.per_level().pressure(metres(1.0))) - metre).abs() < 1e-6, "{installed:?}");
    assert!((pa(installed.columns().added_by(metres(1.0))) - metre).abs() < 1e-6);
    assert!((pa(installed.urv()) - head - 2.0 * metre).abs() < 1e-6);
    assert_eq!(installed.lrv(), installed.standing_head());
}

#[test]
fn a_riser_may_be_warmer_than_its_tank() {
    // Density falls by 0.1 % a kelvin-ten: 1000 / 1.01 in the riser at 30 degC, 1000 in the tank.
    let state = State { line: celsius(30.0), ..round() };
    let installed = each()[0].install(&vessel(liquid(1000.0, 0.001), 2.0), &state).unwrap();
    let riser = (1000.0 / 1.01 - 1.2) * 10.0 * 3.0;
    assert!((pa(installed.standing_head()) - riser).abs() < 1e-6);
    assert!((pa(installed.per_level().pressure(metres(1.0))) - 9_988.0).abs() < 1e-6);
}

#[test]
fn a_column_pulled_further_than_seven_metres_is_warned_of() {
    let pulled = |rise: f64| {
        let mounting = Mounting::OneSeal { riser: metres(-rise), tap: metres(0.0), fill: liquid(940.0, 0.0) };
        mounting.install(&vessel(liquid(1000.0, 0.0), 2.0), &round()).unwrap().pulled()
    };
    // 940 kg/m3 x 10 m/s2 x 7.3 m = 68.6 kPa; 7 m of conventional water are 68.65 kPa.
    assert_eq!(pulled(7.3), None);
    let found = pulled(7.4).unwrap();
    assert_eq!(found.side, Side::High);
    // The air over the tank presses 12 Pa a metre less up there.
    assert!((pa(found.least) + 940.0 * 10.0 * 7.4).abs() < 100.0, "{found:?}");
}

#[test]
fn the_side_that_is_pulled_is_named() {
    let fill = liquid(940.0, 0.0);
    let mounting = Mounting::TwoSeals { riser: metres(-12.0), tap: metres(0.0), top: metres(2.0), fill };
    let installed = mounting.install(&vessel(liquid(1000.0, 0.0), 2.0), &round()).unwrap();
    // The lower seal's capillary hangs 12 m, the upper one's 10 m.
    assert_eq!(installed.pulled().unwrap().side, Side::High);
    assert!(installed.warnings()[0].contains("high side"), "{:?}", installed.warnings());
    let held = Mounting::TwoSeals { riser: metres(3.0), tap: metres(0.0), top: metres(2.0), fill };
    assert!(held.install(&vessel(liquid(1000.0, 0.0), 2.0), &round()).unwrap().warnings().is_empty());
}

#[test]
fn an_open_line_upwards_is_warned_of_and_every_mounting_says_what_it_assumes() {
    let vessel = vessel(liquid(1000.0, 0.0), 2.0);
    for mounting in each() {
        let installed = mounting.install(&vessel, &round()).unwrap();
        assert!(!installed.assumptions().is_empty());
        let open = matches!(mounting, Mounting::AboveDatum { .. });
        assert_eq!(installed.warnings().len(), usize::from(open), "{mounting:?}");
        assert_eq!(installed.assumptions().len(), 1 + usize::from(mounting.has_vapour()));
    }
}

/// The wet leg under a vessel at 2 bar: the high side presses 1000 x 10 x 0.5 +
/// 1000 x 10 x 2 + 2 x 10 x 0.5 = 25 010 Pa at 2 m above zero, the leg 940 x 10 x 3.0 = 28 200 Pa on the low.
#[test]
fn the_highest_pressure_is_that_of_the_harder_pressed_side() {
    let vessel = vessel(liquid(1000.0, 0.0), 2.0);
    let state = State { gauge: Pressure::new::<bar>(2.0), ..round() };
    let highest = |which: usize, state: &State, level: f64| {
        pa(each()[which].install(&vessel, state).unwrap().highest(metres(level)))
    };
    assert!((highest(3, &state, 2.0) - 228_200.0).abs() < 1e-6);
    // Two metres and a half, where the leg ends: 5 000 + 25 000 on the high side.
    assert!((highest(3, &state, 2.5) - 230_000.0).abs() < 1e-6);
    // A riser of 3 m under an open tank at 2 m: (1000 - 1.2) x 10 x 5.
    assert!((highest(0, &round(), 2.0) - 49_940.0).abs() < 1e-6);
}

/// A riser of 3 m: 29 964 Pa at zero, 9 988 Pa a metre. 39 952 Pa is a metre.
#[test]
fn an_installed_unit_tells_what_it_was_made_of() {
    let (vessel, state) = (vessel(liquid(1000.0, 0.0), 2.0), round());
    let installed = each()[0].install(&vessel, &state).unwrap();
    assert!((installed.level_at(Pressure::new::<pascal>(39_952.0)) - metres(1.0)).abs() < metres(1e-9));
    assert_eq!((*installed.mounting(), *installed.vessel(), *installed.state()), (each()[0], vessel, state));
    assert_eq!(installed.densities().of(Medium::Line), Some(dense(1000.0)));
}

/// The capillary climbs 8 m: 940 kg/m3 x 10 m/s2 x 8 m = 75.2 kPa below the air, 7.67 m of water of 9.80665 kPa each.
#[test]
fn a_column_far_up_is_told_in_metres_of_water() {
    let fill = liquid(940.0, 0.0);
    let mounting = Mounting::OneSeal { riser: metres(-8.0), tap: metres(0.0), fill };
    let installed = mounting.install(&vessel(liquid(1000.0, 0.0), 2.0), &round()).unwrap();
    let said = installed.warnings();
    assert!(said[0].starts_with("The liquid on the high side is pulled to -7.7 m of water."), "{said:?}");
    // Half a vacuum in the vessel pulls its liquid by 5.1 m, which holds.
    let gauge = Pressure::new::<bar>(-0.5);
    let mounting = Mounting::DryLeg { riser: metres(1.0), top: metres(2.5) };
    let hard = mounting.install(&vessel(liquid(1000.0, 0.0), 2.0), &State { gauge, ..round() }).unwrap();
    assert_eq!(hard.pulled(), None);
    // Four fifths of one, 80 kPa or 8.2 m, do not. Gas cannot break: the leg full of it is not what is named.
    let gauge = Pressure::new::<bar>(-0.8);
    let harder = mounting.install(&vessel(liquid(1000.0, 0.0), 2.0), &State { gauge, ..round() }).unwrap();
    let found = harder.pulled().unwrap();
    assert_eq!(found.side, Side::High);
    // The liquid's surface feels the 2.5 m of gas over it: 80 000 - 2 x 10 x 2.5 below the air.
    assert!((pa(found.least) + 79_950.0).abs() < 1e-6, "{found:?}");
}
