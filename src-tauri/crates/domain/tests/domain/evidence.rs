//! Kinds of evidence, answered as a technician answers them: levels told without a tape, what stays in a vented check,
//! several levels on one day.
//!
//! The tower stands where gravity, density and unit cancel (one unit of reading is one unit of liquid), so every
//! expectation is a sum or difference of the lengths that stand beside it.

use domain::evidence::Agreement;
use domain::visit::{Assessment, Grade, Instrument, Key, Measure, Piece, PieceKind, Spot};
use rstest::rstest;
use uom::si::f64::Pressure;
use uom::si::length::meter;

use crate::person::Person;

/// A 9 m riser under a 6 m range, read in metres of the liquid; crest at 6.2 m, hatch at 7 m.
pub(crate) fn tower(more: &str) -> Instrument {
    let row = format!(
        r#"{{"tag":"LT-1","service":"tower","serial":"A1","unit":"m","riser":"9 m","riser_from":"tape",
        "site":{{"name":"Cold Ash","latitude":"51","altitude":"120 m","liquid_temperature":"12 degC","lengths":"m"}},
        "liquid":{{"name":"water"}},"span":"6 m","lrv":"0","urv":"6","hatch":"7 m","overflow":"6.2 m",
        "limits":{{"lrl":"-2 bar","url":"3 bar","min_span":"0.1 bar","max_working":"6 bar","accuracy":"0.05 %","zero_allowance":"2 mbar"}},
        "tapes":[{{"id":"T1","uncertainty":"2 mm"}},{{"id":"T2","uncertainty":"2 mm"}}],
        "tolerance":"50 mm","trim_rule":"true_at_zero","head_plan":"head_in_offset"{more}}}"#
    );
    serde_json::from_str(&row).unwrap()
}

pub(crate) fn metres(assessment: &Assessment, pressure: Pressure) -> f64 {
    assessment.conditions.gradient.length(pressure).get::<meter>()
}

pub(crate) fn shift(assessment: &Assessment) -> f64 {
    metres(assessment, assessment.shift.result.as_deref().expect("a shift is determined").shift.value)
}

pub(crate) fn near(seen: f64, expected: f64, within: f64) {
    assert!((seen - expected).abs() <= within, "{seen}, expected {expected} within {within}");
}

#[rstest]
// A film is anything from nothing to 20 mm: the middle stands 10 mm above the crest of 6.2 m.
#[case::film(&[(Key::OverflowSeen, 0, "film")], 6.210)]
#[case::measured(&[(Key::OverflowSeen, 0, "head_measured"), (Key::OverflowHead, 0, "40 mm")], 6.240)]
// 2 mm +- 5 mm reaches under the crest; what is left, 0 to 7 mm, has its middle at 3.5 mm.
#[case::never_below_the_crest(&[(Key::OverflowSeen, 0, "head_measured"), (Key::OverflowHead, 0, "2 mm")], 6.2035)]
fn a_running_overflow_tells_the_level(#[case] answers: &[(Key, u32, &str)], #[case] level: f64) {
    let mut person = Person::untrimmed(tower(""), "15.30");
    person.tells(PieceKind::Overflow, answers);
    let seen = person.assessed();
    near(seen.shift.level.expect("a level is told").get::<meter>(), level, 1e-6);
    // The display shows 15.30 and is to show the level.
    near(shift(&seen), level - 15.30, 1e-6);
}

#[test]
fn a_film_widens_by_a_rectangle_of_its_thickness() {
    let mut person = Person::untrimmed(tower(""), "15.30");
    person.tells(PieceKind::Overflow, &[(Key::OverflowSeen, 0, "film")]);
    let seen = person.assessed();
    let result = seen.shift.result.as_deref().unwrap();
    let row = result.budget.iter().find(|row| row.label == "head over the crest").expect("it has a line");
    // Half of 20 mm over the root of three.
    let domain::evidence::Amount::Length(standard) = row.standard else { panic!("a length") };
    near(standard.get::<meter>(), 0.010 / 3.0_f64.sqrt(), 1e-9);
    near(row.divisor, 3.0_f64.sqrt(), 1e-12);
}

