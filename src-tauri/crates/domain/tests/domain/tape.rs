//! Dips in a visit with a tape that is warm, pulled or off plumb: when that is asked, what it does, and that it is seen.
//!
//! The tower stands where gravity, density and unit cancel, so a level is the sum or difference of the lengths beside it.

use domain::evidence::Amount;
use domain::visit::{
    Answer, Answered, Assessment, Draft, Finished, Grade, Instrument, Key, Known, MODEL, Moment, Piece,
    PieceId, PieceKind, Said, Spot, Tape, assess, day_of, piece_asks,
};
use rstest::rstest;
use uom::si::length::meter;
use uom::si::temperature_interval::kelvin;

use crate::person::Person;

/// A tall tank: 20 m of range over a riser of 9 m, hatch at 22 m. Tape T1 says nothing of itself; T2 is of another metal,
/// true at 15 degC, and hangs under a bob.
fn tower() -> Instrument {
    let row = r#"{"tag":"LT-1","service":"tower","serial":"A1","unit":"m","riser":"9 m","riser_from":"tape",
        "site":{"name":"Cold Ash","latitude":"51","altitude":"120 m","liquid_temperature":"12 degC","lengths":"m"},
        "liquid":{"name":"water"},"span":"20 m","lrv":"0","urv":"20","hatch":"22 m",
        "limits":{"lrl":"-2 bar","url":"3 bar","min_span":"0.1 bar","max_working":"6 bar","accuracy":"0.05 %","zero_allowance":"2 mbar"},
        "tapes":[{"id":"T1","uncertainty":"2 mm"},
            {"id":"T2","uncertainty":"2 mm","expansion":"2e-5","at":"15 degC","pull":"30","section":"3","modulus":"100"}],
        "tolerance":"50 mm","trim_rule":"true_at_zero","head_plan":"head_in_offset"}"#;
    serde_json::from_str(row).unwrap()
}

impl Person {
    fn hung(&mut self, kind: PieceKind, answers: &[(Key, &str)]) -> PieceId {
        let answers: Vec<(Key, u32, &str)> = answers.iter().map(|(key, text)| (*key, 0, *text)).collect();
        self.tells(kind, &answers)
    }

    fn asked(&self, id: PieceId) -> Vec<Key> {
        let piece = self.draft.pieces.iter().find(|piece| piece.id == id).unwrap();
        piece_asks(&self.draft, piece).iter().map(|ask| ask.spot.key).collect()
    }
}

fn level(assessment: &Assessment) -> f64 {
    assessment.shift.level.expect("a level is told").get::<meter>()
}

fn near(seen: f64, expected: f64, within: f64) {
    assert!((seen - expected).abs() <= within, "{seen}, expected {expected} within {within}");
}

#[rstest]
// Not knowing a temperature within 20 K widens 2 mm by a tenth from 2 mm x root(3 x 0.21) / (1.17e-5 x 20) = 6.8 m on.
#[case::short("6.7 m", "T1", &[])]
#[case::long("6.9 m", "T1", &[Key::TapeTemperature])]
// Off plumb by up to one in forty, 0 to d/3200, half of it either way: from 2 mm x root(0.63) x 6400 = 10.2 m on.
#[case::not_yet_slanting("10.0 m", "T1", &[Key::TapeTemperature])]
#[case::longer("10.3 m", "T1", &[Key::TapeTemperature, Key::TapeSideways])]
// Of 4 mm, as nobody's tape is taken, twice as far.
#[case::nobodys("13.5 m", "", &[])]
#[case::nobodys_longer("13.7 m", "", &[Key::TapeTemperature])]
// The other metal grows nearly twice as much.
#[case::another_metal("4.0 m", "T2", &[Key::TapeTemperature])]
fn tape_and_slant_are_asked_only_where_they_matter(
    #[case] dip: &str,
    #[case] tape: &str,
    #[case] more: &[Key],
) {
    let mut person = Person::untrimmed(tower(), "20.00");
    let id = person.hung(PieceKind::Dip, &[(Key::TapeUsed, tape)]);
    let before = person.asked(id);
    assert!(!before.contains(&Key::TapeTemperature) && !before.contains(&Key::TapeSideways));
    person.put(Spot::piece(id, Key::Dip, 0), dip);
    let asked = person.asked(id);
    let asked: Vec<Key> =
        asked.into_iter().filter(|key| [Key::TapeTemperature, Key::TapeSideways].contains(key)).collect();
    assert_eq!(asked, more);
    let piece: Piece = person.draft.pieces.first().unwrap().clone();
    let required = piece_asks(&person.draft, &piece).into_iter().filter(|ask| ask.required);
    assert_eq!(required.map(|ask| ask.spot.key).collect::<Vec<_>>(), [Key::Dip], "none of it is asked for");
}

