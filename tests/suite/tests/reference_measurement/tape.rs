//! What a hanging tape shows otherwise than the height it hangs over.

use domain::evidence::Amount;
use domain::evidence::tape::{by_temperature, stretch, upright};
use domain::visit::{Choice, Draft, Key, Moment, PieceKind, Spot, Timing, assess};
use uom::si::area::square_meter;
use uom::si::f64::{Area, Force, Length, Pressure, TemperatureCoefficient, TemperatureInterval};
use uom::si::force::newton;
use uom::si::length::{foot, meter, millimeter};
use uom::si::pressure::pascal;
use uom::si::temperature_coefficient::per_kelvin;
use uom::si::temperature_interval::{degree_fahrenheit, kelvin};

use crate::facts::group;

const FACTS: &str = include_str!("../../reference/tape.json");

/// The entries tell how long the tape is for a height; what is asked here is the height for a tape.
#[test]
fn a_tape_out_of_plumb_is_longer_than_the_height() {
    for fact in group(FACTS, "slant", 2) {
        let feet = fact.about().contains(" ft ");
        let length = |value| if feet { Length::new::<foot>(value) } else { Length::new::<meter>(value) };
        let height = length(fact.input("h"));
        // Twice the correction off the height, for the tape that the entry prints or that its excess makes.
        let tape = if feet {
            length(fact.expected_number("tape", "ft"))
        } else {
            height + length(fact.expected_number("excess", "len"))
        };
        let upright = upright(tape, length(fact.input("offset"))).unwrap();
        let excess = tape - upright;
        if feet {
            fact.hold("tape", "ft", (height + excess).get::<foot>());
        } else {
            fact.hold("excess", "len", excess.get::<meter>());
        }
    }
}

#[test]
fn a_warm_tape_reads_too_little() {
    for fact in group(FACTS, "temperature", 2) {
        let add = by_temperature(
            Length::new::<meter>(fact.input("L")),
            TemperatureCoefficient::new::<per_kelvin>(fact.input("alpha")),
            TemperatureInterval::new::<kelvin>(fact.input("dT")),
        );
        fact.hold("add_to_reading", "mm", add.get::<millimeter>());
    }
}

#[test]
fn the_rule_for_steel_in_feet_and_fahrenheit() {
    for fact in group(FACTS, "rule", 1) {
        let add = |degrees| {
            by_temperature(
                Length::new::<foot>(fact.input("L")),
                // A kelvin is 1.8 degrees Fahrenheit.
                TemperatureCoefficient::new::<per_kelvin>(fact.input("alpha") * 1.8),
                TemperatureInterval::new::<degree_fahrenheit>(degrees),
            )
        };
        let one = add(1.0).get::<foot>();
        fact.hold("per_degF", "ft", one);
        fact.hold("degF_for_0.01ft", "degF", 0.01 / one);
    }
}

#[test]
fn a_bob_stretches_its_tape() {
    for fact in group(FACTS, "stretch", 1) {
        let part = stretch(
            Force::new::<newton>(fact.input("P")),
            Area::new::<square_meter>(fact.input("A")),
            Pressure::new::<pascal>(fact.input("E")),
        );
        let length = Length::new::<meter>(fact.input("L")) * part.unwrap();
        fact.hold("stretch", "mm", length.get::<millimeter>());
    }
}

/// A tape that nobody named is taken as no better than what is quoted for a good one, in the depths it is quoted for.
#[test]
fn nobodys_tape_is_taken_as_better_than_a_good_one() {
    for fact in group(FACTS, "accuracy", 1) {
        let row = kit::instrument("LT-2041").unwrap();
        let begun = Moment(1_795_600_000_000);
        let mut draft = Draft::begin(row, begun);
        let dip = draft.add_piece(PieceKind::Dip, Timing::Before);
        let known = Choice::OffsetUnknown.word();
        for (spot, text) in [
            (Spot::of(Key::Display), "14.53"),
            (Spot::of(Key::OffsetKnown), known),
            (Spot::of(Key::StandingHeadAt), Choice::HeadInOffset.word()),
            (Spot::piece(dip, Key::Dip, 0), "14 ft 3 in"),
        ] {
            draft.answers.put(spot, text.to_owned(), begun);
        }
        assert!(14.25 < fact.expected_number("depth", "ft"));
        let assessment = assess(&draft).unwrap();
        let budget = &assessment.shift.result.as_deref().unwrap().budget;
        let tape = budget.iter().find(|row| row.label == "tape, not named").unwrap();
        let Amount::Length(standard) = tape.standard else { panic!("a tape is a length") };
        // What is quoted as give or take is an expanded uncertainty at best.
        let quoted = Length::new::<foot>(fact.expected_number("accuracy", "ft"));
        assert!(standard >= quoted / 2.0 && standard <= quoted * 2.0, "{standard:?} against {quoted:?}");
    }
}
