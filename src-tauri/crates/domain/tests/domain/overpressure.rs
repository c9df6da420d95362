//! What presses on the sensor beside the standing column: a surge, a pump against a shut valve, a pressure test.

use domain::visit::{
    Advised, Choice, Draft, Grade, Instrument, Key, Known, Moment, PieceKind, Planned, Pressing, SensorRange,
    Spot, Timing, assess, plan,
};
use rstest::rstest;
use serde_json::{Value, json};
use uom::si::pressure::{bar, pascal};

/// A riser of 10 m under a span of 5 m and an overflow at 5.2 m: water of 12 degC at sea level and 51 degrees presses
/// (999.5 - 1.2) * 9.8116 = 9795 Pa a metre, at the overflow 15.2 m * 9795 = 1.4888 bar.
fn row(overpressure: Value) -> Instrument {
    serde_json::from_value(json!({
        "tag": "LT-1", "service": "tower", "serial": "A1", "unit": "m", "riser": "10 m", "riser_from": "tape",
        "site": {
            "name": "Cold Ash", "latitude": "51", "altitude": "0 m", "liquid_temperature": "12 degC", "lengths": "m",
        },
        "liquid": { "name": "water" }, "span": "5 m", "lrv": "0", "urv": "5", "overflow": "5.2 m",
        "limits": {
            "lrl": "-2 bar", "url": "2 bar", "min_span": "0.1 bar", "max_working": "6 bar", "accuracy": "0.05 %",
            "zero_allowance": "2 mbar",
        },
        "tapes": [{ "id": "T1", "uncertainty": "2 mm" }],
        "tolerance": "50 mm", "trim_rule": "true_at_zero", "head_plan": "head_in_offset",
        "overpressure": overpressure,
    }))
    .unwrap()
}

/// One that takes 16 bar.
fn sturdy() -> SensorRange {
    serde_json::from_value(json!({
        "name": "MW-S", "lrl": "-2 bar", "url": "2 bar", "min_span": "0.1 bar", "max_working": "16 bar", "accuracy": "0.05 %",
    }))
    .unwrap()
}

fn planned(overpressure: Value) -> Planned {
    plan(&row(overpressure), &[sturdy()]).unwrap()
}

#[rstest]
#[case::nothing(json!({}), Pressing::Level, 1.4888)]
#[case::surge(json!({ "surge": "3.5 bar" }), Pressing::Surge, 4.9888)]
#[case::weak_pump(json!({ "shut_off": "1.2 bar" }), Pressing::Level, 1.4888)]
#[case::strong_pump(json!({ "surge": "3.5 bar", "shut_off": "5.5 bar" }), Pressing::ShutOff, 5.5)]
#[case::line_tested(json!({ "surge": "3.5 bar", "hydrotest": "9 bar" }), Pressing::Hydrotest, 9.0)]
fn the_highest_pressure_says_what_brings_it(
    #[case] overpressure: Value,
    #[case] by: Pressing,
    #[case] highest: f64,
) {
    let plan = planned(overpressure);
    assert_eq!(plan.highest.by, by);
    assert!((plan.highest.pressure.get::<bar>() - highest).abs() < 0.0005, "{:?}", plan.highest);
}

/// A surge of 5 bar makes 6.49 bar: too much for 6 bar, not for 16. What is above is told one by one.
#[test]
fn a_sensor_that_it_would_burst_does_not_fit() {
    let plan = planned(json!({ "surge": "5 bar", "hydrotest": "9 bar" }));
    let fits: Vec<_> = plan.sensors.iter().map(|one| (one.sensor.name.as_str(), one.sized.fits())).collect();
    assert_eq!(fits, [("MW-S", true), ("As fitted now", false)]);
    let above: Vec<Pressing> =
        plan.highest.above(plan.known.sensor.limits.max_working).map(|(by, _)| by).collect();
    assert_eq!(above, [Pressing::Surge, Pressing::Hydrotest]);
    assert_eq!(plan.highest.not_stated(), [Pressing::ShutOff]);
    let told = |plan: &Planned| {
        plan.assumptions
            .iter()
            .find(|remark| remark.text.starts_with("Not counted"))
            .map(|it| it.text.clone())
    };
    assert!(told(&plan).unwrap().contains("a pump against a shut valve"), "{:?}", told(&plan));
    assert!(!told(&plan).unwrap().contains("surge"));
    let all = planned(json!({ "surge": "1 bar", "shut_off": "1 bar", "hydrotest": "1 bar" }));
    assert_eq!(told(&all), None);
}

