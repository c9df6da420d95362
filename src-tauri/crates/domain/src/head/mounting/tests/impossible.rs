//! What cannot be is refused, and the field is named.

use rstest::rstest;

use super::measures::*;

const NAN: f64 = f64::NAN;

fn refused(mounting: Mounting, vessel: &Vessel, state: &State) -> &'static str {
    mounting.install(vessel, state).unwrap_err().field()
}

#[rstest]
#[case::negative_riser(Mounting::Riser { riser: metres(-1.0) }, "riser")]
#[case::not_a_number(Mounting::Riser { riser: metres(NAN) }, "riser")]
#[case::infinite(Mounting::Probe { riser: metres(f64::INFINITY) }, "riser")]
#[case::above_without_rise(Mounting::AboveDatum { rise: metres(0.0) }, "riser")]
#[case::tap_under_full(Mounting::DryLeg { riser: metres(0.0), top: metres(1.9) }, "top")]
#[case::leg_below_sensor(Mounting::DryLeg { riser: metres(-3.0), top: metres(2.5) }, "top")]
#[case::top_not_a_number(Mounting::DryLeg { riser: metres(0.0), top: metres(NAN) }, "top")]
#[case::wet_leg_short(Mounting::WetLeg { riser: metres(0.0), top: metres(1.0), fill: liquid(900.0, 0.0) }, "top")]
#[case::fill_as_light_as_gas(Mounting::WetLeg { riser: metres(0.0), top: metres(2.5), fill: liquid(1.5, 0.0) }, "fill.density")]
#[case::seal_above_zero(Mounting::OneSeal { riser: metres(0.0), tap: metres(0.1), fill: liquid(900.0, 0.0) }, "tap")]
#[case::tap_not_a_number(Mounting::OneSeal { riser: metres(0.0), tap: metres(NAN), fill: liquid(900.0, 0.0) }, "tap")]
#[case::seals_crossed(Mounting::TwoSeals { riser: metres(0.0), tap: metres(-1.0), top: metres(-2.0), fill: liquid(900.0, 0.0) }, "top")]
#[case::heavier_on_top(Mounting::Interface { riser: metres(0.0), top: metres(2.5), light: liquid(1100.0, 0.0), fill: liquid(900.0, 0.0) }, "light.density")]
#[case::equally_heavy(Mounting::Interface { riser: metres(0.0), top: metres(2.5), light: liquid(1000.0, 0.0), fill: liquid(900.0, 0.0) }, "light.density")]
fn impossible_measures_name_their_field(#[case] mounting: Mounting, #[case] field: &str) {
    assert_eq!(refused(mounting, &vessel(liquid(1000.0, 0.0), 2.0), &round()), field);
}

#[rstest]
#[case::no_height(0.0)]
#[case::below_zero(-2.0)]
#[case::not_a_number(NAN)]
fn a_tank_needs_a_height(#[case] span: f64) {
    for mounting in each() {
        assert_eq!(refused(mounting, &vessel(liquid(1000.0, 0.0), span), &round()), "span");
    }
}

#[rstest]
#[case::heavier_than_the_liquid(Some(Vapour::Density(dense(1200.0))), "vapour")]
#[case::negative(Some(Vapour::Density(dense(-1.0))), "vapour")]
#[case::not_a_number(Some(Vapour::Density(dense(NAN))), "vapour")]
#[case::not_stated(None, "vapour")]
fn the_gas_must_be_sound(#[case] vapour: Option<Vapour>, #[case] field: &str) {
    let vessel = Vessel { vapour, ..vessel(liquid(1000.0, 0.0), 2.0) };
    for mounting in each().into_iter().filter(Mounting::has_vapour) {
        assert_eq!(refused(mounting, &vessel, &round()), field);
    }
    // An open tank has no use for it.
    assert!(each()[0].install(&vessel, &round()).is_ok());
}

#[test]
fn a_liquid_lighter_than_air_is_refused() {
    let vessel = vessel(liquid(1.1, 0.0), 2.0);
    assert_eq!(refused(each()[0], &vessel, &round()), "liquid.density");
}

#[test]
fn states_that_cannot_be_are_refused() {
    let vessel = vessel(liquid(1000.0, 0.0), 2.0);
    let vacuum = State { gauge: Pressure::new::<bar>(-1.0), ..round() };
    assert_eq!(refused(each()[3], &vessel, &vacuum), "pressure");
    let weightless = State { gravity: Acceleration::new::<meter_per_second_squared>(0.0), ..round() };
    assert_eq!(refused(each()[3], &vessel, &weightless), "gravity");
    let frozen = State { fill: celsius(-200.0), ..round() };
    assert_eq!(refused(each()[3], &vessel, &frozen), "fill");
    let hot = State { tank: celsius(150.0), ..round() };
    assert_eq!(
        refused(each()[0], &Vessel { process: Liquid::water(), vapour: None, span: metres(2.0) }, &hot),
        "liquid"
    );
    let unknown = State { line: celsius(NAN), ..round() };
    assert_eq!(refused(each()[0], &vessel, &unknown), "line_temperature");
}

#[test]
fn errors_say_what_to_check() {
    let told = Mounting::DryLeg { riser: metres(0.0), top: metres(1.0) }
        .install(&vessel(liquid(1000.0, 0.0), 2.0), &round())
        .unwrap_err()
        .to_string();
    assert_eq!(told, "top: the upper tap must stand at or above the level at 100 %. Check both heights.");
}

/// A transmitter at the tank's zero has a riser of nothing, and one at the upper tap a leg of nothing.
#[test]
fn what_is_just_possible_is_taken() {
    let vessel = vessel(liquid(1000.0, 0.0), 2.0);
    for mounting in [
        Mounting::Riser { riser: metres(0.0) },
        Mounting::DryLeg { riser: metres(-2.5), top: metres(2.5) },
        Mounting::OneSeal { riser: metres(0.0), tap: metres(0.0), fill: liquid(900.0, 0.0) },
    ] {
        assert!(mounting.install(&vessel, &round()).is_ok(), "{mounting:?}");
    }
    // Liquid stands over an interface up to the tap: no air, no gas.
    let interface = each()[7].install(&vessel, &round()).unwrap();
    assert_eq!(
        (interface.densities().of(Medium::Air), interface.densities().of(Medium::Vapour)),
        (None, None)
    );
}