#[test]
fn what_was_answered_stays_asked_for_and_counts() {
    let mut person = Person::untrimmed(tower(), "20.00");
    let warm = &[(Key::Dip, "8.000 m"), (Key::TapeUsed, "T1"), (Key::TapeTemperature, "40 degC")];
    let id = person.hung(PieceKind::Dip, warm);
    person.put(Spot::piece(id, Key::Dip, 0), "2.000 m");
    assert!(person.asked(id).contains(&Key::TapeTemperature));
    // 2 m x 1.17e-5 x 20 K.
    near(level(&person.assessed()), 2.000_468, 1e-7);
}

#[rstest]
// 10 m x 1.17e-5 x (-30 K) = -3.51 mm.
#[case::cold_steel("T1", &[(Key::TapeTemperature, "-10 degC")], -0.003_51)]
#[case::cold_steel_that_nobody_named("", &[(Key::TapeTemperature, "14 degF")], -0.003_51)]
// 30 N / (3 mm2 x 100 GPa) = 100 millionths of 10 m, whether the temperature is known or not.
#[case::pulled("T2", &[], 0.001)]
// ... and 10 m x 2e-5 x (25 - 15) K = 2 mm.
#[case::pulled_and_warm("T2", &[(Key::TapeTemperature, "25 degC")], 0.003)]
// 10 - root(100 - 0.09) = 4.5010 mm.
#[case::off_plumb("T1", &[(Key::TapeSideways, "300 mm")], -0.004_501_013)]
#[case::cold_and_off_plumb("T1", &[(Key::TapeTemperature, "-10 degC"), (Key::TapeSideways, "0.3 m")], -0.008_011_013)]
fn a_dip_and_a_drop_are_corrected(#[case] tape: &str, #[case] hung: &[(Key, &str)], #[case] by: f64) {
    for (kind, raw, sign) in [(PieceKind::Dip, 10.0, 1.0), (PieceKind::Drop, 12.0, -1.0)] {
        let mut person = Person::untrimmed(tower(), "20.00");
        let id = person.hung(kind, &[(Key::Dip, "10.000 m"), (Key::TapeUsed, tape)]);
        for (key, text) in hung {
            person.put(Spot::piece(id, *key, 0), text);
        }
        let seen = person.assessed();
        near(level(&seen), raw + sign * by, 2e-7);
        // It is said beside the piece, and stands in the working with the level it leads to.
        let said = seen.piece_remarks(id).iter().find(|remark| remark.code == "tape.corrected").unwrap();
        let tenths = format!("{:+.1} mm", by * 1000.0);
        assert!(said.text.contains(&tenths) && said.grade == Grade::Note, "{} in {}", tenths, said.text);
        let working = seen.working(&person.draft);
        assert!(working.iter().any(|line| line.what == "height by the tape"), "{working:?}");
        let told = working.iter().find(|line| line.what == "level").unwrap();
        assert!(told.value.starts_with(&format!("{:.3} m", raw + sign * by)), "{told:?}");
    }
}

#[test]
fn a_tape_as_it_is_true_is_not_spoken_of() {
    let mut person = Person::untrimmed(tower(), "20.00");
    let id = person.hung(PieceKind::Dip, &[(Key::Dip, "10.000 m"), (Key::TapeUsed, "T1")]);
    let seen = person.assessed();
    near(level(&seen), 10.0, 1e-9);
    assert!(!seen.piece_remarks(id).iter().any(|remark| remark.code.starts_with("tape.")));
    assert!(!seen.working(&person.draft).iter().any(|line| line.what.contains("tape")));
}

