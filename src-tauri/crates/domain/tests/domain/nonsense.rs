//! Nonsense in, no number out: what cannot be is refused with what to do next, what cannot be judged is not judged, and
//! nothing that is typed, in whatever order, makes a number that is none.

use domain::evidence::Agreement;
use domain::visit::{
    Advised, Assessment, Choice, Draft, Grade, Instrument, Key, Moment, PieceId, PieceKind, Remark, Spot,
    Step, Timing, assess,
};
use proptest::prelude::*;
use proptest::sample::select;
use rstest::rstest;
use serde_json::{Value, json};

const BEGUN: i64 = 1_795_600_000_000;

/// A tower: 9 m of riser under 6 m of range, read in metres of the liquid.
fn row() -> Value {
    json!({
        "tag": "LT-1", "service": "tower", "serial": "A1", "unit": "m", "riser": "9 m", "riser_from": "tape",
        "site": {
            "name": "Cold Ash", "latitude": "51", "altitude": "120 m", "liquid_temperature": "12 degC", "lengths": "m",
        },
        "liquid": { "name": "water" }, "span": "6 m", "lrv": "0", "urv": "6", "hatch": "7 m", "overflow": "6.2 m",
        "limits": {
            "lrl": "-2 bar", "url": "3 bar", "min_span": "0.1 bar", "max_working": "6 bar", "accuracy": "0.05 %",
            "zero_allowance": "2 mbar",
        },
        "tapes": [{ "id": "T1", "uncertainty": "2 mm" }],
        "tolerance": "50 mm", "trim_rule": "true_at_zero", "head_plan": "head_in_offset",
    })
}

fn instrument(row: Value) -> Instrument {
    serde_json::from_value(row).unwrap()
}

/// A person at the tower who has read the display.
struct Person {
    draft: Draft,
    clock: i64,
}

impl Person {
    fn reading(display: &str) -> Person {
        let mut person = Person { draft: Draft::begin(instrument(row()), Moment(BEGUN)), clock: BEGUN };
        person.says(Key::Display, display);
        person.says(Key::OffsetKnown, Choice::OffsetUnknown.word());
        person.says(Key::StandingHeadAt, Choice::HeadNowhere.word());
        person.says(Key::VentLooked, Choice::VentClear.word());
        person
    }

    fn put(&mut self, spot: Spot, text: &str) {
        self.clock += 20_000;
        self.draft.answers.put(spot, text.to_owned(), Moment(self.clock));
    }

    fn says(&mut self, key: Key, text: &str) {
        self.put(Spot::of(key), text);
    }

    fn piece(&mut self, kind: PieceKind, answers: &[(Key, u32, &str)]) -> PieceId {
        let id = self.draft.add_piece(kind, Timing::Before);
        answers.iter().for_each(|(key, row, text)| self.put(Spot::piece(id, *key, *row), text));
        id
    }

    /// Where words are asked (a serial, a name), `NaN` is a word: it may be quoted, so another stands in for it.
    fn calls_nothing_a_number(&mut self) {
        let read = assess(&self.draft).unwrap().entries;
        let likely = |text: &str| text.contains("NaN") || text.contains("inf");
        let answers = self.draft.answers.iter();
        let words = answers.filter(|(spot, answer)| read.at(*spot).is_none() && likely(&answer.text));
        for spot in words.map(|(spot, _)| spot).collect::<Vec<_>>() {
            self.put(spot, "T1");
        }
    }

    fn sees(&self) -> Assessment {
        let seen = assess(&self.draft).unwrap();
        sound(&self.draft, &seen);
        seen
    }
}

