//! What each piece of evidence brings to the uncertainty of the shift, worked by hand: a half-width over root three, a
//! standard uncertainty as it is.

use domain::evidence::Amount;
use domain::visit::{Assessment, Choice, Instrument, Key, PieceKind, Spot};
use rstest::rstest;
use uom::si::length::millimeter;
use uom::si::pressure::pascal;

use crate::person::Person;

/// A tank of 20 m over a riser of 9 m, read to the centimetre of its liquid: half of that is 5 mm, 2.887 standard. The sensor
/// is good to 0.05 % of 3 bar, 75 Pa standard, and its zero to 2 mbar, 115.47 Pa.
fn tank() -> Instrument {
    let row = r#"{"tag":"LT-1","service":"tank","serial":"A1","unit":"m","riser":"9 m","riser_from":"tape",
        "site":{"name":"Cold Ash","latitude":"51","altitude":"120 m","liquid_temperature":"12 degC","lengths":"m"},
        "liquid":{"name":"water"},"span":"20 m","lrv":"0","urv":"20","hatch":"22 m","sill":"0.1 m","floor":"-0.2 m",
        "overflow":"20.5 m","offset_on_record":"-9.00","offset_date":"2025-11-24",
        "limits":{"lrl":"-2 bar","url":"3 bar","min_span":"0.1 bar","max_working":"6 bar","accuracy":"0.05 %","zero_allowance":"2 mbar"},
        "tapes":[{"id":"T1","uncertainty":"2 mm"},{"id":"T2","uncertainty":"3 mm","due":"2026-01-31"}],
        "others":[{"name":"Float","uncertainty":"18 mm"},{"name":"Radar","uncertainty":"18 mm","shares":"hatch"},
            {"name":"Probe","uncertainty":"18 mm","shares":"density"},{"name":"Bubbler","uncertainty":"18 mm","shares":"hatch density"}],
        "tolerance":"50 mm","trim_rule":"true_at_zero","head_plan":"head_in_offset"}"#;
    serde_json::from_str(row).unwrap()
}

type Answers<'a> = &'a [(Key, u32, &'a str)];

fn brought(person: &mut Person, kind: PieceKind, answers: Answers<'_>) {
    let id = person.piece(kind);
    for (key, row, text) in answers {
        person.put(Spot::piece(id, *key, *row), text);
    }
}

/// What a line of the budget contributes to the shift, Pa; none where there is no such line.
fn pascals(seen: &Assessment, label: &str) -> Option<f64> {
    let budget = &seen.shift.result.as_ref().expect("a shift").budget;
    let parts = budget.iter().filter(|row| row.label == label).map(|row| match row.contribution {
        Amount::Pressure(part) => part.get::<pascal>().abs(),
        _ => panic!("{row:?}"),
    });
    parts.filter(|part| *part > 1e-9).reduce(f64::hypot)
}

/// The same as a height of the liquid, mm.
fn millimetres(seen: &Assessment, label: &str) -> Option<f64> {
    let pressure = uom::si::f64::Pressure::new::<pascal>(pascals(seen, label)?);
    Some(seen.conditions.gradient.length(pressure).get::<millimeter>())
}

fn near(found: Option<f64>, expected: f64, what: &str) {
    let found = found.unwrap_or_default();
    assert!((found - expected).abs() < 2e-3 * expected.max(0.5), "{what}: {found}, not {expected}");
}

const DIPS: [(Key, u32, &str); 4] = [
    (Key::TapeUsed, 0, "T1"),
    (Key::Dip, 0, "10.000 m"),
    (Key::Dip, 1, "10.002 m"),
    (Key::Dip, 2, "10.004 m"),
];

/// In millimetres; a nought is a line that does not stand in the budget.
#[rstest]
#[case::empty_seen(PieceKind::KnownEmpty, &[(Key::EmptySeen, 0, "sill_seen")],
    &[("outlet sill", 4.0), ("how the empty tank was seen", 2.887), ("display", 2.887), ("sensor accuracy under head", 0.0)])]
#[case::empty_by_steady_reading(PieceKind::KnownEmpty, &[(Key::EmptySeen, 0, "empty_by_steady_reading")],
    &[("how the empty tank was seen", 11.547)])]
#[case::empty_by_report(PieceKind::KnownEmpty, &[(Key::EmptySeen, 0, "empty_by_report")],
    &[("how the empty tank was seen", 34.641)])]