fn visit(overpressure: Value) -> domain::visit::Assessment {
    let begun = 1_795_600_000_000;
    let mut draft = Draft::begin(row(overpressure), Moment(begun));
    let put = |draft: &mut Draft, spot, text: &str| draft.answers.put(spot, text.to_owned(), Moment(begun));
    put(&mut draft, Spot::of(Key::Display), "3.20");
    put(&mut draft, Spot::of(Key::OffsetKnown), Choice::OffsetUnknown.word());
    put(&mut draft, Spot::of(Key::StandingHeadAt), Choice::HeadInOffset.word());
    let id = draft.add_piece(PieceKind::Dip, Timing::Before);
    for row in 0..3 {
        put(&mut draft, Spot::piece(id, Key::Dip, row), "3 m 0 mm");
    }
    assess(&draft).unwrap()
}

/// Only what passes a limit while the unit is at work stands before the trim; a pressure test is warned of.
#[rstest]
#[case::none(json!({}), Advised::Trim, None)]
#[case::within(json!({ "surge": "4 bar" }), Advised::Trim, None)]
#[case::surge(json!({ "surge": "5 bar" }), Advised::Blocked, Some(("limit.working_pressure", Grade::Refusal, "a surge on top")))]
#[case::pump(json!({ "shut_off": "6.5 bar" }), Advised::Blocked, Some(("limit.working_pressure", Grade::Refusal, "a pump")))]
#[case::line_tested(json!({ "hydrotest": "9 bar" }), Advised::Trim, Some(("limit.hydrotest", Grade::Warning, "pressure test")))]
fn a_visit_is_refused_only_beyond_a_limit(
    #[case] overpressure: Value,
    #[case] advised: Advised,
    #[case] said: Option<(&str, Grade, &str)>,
) {
    let seen = visit(overpressure);
    assert_eq!(seen.shift.advised, advised);
    let limits: Vec<_> =
        seen.shift.remarks.iter().filter(|remark| remark.code.starts_with("limit.")).collect();
    assert_eq!(limits.len(), usize::from(said.is_some()), "{limits:?}");
    if let Some((code, grade, words)) = said {
        assert!(limits[0].code == code && limits[0].grade == grade, "{limits:?}");
        assert!(limits[0].text.contains(words) && limits[0].reason_row == 0, "{}", limits[0].text);
    }
}

#[rstest]
#[case::no_unit("surge", "5")]
#[case::negative("surge", "-1 bar")]
#[case::absolute("shut_off", "6 bara")]
#[case::words("hydrotest", "half as much again")]
fn a_bad_pressure_is_named(#[case] field: &str, #[case] text: &str) {
    let faults = Known::read(&row(json!({ field: text }))).unwrap_err();
    assert!(faults.iter().any(|fault| fault.field == format!("overpressure.{field}")), "{faults:?}");
}

/// A drum's limits in bar: 1.05 m of condensate of 962 kg/m3 press 0.099 bar, and a hundredth of that is a centimetre. Digits
/// to about a millimetre of water are shown, and none for show.
#[test]
fn pressures_are_printed_to_a_millimetre_of_water() {
    let plan = planned(json!({}));
    let print = |pascals| plan.pressure(uom::si::f64::Pressure::new::<pascal>(pascals));
    assert_eq!(print(10_342.0), "0.1034 bar");
    assert_eq!(print(-930.0), "-0.0093 bar");
    assert_eq!(print(250_000.0), "2.5 bar");
    assert_eq!(print(1_600_000.0), "16 bar");
    assert_eq!(print(0.0), "0 bar");
}

/// The desk says what the flow would do: 32 L/s in 200 mm are 1.0186 m/s, a velocity head of 52.9 mm, so that drawn out at least
/// 1.5 times that are missing, 79 mm.
#[test]
fn a_plan_says_what_the_flow_would_do() {
    let mut described = row(json!({}));
    described.riser_pipe =
        serde_json::from_value(json!({ "bore": "200 mm", "most_flow": "32 L/s" })).unwrap();
    let plan = plan(&described, &[]).unwrap();
    let note =
        plan.assumptions.iter().find(|remark| remark.text.starts_with("The liquid stands still")).unwrap();
    let drawn =
        note.text.split("would be off by -").nth(1).and_then(|rest| rest.split(" mm").next()).unwrap();
    assert!((79.0..160.0).contains(&drawn.parse().unwrap()), "{}", note.text);
    assert!(note.text.contains("Harmless, within a third of the tolerance: up to "), "{}", note.text);
}