#[test]
fn the_budget_has_a_line_for_each_and_an_assumption_where_steel_is_taken() {
    let mut person = Person::untrimmed(tower(), "20.00");
    let hung = [
        (Key::Dip, "10.000 m"),
        (Key::TapeUsed, "T1"),
        (Key::TapeTemperature, "-10 degC"),
        (Key::TapeSideways, "300 mm"),
    ];
    person.hung(PieceKind::Dip, &hung);
    let seen = person.assessed();
    let result = seen.shift.result.as_deref().unwrap();
    let row = |label: &str| {
        let found = result.budget.iter().find(|row| row.label.starts_with(label));
        found.unwrap_or_else(|| panic!("no line {label}"))
    };
    let Amount::Warmth(warmer) = row("tape T1 warmer").value else { panic!("a difference of temperatures") };
    near(warmer.get::<kelvin>(), -30.0, 1e-9);
    // Within 3 K and within a tenth of the expansion, rectangles: 10 m x 1.17e-5 x 3 K and 3.51 mm / 10, over root three.
    let metres = |label| {
        let Amount::Pressure(part) = row(label).contribution else { panic!("a part of the shift") };
        seen.conditions.gradient.length(part).get::<meter>().abs()
    };
    near(metres("tape T1 warmer"), 0.000_351 / 3.0_f64.sqrt(), 1e-7);
    near(metres("expansion of tape T1"), 0.000_351 / 3.0_f64.sqrt(), 1e-7);
    // Half of 4.5010 mm.
    near(metres("slant of the line"), 0.002_250_506 / 3.0_f64.sqrt(), 1e-7);
    let assumed = seen.shift.assumptions.iter().find(|remark| remark.text.contains("taken as steel"));
    assert!(assumed.is_some(), "{:?}", seen.shift.assumptions);
}

#[test]
fn the_working_tells_how_a_tape_hung_with_its_numbers() {
    let mut person = Person::untrimmed(tower(), "20.00");
    let hung = [
        (Key::Dip, "10.000 m"),
        (Key::TapeUsed, "T2"),
        (Key::TapeTemperature, "25 degC"),
        (Key::TapeSideways, "300 mm"),
    ];
    person.hung(PieceKind::Dip, &hung);
    let seen = person.assessed();
    let working = seen.working(&person.draft);
    let told: Vec<String> =
        working.iter().map(|line| format!("{} | {} | {}", line.what, line.how, line.value)).collect();
    // 10 m x 2e-5 x 10 K; 30 N / (3 mm2 x 100 GPa); 10 - root(100 - 0.09) m. Together 2 + 1 - 4.5 mm.
    for line in [
        "tape at 25.0 degC | 10.0000 m x 20.0 millionths per K x 10.0 K, true at 15.0 degC | +2.0 mm",
        "tape under its bob | 10.0000 m x 100.0 millionths | +1.0 mm",
        "line 300.0 mm off plumb | root of 10.0000 m x 10.0000 m - 0.3000 m x 0.3000 m | -4.5 mm",
    ] {
        assert!(told.iter().any(|one| one == line), "{line} in {told:#?}");
    }
    let height = told.iter().find(|line| line.starts_with("height by the tape")).unwrap();
    assert!(height.contains("| read 10.000 m and what corrects it | 9.998 m"), "{height}");
    // Of the bob's 1 mm a tenth is not known: 0.1 mm over root three.
    let budget = &seen.shift.result.as_deref().unwrap().budget;
    let row = budget.iter().find(|row| row.label == "tape T2 under its bob").unwrap();
    let Amount::Pressure(part) = row.contribution else { panic!("{row:?}") };
    near(seen.conditions.gradient.length(part).get::<meter>().abs(), 0.000_1 / 3.0_f64.sqrt(), 1e-8);
}

/// A dip and a drop with one tape beside one thermometer: what the tape is off by moves them against each other, and both
/// lean on one line of the budget. A thermometer read otherwise is another line.
#[rstest]
#[case::read_alike("-10 degC", 1)]
#[case::read_otherwise("-12 degC", 2)]
fn what_dips_share_stands_in_the_budget_once(#[case] second: &str, #[case] lines: usize) {
    let mut person = Person::untrimmed(tower(), "20.00");
    let tape = (Key::TapeUsed, "T1");
    person.hung(PieceKind::Dip, &[(Key::Dip, "10.000 m"), tape, (Key::TapeTemperature, "-10 degC")]);
    person.hung(PieceKind::Dip, &[(Key::Dip, "10.001 m"), tape, (Key::TapeTemperature, second)]);
    let seen = person.assessed();
    let budget = &seen.shift.result.as_deref().unwrap().budget;
    let with = |label: &str| budget.iter().filter(|row| row.label.starts_with(label)).count();
    assert_eq!((with("tape T1 warmer"), with("expansion of tape T1")), (lines, 1));
}