#[test]
fn an_overflow_without_a_crest_in_the_register_is_refused() {
    let mut row = tower("");
    row.overflow.clear();
    let mut person = Person::untrimmed(row, "15.30");
    let id = person.tells(PieceKind::Overflow, &[(Key::OverflowSeen, 0, "film")]);
    let seen = person.assessed();
    assert!(seen.shift.result.is_none());
    assert!(
        seen.piece_remarks(id)
            .iter()
            .any(|remark| remark.code == "overflow.unknown" && remark.grade == Grade::Refusal)
    );
}

#[test]
fn another_instrument_tells_the_level_with_its_stated_uncertainty() {
    let more = r#","others":[{"name":"LT-9","uncertainty":"20 mm"}]"#;
    let mut person = Person::untrimmed(tower(more), "12.00");
    person.tells(PieceKind::OtherInstrument, &[(Key::OtherUsed, 0, "LT-9"), (Key::OtherLevel, 0, "3.020 m")]);
    let seen = person.assessed();
    near(shift(&seen), 3.020 - 12.00, 1e-6);
    let result = seen.shift.result.as_deref().unwrap();
    let row = result.budget.iter().find(|row| row.label == "LT-9").expect("it has a line");
    let domain::evidence::Amount::Length(standard) = row.standard else { panic!("a length") };
    near(standard.get::<meter>(), 0.010, 1e-9);
}

#[rstest]
#[case::by_its_tag("LT-1")]
#[case::by_its_tag_otherwise_written("lt 1")]
#[case::by_its_serial("A1")]
#[case::from_the_control_room("control room")]
fn this_transmitter_seen_elsewhere_is_no_evidence(#[case] named: &str) {
    let mut person = Person::untrimmed(tower(""), "12.00");
    let id = person.tells(
        PieceKind::OtherInstrument,
        &[
            (Key::OtherUsed, 0, named),
            (Key::OtherLevel, 0, "3 m"),
            (Key::OtherUncertainty, 0, "20 mm"),
            (Key::OtherOwnSensor, 0, "yes"),
        ],
    );
    let seen = person.assessed();
    assert!(seen.shift.result.is_none(), "it was taken as evidence");
    assert!(seen.piece_remarks(id).iter().any(|remark| remark.code == "other.same_transmitter"));
}

#[test]
fn an_unlisted_instrument_is_heard_once_it_has_a_sensor_of_its_own() {
    let answers = [
        (Key::OtherUsed, 0, "sight glass"),
        (Key::OtherLevel, 0, "3 m"),
        (Key::OtherUncertainty, 0, "30 mm"),
    ];
    let mut person = Person::untrimmed(tower(""), "12.00");
    let id = person.tells(PieceKind::OtherInstrument, &answers);
    assert!(person.assessed().shift.result.is_none());
    person.put(Spot::piece(id, Key::OtherOwnSensor, 0), "yes");
    near(shift(&person.assessed()), 3.0 - 12.0, 1e-6);
    person.put(Spot::piece(id, Key::OtherOwnSensor, 0), "no");
    assert!(person.assessed().shift.result.is_none());
}

