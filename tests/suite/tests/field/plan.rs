//! An instrument planned at the desk, against numbers worked out by hand.

use field::view::PlanWay;
use rstest::rstest;
use serde_json::json;

use crate::desk::Desk;

/// The number in front of a unit: `+57.33 ft` is 57.33.
fn number(text: &str) -> f64 {
    text.split_whitespace().next().unwrap().parse().unwrap()
}

/// Water at 52 degF is 999.596 kg/m3 (Tanaka 2001: 999.7026 at 10 and 999.4979 at 12 degC, 11.11 degC between them),
/// the air at 412 m about 1.17, gravity at 39.2 deg and 412 m 9.8000 m/s2 (WGS 84): 9784.5 Pa a metre. The riser of
/// 31 ft 4 in is 9.5504 m, the span of 26 ft 7.9248 m: 93.45 and 170.99 kPa, 13.553 and 24.800 psi.
#[test]
fn the_tower_is_planned_by_its_own_measures() {
    let plan = Desk::ready().phone.plan("LT-2041").unwrap();
    assert!((number(&plan.at_zero.value) - 13.553).abs() < 0.01, "{}", plan.at_zero.value);
    assert!((number(&plan.at_full.value) - 24.800).abs() < 0.01, "{}", plan.at_full.value);
    // 31 ft 4 in.
    assert_eq!(plan.standing_head.value, "+31.33 ft");
    let [trimmed, raw] = plan.ranges.as_slice() else { panic!("two ways") };
    assert!(trimmed.wanted && trimmed.way == PlanWay::Trimmed && raw.way == PlanWay::Raw);
    assert_eq!(
        (trimmed.lrv.as_str(), trimmed.urv.as_str(), trimmed.offset.as_str()),
        ("+0.00 ft", "+26.00 ft", "-31.33 ft")
    );
    assert_eq!(
        (raw.lrv.as_str(), raw.urv.as_str(), raw.offset.as_str()),
        ("+31.33 ft", "+57.33 ft", "+0.00 ft")
    );
    assert!(raw.wording.contains("suppressed zero"), "{}", raw.wording);
    // Half of 26 ft at half of 4 to 20 mA; raw, the display shows the riser as well.
    let middle = |range: &field::view::PlanRange| {
        let point = &range.points[2];
        (point.part.clone(), point.display.clone(), point.current.clone(), point.control_room.clone())
    };
    let at = |display: &str| {
        ("50\u{a0}%".to_owned(), display.to_owned(), "12.00".to_owned(), "13 ft 0 in".to_owned())
    };
    assert_eq!(middle(trimmed), at("13.00"));
    assert_eq!(middle(raw), at("44.33"));
}

/// 24.80 psi at the top: 10 psi is too small; 300 psi may be turned down 20 times, and 11.25 psi of span is a 26.7th.
#[test]
fn sensors_that_fit_come_first_and_misfits_say_why() {
    let plan = Desk::ready().phone.plan("LT-2041").unwrap();
    let names: Vec<_> = plan.sensors.iter().map(|one| (one.name.as_str(), one.fits)).collect();
    let expected = [
        ("As fitted now", true),
        ("MW-30, 30 psi", true),
        ("MW-50, 50 psi", true),
        ("MW-02, 250 mbar", false),
        ("MW-10, 10 psi", false),
        ("MW-300, 300 psi", false),
    ];
    assert_eq!(names, expected);
    assert!(plan.sensors[0].fitted && !plan.sensors[1].fitted);
    let says = |at: usize| plan.sensors[at].reasons.join(" ");
    assert!(says(4).contains("above its URL of 10 psi"), "{}", says(4));
    assert!(says(4).contains("Trim limit"), "{}", says(4));
    assert!(says(5).contains("26.7 times the span; 20.0 times is the most"), "{}", says(5));
    // 0.05 % of 30 psi is 103.4 Pa with k = 2, 0.02 psi over root 3 is 79.6 Pa: 2 root(51.7^2 + 79.6^2) = 189.9 Pa,
    // on 9784.5 Pa a metre 19.4 mm = 0.764 in, and 0.245 % of 7924.8 mm.
    assert_eq!(plan.sensors[0].error, "± 0.76 in (0.24 % of span)");
}