/// Looks for what is no number in everything that follows from a draft. What was typed is quoted wherever it is shown;
/// a number stands behind a space, a bracket or a sign. Degrees of freedom may be without end.
fn sound(draft: &Draft, seen: &Assessment) {
    let said = format!("{seen:?} {:?} {:?}", seen.working(draft), seen.finish(draft));
    for at in ["NaN", "inf"].into_iter().flat_map(|word| said.match_indices(word)).map(|(at, _)| at) {
        let bytes = said.as_bytes();
        let before = bytes[..at].iter().rev().find(|byte| **byte != b'-').unwrap();
        let number = b" ([".contains(before) && !bytes[at + 3].is_ascii_alphabetic();
        let endless_freedom = bytes[..at].ends_with(b"freedom: ");
        let around = String::from_utf8_lossy(&bytes[at.saturating_sub(200)..at + 3]);
        assert!(!number || endless_freedom, "{around}");
    }
}

fn no_shift(seen: &Assessment) {
    assert!(seen.shift.result.is_none(), "{:?}", seen.shift.result);
    assert!(seen.left.found.is_none() && seen.left.left.is_none());
    assert_ne!(seen.shift.advised, Advised::Trim);
}

/// A register row that cannot be: the field is named, and something to write instead.
#[rstest]
#[case::no_span("/span", "0 m")]
#[case::span_below_zero("/span", "-6 m")]
#[case::endless_span("/span", "1e999 m")]
#[case::urv_below_lrv("/urv", "-1")]
#[case::urv_not_a_number("/urv", "NaN")]
#[case::riser_not_a_number("/riser", "inf m")]
#[case::latitude_beyond_the_pole("/site/latitude", "91")]
#[case::above_every_mountain("/site/altitude", "40 km")]
#[case::boiling("/site/liquid_temperature", "130 degC")]
#[case::colder_than_cold("/site/liquid_temperature", "-300 degC")]
#[case::upper_limit_below_the_lower("/limits/url", "-3 bar")]
#[case::least_span_negative("/limits/min_span", "-0.1 bar")]
#[case::working_pressure_negative("/limits/max_working", "-6 bar")]
#[case::accuracy_negative("/limits/accuracy", "-0.05 %")]
#[case::allowance_negative("/limits/zero_allowance", "-2 mbar")]
#[case::no_tolerance("/tolerance", "0 mm")]
#[case::tolerance_negative("/tolerance", "-50 mm")]
#[case::tolerance_share_negative("/tolerance", "-0.5 %")]
#[case::tape_negative("/tapes/0/uncertainty", "-2 mm")]
#[case::tape_exact("/tapes/0/uncertainty", "0 mm")]
#[case::unit_unknown("/unit", "furlong")]
fn a_row_that_cannot_be_is_refused(#[case] field: &str, #[case] text: &str) {
    let mut bad = row();
    *bad.pointer_mut(field).unwrap() = json!(text);
    let faults = match assess(&Draft::begin(instrument(bad), Moment(BEGUN))) {
        Err(faults) => faults,
        Ok(seen) => panic!("{field} {text} was taken: {:?}", seen.known),
    };
    // Where a formula ends is told of the site as a whole.
    let named = |fault: &str| fault == "site" || field.ends_with(fault.rsplit(['.', ']']).next().unwrap());
    assert!(faults.iter().any(|fault| named(&fault.field)), "{faults:?}");
    assert!(faults.iter().all(|fault| fault.text.len() > 15), "{faults:?}");
}

/// A number that is none is kept as typed, gives no value, and says what to write.
#[rstest]
fn what_is_no_number_is_no_value(
    #[values(
        "NaN", "nan", "inf", "-inf", "1e999", "1/0", "--5", "5-", "0x10", "five", "1.2.3", "12,3,4", "½½",
        "٣"
    )]
    text: &str,
    #[values(Key::Display, Key::LoopCurrent, Key::ControlRoom, Key::Damping, Key::LiquidTemperature)]
    key: Key,
) {
    let mut person = Person::reading("15.000");
    person.says(key, text);
    let seen = person.sees();
    let entry = seen.entries.of(key).unwrap();
    assert_eq!(entry.value, None, "{text} was read");
    let problem = entry.problem.as_ref().unwrap();
    assert!(!problem.text.is_empty() && !problem.remedy.is_empty(), "{problem:?}");
    assert_eq!(person.draft.answers.text(Spot::of(key)), text);
}

