//! Cold and hot.

use uom::si::ratio::ratio;

use super::measures::*;

/// A wet leg set cold and run hot. Cold, at 20 degC and atmospheric pressure: liquid 1000, leg 1000, gas 0.7391 kg/m3
/// (1 bar x 0.018015 / (8.31446 x 293.15)). Hot, at 120 degC and 1 bar gauge: liquid 1000 / 1.06 = 943.396, leg still
/// 1000, gas 2 bar x 0.018015 / (8.31446 x 393.15) = 1.1022.
#[test]
fn a_unit_set_cold_reads_low_when_the_drum_is_hot() {
    let process = liquid(1000.0, 0.0006);
    let fill = liquid(1000.0, 0.0006);
    let mounting = Mounting::WetLeg { riser: metres(0.0), top: metres(2.0), fill };
    let vessel = Vessel { process, vapour: Some(steam()), span: metres(2.0) };
    let cold = mounting.install(&vessel, &round()).unwrap();
    let gauge = Pressure::new::<bar>(1.0);
    let hot = State { tank: celsius(120.0), line: celsius(120.0), gauge, ..round() };
    let hot = mounting.install(&vessel, &hot).unwrap();
    let gas = |installed: &Installed| installed.densities().of(Medium::Vapour).unwrap();
    assert!((gas(&cold) - dense(0.739_1)).abs() < dense(0.000_1));
    assert!((gas(&hot) - dense(1.102_2)).abs() < dense(0.000_1));
    let error = |part: f64| cold.error_when(&hot, uom::si::f64::Ratio::new::<ratio>(part)).get::<meter>();
    // At zero only the gas has changed: 2 m x 0.3631 kg/m3 over 999.26 kg/m3 = 0.73 mm.
    assert!((error(0.0) - 0.000_727).abs() < 2e-6, "{}", error(0.0));
    // At 100 % the liquid too: (2 x 943.396 - 2 x 1000) / 999.26 = -113.29 mm.
    assert!((error(1.0) + 0.113_29).abs() < 2e-5, "{}", error(1.0));
    // In the state it was set in nothing is left.
    let same = cold.error_when(&cold, uom::si::f64::Ratio::new::<ratio>(0.4));
    assert!(same.abs() < metres(1e-12));
}

#[test]
fn a_stated_gas_keeps_its_density() {
    let mounting = Mounting::DryLeg { riser: metres(0.0), top: metres(2.0) };
    let installed = |gauge: f64| {
        let state = State { gauge: Pressure::new::<bar>(gauge), ..round() };
        mounting.install(&vessel(liquid(1000.0, 0.0), 2.0), &state).unwrap()
    };
    assert_eq!(installed(0.0).densities(), installed(5.0).densities());
}

#[test]
fn a_capillary_has_a_temperature_of_its_own() {
    let fill = liquid(940.0, 0.001);
    let mounting = Mounting::TwoSeals { riser: metres(0.0), tap: metres(0.0), top: metres(2.0), fill };
    let head = |at: f64| {
        let state = State { fill: celsius(at), ..round() };
        pa(mounting.install(&vessel(liquid(1000.0, 0.0), 2.0), &state).unwrap().standing_head())
    };
    // 2 m of 940 kg/m3 at 20 degC and of 940 / 1.03 at 50 degC, beside gas of 2 kg/m3.
    assert!((head(20.0) + (940.0 - 2.0) * 20.0).abs() < 1e-6);
    assert!((head(50.0) + (940.0 / 1.03 - 2.0) * 20.0).abs() < 1e-6);
}

#[test]
fn presets_tell_what_they_have() {
    let words: Vec<_> = each().iter().map(Mounting::word).collect();
    assert_eq!(
        words,
        ["riser", "above_datum", "dry_leg", "wet_leg", "one_seal", "two_seals", "probe", "interface"]
    );
    let having = |has: fn(&Mounting) -> bool| each().iter().map(has).collect::<Vec<_>>();
    assert_eq!(having(Mounting::is_closed), [false, false, true, true, false, true, false, true]);
    assert_eq!(having(Mounting::has_vapour), [false, false, true, true, false, true, false, false]);
    assert_eq!(having(Mounting::has_seals), [false, false, false, false, true, true, false, false]);
    assert_eq!(having(Mounting::has_line), [true, true, true, true, false, false, false, true]);
    assert_eq!(Mounting::open(metres(-0.85)).riser(), metres(-0.85));
    assert_eq!(Mounting::open(metres(-0.85)).word(), "above_datum");
    assert_eq!(Mounting::open(metres(0.0)).word(), "riser");
}
