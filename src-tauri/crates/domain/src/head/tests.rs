//! Tests of the formulas against values that can be worked out or looked up without them. The published
//! tables stand in the suite of reference tests.

use proptest::prelude::*;
use rstest::rstest;
use uom::si::acceleration::meter_per_second_squared;
use uom::si::angle::degree;
use uom::si::f64::{
    Acceleration, Angle, Length, MassDensity, Pressure, Ratio, TemperatureCoefficient,
    ThermodynamicTemperature,
};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::{kilopascal, pascal};
use uom::si::ratio::ratio;
use uom::si::temperature_coefficient::per_kelvin;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::*;

fn celsius(value: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(value)
}

fn kilopascals(value: f64) -> Pressure {
    Pressure::new::<kilopascal>(value)
}

fn density(value: f64) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(value)
}

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

fn degrees(value: f64) -> Angle {
    Angle::new::<degree>(value)
}

/// IAPWS-95 (IAPWS R6-95(2018)) worked out with the public program `iapws` 1.5.5 by solving for density.
#[rstest]
#[case(0.0, 101.325, 999.843_086)]
#[case(4.0, 101.325, 999.974_869)]
#[case(10.0, 101.325, 999.702_470)]
#[case(25.0, 101.325, 997.047_637)]
#[case(60.0, 101.325, 983.195_824)]
#[case(80.0, 101.325, 971.790_398)]
#[case(100.0, 101.325, 958.349_008)]
#[case(10.0, 1000.0, 1_000.131_564)]
#[case(30.0, 700.0, 995.916_140)]
fn water_is_within_its_stated_error(#[case] t: f64, #[case] p: f64, #[case] expected: f64) {
    let found = water_density(celsius(t), kilopascals(p)).unwrap().get::<kilogram_per_cubic_meter>();
    assert!((found - expected).abs() <= 0.000_11, "{found} for {expected}");
}

#[rstest]
#[case(-0.1, 101.325)]
#[case(100.1, 101.325)]
#[case(20.0, 5.0)]
#[case(20.0, 3001.0)]
#[case(f64::NAN, 101.325)]
fn water_says_its_range(#[case] t: f64, #[case] p: f64) {
    let error = water_density(celsius(t), kilopascals(p)).unwrap_err();
    let message = error.to_string();
    assert!(message.contains("this works from"), "{message}");
}

#[test]
fn the_message_names_value_and_range() {
    let error = water_density(celsius(120.0), kilopascals(101.325)).unwrap_err();
    let expected =
        "Water temperature is 120 degC; this works from 0 degC to 100 degC. Check the value and its unit.";
    assert_eq!(error.to_string(), expected);
}

#[test]
fn another_liquid_shrinks_and_grows_with_its_expansion() {
    let expansion = TemperatureCoefficient::new::<per_kelvin>(5e-4);
    let brine = Liquid::other(density(1180.0), celsius(20.0), expansion).unwrap();
    let at = |t| brine.density(celsius(t), kilopascals(101.325)).unwrap().get::<kilogram_per_cubic_meter>();
    assert!((at(20.0) - 1180.0).abs() < 1e-9);
    // 1180 / (1 + 5e-4 * 10)
    assert!((at(30.0) - 1_174.129_353).abs() < 1e-6);
    assert!(at(0.0) > at(20.0));
    assert!(!brine.is_water() && Liquid::water().is_water());
}

#[test]
fn a_liquid_says_how_well_it_is_known() {
    // 0.0002 * 1000 and 0.006 in quadrature
    let water = Liquid::water().uncertainty(density(1000.0)).get::<kilogram_per_cubic_meter>();
    assert!((water - 0.200_09).abs() < 1e-5);
    let expansion = TemperatureCoefficient::new::<per_kelvin>(0.0);
    let brine = Liquid::other(density(1180.0), celsius(20.0), expansion).unwrap();
    let stated = brine.known_within(Ratio::new::<ratio>(0.001)).unwrap();
    assert!((stated.uncertainty(density(1180.0)).get::<kilogram_per_cubic_meter>() - 1.18).abs() < 1e-12);
    assert!(brine.known_within(Ratio::new::<ratio>(0.3)).is_err());
    assert!(Liquid::other(density(0.0), celsius(20.0), expansion).is_err());
}

