//! Slips at mountings that are more than a riser, surges in a series, a riser that an empty tank leaves too short.

use domain::visit::{Choice, Instrument, Key, PieceKind, Slip, Spot, Step};
use rstest::rstest;

use crate::person::Person;

/// A row whose members after the liquid are given.
fn row(unit: &str, riser: &str, more: &str) -> Instrument {
    let row = format!(
        r#"{{"tag":"LT-1","service":"vessel","serial":"A1","unit":"{unit}","riser":"{riser}","riser_from":"tape",
        "site":{{"name":"Sedge Hill","latitude":"45","altitude":"0 m","liquid_temperature":"15 degC","lengths":"m"}},
        "liquid":{{"name":"oil","density":"1000 kg/m3","at":"15 degC"}},"span":"8 m","lrv":"0","urv":"80",
        "limits":{{"lrl":"-300 kPa","url":"300 kPa","min_span":"1 kPa","max_working":"3 MPa","accuracy":"0.05 %","zero_allowance":"100 Pa"}},
        "tolerance":"40 mm","trim_rule":"true_at_zero","head_plan":"head_in_offset"{more}}}"#
    );
    serde_json::from_str(&row).unwrap()
}

/// A wet leg of 10 m above the zero, 2 m down to the sensor, filled with 1050 kg/m3 under a gas of 1 kg/m3. At 45 degrees
/// gravity is 9.8062 m/s2: the liquid presses 999 x 9.8062 = 9796.4 Pa a metre, the fill 1049 x 9.8062 = 10 286.7. The
/// standing head is 2 x 9796.4 - 12 x 10 286.7 = -103 848 Pa.
fn wet_leg() -> Instrument {
    row(
        "kPa",
        "2 m",
        r#","mounting":{"kind":"wet_leg","top":"10 m","heights_from":"tape","vapour_density":"1 kg/m3",
        "fill":{"name":"fill","density":"1050 kg/m3","at":"15 degC","uncertainty":"0.1 %"}}"#,
    )
}

/// The same with a dry leg: a standing head of 2 x 9796.4 = 19 593 Pa.
fn dry_leg() -> Instrument {
    row(
        "kPa",
        "2 m",
        r#","mounting":{"kind":"dry_leg","top":"10 m","heights_from":"tape","vapour_density":"1 kg/m3"}"#,
    )
}