#[rstest]
#[case::a_dip_below_the_floor(PieceKind::Dip, Key::Dip, "-3 m")]
#[case::a_drop_upwards(PieceKind::Drop, Key::Dip, "-3 m")]
#[case::a_riser_upside_down(PieceKind::Riser, Key::RiserHeight, "-9 m")]
#[case::a_dip_that_is_none(PieceKind::Dip, Key::Dip, "NaN m")]
#[case::an_endless_dip(PieceKind::Dip, Key::Dip, "inf m")]
#[case::an_endless_riser(PieceKind::Riser, Key::RiserHeight, "1e400 m")]
#[case::a_vented_reading_that_is_none(PieceKind::Vented, Key::VentedReading, "-inf")]
#[case::a_head_below_the_crest(PieceKind::Overflow, Key::OverflowHead, "-0.1 m")]
fn impossible_evidence_gives_no_shift(#[case] kind: PieceKind, #[case] key: Key, #[case] text: &str) {
    let mut person = Person::reading("15.000");
    let id = person.piece(
        kind,
        &[
            (Key::VentAllowed, 0, "yes"),
            (Key::RiserHow, 0, "by_tape"),
            (Key::OverflowSeen, 0, "head_measured"),
            (key, 0, text),
        ],
    );
    let seen = person.sees();
    no_shift(&seen);
    let entry = seen.entries.at(Spot::piece(id, key, 0)).unwrap();
    assert!(
        entry.value.is_none() && entry.problem.as_ref().is_some_and(|problem| !problem.remedy.is_empty())
    );
}

#[rstest]
fn without_evidence_nothing_is_judged() {
    let seen = Person::reading("15.000").sees();
    no_shift(&seen);
    assert_eq!(seen.shift.advised, Advised::NotDetermined);
    assert_eq!(seen.left.verdict.code, "not_determined");
    assert!(!seen.shift.ways_out.is_empty());
    assert!(!seen.complete(Step::Evidence));
}

#[rstest]
fn without_a_display_nothing_is_judged() {
    let mut person = Person::reading("15.000");
    person.piece(PieceKind::Dip, &[(Key::Dip, 0, "6.000 m")]);
    person.says(Key::Display, "");
    no_shift(&person.sees());
}

/// One dip alone: a shift, and nothing that claims to have been checked.
#[rstest]
fn without_redundancy_nothing_is_called_checked() {
    let mut person = Person::reading("15.000");
    person.piece(PieceKind::Dip, &[(Key::Dip, 0, "6.000 m")]);
    let seen = person.sees();
    let result = seen.shift.result.as_ref().unwrap();
    assert_eq!((result.consistency.redundancy, result.consistency.agreement), (0, Agreement::Unchecked));
    assert!(!seen.left.proved);
}

/// A dip and a drop half a metre apart: neither is believed without a reason, and no third thing is blamed.
#[rstest]
fn evidence_that_contradicts_itself_holds_the_shift_up() {
    let mut person = Person::reading("15.000");
    person.piece(PieceKind::Dip, &[(Key::Dip, 0, "6.000 m")]);
    person.piece(PieceKind::Drop, &[(Key::Dip, 0, "1.500 m")]);
    let seen = person.sees();
    let agreement = seen.shift.result.as_ref().unwrap().consistency.agreement;
    assert_eq!(agreement, Agreement::TwoDisagree);
    // Said once: as the slip that half a metre looks like, or as a disagreement where it looks like none.
    let told = |remark: &&Remark| remark.code == "references.disagree" || remark.code.starts_with("slip.");
    let doubts: Vec<&Remark> = seen.remarks(Step::Shift).iter().filter(told).collect();
    assert!(
        matches!(doubts[..], [doubt] if doubt.grade == Grade::Warning && doubt.reason_row > 0),
        "{doubts:?}"
    );
    person.says(Key::Decision, Choice::Trim.word());
    assert!(!person.sees().complete(Step::Shift), "trimmed on two things that disagree, without a reason");
}