// Three dips 2 mm apart scatter by 2 mm, their mean by 2 over root three; they are read to the millimetre.
#[case::dips(PieceKind::Dip, &DIPS,
    &[("tank floor above zero", 4.0), ("dip, mean of 3", 1.155), ("tape as read", 0.289), ("tape T1", 2.0), ("display", 2.887)])]
#[case::drops(PieceKind::Drop, &DIPS,
    &[("hatch mark above zero", 4.0), ("drop, mean of 3", 1.155), ("tape as read", 0.289), ("tape T1", 2.0),
    ("tank floor above zero", 0.0)])]
// One dip leans on the usual 5 mm. Who writes 10 m has read it to 5 mm.
#[case::one_dip_by_nobodys_tape(PieceKind::Dip, &[(Key::Dip, 0, "10 m")],
    &[("dip, mean of 1", 5.0), ("tape as read", 1.443), ("tape, not named", 4.0)])]
// A dip set aside counts neither in the mean nor in how finely it was read. Two that stand 2 mm apart scatter by root two.
#[case::one_set_aside(
    PieceKind::Dip,
    &[(Key::TapeUsed, 0, "T2"), (Key::Dip, 0, "10.000 m"), (Key::Dip, 1, "10.1000 m"), (Key::DipSetAside, 1, "splash"),
    (Key::Dip, 2, "10.002 m")],
    &[("dip, mean of 2", 1.0), ("tape as read", 0.289), ("tape T2", 6.0)]
)]
#[case::overflow(PieceKind::Overflow, &[(Key::OverflowSeen, 0, "film")],
    &[("overflow crest", 4.0), ("head over the crest", 5.774)])]
// 18 mm at 95 % are 9 standard; of a radar at the hatch the mark's 4 mm stand apart: root(81 - 16).
#[case::float(PieceKind::OtherInstrument, &[(Key::OtherUsed, 0, "Float"), (Key::OtherLevel, 0, "10.000 m")],
    &[("Float", 9.0), ("Float as read", 0.289), ("hatch mark above zero", 0.0)])]
#[case::radar(PieceKind::OtherInstrument, &[(Key::OtherUsed, 0, "Radar"), (Key::OtherLevel, 0, "10.00 m")],
    &[("Radar", 8.062), ("Radar as read", 2.887), ("hatch mark above zero", 4.0)])]
// The density, 999.498 kg/m3 at 12 degC, is known to 0.2 kg/m3 for what is dissolved in it and to 0.723 over root three for
// 5 K: together 0.463, which is 0.04637 % of 998.29 net of the air, or 4.637 mm in 10 m: root(81 - 21.50), and (- 16).
#[case::probe(PieceKind::OtherInstrument, &[(Key::OtherUsed, 0, "Probe"), (Key::OtherLevel, 0, "10.000 m")],
    &[("Probe by pressure", 7.713), ("Probe as read", 0.289), ("hatch mark above zero", 0.0)])]
#[case::bubbler(PieceKind::OtherInstrument, &[(Key::OtherUsed, 0, "Bubbler"), (Key::OtherLevel, 0, "10.000 m")],
    &[("Bubbler by pressure", 6.595), ("hatch mark above zero", 4.0)])]
// A level that moves by 80 mm between two readings may lie 20 mm beside the straight line.
#[case::between_two_readings(
    PieceKind::Dip,
    &[(Key::ReadingBefore, 0, "10.00"), (Key::Dip, 0, "10.000 m"), (Key::ReadingAfter, 0, "10.08")],
    &[("level between the readings", 11.547), ("display before", 1.443), ("display after", 1.443), ("display", 0.0)]
)]
#[case::one_reading_before(
    PieceKind::Dip,
    &[(Key::ReadingBefore, 0, "10.00"), (Key::Dip, 0, "10.000 m")],
    &[("display before", 2.887), ("display after", 0.0), ("display", 0.0)]
)]
#[case::one_reading_after(
    PieceKind::Dip,
    &[(Key::Dip, 0, "10.000 m"), (Key::ReadingAfter, 0, "10.00")],
    &[("display before", 0.0), ("display after", 2.887)]
)]
#[case::between_two_readings_that_are_one(
    PieceKind::Dip,
    &[(Key::ReadingBefore, 0, "10.00"), (Key::Dip, 0, "10.000 m"), (Key::ReadingAfter, 0, "10.00")],
    &[("level between the readings", 0.0)]
)]
fn a_level_brings_its_own_lines(
    #[case] kind: PieceKind,
    #[case] answers: Answers<'_>,
    #[case] lines: &[(&str, f64)],
) {
    let mut person = Person::at(tank(), "10.00", None);
    brought(&mut person, kind, answers);
    let seen = person.assessed();
    for (label, expected) in lines {
        near(millimetres(&seen, label), *expected, label);
    }
}

