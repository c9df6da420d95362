//! Sizing against numbers worked out by hand. The published examples stand in the suite of reference tests.

use rstest::rstest;
use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, MassDensity, Pressure, Ratio, TemperatureInterval};
use uom::si::length::millimeter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::{kilopascal, pascal};
use uom::si::ratio::{percent, ratio};
use uom::si::temperature_interval::kelvin;

use super::*;
use crate::head::Gradient;

fn kilopascals(value: f64) -> Pressure {
    Pressure::new::<kilopascal>(value)
}

/// 10 kPa a metre: 1000 kg/m3 under 10 m/s2, in vacuum.
fn ten() -> Gradient {
    let density = MassDensity::new::<kilogram_per_cubic_meter>(1000.0);
    let none = MassDensity::new::<kilogram_per_cubic_meter>(0.0);
    Gradient::new(density, none, Acceleration::new::<meter_per_second_squared>(10.0)).unwrap()
}

fn offered(name: &str, url: f64) -> Offered {
    let limits = Sensor {
        lrl: kilopascals(-10.0),
        url: kilopascals(url),
        min_span: kilopascals(url / 20.0),
        max_working: kilopascals(url * 2.0),
        trim_limit: Some(kilopascals(url)),
    };
    let errors = SensorErrors { accuracy: kilopascals(url / 1000.0), ..SensorErrors::default() };
    Offered { name: name.to_owned(), limits, most_turndown: None, errors }
}

/// A riser of 12 m and a span of 8 m: 120 kPa of standing head, 80 kPa of span, trimmed.
fn tower() -> Need {
    let range = Range::new(Pressure::default(), kilopascals(80.0), Action::Direct).unwrap();
    Need {
        range,
        offset: kilopascals(-120.0),
        highest: Some(kilopascals(205.0)),
        gradient: ten(),
        swing: TemperatureInterval::new::<kelvin>(0.0),
    }
}

fn words(sized: &Sized) -> Vec<String> {
    let show = |pressure: Pressure| format!("{:.1} kPa", pressure.get::<kilopascal>());
    sized.misfits.iter().map(|misfit| misfit.sentence(show)).collect()
}

#[test]
fn the_least_expected_error_leads_and_misfits_come_last() {
    // At 100 % the sensor feels 200 kPa: 160 is too small. 1800 / 20 = 90 kPa is more than the span.
    let table = [offered("d", 1800.0), offered("c", 600.0), offered("b", 250.0), offered("a", 160.0)];
    let sized = size(&table, &tower());
    let order: Vec<&str> = sized.iter().map(|one| table[one.place].name.as_str()).collect();
    assert_eq!(order, ["b", "c", "a", "d"]);
    assert_eq!(sized.iter().map(Sized::fits).collect::<Vec<_>>(), [true, true, false, false]);
    let too_small = "Upper end: at the URV it would feel 200.0 kPa, above its URL of 160.0 kPa by 40.0 kPa.";
    assert_eq!(words(&sized[2]), [too_small]);
    assert_eq!(words(&sized[3]), ["Minimum span: the span of 80.0 kPa is less than its least, 90.0 kPa."]);
    assert!((sized[0].to_spare.get::<kilopascal>() - 50.0).abs() < 1e-9);
    assert!((sized[0].turndown.get::<ratio>() - 3.125).abs() < 1e-12);
}

#[rstest]
#[case::trim(|one: &mut Offered, _: &mut Need| one.limits.trim_limit = Some(kilopascals(100.0)),
    "Trim limit: an offset of -120.0 kPa is needed; it holds up to 100.0 kPa.")]
#[case::working(|_: &mut Offered, need: &mut Need| need.highest = Some(kilopascals(620.0)),
    "Working pressure: the process can bring 620.0 kPa; 500.0 kPa is its maximum.")]
#[case::lower(|_: &mut Offered, need: &mut Need| {
        need.offset = Pressure::default();
        need.range = Range::new(kilopascals(-12.0), kilopascals(68.0), Action::Direct).unwrap();
    }, "Lower end: at the LRV it would feel -12.0 kPa, below its LRL of -10.0 kPa by 2.0 kPa.")]
#[case::turndown(|one: &mut Offered, _: &mut Need| one.most_turndown = Some(Ratio::new::<ratio>(3.0)),
    "Turndown: its URL is 3.1 times the span; 3.0 times is the most.")]
fn each_misfit_says_why(#[case] change: fn(&mut Offered, &mut Need), #[case] says: &str) {
    let (mut one, mut need) = (offered("b", 250.0), tower());
    change(&mut one, &mut need);
    let sized = size(&[one], &need);
    assert_eq!(words(&sized[0]), [says]);
}

