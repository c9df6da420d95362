use rstest::rstest;
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::temperature_coefficient::per_kelvin;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::*;
use crate::head::Liquid;

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

fn oil() -> Liquid {
    let density = uom::si::f64::MassDensity::new::<kilogram_per_cubic_meter>(934.0);
    let at = uom::si::f64::ThermodynamicTemperature::new::<degree_celsius>(25.0);
    let expansion = uom::si::f64::TemperatureCoefficient::new::<per_kelvin>(0.00108);
    Liquid::other(density, at, expansion).unwrap()
}

/// Every mounting with the tank's zero so far above the sensing point, its upper tap and its lower seal where given.
fn mountings(riser: f64, top: f64, tap: f64) -> Vec<Mounting> {
    let (riser, top, tap, fill) = (metres(riser), metres(top), metres(tap), oil());
    vec![
        Mounting::open(riser),
        Mounting::DryLeg { riser, top },
        Mounting::WetLeg { riser, top, fill },
        Mounting::OneSeal { riser, tap, fill },
        Mounting::TwoSeals { riser, tap, top, fill },
        Mounting::Probe { riser },
        Mounting::Interface { riser, top, light: oil(), fill },
    ]
}

fn tower(mounting: Mounting) -> Installation {
    let mark = |at: f64, says: &str, role| Mark { at: metres(at), says: says.into(), role };
    Installation {
        mounting,
        span: metres(7.8),
        floor: metres(0.0),
        level: Some(metres(3.9)),
        marks: vec![
            mark(0.0, "0 % tank zero", Role::Datum),
            mark(3.9, "level 3.90 m", Role::Surface),
            mark(7.8, "100 % 7.80 m", Role::Datum),
        ],
    }
}

fn drawn(mounting: Mounting) -> Drawing {
    tower(mounting).draw(&|length| format!("{} m", length.get::<meter>()))
}

fn heights(drawing: &Drawing, of: Role) -> Vec<f64> {
    let rects = drawing.shapes.iter().filter_map(|shape| match shape {
        Shape::Rect { role, h, .. } if *role == of => Some(*h),
        _ => None,
    });
    rects.collect()
}

/// Lengths of the upright dimension lines.
fn dimensions(drawing: &Drawing) -> Vec<f64> {
    let upright = drawing.shapes.iter().filter_map(|shape| match shape {
        Shape::Line { role: Role::Dimension, x1, x2, y1, y2 } if (x1 - x2).abs() < 1e-9 => {
            Some((y1 - y2).abs())
        }
        _ => None,
    });
    upright.collect()
}

fn close(ratio: f64, to: f64) {
    assert!((ratio - to).abs() < 1e-9, "{ratio} is not {to}");
}

#[test]
fn riser_and_liquid_share_one_scale() {
    let drawing = drawn(Mounting::Riser { riser: metres(14.62) });
    let liquid = heights(&drawing, Role::Liquid);
    close(liquid[1] / liquid[0], 14.62 / 3.9);
    close(dimensions(&drawing)[0] / liquid[0], 14.62 / 3.9);
}

#[test]
fn leg_and_liquid_share_one_scale() {
    // The leg: 9.1 m of upper tap and 2.6 m of riser.
    for mounting in [
        Mounting::WetLeg { riser: metres(2.6), top: metres(9.1), fill: oil() },
        Mounting::Interface { riser: metres(2.6), top: metres(9.1), light: oil(), fill: oil() },
    ] {
        let drawing = drawn(mounting);
        let (leg, liquid) = (heights(&drawing, Role::Fill)[0], heights(&drawing, Role::Liquid)[0]);
        close(leg / liquid, 11.7 / 3.9);
        close(dimensions(&drawing)[0] / liquid, 11.7 / 3.9);
    }
}

#[test]
fn a_dry_leg_is_empty_and_to_scale() {
    let drawing = drawn(Mounting::DryLeg { riser: metres(2.6), top: metres(9.1) });
    assert!(heights(&drawing, Role::Fill).is_empty());
    close(dimensions(&drawing)[0] / heights(&drawing, Role::Liquid)[0], 11.7 / 3.9);
}