/// A surge of 40 psi on top of the overflow's 25.0 psi is 65 psi: the sensors that take 60 do not fit, and each thing that would
/// be too much is named. 31 ft 4 in and 26 ft 6 in are 17.6276 m of 9784.5 Pa: 172.48 kPa, 25.016 psi.
#[test]
fn a_surge_is_held_against_every_sensor() {
    let desk = Desk::new();
    let mut file: serde_json::Value = serde_json::from_slice(kit::register()).unwrap();
    file["instruments"][0]["overpressure"] = json!({ "surge": "40 psi", "hydrotest": "150 psi" });
    assert_eq!(desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap().problems, []);
    let plan = desk.phone.plan("LT-2041").unwrap();
    assert_eq!(plan.highest.value, "150 psi");
    assert!(plan.highest.echo.contains("a surge on top of the highest level 65.01"), "{}", plan.highest.echo);
    let fitted = plan.sensors.iter().find(|one| one.fitted).unwrap();
    assert!(!fitted.fits);
    let said = fitted.reasons.join(" ");
    assert!(said.contains("a surge on top of the highest level brings 65.01"), "{said}");
    assert!(said.contains("a pressure test of the line brings 150 psi; 60 psi is its maximum"), "{said}");
    let open = plan.assumptions.iter().find(|message| message.text.starts_with("Not counted")).unwrap();
    assert!(
        open.text.contains("a pump against a shut valve") && !open.text.contains("surge"),
        "{}",
        open.text
    );
}

/// The boiler house's limits are in mbar, the tower's in bar: about a millimetre of water is shown of either.
#[test]
fn pressures_have_digits_to_act_on() {
    let desk = Desk::ready();
    let tower = desk.phone.plan("LT-3107").unwrap();
    // 14.62 m of water at 11 degC (999.6 kg/m3 less air) under 9.811 m/s2 are 143.2 kPa.
    let digits = |text: &str| text.split_whitespace().next().unwrap().split('.').nth(1).map_or(0, str::len);
    assert!(
        tower.at_zero.value.starts_with("1.432") && digits(&tower.at_zero.value) == 4,
        "{}",
        tower.at_zero.value
    );
    let fitted = tower.sensors.iter().find(|one| one.fitted).unwrap();
    assert_eq!(fitted.range, "-2.5 bar to 2.5 bar");
}

/// Water at 71 degF (21.67 degC) is 997.85 kg/m3 (Tanaka 2001: 997.8478), 1.748 less than at 52 degF: of the 998.43
/// that count here beside the air 0.1751 %, which on 31 ft 4 in is 0.658 in and on 57 ft 4 in 1.205 in.
#[test]
fn the_year_is_told_over_the_span() {
    let left = Desk::ready().phone.plan("LT-2041").unwrap().left.unwrap();
    let (empty, full) = (&left.points[0], &left.points[4]);
    assert!((number(&empty.warmest) + 0.658).abs() < 0.01, "{}", empty.warmest);
    assert!((number(&full.warmest) + 1.205).abs() < 0.01, "{}", full.warmest);
    assert!(number(&full.today).abs() < 0.005 && full.uncertainty.is_empty());
    // 1.20 in is more than a third of 1 1/2 in: half of it is taken by moving both ends.
    let corrected = left.corrected.unwrap();
    assert_eq!((corrected.lrv.as_str(), corrected.urv.as_str()), ("-0.02 ft", "+25.96 ft"));
    assert!(left.messages.iter().any(|message| message.code == "after.best_trim"));
}