/// What the sensor may be off by where it is pressed counts with every level that presses on it.
#[test]
fn a_dip_is_read_under_head() {
    let mut person = Person::at(tank(), "10.00", None);
    brought(&mut person, PieceKind::Dip, &DIPS);
    near(pascals(&person.assessed(), "sensor accuracy under head"), 75.0, "accuracy");
}

/// A weather that moved by 102 mm of water since the vent was shut: 1000.3 Pa, 577.5 standard.
#[rstest]
#[case::blocked(Choice::VentBlocked, 577.5)]
#[case::clear(Choice::VentClear, 0.0)]
fn a_blocked_vent_lets_the_weather_in(#[case] vent: Choice, #[case] expected: f64) {
    let mut person = Person::at(tank(), "10.00", None);
    person.put(Spot::of(Key::VentLooked), vent.word());
    brought(&mut person, PieceKind::Dip, &DIPS);
    near(pascals(&person.assessed(), "blocked or wet vent path"), expected, "vent");
}

/// A riser and the offset read today: the height by how it was measured, or by how finely it was written if that is more.
#[rstest]
#[case::by_tape("9.000 m", Choice::ByTape, 6.0)]
#[case::by_laser("9.000 m", Choice::ByLaser, 4.0)]
#[case::by_drawing("9.000 m", Choice::ByDrawing, 25.0)]
#[case::coarse("9.0 m", Choice::ByLaser, 28.868)]
fn a_riser_brings_its_height_and_the_offset_its_digit(
    #[case] height: &str,
    #[case] how: Choice,
    #[case] expected: f64,
) {
    let mut person = Person::at(tank(), "10.00", Some("-9.00"));
    brought(&mut person, PieceKind::Riser, &[(Key::RiserHeight, 0, height), (Key::RiserHow, 0, how.word())]);
    let seen = person.assessed();
    near(millimetres(&seen, "riser height"), expected, "riser");
    near(millimetres(&seen, "offset read on the unit"), 2.887, "offset");
    near(millimetres(&seen, "display"), 0.0, "display");
    near(pascals(&seen, "the sensor's own zero, taken as true within its allowance"), 115.47, "zero");
    near(pascals(&seen, "sensor accuracy under head"), 75.0, "accuracy");
}

/// An offset off a record may have been touched since, by what the zero is allowed to move.
#[test]
fn an_offset_on_record_brings_the_allowance() {
    let mut person = Person::at(tank(), "10.00", None);
    person.put(Spot::of(Key::OffsetKnown), Choice::OffsetFromRecord.word());
    brought(
        &mut person,
        PieceKind::Riser,
        &[(Key::RiserHeight, 0, "9.000 m"), (Key::RiserHow, 0, "by_laser")],
    );
    near(pascals(&person.assessed(), "offset by the last record of 2025-11-24"), 115.47, "record");
}

/// A check at atmosphere: its digit, the sensor there, and what stayed on the sensor, known to 10 mm or to how finely it was
/// written.
#[rstest]
#[case::dry("", 0.0)]
#[case::a_stub("0.10 m", 5.774)]
#[case::a_stub_at_a_guess("0.1 m", 28.868)]
fn a_vented_check_brings_its_own_lines(#[case] left: &str, #[case] expected: f64) {
    let mut person = Person::at(tank(), "10.00", None);
    brought(
        &mut person,
        PieceKind::Riser,
        &[(Key::RiserHeight, 0, "9.000 m"), (Key::RiserHow, 0, "by_laser")],
    );
    let answers =
        [(Key::VentAllowed, 0, "yes"), (Key::VentedReading, 0, "-9.00"), (Key::VentedLeft, 0, left)];
    brought(&mut person, PieceKind::Vented, &answers);
    let seen = person.assessed();
    near(millimetres(&seen, "liquid left on the sensor"), expected, "stub");
    near(millimetres(&seen, "vented reading"), 2.887, "reading");
    near(pascals(&seen, "sensor accuracy at atmosphere"), 75.0, "accuracy");
}