#[test]
fn two_seals_are_dimensioned_from_one_to_the_other_wherever_the_transmitter_stands() {
    for riser in [-20.0, 0.0, 4.0] {
        let (riser, tap, top) = (metres(riser), metres(-0.3), metres(8.7));
        let drawing = drawn(Mounting::TwoSeals { riser, tap, top, fill: oil() });
        let dimensions = dimensions(&drawing);
        assert_eq!(dimensions.len(), 1);
        // The vessel reaches down to the lower seal: 3.9 m and 0.3 m of liquid.
        close(dimensions[0] / heights(&drawing, Role::Liquid)[0], 9.0 / 4.2);
    }
}

#[test]
fn a_light_liquid_stands_over_the_heavy_one() {
    let drawing =
        drawn(Mounting::Interface { riser: metres(1.0), top: metres(8.0), light: oil(), fill: oil() });
    let place = |of: Role| {
        drawing.shapes.iter().find_map(|shape| match shape {
            Shape::Rect { role, y, h, .. } if *role == of => Some((*y, y + h)),
            _ => None,
        })
    };
    let (light, heavy) = (place(Role::Light).unwrap(), place(Role::Liquid).unwrap());
    close(light.1, heavy.0);
}

/// The interface stands at 3.9 m under a tap at 9.1 m: 100 % at 6.5 m would cross the middle of the light liquid.
#[rstest]
#[case(6.5)]
#[case(5.5)]
#[case(1.95)]
fn no_line_crosses_the_name_of_a_liquid(#[case] mark: f64) {
    let of = Mounting::Interface { riser: metres(1.0), top: metres(9.1), light: oil(), fill: oil() };
    let mut tower = tower(of);
    tower.marks.push(Mark { at: metres(mark), says: "mark".into(), role: Role::Datum });
    let drawing = tower.draw(&|_| String::new());
    let across = drawing.shapes.iter().filter_map(|shape| match shape {
        Shape::Line { role: Role::Datum | Role::Surface, y1, y2, .. } if (y1 - y2).abs() < 1e-9 => Some(*y1),
        _ => None,
    });
    let across: Vec<f64> = across.collect();
    for name in ["light", "heavy"] {
        let y = drawing.shapes.iter().find_map(|shape| match shape {
            Shape::Text { y, text, .. } if text == name => Some(*y),
            _ => None,
        });
        let [_, high, under] = LETTER;
        let (top, bottom) = (y.unwrap() - high, y.unwrap() + under);
        assert!(across.iter().all(|line| *line < top || *line > bottom), "{name} at {y:?}: {across:?}");
    }
}

#[test]
fn everything_stays_on_the_sheet() {
    for riser in [-60.0, -6.0, 0.0, 0.002, 0.5, 14.62, 600.0] {
        for (top, tap) in [(7.8, 0.0), (9.1, -0.4), (300.0, -90.0), (1.0, 2.0)] {
            for mounting in mountings(riser, top, tap) {
                let drawing = drawn(mounting);
                for shape in &drawing.shapes {
                    let ([low, high], [left, right]) = match shape {
                        Shape::Line { x1, x2, y1, y2, .. } => {
                            ([y1.min(*y2), y1.max(*y2)], [x1.min(*x2), x1.max(*x2)])
                        }
                        Shape::Rect { x, y, w, h, .. } => ([*y, y + h], [*x, x + w]),
                        Shape::Text { x, y, .. } => ([*y, *y], [*x, *x]),
                    };
                    assert!(low >= 0.0 && high <= drawing.height, "{mounting:?}: {shape:?}");
                    assert!(left >= 0.0 && right <= drawing.width, "{mounting:?}: {shape:?}");
                }
            }
        }
    }
}

/// How wide a letter of the drawing is at most on average, how high, and how far it reaches under its line: digits
/// and spaces of the pages' letters at 14 units, as measured in a browser.
const LETTER: [f64; 3] = [7.6, 11.0, 3.0];