#[test]
fn what_an_instrument_shares_with_a_drop_cannot_check_it() {
    let pair = |shares: &str| {
        let more = format!(r#","others":[{{"name":"LT-9","uncertainty":"10 mm","shares":"{shares}"}}]"#);
        let mut person = Person::untrimmed(tower(&more), "12.00");
        person.tells(PieceKind::Drop, &[(Key::Dip, 0, "4.000 m"), (Key::TapeUsed, 0, "T1")]);
        person.tells(
            PieceKind::OtherInstrument,
            &[(Key::OtherUsed, 0, "LT-9"), (Key::OtherLevel, 0, "3.000 m")],
        );
        let seen = person.assessed();
        let result = seen.shift.result.as_deref().unwrap();
        result.pairs.first().expect("two speak").correlation
    };
    assert!(pair("hatch") > pair("") + 0.05, "{} against {}", pair("hatch"), pair(""));
    assert!(pair("density") > -1.0);
}

#[test]
fn a_stub_left_in_a_vented_check_is_taken_off() {
    let run = |left: &str| {
        let mut person = Person::untrimmed(tower(""), "12.00");
        person.tells(PieceKind::Riser, &[(Key::RiserHeight, 0, "9.00 m"), (Key::RiserHow, 0, "by_laser")]);
        let mut answers = vec![(Key::VentAllowed, 0, "yes"), (Key::VentedReading, 0, "0.15")];
        if !left.is_empty() {
            answers.push((Key::VentedLeft, 0, left));
        }
        person.tells(PieceKind::Vented, &answers);
        shift(&person.assessed())
    };
    // z + c = 0.15, so the display is to lose 9.15; with 0.10 of water left on the sensor z + c = 0.05.
    near(run(""), -9.15, 1e-6);
    near(run("100 mm"), -9.05, 1e-6);
}

#[test]
fn dips_at_two_levels_stand_beside_each_other_each_with_its_readings() {
    let mut person = Person::untrimmed(tower(""), "12.00");
    let dip = |before: &'static str, depth: &'static str, after: &'static str| {
        [
            (Key::ReadingBefore, 0, before),
            (Key::Dip, 0, depth),
            (Key::Dip, 1, depth),
            (Key::Dip, 2, depth),
            (Key::ReadingAfter, 0, after),
        ]
    };
    person.tells(PieceKind::Dip, &dip("12.00", "3.000 m", "12.00"));
    person.tells(PieceKind::Dip, &dip("14.00", "5.000 m", "14.00"));
    let seen = person.assessed();
    let result = seen.shift.result.as_deref().unwrap();
    near(shift(&seen), -9.0, 1e-6);
    assert_eq!(result.levels.len(), 2, "each round has its own level");
    assert_eq!(result.alone.len(), 2);
    assert!(matches!(result.consistency.agreement, Agreement::Agrees | Agreement::AgreesWithinShared));
    // The trim starts from the display read last.
    near(metres(&seen, result.from), 14.0, 1e-6);
}

#[test]
fn every_kind_together_gives_one_shift() {
    let more = r#","others":[{"name":"LT-9","uncertainty":"20 mm"}]"#;
    let mut person = Person::untrimmed(tower(more), "15.21");
    let id = |person: &mut Person, kind, answers: &[(Key, u32, &str)]| person.tells(kind, answers);
    id(&mut person, PieceKind::Overflow, &[(Key::OverflowSeen, 0, "film")]);
    id(
        &mut person,
        PieceKind::OtherInstrument,
        &[(Key::OtherUsed, 0, "LT-9"), (Key::OtherLevel, 0, "6.21 m")],
    );
    id(&mut person, PieceKind::Dip, &[(Key::Dip, 0, "6.21 m"), (Key::TapeUsed, 0, "T1")]);
    id(&mut person, PieceKind::Drop, &[(Key::Dip, 0, "0.79 m"), (Key::TapeUsed, 0, "T2")]);
    id(&mut person, PieceKind::Riser, &[(Key::RiserHeight, 0, "9.00 m"), (Key::RiserHow, 0, "by_tape")]);
    id(&mut person, PieceKind::Vented, &[(Key::VentAllowed, 0, "yes"), (Key::VentedReading, 0, "0.00")]);
    let seen = person.assessed();
    let result = seen.shift.result.as_deref().unwrap();
    near(shift(&seen), -9.0, 1e-3);
    assert_eq!(result.alone.iter().filter(|alone| alone.shift.is_some()).count(), 5, "{:?}", result.alone);
    assert_eq!(result.consistency.agreement, Agreement::Agrees, "{:?}", result.consistency);
    let pieces: Vec<Piece> = person.draft.pieces.clone();
    assert_eq!(seen.shift.pieces.len(), pieces.len());
}