/// Whatever an instrument shares, the level is the one it tells.
#[rstest]
fn another_instruments_level_is_taken_as_told(#[values("Float", "Radar", "Probe", "Bubbler")] name: &str) {
    let mut person = Person::at(tank(), "10.00", None);
    let answers = [(Key::OtherUsed, 0, name), (Key::OtherLevel, 0, "9.500 m")];
    brought(&mut person, PieceKind::OtherInstrument, &answers);
    let level = person.assessed().shift.level.unwrap().get::<millimeter>();
    assert!((level - 9500.0).abs() < 1e-6, "{level}");
}

fn with(mounting: &str) -> Instrument {
    Instrument { mounting: serde_json::from_str(mounting).unwrap(), ..tank() }
}

fn measured(mounting: &str) -> Assessment {
    let mut person = Person::at(with(mounting), "10.00", Some("-9.00"));
    brought(
        &mut person,
        PieceKind::Riser,
        &[(Key::RiserHeight, 0, "9.000 m"), (Key::RiserHow, 0, "by_tape")],
    );
    person.assessed()
}

/// A seal 0.4 m below zero, its place known to 6 mm: that much more capillary, 934 kg/m3, and less liquid, 999.498, at
/// 9.8112 m/s2: 3.856 Pa. A seal that is the zero is there by agreement.
#[rstest]
#[case::below("-0.4 m", 3.856)]
#[case::the_zero_itself("0 m", 0.0)]
fn a_seals_height_counts_by_what_it_moves(#[case] tap: &str, #[case] expected: f64) {
    let seen = measured(&format!(
        r#"{{"kind":"one_seal","tap":"{tap}","heights_from":"tape",
        "fill":{{"name":"oil","density":"934 kg/m3","at":"12 degC","uncertainty":"0.3 %"}}}}"#
    ));
    near(pascals(&seen, "lower seal above zero"), expected, "seal");
    // 0.3 % of 934 kg/m3 over the capillary's 9 m, less what hangs above the zero.
    let height = if expected > 0.0 { 8.6 } else { 9.0 };
    near(pascals(&seen, "density of the fill"), 2.802 * 9.8112 * height, "fill");
}

/// What is dissolved in the water of tank and line is one cause: 0.02 % of 997.77 kg/m3 at 22 degC over 9 m of riser, 17.63 Pa.
#[test]
fn what_is_dissolved_counts_in_a_line_of_its_own_temperature() {
    let seen = measured(r#"{"kind":"riser","line_temperature":"22 degC"}"#);
    near(pascals(&seen, "what is dissolved in the liquid, in vessel and line alike"), 17.63, "dissolved");
}

/// A foot of water that nobody defined may be 0.2 % off either way, 0.1155 % standard, in all that it shows: 10 m of this water,
/// 97 944 Pa, make 113.1 Pa.
#[rstest]
#[case::not_defined("ftH2O@?", 113.1)]
#[case::defined("ftH2O@68F", 0.0)]
fn a_unit_that_nobody_defined_counts(#[case] unit: &str, #[case] expected: f64) {
    let row = Instrument { unit: unit.into(), urv: "65".into(), offset_on_record: String::new(), ..tank() };
    let mut person = Person::at(row, "32.8", None);
    brought(&mut person, PieceKind::Dip, &[(Key::TapeUsed, 0, "T1"), (Key::Dip, 0, "10.200 m")]);
    near(pascals(&person.assessed(), "definition of the display's unit"), expected, "unit");
}

/// Inches of a water of 1000 kg/m3 at 9.80665 m/s2, 249.0889 Pa each. 10 m are 393.70 in; they press 97 944 Pa, 393.21 of them.
#[rstest]
#[case::at_the_reference("true_at_reference", 393.70)]
#[case::at_zero("true_at_zero", 393.21)]
fn true_at_the_reference_shows_the_level_itself(#[case] rule: &str, #[case] shown: f64) {
    let row = Instrument {
        unit: "inH2O".into(),
        urv: "780".into(),
        offset_on_record: String::new(),
        trim_rule: rule.into(),
        ..tank()
    };
    let mut person = Person::at(row, "400.00", None);
    brought(&mut person, PieceKind::Dip, &[(Key::TapeUsed, 0, "T1"), (Key::Dip, 0, "10.200 m")]);
    let seen = person.assessed();
    let to = seen.known.unit.reading(seen.shift.result.as_ref().unwrap().to, seen.conditions.gradient);
    assert!((to - shown).abs() < 0.01, "{to}");
}