/// A probe that hangs half a metre under the zero: under air of 1.2 kg/m3 a metre presses 9794.4 Pa, so 4897 Pa stand.
fn probe() -> Instrument {
    row("kPa", "0.5 m", r#","hatch":"9 m","mounting":{"kind":"probe"}"#)
}

impl Person {
    fn dip(mut self, reading: Option<&str>, length: &str) -> Person {
        let id = self.piece(PieceKind::Dip);
        if let Some(reading) = reading {
            self.put(Spot::piece(id, Key::ReadingBefore, 0), reading);
        }
        self.put(Spot::piece(id, Key::Dip, 0), length);
        self
    }

    fn slip(&self) -> Slip {
        let slips = self.assessed().slips;
        let [slip] = slips.as_slice() else { panic!("{slips:?}") };
        slip.clone()
    }
}

fn codes(slip: &Slip) -> Vec<&str> {
    slip.causes.iter().map(|cause| cause.code).take(2).collect()
}

/// Empty, trimmed by the standing head: the display shows nothing. Off by 4.11 kPa either way, it tells of its leg.
#[rstest]
#[case::full(wet_leg(), "0.00", "103.85", None)]
// 0.4 m of the fill lost: 0.4 x 10 286.7 Pa less on the low side.
#[case::leg_lost_liquid(wet_leg(), "4.11", "103.85", Some("leg_short"))]
// Filled with 1150 kg/m3: 12 m x 100 kg/m3 x 9.8062 m/s2 more on the low side.
#[case::leg_of_a_heavier_fill(wet_leg(), "-11.77", "103.85", Some("fill_density"))]
#[case::dry(dry_leg(), "0.00", "-19.59", None)]
// 0.42 m of condensate of 9796.4 Pa a metre.
#[case::condensate(dry_leg(), "-4.11", "-19.59", Some("leg_wet"))]
fn an_empty_vessel_tells_of_its_leg(
    #[case] row: Instrument,
    #[case] display: &str,
    #[case] offset: &str,
    #[case] cause: Option<&str>,
) {
    let person = Person::at(row, display, Some(offset)).empty();
    let Some(cause) = cause else {
        assert_eq!(person.assessed().slips, []);
        return;
    };
    let slip = person.slip();
    assert!(codes(&slip).contains(&cause), "{slip:#?}");
    assert!(slip.seen.starts_with("The evidence implies a standing head of"), "{}", slip.seen);
    assert!(slip.expected.starts_with("The register's heights and fills make"), "{}", slip.expected);
    let tells: Vec<&str> = slip.causes.iter().map(|cause| cause.tell.as_str()).collect();
    assert!(tells.iter().all(|tell| !tell.is_empty()) && slip.apart.contains(tells[0]), "{slip:?}");
}

/// The head that is implied is what the register makes, and 4.11 kPa more.
#[rstest]
fn the_implied_head_stands_beside_the_registers() {
    let slip = Person::at(wet_leg(), "4.11", Some("103.85")).empty().slip();
    assert!(slip.expected.contains("-103.8"), "{}", slip.expected);
    assert!(slip.seen.contains("-99.7"), "{}", slip.seen);
    // 4110 Pa over 10 286.7 Pa a metre are 399.5 mm of fill.
    let lost = slip.causes.iter().find(|cause| cause.code == "leg_short").unwrap();
    assert!(lost.why.starts_with("short of 39") || lost.why.starts_with("short of 40"), "{}", lost.why);
}

/// A wet leg's offset adds; set with the wrong sign, twice, or not at all the display at an empty tank is off by its head.
#[rstest]
#[case::other_sign("-207.70", "-103.85", "offset_sign")]
#[case::twice("103.85", "207.70", "offset_twice")]
#[case::missing("-103.85", "0.00", "offset_missing")]
fn an_offset_on_a_wet_leg_is_told_by_what_shows(
    #[case] display: &str,
    #[case] offset: &str,
    #[case] code: &str,
) {
    for offset in [Some(offset), None] {
        let slip = Person::at(wet_leg(), display, offset).empty().slip();
        assert_eq!(slip.causes.first().map(|cause| cause.code), Some(code), "{slip:?}");
    }
}

/// Dipped to 5.000 m the display should show 48.97 kPa. With 7.83 kPa more the probe hangs 0.8 m lower; nobody sees into its
/// vent, but the weather does not make so much.
#[rstest]
#[case::as_it_should("48.97", &[])]
#[case::lower("56.80", &["probe_depth"])]
// Some 2 kPa is what a shut vent makes, too.
#[case::a_little_lower("50.80", &["vent_shut", "probe_depth"])]
fn a_probe_is_told_by_a_dip(#[case] display: &str, #[case] causes: &[&str]) {
    let mut person = Person::at(probe(), display, Some("-4.90"));
    person.put(Spot::of(Key::VentLooked), Choice::VentNotSeen.word());
    let person = person.dip(None, "5.000 m");
    if causes.is_empty() {
        assert_eq!(person.assessed().slips, []);
        return;
    }
    let slip = person.slip();
    assert_eq!(codes(&slip)[..causes.len()], *causes, "{slip:#?}");
}

/// A riser of 6 m under an open tank, read in kPa: 6 x 9794.4 = 58 766 Pa.
fn riser(more: &str) -> Instrument {
    row("kPa", "6 m", more)
}

/// Two other instruments fit the register, for what they are worth. Empty, the display is low: by 0.58 kPa, 59 mm, more than
/// the tolerance of 40 mm and, alone, more than one honest empty tank in two thousand (the combined standard uncertainty is
/// some 17 mm). All three comparisons together are not that rare.
#[rstest]
#[case::full("0.00", false)]
#[case::short("-0.58", true)]
#[case::high("0.58", false)]
fn a_riser_that_is_short_when_empty_is_doubted(#[case] display: &str, #[case] doubted: bool) {
    let others =
        r#","others":[{"name":"Float","uncertainty":"600 mm"},{"name":"Radar","uncertainty":"600 mm"}]"#;
    let mut person = Person::at(riser(others), "19.59", Some("-58.77"));
    let id = person.piece(PieceKind::KnownEmpty);
    person.put(Spot::piece(id, Key::ReadingBefore, 0), display);
    person.put(Spot::piece(id, Key::EmptySeen, 0), Choice::SillSeen.word());
    for name in ["Float", "Radar"] {
        let other = person.piece(PieceKind::OtherInstrument);
        person.put(Spot::piece(other, Key::OtherUsed, 0), name);
        person.put(Spot::piece(other, Key::ReadingBefore, 0), "19.59");
        person.put(Spot::piece(other, Key::OtherLevel, 0), "2.000 m");
    }
    let seen = person.assessed();
    let said = seen.piece_remarks(id).iter().any(|said| said.code == "riser.short_when_empty");
    assert_eq!(seen.slips, [], "the numbers as a whole are not that far apart");
    assert_eq!(said, doubted, "{:?}", seen.piece_remarks(id));
}

/// What a slip says of the same numbers is not said twice.
#[rstest]
fn a_riser_far_too_short_is_a_slip() {
    let person = Person::at(riser(""), "-9.80", Some("-58.77")).empty();
    let (seen, id) = (person.assessed(), person.draft.pieces.first().unwrap().id);
    assert!(seen.slips.iter().any(|slip| slip.causes.iter().any(|cause| cause.code == "drained")));
    assert!(!seen.piece_remarks(id).iter().any(|said| said.code == "riser.short_when_empty"));
}

/// Eight readings, one of them in a surge of 5 kPa: the display stands at 48.97.
#[rstest]
fn a_surge_is_told_and_the_median_stands() {
    let mut person = Person::at(riser(""), "48.97", Some("-58.77"));
    for (row, shown) in (0..).zip(["48.98", "48.96", "53.97", "48.97", "48.98", "48.96", "48.97"]) {
        person.put(Spot::row(Key::DisplayRepeat, row), shown);
    }
    let seen = person.dip(None, "5.000 m").assessed();
    let said = seen.remarks(Step::AsFound).iter().find(|said| said.code == "series.surges").unwrap();
    assert!(said.text.contains("Of 8 readings 1 stands out, the furthest by +5.00 kPa"), "{}", said.text);
    assert!(!said.claim.is_alarm());
    let result = seen.shift.result.unwrap();
    assert!((result.from.value - 48_970.0).abs() < 1.0, "{:?}", result.from);
}

/// A dip that was reckoned from the slab, which stands 1.20 m over the floor: the site has a name for it.
#[rstest]
fn a_named_height_is_offered_where_the_tape_fits_it() {
    let more = r#","elevations":[{"name":"slab","height":"1.20 m"},{"name":"ground","height":"-2 m"}]"#;
    let slip = Person::at(riser(more), "48.97", Some("-58.77")).dip(None, "3.800 m").slip();
    assert_eq!(slip.causes[0].code, "wrong_mark", "{slip:#?}");
    assert!(slip.causes[0].what.contains("the site's “slab”"), "{slip:?}");
}

#[rstest]
#[case::no_name(r#","elevations":[{"name":" ","height":"1 m"}]"#, "elevations[0].name")]
#[case::no_height(
    r#","elevations":[{"name":"slab","height":"1 m"},{"name":"flange","height":"high"}]"#,
    "elevations[1].height"
)]
fn a_named_height_needs_both(#[case] more: &str, #[case] field: &str) {
    let faults = domain::visit::Known::read(&riser(more)).unwrap_err();
    let fields: Vec<&str> = faults.iter().map(|fault| fault.field.as_str()).collect();
    assert_eq!(fields, [field]);
}