/// ISO 2533: 89 874.6 Pa at 1000 m, 70 108.5 Pa at 3000 m, 54 019.9 Pa at 5000 m geopotential (from memory; the
/// same values stand in the U.S. Standard Atmosphere 1976).
#[rstest]
#[case(0.0, 101_325.0)]
#[case(1000.0, 89_874.6)]
#[case(3000.0, 70_108.5)]
#[case(5000.0, 54_019.9)]
fn the_standard_atmosphere_thins(#[case] altitude: f64, #[case] pascals: f64) {
    let found = standard_atmosphere(metres(altitude)).unwrap().get::<pascal>();
    assert!((found - pascals).abs() < 0.6, "{found}");
}

/// WGS 84 (NGA.STND.0036): 9.780 325 335 9 at the equator and 9.832 184 937 9 m/s2 at the poles.
#[rstest]
#[case(0.0, 9.780_325_335_9)]
#[case(90.0, 9.832_184_937_9)]
#[case(-90.0, 9.832_184_937_9)]
fn gravity_at_equator_and_poles(#[case] latitude: f64, #[case] expected: f64) {
    let found = gravity(degrees(latitude), metres(0.0)).unwrap().get::<meter_per_second_squared>();
    assert!((found - expected).abs() < 1e-9, "{found}");
}

/// On the axis the ellipsoid's exact field has a closed form, GM / (u^2 + E^2) less the pull of its bulge (Heiskanen and
/// Moritz, Physical Geodesy, 2-7, from memory); with the constants of WGS 84 it was worked out beside this code.
#[test]
fn gravity_above_a_pole() {
    let found = gravity(degrees(90.0), metres(3000.0)).unwrap().get::<meter_per_second_squared>();
    assert!((found - 9.822_941_29).abs() < 1e-6, "{found}");
}

#[rstest]
#[case(90.5, 0.0)]
#[case(-90.5, 0.0)]
#[case(45.0, -501.0)]
#[case(f64::NAN, 0.0)]
#[case(45.0, 20_000.0)]
fn gravity_says_its_range(#[case] latitude: f64, #[case] altitude: f64) {
    assert!(matches!(gravity(degrees(latitude), metres(altitude)), Err(HeadError::OutOfRange { .. })));
}

/// The full formula of Picard and others (2008), worked out beside this code with the unrounded Ma/R and Mv/Ma, where its
/// small terms are largest: hot and moist, cold and dense, thin.
#[rstest]
#[case(48.0, 100.0, 1.0, 1.039_368_1)]
#[case(45.0, 60.0, 0.9, 0.621_488_7)]
#[case(40.0, 108.0, 0.6, 1.183_147_4)]
#[case(30.0, 52.0, 1.0, 0.579_279_8)]
#[case(20.0, 101.325, 0.0, 1.204_557_3)]
#[case(-30.0, 105.0, 0.5, 1.505_913_4)]
fn air_far_from_the_room(#[case] t: f64, #[case] p: f64, #[case] humidity: f64, #[case] expected: f64) {
    let found = air_density(celsius(t), kilopascals(p), Ratio::new::<ratio>(humidity)).unwrap();
    let found = found.get::<kilogram_per_cubic_meter>();
    // The short form rounds 1 - Mv/Ma to 0.3780.
    assert!((found / expected - 1.0).abs() < 1e-5, "{found} for {expected}");
}

#[rstest]
#[case(60.0, 101.325, 0.5)]
#[case(20.0, 40.0, 0.5)]
#[case(20.0, 101.325, 1.2)]
fn air_says_its_range(#[case] t: f64, #[case] p: f64, #[case] humidity: f64) {
    let found = air_density(celsius(t), kilopascals(p), Ratio::new::<ratio>(humidity));
    assert!(matches!(found, Err(HeadError::OutOfRange { .. })));
}

