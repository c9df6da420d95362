//! What is an alarm and what is not, and what a slip is called where several would do.

use domain::visit::{Choice, Claim, Doubt, Grade, Instrument, Key, PieceKind, Spot};
use rstest::rstest;

use crate::person::Person;

/// A 20 ft riser under a 20 ft range, read in feet of the liquid; a foot of water at 15 degC net of air presses about
/// 2986 Pa.
fn tower() -> Instrument {
    let row = r#"{"tag":"LT-1","service":"tower","serial":"A1","unit":"ft","riser":"20 ft","riser_from":"tape",
        "site":{"name":"Sedge Hill","latitude":"40","altitude":"0 m","liquid_temperature":"15 degC","lengths":"ft"},
        "liquid":{"name":"water"},"span":"20 ft","lrv":"0","urv":"20","hatch":"25 ft",
        "limits":{"lrl":"-50 psi","url":"50 psi","min_span":"1 psi","max_working":"100 psi","accuracy":"0.05 %","zero_allowance":"0.02 psi"},
        "tolerance":"2 in","trim_rule":"true_at_zero","head_plan":"head_in_offset"}"#;
    serde_json::from_str(row).unwrap()
}

impl Person {
    fn sees(display: &str, offset: Option<&str>) -> Person {
        let mut person = Person::at(tower(), display, offset);
        person.put(Spot::of(Key::VentLooked), Choice::VentClear.word());
        person
    }

    fn tape(mut self, kind: PieceKind, lengths: &[&str]) -> Person {
        let id = self.piece(kind);
        for (row, length) in (0..).zip(lengths) {
            self.put(Spot::piece(id, Key::Dip, row), length);
        }
        self
    }

    fn alarms(&self) -> Vec<String> {
        self.assessed().alarms(&self.draft).into_iter().map(|alarm| alarm.code).collect()
    }
}

/// The bound is 4 mm. Three dips that scatter by 2 mm each come 5.06 times that apart in one visit of a thousand
/// (studentised range of three, upper 0.1 %; from memory), which is 10.1 mm.
#[rstest]
#[case::alike(["3.000 m", "3.003 m", "3.001 m"], "dips.agree", Grade::Note, false)]
#[case::another_is_asked_for(["3.000 m", "3.009 m", "3.001 m"], "dips.again", Grade::Warning, false)]
#[case::an_alarm(["3.000 m", "3.011 m", "3.001 m"], "dips.disagree", Grade::Warning, true)]
fn dips_past_the_bound_are_an_alarm_where_scatter_does_not_take_them(
    #[case] lengths: [&str; 3],
    #[case] code: &str,
    #[case] grade: Grade,
    #[case] alarm: bool,
) {
    let person = Person::sees("9.84", Some("-20.00")).tape(PieceKind::Dip, &lengths);
    let (seen, piece) = (person.assessed(), person.draft.pieces.first().unwrap().id);
    let said = seen.piece_remarks(piece).iter().find(|said| said.code.starts_with("dips.")).unwrap();
    assert_eq!((said.code.as_str(), said.grade, said.claim.is_alarm()), (code, grade, alarm));
    assert_eq!(person.alarms().contains(&code.to_owned()), alarm);
}

/// A display of 15.00 ft over a dip of 9.84 ft: 5 ft off, with no riser to explain it.
#[rstest]
fn the_visit_gathers_its_alarms_and_leaves_the_rest_out() {
    let mut honest = Person::sees("9.84", Some("-20.00")).tape(PieceKind::Dip, &["3.000 m"]);
    honest.put(Spot::of(Key::VentLooked), Choice::VentBlocked.word());
    assert_eq!(honest.alarms(), Vec::<String>::new(), "a blocked vent is met, not alleged");
    let off = Person::sees("15.00", Some("-20.00")).tape(PieceKind::Dip, &["3.000 m"]);
    assert_eq!(off.alarms(), ["slip.numbers"]);
}

#[rstest]
fn a_caution_is_no_alarm_and_a_contradiction_is_one() {
    for (doubt, claim) in [
        (Doubt::VentBlocked, Claim::Nothing),
        (Doubt::NoEvidence, Claim::Nothing),
        (Doubt::TrimMissed, Claim::UnitOff),
        (Doubt::ReferencesDisagree, Claim::NumbersWrong),
        (Doubt::SlipNumbers, Claim::NumbersWrong),
    ] {
        assert_eq!(doubt.claim(), claim, "{doubt:?}");
    }
}

/// Two dips of one surface 0.2 ft apart, the offset unknown: the register's riser stands in no comparison, and no riser is
/// implied by anything.
#[rstest]
fn a_number_that_nothing_compares_has_no_other_value() {
    for thousandths in 0..40 {
        let dip = format!("{:.3} ft", 5.1 + f64::from(thousandths) / 7.0);
        let drop = format!("{:.3} ft", 19.7 - f64::from(thousandths) / 7.0);
        let display = format!("{:.2}", 25.1 + f64::from(thousandths) / 7.0);
        let person =
            Person::sees(&display, None).tape(PieceKind::Dip, &[&dip]).tape(PieceKind::Drop, &[&drop]);
        for slip in person.assessed().slips {
            assert!(!slip.seen.contains("implies a riser"), "{dip}: {}", slip.seen);
        }
    }
}

/// Empty, a display that should show nothing shows -1.48 ft. Taken as inches that is a tenth of a foot and nearly nothing,
/// as every number is when it is divided enough; a riser that ran dry by a foot and a half is what it looks like.
#[rstest]
fn nearly_nothing_is_no_other_unit() {
    let mut person = Person::sees("-1.48", Some("-20.00")).empty();
    person.draft.instrument.riser_from = "drawing".into();
    let seen = person.assessed();
    let causes: Vec<&str> = seen.slips.iter().flat_map(|slip| &slip.causes).map(|cause| cause.code).collect();
    assert!(matches!(causes[..], ["air" | "drained", "air" | "drained", ..]), "{causes:?}");
}
