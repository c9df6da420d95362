//! Kinds of evidence, answered as a technician answers them: levels told without a tape, what stays in a vented check,
//! several levels on one day.
//!
//! The tower stands where gravity, density and unit cancel (one unit of reading is one unit of liquid), so every
//! expectation is a sum or difference of the lengths that stand beside it.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // A panic in a test is its message.

use domain::evidence::Agreement;
use domain::visit::{
    Assessment, Choice, Draft, Grade, Instrument, Key, Moment, Piece, PieceId, PieceKind, Spot, Timing,
    assess,
};
use rstest::rstest;
use uom::si::f64::Pressure;
use uom::si::length::meter;

/// A 9 m riser under a 6 m range, read in metres of the liquid; crest at 6.2 m, hatch at 7 m.
fn tower(more: &str) -> Instrument {
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

struct Person {
    draft: Draft,
    clock: i64,
}

impl Person {
    fn at(instrument: Instrument, display: &str) -> Person {
        let begun = Moment(1_795_600_000_000);
        let mut person = Person { draft: Draft::begin(instrument, begun), clock: begun.0 };
        for (key, text) in [
            (Key::Display, display),
            (Key::OffsetKnown, Choice::OffsetUnknown.word()),
            (Key::StandingHeadAt, Choice::HeadNowhere.word()),
            (Key::VentLooked, Choice::VentClear.word()),
        ] {
            person.put(Spot::of(key), text);
        }
        person
    }

    fn put(&mut self, spot: Spot, text: &str) {
        self.clock += 20_000;
        self.draft.answers.put(spot, text.to_owned(), Moment(self.clock));
    }

    fn piece(&mut self, kind: PieceKind, answers: &[(Key, u32, &str)]) -> PieceId {
        let id = self.draft.add_piece(kind, Timing::Before);
        for (key, row, text) in answers {
            self.put(Spot::piece(id, *key, *row), text);
        }
        id
    }

    fn sees(&self) -> Assessment {
        assess(&self.draft).unwrap()
    }
}

fn metres(assessment: &Assessment, pressure: Pressure) -> f64 {
    assessment.conditions.gradient.length(pressure).get::<meter>()
}

fn shift(assessment: &Assessment) -> f64 {
    metres(assessment, assessment.shift.result.as_deref().expect("a shift is determined").shift.value)
}

fn near(seen: f64, expected: f64, within: f64) {
    assert!((seen - expected).abs() <= within, "{seen}, expected {expected} within {within}");
}

#[rstest]
// A film is anything from nothing to 20 mm: the middle stands 10 mm above the crest of 6.2 m.
#[case::film(&[(Key::OverflowSeen, 0, "film")], 6.210)]
#[case::measured(&[(Key::OverflowSeen, 0, "head_measured"), (Key::OverflowHead, 0, "40 mm")], 6.240)]
// 2 mm +- 5 mm reaches under the crest; what is left, 0 to 7 mm, has its middle at 3.5 mm.
#[case::never_below_the_crest(&[(Key::OverflowSeen, 0, "head_measured"), (Key::OverflowHead, 0, "2 mm")], 6.2035)]
fn a_running_overflow_tells_the_level(#[case] answers: &[(Key, u32, &str)], #[case] level: f64) {
    let mut person = Person::at(tower(""), "15.30");
    person.piece(PieceKind::Overflow, answers);
    let seen = person.sees();
    near(seen.shift.level.expect("a level is told").get::<meter>(), level, 1e-6);
    // The display shows 15.30 and is to show the level.
    near(shift(&seen), level - 15.30, 1e-6);
}

#[test]
fn a_film_widens_by_a_rectangle_of_its_thickness() {
    let mut person = Person::at(tower(""), "15.30");
    person.piece(PieceKind::Overflow, &[(Key::OverflowSeen, 0, "film")]);
    let seen = person.sees();
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
    let mut person = Person::at(row, "15.30");
    let id = person.piece(PieceKind::Overflow, &[(Key::OverflowSeen, 0, "film")]);
    let seen = person.sees();
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
    let mut person = Person::at(tower(more), "12.00");
    person.piece(PieceKind::OtherInstrument, &[(Key::OtherUsed, 0, "LT-9"), (Key::OtherLevel, 0, "3.020 m")]);
    let seen = person.sees();
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
    let mut person = Person::at(tower(""), "12.00");
    let id = person.piece(
        PieceKind::OtherInstrument,
        &[
            (Key::OtherUsed, 0, named),
            (Key::OtherLevel, 0, "3 m"),
            (Key::OtherUncertainty, 0, "20 mm"),
            (Key::OtherOwnSensor, 0, "yes"),
        ],
    );
    let seen = person.sees();
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
    let mut person = Person::at(tower(""), "12.00");
    let id = person.piece(PieceKind::OtherInstrument, &answers);
    assert!(person.sees().shift.result.is_none());
    person.put(Spot::piece(id, Key::OtherOwnSensor, 0), "yes");
    near(shift(&person.sees()), 3.0 - 12.0, 1e-6);
    person.put(Spot::piece(id, Key::OtherOwnSensor, 0), "no");
    assert!(person.sees().shift.result.is_none());
}

#[test]
fn what_an_instrument_shares_with_a_drop_cannot_check_it() {
    let pair = |shares: &str| {
        let more = format!(r#","others":[{{"name":"LT-9","uncertainty":"10 mm","shares":"{shares}"}}]"#);
        let mut person = Person::at(tower(&more), "12.00");
        person.piece(PieceKind::Drop, &[(Key::Dip, 0, "4.000 m"), (Key::TapeUsed, 0, "T1")]);
        person.piece(
            PieceKind::OtherInstrument,
            &[(Key::OtherUsed, 0, "LT-9"), (Key::OtherLevel, 0, "3.000 m")],
        );
        let seen = person.sees();
        let result = seen.shift.result.as_deref().unwrap();
        result.pairs.first().expect("two speak").correlation
    };
    assert!(pair("hatch") > pair("") + 0.05, "{} against {}", pair("hatch"), pair(""));
    assert!(pair("density") > -1.0);
}

#[test]
fn a_stub_left_in_a_vented_check_is_taken_off() {
    let run = |left: &str| {
        let mut person = Person::at(tower(""), "12.00");
        person.piece(PieceKind::Riser, &[(Key::RiserHeight, 0, "9.00 m"), (Key::RiserHow, 0, "by_laser")]);
        let mut answers = vec![(Key::VentAllowed, 0, "yes"), (Key::VentedReading, 0, "0.15")];
        if !left.is_empty() {
            answers.push((Key::VentedLeft, 0, left));
        }
        person.piece(PieceKind::Vented, &answers);
        shift(&person.sees())
    };
    // z + c = 0.15, so the display is to lose 9.15; with 0.10 of water left on the sensor z + c = 0.05.
    near(run(""), -9.15, 1e-6);
    near(run("100 mm"), -9.05, 1e-6);
}

#[test]
fn dips_at_two_levels_stand_beside_each_other_each_with_its_readings() {
    let mut person = Person::at(tower(""), "12.00");
    let dip = |before: &'static str, depth: &'static str, after: &'static str| {
        [
            (Key::ReadingBefore, 0, before),
            (Key::Dip, 0, depth),
            (Key::Dip, 1, depth),
            (Key::Dip, 2, depth),
            (Key::ReadingAfter, 0, after),
        ]
    };
    person.piece(PieceKind::Dip, &dip("12.00", "3.000 m", "12.00"));
    person.piece(PieceKind::Dip, &dip("14.00", "5.000 m", "14.00"));
    let seen = person.sees();
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
    let mut person = Person::at(tower(more), "15.21");
    let id = |person: &mut Person, kind, answers: &[(Key, u32, &str)]| person.piece(kind, answers);
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
    let seen = person.sees();
    let result = seen.shift.result.as_deref().unwrap();
    near(shift(&seen), -9.0, 1e-3);
    assert_eq!(result.alone.iter().filter(|alone| alone.shift.is_some()).count(), 5, "{:?}", result.alone);
    assert_eq!(result.consistency.agreement, Agreement::Agrees, "{:?}", result.consistency);
    let pieces: Vec<Piece> = person.draft.pieces.clone();
    assert_eq!(seen.shift.pieces.len(), pieces.len());
}