fn proposals(person: &Person) -> domain::visit::NextBest {
    person.assessed().next_best(&person.draft).expect("there is a display reading")
}

fn dipped(tolerance: &str, more: &str) -> Person {
    let mut row = tower(more);
    row.tolerance = tolerance.into();
    let mut person = Person::untrimmed(row, "12.00");
    person.tells(PieceKind::Dip, &[(Key::Dip, 0, "3.000 m"), (Key::TapeUsed, 0, "T1")]);
    person
}

fn is_climb(measure: &Measure) -> bool {
    matches!(measure, Measure::Dip(_) | Measure::Drop(_) | Measure::RiserByTape)
}

#[rstest]
#[case::nothing_said("", None, false)]
#[case::register_alone_is_not_enough(r#","crew":{"climb":true}"#, None, false)]
#[case::alone(r#","crew":{"climb":true}"#, Some("alone"), false)]
#[case::two_where_it_is_allowed(r#","crew":{"climb":true}"#, Some("two_or_more"), true)]
#[case::reached_from_the_ground(r#","crew":{"hatch_from_ground":true}"#, Some("alone"), true)]
fn nobody_alone_is_offered_a_climb(#[case] crew: &str, #[case] here: Option<&str>, #[case] offered: bool) {
    let mut row = tower(crew);
    row.tolerance = "10 mm".into();
    // A riser off a drawing leaves so much doubt that any level would help.
    let mut person = Person::untrimmed(row, "12.00");
    person.put(Spot::of(Key::OffsetKnown), "offset_read_today");
    person.put(Spot::of(Key::OffsetValue), "0.00");
    person.tells(PieceKind::Riser, &[(Key::RiserHeight, 0, "9.00 m"), (Key::RiserHow, 0, "by_drawing")]);
    if let Some(here) = here {
        person.put(Spot::of(Key::Crew), here);
    }
    let items = person.draft.instrument.safety.len();
    (0..).take(items).for_each(|row| person.put(Spot::row(Key::SafetyItem, row), "done"));
    let next = proposals(&person);
    assert_eq!(next.proposals.iter().any(|one| is_climb(&one.measure)), offered, "{next:?}");
}

#[test]
fn under_a_third_of_the_tolerance_it_is_good_enough() {
    let next = proposals(&dipped("200 mm", ""));
    assert!(next.enough && next.proposals.is_empty(), "{next:?}");
    assert!(!proposals(&dipped("10 mm", "")).enough);
}

#[test]
fn a_proposal_keeps_what_it_promises() {
    // The promise is made before the instrument is heard; afterwards the fit itself says what it was worth.
    let more = r#","others":[{"name":"LT-9","uncertainty":"4 mm"}]"#;
    let mut person = dipped("10 mm", more);
    let next = proposals(&person);
    let other = next.proposals.iter().find(|one| one.measure == Measure::Other("LT-9".into()));
    let then = other.expect("it is proposed").then;
    person.tells(
        PieceKind::OtherInstrument,
        &[(Key::OtherUsed, 0, "LT-9"), (Key::ReadingBefore, 0, "12.00"), (Key::OtherLevel, 0, "3.000 m")],
    );
    let seen = person.assessed();
    let kept = seen.shift.result.as_deref().unwrap().error.expanded;
    near(then.get::<meter>(), kept.get::<meter>(), 3e-4);
    assert!(then < next.now.unwrap());
}

#[test]
fn where_nothing_is_determined_what_would_do_it_is_proposed() {
    let mut person = Person::untrimmed(tower(""), "12.00");
    person.tells(PieceKind::Riser, &[(Key::RiserHeight, 0, "9.00 m"), (Key::RiserHow, 0, "by_laser")]);
    let next = proposals(&person);
    assert!(next.now.is_none() && !next.enough);
    let measures: Vec<_> = next.proposals.iter().map(|one| one.measure.clone()).collect();
    assert_eq!(measures, [Measure::ReadOffset, Measure::Vented]);
}