/// Returns left, right, top and bottom of a shape that words must not lie upon.
fn built(shape: &Shape) -> Option<[f64; 4]> {
    match shape {
        Shape::Line {
            role: Role::Wall | Role::Fill | Role::Datum | Role::Surface | Role::Shown | Role::Ground,
            x1,
            y1,
            x2,
            y2,
        } => Some([x1.min(*x2), x1.max(*x2), y1.min(*y2), y1.max(*y2)]),
        Shape::Rect { x, y, w, h, .. } => Some([*x, x + w, *y, y + h]),
        _ => None,
    }
}

#[rstest]
fn the_words_of_a_dimension_lie_upon_nothing(
    #[values(-6.0, -0.85, -0.02, 0.0, 0.02, 0.3, 0.9, 2.0, 14.62)] riser: f64,
    #[values("0.85 m", "31 ft 4 in", "31 ft 11 15/16 in")] says: &str,
) {
    for mounting in mountings(riser, 9.1, -0.15) {
        let drawing = tower(mounting).draw(&|_| says.to_owned());
        for shape in &drawing.shapes {
            let Shape::Text { role: Role::Dimension, x, y, text, .. } = shape else { continue };
            let [wide, high, under] = LETTER;
            let right = x + wide * f64::from(u32::try_from(text.chars().count()).unwrap());
            let (top, bottom) = (y - high, y + under);
            assert!(bottom <= drawing.height && right <= 204.0, "{mounting:?}: {text}");
            for [from, to, upper, lower] in drawing.shapes.iter().filter_map(built) {
                let apart = to < *x || from > right || lower < top || upper > bottom;
                assert!(apart, "{mounting:?}: {text} at {y} lies upon {from} to {to}, {upper} to {lower}");
            }
        }
    }
}

#[rstest]
#[case(-2.0, "2 m above the tank's zero")]
#[case(1.25, "1.25 m below the tank's zero")]
#[case(0.0, "at the tank's zero")]
fn where_the_transmitter_stands_is_said(#[case] riser: f64, #[case] says: &str) {
    for mounting in mountings(riser, 9.0, -0.5) {
        let description = drawn(mounting).description;
        assert!(description.contains(says), "{description}");
    }
}

#[rstest]
#[case(0, "riser")]
#[case(1, "dry leg 10 m high")]
#[case(2, "wet leg 10 m high")]
#[case(3, "one seal")]
#[case(4, "two seals 9.5 m apart")]
#[case(5, "probe hanging")]
#[case(6, "filled leg 10 m high")]
fn the_mounting_is_said(#[case] at: usize, #[case] says: &str) {
    let description = drawn(mountings(1.0, 9.0, -0.5)[at]).description;
    assert!(description.contains(says), "{description}");
}

#[test]
fn heights_are_said_from_top_to_bottom() {
    let description = drawn(mountings(1.0, 9.0, -0.5)[4]).description;
    assert_eq!(description.matches("op to bottom").count(), 1, "{description}");
    let says = "upper seal 9 m; 100 % 7.80 m; level 3.90 m; 0 % tank zero; lower seal -0.5 m.";
    assert!(description.ends_with(says), "{description}");
}

#[test]
fn a_seal_below_the_zero_lets_the_vessel_reach_down_to_it() {
    let drawing = drawn(Mounting::OneSeal { riser: metres(-1.0), tap: metres(-0.3), fill: oil() });
    let (liquid, own) = (heights(&drawing, Role::Liquid)[0], dimensions(&drawing)[0]);
    close(own / liquid, 1.0 / 4.2);
}

#[rstest]
#[case(Mounting::Riser { riser: metres(0.1) })]
#[case(Mounting::Riser { riser: metres(-1.0) })]
#[case(Mounting::AboveDatum { rise: metres(1.0) })]
#[case(Mounting::WetLeg { riser: metres(-1.0), top: metres(8.0), fill: oil() })]
fn a_line_to_a_transmitter_above_the_floor_is_drawn_beside_the_tank(#[case] mounting: Mounting) {
    let drawing = Installation { floor: metres(-0.3), ..tower(mounting) }.draw(&|_| String::new());
    let liquid: Vec<(f64, f64)> = drawing
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Rect { role: Role::Liquid, x, w, .. } => Some((*x, x + w)),
            _ => None,
        })
        .collect();
    assert!(liquid[1].0 > liquid[0].1, "{liquid:?}");
}