#[test]
fn a_line_cannot_hang_further_off_than_it_is_long() {
    let mut person = Person::untrimmed(tower(), "20.00");
    let hung = &[(Key::Dip, "10.000 m"), (Key::TapeUsed, "T1"), (Key::TapeSideways, "10.5 m")];
    let id = person.hung(PieceKind::Dip, hung);
    let seen = person.assessed();
    near(level(&seen), 10.0, 1e-9);
    let said = seen.piece_remarks(id).iter().find(|remark| remark.code == "tape.sideways").unwrap();
    assert_eq!(said.grade, Grade::Refusal);
}

#[rstest]
#[case::expansion_negative("expansion", "-1e-5")]
#[case::expansion_of_no_solid("expansion", "0.01")]
#[case::expansion_no_number("expansion", "steel")]
#[case::temperature_bare("at", "20")]
#[case::section_of_nothing("section", "0")]
#[case::modulus_negative("modulus", "-200")]
#[case::pull_that_would_break_it("pull", "30000")]
#[case::pull_no_number("pull", "a bob")]
fn a_bad_tape_is_named_by_its_field(#[case] field: &str, #[case] text: &str) {
    let mut row = serde_json::to_value(tower()).unwrap();
    row["tapes"][1][field] = text.into();
    let row: Instrument = serde_json::from_value(row).unwrap();
    let faults = Known::read(&row).unwrap_err();
    let named = format!("tapes[1].{field}");
    assert!(faults.iter().any(|fault| fault.field == named), "{faults:?}");
}

#[test]
fn a_pull_without_a_section_is_asked_for_it() {
    let mut row = tower();
    row.tapes[1].section.clear();
    let faults = Known::read(&row).unwrap_err();
    assert!(faults.iter().any(|fault| fault.field == "tapes[1].section"), "{faults:?}");
}

/// T3 is good to the end of 2026-11-25. The visit begins at 03:00 UTC on the next day, or at 20:00 UTC on that day.
#[rstest]
#[case::evening_in_the_west(27, "-420", false)]
#[case::by_utc_where_nothing_is_said(27, "", true)]
#[case::what_cannot_be_is_not_said(27, "-4200", true)]
#[case::still_the_day_in_the_east(20, "60", false)]
#[case::next_morning_in_the_east(20, "600", true)]
fn a_tape_is_overdue_by_the_day_where_the_visit_began(
    #[case] hour: i64,
    #[case] ahead: &str,
    #[case] overdue: bool,
) {
    let mut row = tower();
    let tape =
        Tape { id: "T3".into(), uncertainty: "2 mm".into(), due: "2026-11-25".into(), ..Tape::default() };
    row.tapes.push(tape);
    let mut person = Person::untrimmed(row, "12.00");
    let midnight = day_of("2026-11-25").unwrap() * 86_400_000;
    person.draft.begun = Moment(midnight + hour * 3_600_000);
    person.put(Spot::of(Key::ClockOffset), ahead);
    let id = person.hung(PieceKind::Dip, &[(Key::Dip, "3.000 m"), (Key::TapeUsed, "T3")]);
    let seen = |draft: &Draft| {
        let seen = assess(draft).unwrap();
        let said = seen.piece_remarks(id).iter().any(|remark| remark.code == "tape.overdue");
        let result = seen.shift.result.unwrap();
        let tape = result.budget.iter().find(|row| row.label.contains("T3")).unwrap();
        let Amount::Length(standard) = tape.standard else { panic!("a length") };
        (said, (standard.get::<meter>() * 1000.0).round())
    };
    // Its 2 mm count twice once it is overdue.
    assert_eq!(seen(&person.draft), (overdue, if overdue { 4.0 } else { 2.0 }));
    assert_eq!(
        seen(&again(&person.draft)),
        seen(&person.draft),
        "and so it is when the record is worked out again"
    );
}

/// The draft that the answers of a record make.
fn again(draft: &Draft) -> Draft {
    let answered = |(spot, answer): (Spot, &Answer)| Answered {
        spot,
        text: answer.text.clone(),
        at: answer.at,
        value: None,
    };
    Draft::again(&Finished {
        model: MODEL,
        instrument: draft.instrument.clone(),
        begun: draft.begun,
        pieces: draft.pieces.clone(),
        answers: draft.answers.iter().map(answered).collect(),
        results: Vec::new(),
        verdict: Said { code: String::new(), text: String::new() },
        assumptions: Vec::new(),
        warnings: Vec::new(),
        working: Vec::new(),
    })
}