#[test]
fn a_turndown_as_large_as_stated_fits() {
    // 250 kPa over 80 kPa.
    let mut one = offered("b", 250.0);
    one.most_turndown = Some(Ratio::new::<ratio>(3.125));
    assert_eq!(words(&size(&[one], &tower())[0]), Vec::<String>::new());
}

#[test]
fn a_raw_range_needs_no_offset() {
    let mut one = offered("b", 250.0);
    one.limits.trim_limit = Some(kilopascals(100.0));
    let raw = Need {
        range: Range::new(kilopascals(120.0), kilopascals(200.0), Action::Direct).unwrap(),
        offset: Pressure::default(),
        ..tower()
    };
    assert!(size(&[one], &raw)[0].fits());
}

#[test]
fn the_expected_error_is_its_terms_in_quadrature() {
    // 0.1 % of 250 kPa with k = 2: u = 125 Pa. 60 Pa over root 3 = 34.641; 90 over root 3 = 51.962; 40 Pa for
    // 10 K over half of 16 K: 32 Pa, over root 3 = 18.475. Squares: 15625 + 1200 + 2700 + 341.33 = 19866.33,
    // root 140.948, twice that 281.896 Pa: 28.19 mm at 10 Pa a millimetre, 0.35237 % of 80 kPa.
    let mut one = offered("b", 250.0);
    one.errors = SensorErrors {
        accuracy: Pressure::new::<pascal>(250.0),
        zero_allowance: Pressure::new::<pascal>(60.0),
        drift: Pressure::new::<pascal>(90.0),
        ten_kelvin: Pressure::new::<pascal>(40.0),
    };
    let need = Need { swing: TemperatureInterval::new::<kelvin>(16.0), ..tower() };
    let expected = &size(&[one], &need)[0].expected;
    assert!((expected.expanded.get::<pascal>() - 281.896).abs() < 5e-3, "{expected:?}");
    assert!((expected.level.get::<millimeter>() - 28.1896).abs() < 5e-4);
    assert!((expected.of_span.get::<percent>() - 0.352_370).abs() < 5e-6);
    let terms: Vec<_> = expected.terms.iter().map(|(term, _)| *term).collect();
    assert_eq!(terms, [ErrorTerm::Accuracy, ErrorTerm::Zero, ErrorTerm::Drift, ErrorTerm::Temperature]);
}

#[test]
fn what_is_not_known_is_said_and_breaks_nothing() {
    let need = Need { highest: None, ..tower() };
    let sized = size(&[offered("b", 250.0)], &need);
    assert!(sized[0].fits());
    assert_eq!(sized[0].open.len(), 1);
    assert_eq!(sized[0].open[0].rule, LimitRule::WorkingPressure);
    // No trim limit stated is no limit, not something open.
    let mut free = offered("b", 250.0);
    free.limits.trim_limit = None;
    assert!(size(&[free], &tower())[0].open.is_empty());
}

#[test]
fn of_two_that_measure_alike_the_smaller_leads_and_of_two_alike_in_all_the_first() {
    let errors = SensorErrors { accuracy: kilopascals(0.25), ..SensorErrors::default() };
    let alike = |name: &str, url: f64| Offered { errors, ..offered(name, url) };
    let order = |table: &[Offered], need: &Need| -> Vec<String> {
        size(table, need).iter().map(|one| table[one.place].name.clone()).collect()
    };
    let fitting = [alike("c", 600.0), alike("a", 250.0), alike("b", 250.0)];
    assert_eq!(order(&fitting, &tower()), ["a", "b", "c"]);
    // Of those that do not fit the one that can take less comes first, however well it would measure.
    let worse =
        Offered { errors: SensorErrors { accuracy: kilopascals(9.0), ..errors }, ..offered("a", 100.0) };
    assert_eq!(order(&[alike("b", 160.0), worse], &tower()), ["a", "b"]);
}

/// What nobody stated is no term of nothing, and a trim limit nobody stated does not hide what else is open.
#[test]
fn only_what_is_stated_counts() {
    let mut free = offered("b", 250.0);
    free.limits.trim_limit = None;
    let sized = size(&[free], &Need { highest: None, ..tower() });
    let open: Vec<_> = sized[0].open.iter().map(|one| one.rule).collect();
    assert_eq!(open, [LimitRule::WorkingPressure]);
    let terms: Vec<_> = sized[0].expected.terms.iter().map(|(term, _)| *term).collect();
    assert_eq!(terms, [ErrorTerm::Accuracy]);
}

#[test]
fn each_term_is_called_by_its_name() {
    let terms = [ErrorTerm::Accuracy, ErrorTerm::Zero, ErrorTerm::Drift, ErrorTerm::Temperature];
    let names = ["reference accuracy", "zero allowance", "a year's drift", "its own temperature"];
    assert_eq!(terms.map(ErrorTerm::name), names);
}
