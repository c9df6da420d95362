//! What may be claimed.
//!
//! Numbers are invented for the case and worked out by hand where they are used; published values stand in
//! `tests/suite/reference`.

use rstest::rstest;

use super::tower::{Tower, metres, near};
use crate::evidence::{
    Advice, Conformity, Done, Estimate, EvidenceError, LevelError, Limits, Proof, Spread, Verdict, advise,
    conformance_probability, judge, rule_sentence,
};

const LIMITS: fn() -> Limits = || Limits { tolerance: metres(0.050), adjust: None, span: metres(7.8) };

fn error(value: f64, expanded: f64) -> LevelError {
    Estimate {
        value: metres(value),
        standard: metres(expanded / 2.0),
        expanded: metres(expanded),
        coverage: 2.0,
        freedom: f64::INFINITY,
    }
}

#[rstest]
#[case::inside_half_the_tolerance(0.020, 0.010, true)]
#[case::beyond_it(0.030, 0.010, false)]
#[case::either_sign(-0.030, 0.010, false)]
#[case::never_less_than_the_uncertainty(0.030, 0.035, true)]
fn inside_the_adjust_limit_nothing_is_adjusted(#[case] by: f64, #[case] sure: f64, #[case] leave: bool) {
    let advice = advise(&error(by, sure), &LIMITS()).unwrap();
    assert_eq!(matches!(advice, Advice::DoNotAdjust { .. }), leave);
}

#[rstest]
fn a_set_adjust_limit_is_used() {
    let limits = Limits { adjust: Some(metres(0.010)), ..LIMITS() };
    let Advice::Adjust { limit } = advise(&error(0.015, 0.008), &limits).unwrap() else {
        panic!("15 mm is beyond 10 mm");
    };
    near(limit.value, 0.010, 1e-12);
}

#[rstest]
#[case::by_the_same_reference(0.001, 0.02, Done::Trimmed(Proof::SameReference), "trimmed_not_proved")]
#[case::not_where_it_should_be(0.030, 0.02, Done::Trimmed(Proof::SameReference), "trim_missed")]
#[case::proved(0.010, 0.02, Done::Trimmed(Proof::Independent), "within")]
#[case::in_the_guard_band(0.040, 0.02, Done::Trimmed(Proof::Independent), "within_doubtful")]
#[case::just_outside(0.060, 0.02, Done::Trimmed(Proof::Independent), "outside_doubtful")]
#[case::outside(0.080, 0.02, Done::Trimmed(Proof::Independent), "outside")]
#[case::left_as_found(0.010, 0.02, Done::Left, "within")]
#[case::put_back(0.080, 0.02, Done::PutBack, "put_back")]
#[case::too_uncertain(0.0, 0.05, Done::Trimmed(Proof::Independent), "not_judged")]
#[case::too_uncertain_beats_unproved(0.0, 0.06, Done::Trimmed(Proof::SameReference), "not_judged")]
fn the_verdict_is_honest(#[case] by: f64, #[case] sure: f64, #[case] done: Done, #[case] expected: &str) {
    assert_eq!(judge(&error(by, sure), &LIMITS(), done, &[]).unwrap().code(), expected);
}

#[rstest]
fn too_uncertain_names_what_would_reduce_it() {
    let mut tower = Tower::real(None);
    tower.reads(200_000.0, Spread::Standard(100.0));
    tower.dipped(1.5, Spread::Standard(0.050));
    let solved = tower.solved();
    let verdict = judge(&solved.error, &LIMITS(), Done::Left, &solved.budget).unwrap();
    assert_eq!(verdict, Verdict::TooUncertain { reduce: vec!["dip".to_owned()] });
    assert!(verdict.text().contains("dip"));
}

#[rstest]
fn a_number_on_the_limit_passes_it_whatever_its_last_binary_digit() {
    // 0.1 - 0.02 is not 0.08 in binary.
    assert_eq!(Conformity::of(metres(0.08), metres(0.02), metres(0.1)), Conformity::Pass);
    assert_eq!(Conformity::of(metres(-0.08), metres(0.02), metres(0.1)), Conformity::Pass);
    assert_eq!(Conformity::of(metres(0.12), metres(0.02), metres(0.1)), Conformity::ConditionalFail);
}

#[rstest]
#[case::tolerance(Limits { tolerance: metres(0.0), ..LIMITS() }, "The tolerance")]
#[case::span(Limits { span: metres(-1.0), ..LIMITS() }, "The span")]
#[case::adjust(Limits { adjust: Some(metres(f64::NAN)), ..LIMITS() }, "The adjust limit")]
fn limits_that_judge_nothing_are_refused(#[case] limits: Limits, #[case] label: &str) {
    let refused = judge(&error(0.0, 0.01), &limits, Done::Left, &[]);
    assert_eq!(refused, Err(EvidenceError::NotPositive { label: label.to_owned() }));
}

#[rstest]
fn an_error_that_is_no_number_is_not_judged() {
    assert!(judge(&error(f64::NAN, 0.01), &LIMITS(), Done::Left, &[]).is_err());
    assert!(advise(&error(0.0, f64::NAN), &LIMITS()).is_err());
}

#[rstest]
fn the_rule_is_a_sentence_with_its_numbers() {
    let sentence = rule_sentence(&LIMITS(), metres(0.02), |length| format!("{:.3} m", length.value));
    assert!(sentence.contains("0.050 m - 0.020 m = 0.030 m"), "{sentence}");
    near(LIMITS().percent(metres(0.039)), 0.5, 1e-12);
}

#[rstest]
fn an_exact_error_conforms_or_does_not() {
    near(conformance_probability(&error(0.04, 0.0), metres(0.05)), 1.0, 0.0);
    near(conformance_probability(&error(0.06, 0.0), metres(0.05)), 0.0, 0.0);
}