#[test]
fn a_line_that_is_never_vented_is_not_proposed_for_it() {
    let mut person = Person::untrimmed(tower(r#","crew":{"never_vent":true}"#), "12.00");
    person.tells(PieceKind::Riser, &[(Key::RiserHeight, 0, "9.00 m"), (Key::RiserHow, 0, "by_laser")]);
    assert!(proposals(&person).proposals.iter().all(|one| one.measure != Measure::Vented));
}

#[test]
fn two_that_disagree_are_settled_by_a_third_that_shares_nothing() {
    let more = r#","others":[{"name":"LT-9","uncertainty":"20 mm"},{"name":"LT-8","uncertainty":"20 mm"}]"#;
    let mut person = Person::untrimmed(tower(more), "12.00");
    let dips = [
        (Key::Dip, 0, "3.000 m"),
        (Key::Dip, 1, "3.000 m"),
        (Key::Dip, 2, "3.000 m"),
        (Key::TapeUsed, 0, "T1"),
    ];
    person.tells(PieceKind::Dip, &dips);
    person.tells(PieceKind::OtherInstrument, &[(Key::OtherUsed, 0, "LT-9"), (Key::OtherLevel, 0, "3.200 m")]);
    let seen = person.assessed();
    assert_eq!(seen.shift.result.as_deref().unwrap().consistency.agreement, Agreement::TwoDisagree);
    let next = proposals(&person);
    assert!(next.disagree && !next.enough);
    let first = next.proposals.first().expect("something settles it");
    assert!(first.settles, "{next:?}");
}

#[test]
fn a_display_read_several_times_stands_for_the_visit_as_one() {
    let mut person = dipped("50 mm", "");
    let alone = person.assessed();
    // 12.00, 12.02, 11.98, 12.00, 12.00: mean 12.00, s = 14.1 mm, over the root of five 6.3 mm.
    for (row, text) in (0..).zip(["12.02", "11.98", "12.00", "12.00"]) {
        person.put(Spot::row(Key::DisplayRepeat, row), text);
    }
    let seen = person.assessed();
    near(shift(&seen), shift(&alone), 1e-6);
    let result = seen.shift.result.as_deref().unwrap();
    let row = result.budget.iter().find(|row| row.label.starts_with("scatter of 5")).expect("it has a line");
    let domain::evidence::Amount::Pressure(standard) = row.standard else { panic!("a pressure") };
    near(metres(&seen, standard), (0.0008_f64 / 4.0 / 5.0).sqrt(), 1e-6);
    near(row.freedom, 4.0, 1e-12);
}

#[test]
fn a_display_that_moves_carries_the_dip_to_its_own_time() {
    let mut person = Person::untrimmed(tower(""), "12.00");
    // 10 mm in every 20 s; the last one after 80 s shows 12.04.
    for (row, text) in (0..).zip(["12.01", "12.02", "12.03", "12.04"]) {
        person.put(Spot::row(Key::DisplayRepeat, row), text);
    }
    // The display goes first, four answers stand between; the dip is entered 20 s after the last reading.
    person.tells(PieceKind::Dip, &[(Key::Dip, 0, "3.050 m")]);
    let seen = person.assessed();
    let rate = seen.shift.rate.expect("it moves").value.get::<uom::si::velocity::meter_per_second>();
    // From the first reading to the second lie five answers, 100 s; then 20 s each.
    let times = [0.0, 80.0, 100.0, 120.0, 140.0];
    let shown = [12.00, 12.01, 12.02, 12.03, 12.04];
    let mean = |of: &[f64]| of.iter().sum::<f64>() / 5.0;
    let products: f64 = times.iter().zip(shown).map(|(t, r)| (t - mean(&times)) * (r - mean(&shown))).sum();
    let squares: f64 = times.iter().map(|t| (t - mean(&times)).powi(2)).sum();
    let slope = products / squares;
    near(rate, slope, 1e-9);
    let result = seen.shift.result.as_deref().unwrap();
    let last = mean(&shown) + slope * (140.0 - mean(&times));
    near(metres(&seen, result.from), last, 1e-6);
    // The level at the last reading is the dip less what came in the 20 s until it was entered.
    near(shift(&seen), 3.050 - slope * 20.0 - last, 1e-5);
}

/// The dip is read before and after, the drop beside it is not: the reading after the dip stands for both, to its last digit of
/// 0.01 m. What is a rectangle of half of that has a standard uncertainty of 5 mm over the root of three.
#[test]
fn a_reading_that_stands_for_two_pieces_has_one_line() {
    let mut person = Person::untrimmed(tower(""), "12.00");
    let dip = [
        (Key::ReadingBefore, 0, "12.00"),
        (Key::Dip, 0, "3.000 m"),
        (Key::ReadingAfter, 0, "12.02"),
        (Key::TapeUsed, 0, "T1"),
    ];
    person.tells(PieceKind::Dip, &dip);
    person.tells(PieceKind::Drop, &[(Key::Dip, 0, "3.980 m"), (Key::TapeUsed, 0, "T2")]);
    let seen = person.assessed();
    let budget = &seen.shift.result.as_deref().unwrap().budget;
    let rows: Vec<_> = budget.iter().filter(|row| row.label.starts_with("display")).collect();
    let labels: Vec<_> = rows.iter().map(|row| row.label.as_str()).collect();
    assert_eq!(labels.len(), 2, "before and after, each once: {labels:?}");
    let after = rows.iter().find(|row| row.label == "display after").expect("it has a line");
    let domain::evidence::Amount::Pressure(standard) = after.standard else { panic!("a pressure") };
    near(metres(&seen, standard), 0.005 / 3.0_f64.sqrt(), 1e-9);
    near(budget.iter().map(|row| row.share).sum(), 1.0, 1e-12);
}

/// One reading after two dips that were each read before: it is one cause. Two dips at one level by two tapes, read as one
/// number each: if the last digit of the reading were two causes, the mean of the two would halve its variance. Here it
/// stands in both, and the shift moves with it metre for metre.
#[test]
fn a_shared_reading_moves_the_shift_by_all_of_it() {
    let mut person = Person::untrimmed(tower(""), "12.00");
    person.tells(
        PieceKind::Dip,
        &[(Key::ReadingBefore, 0, "12.00"), (Key::Dip, 0, "3.000 m"), (Key::TapeUsed, 0, "T1")],
    );
    person.tells(PieceKind::Drop, &[(Key::Dip, 0, "4.000 m"), (Key::TapeUsed, 0, "T2")]);
    let seen = person.assessed();
    let result = seen.shift.result.as_deref().unwrap();
    let rows: Vec<_> = result.budget.iter().filter(|row| row.label.starts_with("display")).collect();
    let [row] = rows.as_slice() else { panic!("one line: {rows:?}") };
    near(row.sensitivity, -1.0, 1e-9);
    near(result.budget.iter().map(|row| row.share).sum(), 1.0, 1e-12);
}

#[rstest]
#[case::one(1, &[], "Two more dips, to make three: one alone shows no scatter.")]
#[case::two(2, &[], "One more dip, to make three: two show too little of their scatter.")]
#[case::one_of_two_counts(2, &[0], "Two more dips, to make three: one alone shows no scatter.")]
#[case::none_counts(1, &[0], "Three dips are wanted: those so far are set aside.")]
fn how_many_more_dips_are_wanted_is_said(#[case] dips: u32, #[case] aside: &[u32], #[case] says: &str) {
    let mut person = Person::untrimmed(tower(""), "12.00");
    let mut told: Vec<(Key, u32, &str)> = (0..dips).map(|row| (Key::Dip, row, "3.000 m")).collect();
    told.extend(aside.iter().map(|row| (Key::DipSetAside, *row, "the tape hung")));
    let id = person.tells(PieceKind::Dip, &told);
    let seen = person.assessed();
    let said =
        seen.piece_remarks(id).iter().find(|remark| remark.code == "dips.too_few").expect("it is said");
    assert_eq!(said.text, says);
}