#[test]
fn a_site_that_nobody_measured_has_its_assumptions_covered() {
    let site = Surroundings::assumed(degrees(51.5), metres(120.0)).unwrap();
    let low = Pressure::new::<pascal>(site.atmosphere.get::<pascal>() * 0.97);
    for (t, p, humidity) in [(-10.0, site.atmosphere, 0.9), (35.0, low, 0.9), (-10.0, low, 0.1)] {
        let air = air_density(celsius(t), p, Ratio::new::<ratio>(humidity)).unwrap();
        // Weather this far out is rare: it may reach twice the standard uncertainty, hardly more.
        assert!((air - site.air).abs() <= site.air_uncertainty() * 2.3, "{air:?} for {:?}", site.air);
    }
    assert!(Surroundings::assumed(degrees(0.0), metres(8000.0)).is_err());
}

/// Air of 1.2 kg/m3, assumed: 5 % of it is 0.06. Water of 1001.2 beside it under 10 m/s2 presses 10 kPa a metre.
#[test]
fn assumed_air_is_known_within_a_twentieth() {
    let gravity = Acceleration::new::<meter_per_second_squared>(10.0);
    let site = Surroundings { gravity, atmosphere: kilopascals(100.0), air: density(1.2) };
    assert!((site.air_uncertainty() - density(0.06)).abs() < density(1e-12));
    let found = site.gradient(density(1001.2)).unwrap().pressure(metres(1.0));
    assert!((found - kilopascals(10.0)).abs() < kilopascals(1e-9));
    assert!((gravity_uncertainty().get::<meter_per_second_squared>() - 4e-4).abs() < 1e-15);
}

/// At 300 K each term of the correlation is its coefficient: 280.68 + 511.45 + 61.131 + 0.459 03 = 853.720 03 uPa s. At 20 degC
/// water has 1.0016 mPa s (ISO/TR 3666), at 100 degC 0.282 mPa s (IAPWS R12-08, table of values; from memory).
#[rstest]
#[case(26.85, 853.720_03e-6, 1e-6)]
#[case(20.0, 1.001_6e-3, 1e-3)]
#[case(100.0, 0.282e-3, 5e-3)]
fn water_runs_as_freely_as_published(#[case] t: f64, #[case] expected: f64, #[case] within: f64) {
    let found = water_viscosity(celsius(t)).unwrap().get::<uom::si::dynamic_viscosity::pascal_second>();
    assert!((found / expected - 1.0).abs() < within, "{found}");
}

#[rstest]
#[case(-0.1)]
#[case(100.1)]
fn ice_and_steam_have_no_such_viscosity(#[case] t: f64) {
    assert!(matches!(water_viscosity(celsius(t)), Err(HeadError::OutOfRange { .. })));
    assert!(water_viscosity(celsius(0.0)).is_ok());
}

/// K = 2 GPa over 1000 kg/m3 is 2e6; a wall of 10 mm about 0.5 m with E = 200 GPa gives K D / (E e) = 1e9 / 2e9 = 0.5: the wave
/// runs at the root of 2e6 / 1.5 = 1154.7005 m/s, and 0.3 m/s stopped make 1000 x 1154.7005 x 0.3 = 346 410 Pa.
#[test]
fn a_stopped_column_surges_as_joukowsky_says() {
    let wall = Wall {
        bore: metres(0.5),
        thickness: metres(0.01),
        modulus: Pressure::new::<uom::si::pressure::gigapascal>(200.0),
    };
    let wave = wave_speed(Pressure::new::<uom::si::pressure::gigapascal>(2.0), density(1000.0), &wall);
    let second = uom::si::f64::Velocity::new::<uom::si::velocity::meter_per_second>;
    assert!((wave - second(1_154.700_5)).abs() < second(1e-4), "{wave:?}");
    let surged = surge(density(1000.0), wave, second(0.3)).get::<pascal>();
    assert!((surged - 346_410.16).abs() < 0.05, "{surged}");
}

