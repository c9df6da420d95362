//! How large a code and its frame come out, against published sizes (`reference/code.json`).

use tagcode::sheet::{Dpi, Framed, Mm, Shape};
use tagcode::{Code, Strength};

use crate::facts::{group, named};

const FACTS: &str = include_str!("../../reference/code.json");

fn strength(level: &str) -> Strength {
    match level {
        "L" => Strength::Low,
        "M" => Strength::Medium,
        "Q" => Strength::Quarter,
        "H" => Strength::High,
        other => unreachable!("{other}"),
    }
}

/// The width in millimetres that an SVG states for itself.
fn width(svg: &str) -> f64 {
    let (_, after) = svg.split_once("width=\"").unwrap();
    after.split_once("mm\"").unwrap().0.parse().unwrap()
}

#[test]
fn a_code_is_as_small_as_its_text_and_strength_allow() {
    for entry in group(FACTS, "symbol", 4) {
        let input = |name| named(&entry, "inputs", name);
        let expected = |name| named(&entry, "expected", name);
        let code =
            Code::of(input("text").as_str().unwrap(), strength(input("level").as_str().unwrap())).unwrap();
        let modules = u64::try_from(code.side()).unwrap();
        assert_eq!(Some(modules), expected("modules").as_u64(), "{}", entry["quantity"]);
        // Version 1 has 21 modules a side, and each version four more than the one before.
        assert_eq!(Some((modules - 17) / 4), expected("version").as_u64(), "{}", entry["quantity"]);
        let (seen, side) =
            (width(&code.svg(input("module").as_f64().unwrap())), expected("side_with_quiet_zone"));
        assert!(
            (seen - side.as_f64().unwrap()).abs() < 1e-9,
            "{seen} mm, expected {side}: {}",
            entry["quantity"]
        );
    }
}

/// What a strength can mend is the standard's promise and not asked here; photographs of worn labels show what is read.
#[test]
fn the_smallest_and_the_largest_code_and_the_quiet_zone() {
    let entry = &group(FACTS, "rules", 1)[0];
    let expected = |name| usize::try_from(named(entry, "expected", name).as_u64().unwrap()).unwrap();
    let smallest = Code::of("A", Strength::High).unwrap();
    assert_eq!(smallest.side(), expected("modules_v1"));
    // Version 40 holds 2953 bytes at the lowest strength, and version 39 does not.
    assert_eq!(Code::of(&"a".repeat(2953), Strength::Low).unwrap().side(), expected("modules_v40"));
    let picture = smallest.bitmap(1);
    assert_eq!(picture.width(), smallest.side() + 2 * expected("quiet_zone"));
}

/// Letters and digits in turn, as many as are asked: what the published table of framed labels was made with. Digits take
/// less room in a code, so that this text is longer than one of letters could be.
fn letters_and_digits(count: usize) -> String {
    let letters = ('a'..='z').chain(['v', 'v']).chain('0'..='9');
    letters.cycle().take(count).collect()
}

/// How far to the right and down a frame's ink reaches.
fn reaches(framed: &Framed, module: usize) -> (usize, usize) {
    let ends = framed.shapes(module).into_iter().map(|shape| match shape {
        Shape::Block { x, y, width, height } => (x + width, y + height),
        Shape::Corner { x, y, .. } => (x, y),
    });
    ends.fold((0, 0), |far, end| (far.0.max(end.0), far.1.max(end.1)))
}

#[test]
fn a_framed_code_is_as_small_as_published_and_holds_no_longer_link() {
    for entry in group(FACTS, "framed", 4) {
        let input = |name| named(&entry, "inputs", name);
        let chars = usize::try_from(input("chars").as_u64().unwrap()).unwrap();
        let framed = |chars| Framed::of(Code::of(&letters_and_digits(chars), Strength::Quarter).unwrap());
        let (Some(module), Some(side)) =
            (input("module").as_f64(), named(&entry, "expected", "side").as_f64())
        else {
            unreachable!("{entry}")
        };
        // On a printer of 508 dots an inch a quarter of a millimetre is five dots.
        let (printer, dots) = (Dpi::of(508).unwrap(), 5);
        assert!((printer.length(dots).0 - module).abs() < 1e-12, "{module}");
        let (right, lower) = reaches(&framed(chars), dots);
        let (Mm(wide), Mm(high)) = (printer.length(right), printer.length(lower));
        let near = |seen: f64| (seen - side).abs() <= entry["expected"][0]["tol"].as_f64().unwrap();
        assert!(near(wide) && near(high), "{wide} by {high} mm, expected {side}: {}", entry["quantity"]);
        // One sign more takes the next size, which is four modules wider.
        assert_eq!(framed(chars + 1).side(), framed(chars).side() + 4, "{}", entry["quantity"]);
    }
}
