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
    // However small the unit makes the numbers.
    assert_eq!(Conformity::of(metres(1.5e-6), metres(0.0), metres(1e-6)), Conformity::Fail);
}

#[rstest]
#[case::inside_by_the_uncertainty(0.07, true)]
#[case::inside_by_less(0.09, false)]
#[case::outside(0.11, false)]
#[case::far_outside(0.13, false)]
fn only_a_pass_passes_the_rule_with_two_answers(#[case] error: f64, #[case] passes: bool) {
    assert_eq!(Conformity::of(metres(error), metres(0.02), metres(0.1)).passes(), passes);
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
    near(conformance_probability(&error(0.05, 0.0), metres(0.05)), 1.0, 0.0);
    near(conformance_probability(&error(0.06, 0.0), metres(0.05)), 0.0, 0.0);
}

#[rstest]
#[case::nothing(&[], "Not judged, uncertainty too large.")]
#[case::two(&["dip", "tape"], "Not judged, uncertainty too large. Most of it comes from: dip; tape.")]
fn too_uncertain_names_what_to_reduce_where_something_is(#[case] reduce: &[&str], #[case] text: &str) {
    let reduce = reduce.iter().map(|one| (*one).to_owned()).collect();
    assert_eq!(Verdict::TooUncertain { reduce }.text(), text);
}

/// The normal distribution stays below 1 with 0.841 345, below -1 with 0.158 655, below -2 with 0.022 750 and below 4 all
/// but certainly (0.999 968). All by a standard uncertainty of 20 mm.
#[rstest]
#[case::in_the_middle(0.0, 0.020, 0.841_345 - 0.158_655)]
#[case::on_the_limit(0.040, 0.040, 0.5 - 0.000_032)]
#[case::a_deviation_inside(0.030, 0.050, 0.841_345 - 0.000_032)]
#[case::on_the_other_side(-0.030, 0.050, 0.841_345 - 0.000_032)]
#[case::two_deviations_outside(0.080, 0.040, 0.022_750)]
fn an_error_is_within_tolerance_with_the_probability_that_the_normal_curve_has_there(
    #[case] by: f64,
    #[case] tolerance: f64,
    #[case] probability: f64,
) {
    near(conformance_probability(&error(by, 0.040), metres(tolerance)), probability, 1e-6);
}

#[rstest]
#[case::most_are_three(&[5.0, 4.0, 3.0, 2.5], &["0", "1", "2"])]
// 9 of 109 is less than a tenth, 1.1 of 10.1 is more.
#[case::none_under_a_tenth(&[10.0, 3.0], &["0"])]
#[case::a_tenth(&[3.0, 1.05], &["0", "1"])]
fn what_would_reduce_the_uncertainty_is_most_of_it(#[case] parts: &[f64], #[case] named: &[&str]) {
    let mut tower = Tower::exact(None);
    tower.reads(200_000.0, Spread::Exact);
    let lengths: Vec<_> = parts
        .iter()
        .enumerate()
        .map(|(place, part)| tower.length(&place.to_string(), 0.5, Spread::Standard(part * 0.1)))
        .collect();
    let by = tower.case.reference("sum of lengths");
    tower.case.level_is(by, tower.level, &lengths, &[]);
    let solved = tower.solved();
    let Verdict::TooUncertain { reduce } =
        judge(&solved.error, &LIMITS(), Done::Left, &solved.budget).unwrap()
    else {
        panic!("decimetres are no tolerance of centimetres");
    };
    assert_eq!(reduce, named);
}

#[rstest]
fn an_uncertainty_below_nothing_is_not_judged() {
    assert!(judge(&error(0.0, -0.01), &LIMITS(), Done::Left, &[]).is_err());
    let exact = judge(&error(0.0, 0.0), &LIMITS(), Done::Left, &[]).unwrap();
    assert_eq!(exact.code(), "within");
}

#[rstest]
fn a_trim_is_said_to_be_one() {
    let text = |done| judge(&error(0.0, 0.01), &LIMITS(), done, &[]).unwrap().text();
    assert!(text(Done::Left).starts_with("Left as found: within tolerance, with room"));
    assert!(
        text(Done::Trimmed(Proof::Independent)).starts_with("Trimmed, and judged by evidence taken after")
    );
    assert!(text(Done::Trimmed(Proof::SameReference)).starts_with("Trimmed, not independently proved"));
    assert!(text(Done::PutBack).starts_with("Put back as found"));
}