#[test]
fn what_is_lighter_than_air_does_not_press() {
    let g = Acceleration::new::<meter_per_second_squared>(9.8);
    assert_eq!(Gradient::new(density(1.0), density(1.2), g), Err(HeadError::NoHead));
    assert_eq!(Gradient::new(density(1.2), density(1.2), g), Err(HeadError::NoHead));
    assert_eq!(Gradient::new(density(1000.0), density(1.2), g * 0.0), Err(HeadError::NoHead));
    assert_eq!(Gradient::new(density(1000.0), density(1.2), -g), Err(HeadError::NoHead));
    assert_eq!(Gradient::new(density(f64::NAN), density(1.2), g), Err(HeadError::NoHead));
}

proptest! {
    #[test]
    fn water_is_heaviest_near_four_degrees_and_denser_under_pressure(t in 0.0..100.0_f64, p in 60.0..2900.0_f64) {
        let at = |t, p| water_density(celsius(t), kilopascals(p)).unwrap().get::<kilogram_per_cubic_meter>();
        prop_assert!(at(t, p + 100.0) > at(t, p));
        prop_assert!(at(t, 101.325) <= at(3.98, 101.325) + 0.000_22);
        if t > 5.0 {
            prop_assert!(at(t, p) < at(t - 1.0, p));
        }
    }

    #[test]
    fn gravity_falls_with_altitude_and_grows_to_the_poles(latitude in 0.0..89.0_f64, altitude in -400.0..8000.0_f64) {
        let at = |latitude, altitude| gravity(degrees(latitude), metres(altitude)).unwrap();
        prop_assert!(at(latitude, altitude + 10.0) < at(latitude, altitude));
        prop_assert!(at(latitude + 1.0, altitude) > at(latitude, altitude));
        prop_assert_eq!(at(-latitude, altitude), at(latitude, altitude));
    }

    #[test]
    fn heights_and_pressures_go_there_and_back(rho in 600.0..2000.0_f64, g in 9.76..9.84_f64, height in -100.0..100.0_f64) {
        let gradient = Gradient::new(density(rho), density(1.2), Acceleration::new::<meter_per_second_squared>(g)).unwrap();
        let pressure = gradient.pressure(metres(height));
        prop_assert!((pressure.get::<pascal>() - (rho - 1.2) * g * height).abs() < 1e-6);
        prop_assert!((gradient.length(pressure).get::<meter>() - height).abs() < 1e-12);
    }
}

/// Water at 20 degC, roughly, in a pipe of 10 mm and 10 m.
fn thin_pipe() -> (Pipe, Running) {
    let viscosity = uom::si::f64::DynamicViscosity::new::<uom::si::dynamic_viscosity::pascal_second>(1e-3);
    let gravity = Acceleration::new::<meter_per_second_squared>(9.8);
    let pipe = Pipe::new(metres(0.01), metres(10.0), metres(0.0), 0.5).unwrap();
    (pipe, Running { density: density(1000.0), viscosity, gravity })
}

fn litres_a_second(value: f64) -> uom::si::f64::VolumeRate {
    uom::si::f64::VolumeRate::new::<uom::si::volume_rate::cubic_meter_per_second>(value / 1000.0)
}

#[test]
fn slow_flow_loses_what_poiseuille_says() {
    let (pipe, of) = thin_pipe();
    // 0.01 L/s: v = 0.1273 m/s, Re = 1273; hf = 128 mu L Q / (pi rho g D^4)
    //         = 128 * 1e-3 * 10 * 1e-5 / (3.14159 * 1000 * 9.8 * 1e-8) = 0.041575 m.
    let flow = pipe.flow(litres_a_second(0.01), &of);
    assert!((flow.friction.get::<meter>() - 0.041_575).abs() < 1e-6, "{flow:?}");
    let still = pipe.flow(litres_a_second(0.0), &of);
    assert_eq!(still.error(Way::Drawing), metres(0.0));
    assert!(pipe.largest_within(metres(0.0), Way::Filling, &of).is_none());
}

proptest! {
    #[test]
    fn more_flow_never_errs_less(one in 0.0..2.0_f64, more in 0.0..0.5_f64) {
        let (pipe, of) = thin_pipe();
        for way in [Way::Drawing, Way::Filling] {
            let (less, much) = (pipe.flow(litres_a_second(one), &of), pipe.flow(litres_a_second(one + more), &of));
            prop_assert!(less.error(way).abs() <= much.error(way).abs());
        }
    }
}

