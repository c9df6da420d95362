//! Sensor ranges that fit, and why others do not.

use domain::head::mounting::Mounting;
use domain::head::{Gradient, water_density};
use domain::quantity::ReadingUnit;
use domain::ranging::{Action, Misfit, Need, Offered, Sensor, SensorErrors, size, ways};
use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{
    Acceleration, Length, MassDensity, Pressure, TemperatureInterval, ThermodynamicTemperature,
};
use uom::si::length::{foot, meter, millimeter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::temperature_interval::kelvin;
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::facts::group;
use crate::mounting::textbook;

const FACTS: &str = include_str!("../../reference/ranging.json");

fn psi(value: f64) -> Pressure {
    ReadingUnit::parse("psi").unwrap().pressure(value, Gradient::CONVENTIONAL_WATER)
}

fn in_psi(pressure: Pressure) -> f64 {
    ReadingUnit::parse("psi").unwrap().reading(pressure, Gradient::CONVENTIONAL_WATER)
}

/// A sensor of so many psi that may be turned down twenty times, true to 0.1 % of its URL.
fn offered(url: f64) -> Offered {
    let limits = Sensor {
        lrl: psi(-14.0),
        url: psi(url),
        min_span: psi(url / 20.0),
        max_working: psi(url * 2.0),
        trim_limit: None,
    };
    let errors = SensorErrors { accuracy: psi(url / 1000.0), ..SensorErrors::default() };
    Offered { name: format!("{url} psi"), limits, most_turndown: None, errors }
}

/// Water of 10 degC in vacuum at standard gravity, as the example reckons.
fn water() -> Gradient {
    let ten = ThermodynamicTemperature::new::<degree_celsius>(10.0);
    let water = water_density(ten, Pressure::new::<pascal>(101_325.0)).unwrap();
    let none = MassDensity::new::<kilogram_per_cubic_meter>(0.0);
    Gradient::new(water, none, Acceleration::new::<meter_per_second_squared>(9.806_65)).unwrap()
}

#[test]
fn thirty_psi_is_just_too_small_and_fifty_right() {
    let facts = group(FACTS, "turndown", 2);
    let fact = &facts[1];
    let water = water();
    let density = format!("{:.4} kg/m3", water.pressure(Length::new::<meter>(1.0)).value / 9.80665);
    let riser = Mounting::open(Length::new::<foot>(fact.input("riser")));
    let tower = textbook(riser, &density, Length::new::<foot>(fact.input("span")));
    let urls: Vec<f64> = fact.text("URLs").split(',').map(|url| url.parse().unwrap()).collect();
    let table: Vec<Offered> = urls.iter().map(|url| offered(*url)).collect();
    for plan in ways(&tower, Action::Direct, Pressure::default()).unwrap() {
        let need = Need::of(&plan, None, water, TemperatureInterval::new::<kelvin>(0.0));
        let sized = size(&table, &need);
        fact.hold("choice", "psi", urls[sized[0].place]);
        let order: Vec<f64> = sized.iter().map(|one| urls[one.place]).collect();
        assert_eq!(order, [50.0, 150.0, 10.0, 30.0]);
        assert!(sized[1].fits() && !sized[2].fits());
        // Just too small: by 0.338 psi of 30, as the example's URV has it.
        fact.hold("URV", "psi", 30.0 - in_psi(sized[3].to_spare));
        let [Misfit::Limit(why)] = sized[3].misfits.as_slice() else { panic!("{:?}", sized[3].misfits) };
        fact.hold("URV", "psi", in_psi(why.found.unwrap()));
        // "0.1 % of a 50 psi limit is 35 mm of water".
        assert!((sized[0].expected.level.get::<millimeter>() - 35.0).abs() < 0.5);
        // 50 psi over a span of 13.002 psi.
        assert!((sized[0].turndown.value - 3.845).abs() < 0.001);
    }
}

#[test]
fn a_stated_turndown_sets_the_smallest_span() {
    use domain::ranging::Range;
    use uom::si::f64::Ratio;
    use uom::si::ratio::ratio;
    let facts = group(FACTS, "turndown", 2);
    let fact = &facts[0];
    let mut sensor = offered(fact.input("URL"));
    sensor.limits.min_span = psi(0.0);
    sensor.most_turndown = Some(Ratio::new::<ratio>(fact.input("turndown")));
    let fits = |span: f64| {
        let range = Range::new(psi(0.0), psi(span), Action::Direct).unwrap();
        let need = Need {
            range,
            offset: psi(0.0),
            highest: None,
            gradient: water(),
            swing: TemperatureInterval::new::<kelvin>(0.0),
        };
        size(std::slice::from_ref(&sensor), &need)[0].fits()
    };
    fact.hold("min_span", "psi", fact.input("URL") / fact.input("turndown"));
    assert!(fits(15.0) && !fits(14.9));
}