const KINDS: [PieceKind; 7] = [
    PieceKind::KnownEmpty,
    PieceKind::Dip,
    PieceKind::Drop,
    PieceKind::Riser,
    PieceKind::Vented,
    PieceKind::Overflow,
    PieceKind::OtherInstrument,
];

/// Words, numbers of any size, and neither.
fn text() -> impl Strategy<Value = String> {
    let choices = select(Choice::ALL.to_vec()).prop_map(|choice| choice.word().to_owned());
    let number = (-1e4..1e4f64, 0..6usize).prop_map(|(value, places)| format!("{value:.places$}"));
    let wild = any::<f64>().prop_map(|value| value.to_string());
    let units =
        select(vec!["m", "mm", "ft", "in", "psi", "mbar", "degC", "degF", "%", "kg/m3", "H2O", "@60F"]);
    let length = (-50.0..50.0f64, units).prop_map(|(value, unit)| format!("{value:.3} {unit}"));
    let junk = select(vec!["", " ", "-", "1e308", "-1e308", "1e-320", "NaN", "inf", "0", "-0", "T1", "A1"]);
    prop_oneof![choices, number, wild, length, junk.prop_map(str::to_owned), "\\PC{0,12}"]
}

/// Answers anywhere: key, piece, row, text, seconds since the one before (the clock may run back).
fn answers() -> impl Strategy<Value = Vec<(Key, u32, u32, String, i64)>> {
    let one = (select(Key::ALL.to_vec()), 0..5u32, 0..4u32, text(), -100_000..1_000_000i64);
    prop::collection::vec(one, 0..60)
}

fn fields() -> Vec<String> {
    let mut found = Vec::new();
    let mut open = vec![(String::new(), row())];
    while let Some((path, value)) = open.pop() {
        match value {
            Value::Object(map) => {
                open.extend(map.into_iter().map(|(name, value)| (format!("{path}/{name}"), value)))
            }
            Value::Array(list) => {
                open.extend(list.into_iter().enumerate().map(|(at, value)| (format!("{path}/{at}"), value)));
            }
            _ => found.push(path),
        }
    }
    found
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn whatever_is_answered_no_number_is_none(
        kinds in prop::collection::vec((select(KINDS.to_vec()), any::<bool>()), 0..5),
        answers in answers(),
        sensible in any::<bool>(),
    ) {
        let mut person = Person::reading("15.000");
        for (kind, after) in kinds {
            let id = person.draft.add_piece(kind, if after { Timing::After } else { Timing::Before });
            if sensible {
                person.put(Spot::piece(id, Key::Dip, 0), "6.0 m");
                person.put(Spot::piece(id, Key::RiserHeight, 0), "9 m");
                person.put(Spot::piece(id, Key::RiserHow, 0), "by_tape");
            }
        }
        for (key, piece, row, text, later) in answers {
            person.clock += later;
            let spot = Spot { piece: PieceId(piece), key, row };
            person.draft.answers.put(spot, text, Moment(person.clock));
        }
        person.calls_nothing_a_number();
        person.sees();
    }

    #[test]
    fn whatever_the_register_says_no_number_is_none(
        changes in prop::collection::vec((select(fields()), text()), 1..4),
    ) {
        let mut bad = row();
        for (field, text) in changes {
            *bad.pointer_mut(&field).unwrap() = json!(text);
        }
        let mut person = Person::reading("15.000");
        person.draft.instrument = instrument(bad);
        person.piece(PieceKind::Dip, &[(Key::Dip, 0, "6.000 m"), (Key::TapeUsed, 0, "T1")]);
        person.piece(PieceKind::Riser, &[(Key::RiserHeight, 0, "9.000 m"), (Key::RiserHow, 0, "by_tape")]);
        person.piece(PieceKind::Vented, &[(Key::VentAllowed, 0, "yes"), (Key::VentedReading, 0, "0.000")]);
        match assess(&person.draft) {
            Ok(seen) => sound(&person.draft, &seen),
            Err(faults) => prop_assert!(faults.iter().all(|fault| !fault.field.is_empty() && !fault.text.is_empty())),
        }
    }
}
