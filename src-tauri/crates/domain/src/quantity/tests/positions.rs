use rstest::rstest;
use uom::si::angle::degree;
use uom::si::length::meter;

use crate::quantity::Position;

#[rstest]
#[case::plain("39.2043, -98.9127", Some((39.2043, -98.9127)))]
#[case::whole_degrees("-12,7", Some((-12.0, 7.0)))]
#[case::beyond_the_pole("91, 0", None)]
#[case::beyond_the_date_line("0, 181", None)]
#[case::one_number("39.2", None)]
#[case::three("1,2,3", None)]
#[case::words("39.2 N, 98.9 W", None)]
#[case::no_number("nan, inf", None)]
#[case::an_exponent("1e1, 2", None)]
fn a_position_is_read(#[case] text: &str, #[case] expected: Option<(f64, f64)>) {
    let read = Position::read(text);
    let seen = read.map(|at| (at.latitude.get::<degree>(), at.longitude.get::<degree>()));
    match (seen, expected) {
        (Some((latitude, longitude)), Some((north, east))) => {
            assert!((latitude - north).abs() < 1e-9 && (longitude - east).abs() < 1e-9);
        }
        (seen, expected) => assert_eq!(seen, expected),
    }
}

/// One degree along a meridian of the mean sphere: pi / 180 x 6 371 008.7714 = 111 195.08 m. A quarter of the way round:
/// pi / 2 of it, 10 007 557 m.
#[rstest]
#[case::nowhere("10, 20", "10, 20", 0.0)]
#[case::a_degree_north("40, 5", "41, 5", 111_195.08)]
#[case::across_the_date_line("0, 179.5", "0, -179.5", 111_195.08)]
#[case::to_the_pole("0, 0", "90, 0", 10_007_557.2)]
fn a_distance_follows_the_great_circle(#[case] from: &str, #[case] to: &str, #[case] metres: f64) {
    let [from, to] = [from, to].map(|text| Position::read(text).unwrap());
    assert!((from.distance(to).get::<meter>() - metres).abs() < 0.6);
    assert!((to.distance(from).get::<meter>() - metres).abs() < 0.6);
}

/// Flinders Peak to Buninyong, 54 972.271 m on the GRS80 ellipsoid: the worked example of the Geocentric Datum of
/// Australia technical manual (ICSM). The sphere is within 0.6 % of it.
#[test]
fn a_published_distance_is_met_within_what_a_sphere_can() {
    let flinders = Position::read("-37.951033417, 144.424867889").unwrap();
    let buninyong = Position::read("-37.652821139, 143.926495528").unwrap();
    let metres = flinders.distance(buninyong).get::<meter>();
    assert!((metres / 54_972.271 - 1.0).abs() < 0.006, "{metres}");
}