/// 5 L/s through 100 mm: v = 0.005 / (pi / 4 * 0.01) = 0.636620 m/s, v2/2g = 0.405285 / 19.6 = 0.0206778 m. Bends and valves
/// of 3 velocity heads cost 0.0620334 m, drawn or filled.
#[test]
fn fittings_cost_alike_in_either_way() {
    let (_, of) = thin_pipe();
    let bare = Pipe::new(metres(0.1), metres(0.0), metres(0.0), 0.5).unwrap();
    let flow = bare.with_fittings(3.0).unwrap().flow(litres_a_second(5.0), &of);
    assert!((flow.error(Way::Filling).get::<meter>() - 0.062_033_4).abs() < 1e-6, "{flow:?}");
    // -(0.0620334 + 1.5 * 0.0206778) = -0.0930501 m.
    assert!((flow.error(Way::Drawing).get::<meter>() + 0.093_050_1).abs() < 1e-6, "{flow:?}");
    assert!(bare.with_fittings(-1.0).is_err() && bare.with_fittings(f64::NAN).is_err());
}

/// The same pipe with 3 velocity heads in fittings: 62.0334 mm is what 5 L/s make. No flow below 30 m/s makes 200 m, since
/// 3 x 900 / 19.6 = 137.8 m; 130 m some do: 100 mm at the root of 130 x 19.6 / 3 = 29.143 m/s carry 228.89 L/s.
#[rstest]
#[case::a_hand(0.062_033_4, Some(5.0))]
#[case::nearly_all(130.0, Some(228.89))]
#[case::more_than_fits_through(200.0, None)]
fn the_largest_flow_within_a_bound_is_found(#[case] bound: f64, #[case] litres: Option<f64>) {
    let (_, of) = thin_pipe();
    let pipe = Pipe::new(metres(0.1), metres(0.0), metres(0.0), 0.5).unwrap().with_fittings(3.0).unwrap();
    let found = pipe.largest_within(metres(bound), Way::Filling, &of);
    let found = found.map(|rate| rate.get::<uom::si::volume_rate::cubic_meter_per_second>() * 1000.0);
    match (found, litres) {
        (Some(found), Some(litres)) => assert!((found / litres - 1.0).abs() < 1e-4, "{found}"),
        (found, litres) => assert_eq!(found, litres),
    }
}

#[test]
fn a_pipe_tells_its_measures_and_refuses_what_is_none() {
    let (pipe, of) = thin_pipe();
    assert_eq!((pipe.bore(), pipe.length()), (metres(0.01), metres(10.0)));
    assert!((pipe.flow(litres_a_second(0.01), &of).entry_loss() - 0.5).abs() < 1e-15);
    // A twentieth of the bore is the roughest: 5 mm in 100 mm, and not 6.
    let rough = |millimetres: f64| Pipe::new(metres(0.1), metres(1.0), metres(millimetres / 1000.0), 0.5);
    assert!(rough(4.999).is_ok() && rough(6.0).is_err() && rough(-0.1).is_err());
}

/// A millimetre of roughness in 100 mm, with nothing that sticks: (2 log10(370))^-2 = 0.037 904 of a velocity head for each of the 100
/// bores in 10 m, 0.037 904 x 100 x 0.0206778 = 0.078 377 m.
#[test]
fn a_rough_pipe_rubs_by_its_roughness_over_its_bore() {
    let (_, of) = thin_pipe();
    let of = Running { viscosity: of.viscosity * 1e-6, ..of };
    let pipe = Pipe::new(metres(0.1), metres(10.0), metres(0.001), 0.5).unwrap();
    let flow = pipe.flow(litres_a_second(5.0), &of);
    assert!((flow.factor - 0.037_904).abs() < 1e-6, "{flow:?}");
    assert!((flow.friction - metres(0.078_377)).abs() < metres(5e-6), "{flow:?}");
}