#[test]
fn a_transmitter_above_the_zero_has_a_negative_lrv() {
    let plan = Desk::ready().phone.plan("LT-4012").unwrap();
    // 0.85 m of 9794.9 Pa a metre: 83.26 mbar. The register wants the range to take it.
    assert_eq!(plan.ranges[0].way, PlanWay::Raw);
    assert!((number(&plan.ranges[0].lrv) + 83.26).abs() < 0.05, "{}", plan.ranges[0].lrv);
    assert!(plan.ranges[0].wording.starts_with("negative LRV"), "{}", plan.ranges[0].wording);
}

#[test]
fn what_may_not_be_visited_is_planned_all_the_same() {
    let desk = Desk::ready();
    let plan = desk.phone.plan("LT-5003").unwrap();
    assert_eq!(plan.refusal.unwrap().code, "refused.safety_function");
    // By hand, g 9.8146 m/s2: 962 kg/m3 over 0.30 m and steam (1.07 kg/m3 at 1.8 bar, 95 degC) over 1.25 m, less 992.2
    // kg/m3 (water at 40 degC) over 1.55 m, is -122.5 mbar; 1.20 m of condensate less steam adds 113.2 mbar.
    assert!((number(&plan.at_zero.value) + 122.5).abs() < 0.2, "{}", plan.at_zero.value);
    assert!((number(&plan.at_full.value) + 9.3).abs() < 0.2, "{}", plan.at_full.value);
    assert!(desk.phone.plan("LT-9999").is_err());
}

#[test]
fn a_remote_seal_is_planned_with_its_fill() {
    let desk = Desk::ready();
    let plan = desk.phone.plan("LT-4020").unwrap();
    assert!(plan.refusal.is_none());
    // By hand, g 9.8146 m/s2: 0.10 m of brine (1180.5 kg/m3 at 14 degC) and 1.10 m of oil (850.7 kg/m3), less 1.20 m of
    // air, is 103.3 mbar; 3.00 m of brine less air adds 347.2 mbar.
    assert!((number(&plan.at_zero.value) - 103.3).abs() < 0.2, "{}", plan.at_zero.value);
    assert!((number(&plan.at_full.value) - 450.5).abs() < 0.3, "{}", plan.at_full.value);
}

#[rstest]
#[case::no_unit("url", json!("30"), "sensor_ranges.url")]
#[case::number("url", json!(30), "sensor_ranges.url")]
#[case::misspelt("ulr", json!("30 psi"), "sensor_ranges.ulr")]
#[case::same_name("name", json!("MW-02, 250 mbar"), "sensor_ranges.name")]
fn a_bad_sensor_range_is_named_and_the_rest_loads(
    #[case] put: &str,
    #[case] value: serde_json::Value,
    #[case] field: &str,
) {
    let desk = Desk::new();
    let mut file: serde_json::Value = serde_json::from_slice(kit::register()).unwrap();
    let instruments = file["instruments"].as_array().unwrap().len();
    file["sensor_ranges"][2].as_object_mut().unwrap().insert(put.into(), value);
    let report = desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    assert_eq!(report.loaded, u32::try_from(instruments).unwrap());
    let [problem] = report.problems.as_slice() else { panic!("{:?}", report.problems) };
    assert_eq!((problem.row, problem.field.as_str()), (3, field), "{problem:?}");
    let plan = desk.phone.plan("LT-2041").unwrap();
    assert!(plan.sensors.iter().all(|one| one.name != "MW-30, 30 psi"));
    assert!(plan.sensors.iter().any(|one| one.name == "MW-50, 50 psi"));
}

#[test]
fn an_older_register_has_no_table_and_takes_the_old_one_away() {
    let desk = Desk::ready();
    let mut file: serde_json::Value = serde_json::from_slice(kit::register()).unwrap();
    file.as_object_mut().unwrap().remove("sensor_ranges");
    desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    let plan = desk.phone.plan("LT-2041").unwrap();
    assert_eq!(plan.sensors.len(), 1);
}
