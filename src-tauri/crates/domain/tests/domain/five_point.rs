//! A five-point check in a visit, answered as a technician answers it.
//!
//! The tower reads in feet of its liquid, LRV 0 and URV 20 ft, and carries an offset of -20 ft; its tolerance of 2 in is
//! 2 / 240 = 0.8333 % of the span. A foot on the display is 5 % of the span.

use domain::visit::{
    Assessment, Choice, Claim, Draft, FivePoint, Grade, Instrument, Key, Moment, ResultKey, Spot, Step,
    assess, check_cautions,
};
use rstest::rstest;
use uom::si::ratio::percent;

fn tower() -> Instrument {
    let row = r#"{"tag":"LT-1","service":"tower","serial":"A1","unit":"ft","riser":"20 ft","riser_from":"tape",
        "site":{"name":"Sedge Hill","latitude":"40","altitude":"0 m","liquid_temperature":"15 degC","lengths":"ft"},
        "liquid":{"name":"water"},"span":"20 ft","lrv":"0","urv":"20","hatch":"25 ft",
        "limits":{"lrl":"-5 psi","url":"30 psi","min_span":"1 psi","max_working":"60 psi","accuracy":"0.05 %","zero_allowance":"0.02 psi"},
        "tolerance":"2 in","trim_rule":"true_at_zero","head_plan":"head_in_offset"}"#;
    serde_json::from_str(row).unwrap()
}

pub(crate) struct Bench {
    pub(crate) draft: Draft,
}

impl Bench {
    /// At the foot of the tower with a source of so much uncertainty.
    pub(crate) fn with_source(uncertainty: &str, applied: Choice) -> Bench {
        let mut bench = Bench { draft: Draft::begin(tower(), Moment(1_795_600_000_000)) };
        bench.says(Key::Display, "10.00");
        bench.says(Key::OffsetKnown, Choice::OffsetReadToday.word());
        bench.says(Key::OffsetValue, "-20.00");
        bench.says(Key::PressureSource, Choice::Yes.word());
        bench.says(Key::SourceName, "Hand pump 3");
        bench.says(Key::SourceUncertainty, uncertainty);
        bench.says(Key::AppliedAs, applied.word());
        bench
    }

    pub(crate) fn says(&mut self, key: Key, text: &str) {
        self.put(Spot::of(key), text);
    }

    pub(crate) fn put(&mut self, spot: Spot, text: &str) {
        self.draft.answers.put(spot, text.to_owned(), self.draft.begun);
    }

    pub(crate) fn takes(&mut self, points: &[(&str, &str, &str)]) {
        for (row, (applied, display, current)) in (0..).zip(points) {
            self.put(Spot::row(Key::CheckApplied, row), applied);
            self.put(Spot::row(Key::CheckDisplay, row), display);
            self.put(Spot::row(Key::CheckCurrent, row), current);
        }
    }

    pub(crate) fn sees(&self) -> Assessment {
        assess(&self.draft).unwrap()
    }

    pub(crate) fn check(&self) -> FivePoint {
        self.sees().check_found.unwrap()
    }
}

/// Levels 0, 10, 20, 10, 0 shown as 0.02, 10.04, 20.02, 10.06, 0.02 ft: +0.1, +0.2, +0.1, +0.3, +0.1 % of span.
#[test]
fn a_simulated_level_is_checked_up_and_down() {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    bench.takes(&[
        ("0", "0.02", ""),
        ("10", "10.04", "12.016"),
        ("20", "20.02", ""),
        ("10", "10.06", ""),
        ("0", "0.02", ""),
    ]);
    let check = bench.check();
    let says: Vec<_> = check.rows.iter().map(|row| (check.at(row), check.says(row).join(", "))).collect();
    assert_eq!(says[1], ("50 % up".into(), "display +0.200 %, loop current +0.100 %".into()));
    assert_eq!(says[3], ("50 % down".into(), "display +0.300 %".into()));
    assert_eq!(says[5], ("another".into(), String::new()), "the walk is done");
    let display = &check.checks[0];
    let part = |part: Option<uom::si::f64::Ratio>| part.unwrap().get::<percent>();
    assert!((part(display.findings.zero) - 0.1).abs() < 1e-9);
    assert!(part(display.findings.span).abs() < 1e-9);
    assert!((part(display.findings.hysteresis.map(|found| found.size)) - 0.1).abs() < 1e-9);
    assert!(
        display
            .verdict()
            .starts_with("By the display: worst +0.300 % of span at 50 % down; within tolerance, with room"),
        "{}",
        display.verdict()
    );
    // Source 0.05, a digit of 0.01 ft = 0.05 % over sqrt(3) = 0.0289: 0.0577. Tolerance 0.8333.
    assert!(display.rule().contains("0.833 % - 0.058 % = 0.776 % of span"), "{}", display.rule());
}

/// A pressure on the sensor should show as itself plus the offset: 20 ft of liquid show 0, 30 ft show 10.
#[test]
fn a_pressure_on_the_sensor_is_shown_less_the_offset() {
    let mut bench = Bench::with_source("0.05 %", Choice::AppliedPressure);
    bench.takes(&[("20", "0.00", ""), ("30", "10.10", "")]);
    let check = bench.check();
    assert_eq!(check.says(&check.rows[1]), ["display +0.500 %"]);
    let (text, unit) =
        check.to_apply(&bench.draft, bench.sees().conditions.gradient, &check.rows[2]).unwrap();
    assert_eq!((text.as_str(), unit.as_str()), ("35.00", "ft"), "75 % is 15 ft, and 20 ft for the offset");
}

/// A source that reads in kPa: 10 ft of water at 15 degC net of air are about 29.8 kPa.
#[test]
fn a_source_may_read_in_a_unit_of_its_own() {
    let mut bench = Bench::with_source("0.02 kPa", Choice::AppliedPressure);
    bench.says(Key::OffsetValue, "0");
    bench.says(Key::SourceUnit, "kPa");
    bench.takes(&[("0", "0.00", ""), ("29.83", "10.00", "")]);
    let check = bench.check();
    let error = check.rows[1].display.as_ref().unwrap().as_ref().unwrap().error().get::<percent>();
    assert!(error.abs() < 0.1, "{error}");
}

#[test]
fn with_the_offset_unknown_no_error_is_told() {
    let mut bench = Bench::with_source("0.05 %", Choice::AppliedPressure);
    bench.says(Key::OffsetKnown, Choice::OffsetUnknown.word());
    bench.takes(&[("20", "0.00", "4.00")]);
    let sees = bench.sees();
    assert!(sees.check_found.as_ref().unwrap().checks.is_empty());
    assert!(sees.remarks(Step::AsFound).iter().any(|said| said.code == "five_point.offset_unknown"));
}

#[rstest]
#[case::poor("0.30 %", "source is only 2.8 times better", true)]
#[case::far_too_poor("0.9 %", "not judged, uncertainty too large", true)]
#[case::good("0.05 %", "within tolerance, with room", false)]
fn a_poor_source_is_said(#[case] uncertainty: &str, #[case] verdict: &str, #[case] doubted: bool) {
    let mut bench = Bench::with_source(uncertainty, Choice::SimulatedLevel);
    bench.takes(&[("0", "0.00", ""), ("20", "20.00", "")]);
    let sees = bench.sees();
    let said = sees.check_found.as_ref().unwrap().checks[0].verdict();
    assert!(said.contains(verdict), "{said}");
    let doubt = sees.remarks(Step::AsFound).iter().any(|remark| remark.code == "five_point.source");
    assert_eq!(doubt, doubted);
}

#[rstest]
#[case::beyond_the_sensor(Choice::AppliedPressure, "80", "five_point.beyond_limits")]
#[case::below_the_sensor(Choice::AppliedPressure, "-20", "five_point.beyond_limits")]
fn what_may_not_be_applied_is_refused_and_kept(
    #[case] applied: Choice,
    #[case] text: &str,
    #[case] code: &str,
) {
    let mut bench = Bench::with_source("0.05 %", applied);
    bench.takes(&[(text, "10.00", "")]);
    let sees = bench.sees();
    let entry = sees.entries.at(Spot::row(Key::CheckApplied, 0)).unwrap();
    assert_eq!(entry.problem.as_ref().unwrap().code, code);
    assert!(sees.check_found.unwrap().checks.is_empty(), "no number comes of it");
}

/// 45 ft on the sensor are 25 ft on the display: 125 % of the range.
#[rstest]
#[case::pressure(Choice::AppliedPressure, "45")]
#[case::level(Choice::SimulatedLevel, "25")]
fn a_point_outside_the_range_is_said_and_stands_in_nobodys_way(#[case] applied: Choice, #[case] text: &str) {
    let mut bench = Bench::with_source("0.05 %", applied);
    let missing = bench.sees().missing(Step::AsFound).len();
    bench.takes(&[(text, "10.00", "")]);
    let check = bench.check();
    assert!(
        check.says(&check.rows[0])[0].starts_with("125 % of the range is outside it"),
        "{:?}",
        check.rows[0]
    );
    assert!(check.checks.is_empty(), "no number comes of it");
    assert_eq!(bench.sees().missing(Step::AsFound).len(), missing);
}

#[rstest]
#[case::bare("0.05")]
#[case::none("0 kPa")]
#[case::length("1 ft")]
fn an_uncertainty_needs_its_unit(#[case] text: &str) {
    let sees = Bench::with_source(text, Choice::SimulatedLevel).sees();
    let entry = sees.entries.at(Spot::of(Key::SourceUncertainty)).unwrap();
    assert!(entry.value.is_none() && entry.problem.is_some(), "{entry:?}");
}

#[test]
fn a_failed_current_is_told_and_left_out() {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    bench.takes(&[("0", "", "3.5"), ("10", "", "12.00")]);
    let check = bench.check();
    assert!(check.says(&check.rows[0])[0].contains("no level"), "{:?}", check.says(&check.rows[0]));
    assert_eq!(check.checks[0].findings.points.len(), 1);
}

#[test]
fn without_a_source_nothing_is_asked_or_cautioned() {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    let asked = |bench: &Bench| bench.sees().asks(&bench.draft, Step::AsFound).len();
    let cautions = |bench: &Bench| {
        let sees = bench.sees();
        check_cautions(&bench.draft, &sees.known, &sees.conditions, Step::AsFound)
    };
    let with = asked(&bench);
    let said = cautions(&bench);
    assert!(said.len() == 3 && said.iter().all(|caution| caution.grade == Grade::Danger), "{said:?}");
    bench.says(Key::PressureSource, Choice::No.word());
    // Source, uncertainty, what is applied, the meter, and a row of three.
    assert_eq!(asked(&bench), with - 7);
    assert!(bench.sees().check_found.is_none() && cautions(&bench).is_empty());
    bench.says(Key::PressureSource, "");
    let missing = bench.sees().missing(Step::AsFound).len();
    bench.says(Key::PressureSource, Choice::No.word());
    assert_eq!(bench.sees().missing(Step::AsFound).len(), missing, "the question may be left open");
}

#[test]
fn the_record_holds_errors_verdict_and_rule() {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    bench.takes(&[("0", "0.02", "4.00"), ("20", "20.40", "20.00")]);
    let sees = bench.sees();
    let working = sees.working(&bench.draft);
    let verdict =
        working.iter().find(|line| line.what == "five-point check as found, display: verdict").unwrap();
    // 0.4 ft is 2 % of the span, and the tolerance 0.83 %.
    assert!(verdict.value.contains("worst +2.000 % of span at 100 % up; outside tolerance"), "{verdict:?}");
    assert!(verdict.how.contains("ILAC-G8:09/2019"), "{verdict:?}");
    assert!(sees.remarks(Step::AsFound).iter().any(|said| said.code == "five_point.found_outside"));
}

#[test]
fn numbers_of_the_results_are_their_own() {
    let codes: Vec<u16> =
        ResultKey::ALL.iter().map(|key| key.code()).filter(|code| (60..80).contains(code)).collect();
    assert_eq!(codes, (60..80).collect::<Vec<_>>());
}

/// After a trim that took, the rows as left.
pub(crate) fn left(bench: &mut Bench, points: &[(&str, &str, &str)]) {
    bench.says(Key::Decision, Choice::Trim.word());
    bench.says(Key::TrimResult, Choice::TrimTook.word());
    for (row, (applied, display, current)) in (0..).zip(points) {
        bench.put(Spot::row(Key::CheckAppliedLeft, row), applied);
        bench.put(Spot::row(Key::CheckDisplayLeft, row), display);
        bench.put(Spot::row(Key::CheckCurrentLeft, row), current);
    }
}

fn result(sees: &Assessment, draft: &Draft, key: ResultKey) -> Option<f64> {
    sees.results(draft).iter().find(|line| line.key == key).map(|line| line.value.value.to_f64())
}

/// The tolerance is 0.833 %, its guard band 0.058 % wide: up to 0.776 % there is room, from 0.891 % on there is no doubt.
#[rstest]
#[case::room("20.15", 0.0, None)]
#[case::little_room("20.16", 1.0, None)]
#[case::maybe_outside("20.17", 2.0, Some(Claim::Nothing))]
#[case::outside("20.18", 3.0, Some(Claim::UnitOff))]
#[case::outside_below("19.82", 3.0, Some(Claim::UnitOff))]
fn a_verdict_has_its_number_and_claims_only_what_is_beyond_doubt(
    #[case] display: &str,
    #[case] number: f64,
    #[case] claim: Option<Claim>,
) {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    bench.takes(&[("0", "0.00", ""), ("20", display, "")]);
    left(&mut bench, &[("0", "0.00", ""), ("20", display, "")]);
    let sees = bench.sees();
    for (step, code, key) in [
        (Step::AsFound, "five_point.found_outside", ResultKey::CheckFoundVerdict),
        (Step::AsLeft, "five_point.left_outside", ResultKey::CheckLeftVerdict),
    ] {
        assert_eq!(result(&sees, &bench.draft, key), Some(number));
        let said = sees.remarks(step).iter().find(|said| said.code == code);
        assert_eq!(said.map(|said| said.claim), claim, "{said:?}");
    }
}

/// The meter is good to 0.02 mA, 0.125 % of 16 mA; currents were read to 0.01 mA, 0.0625 %, over root three 0.0361 %; with
/// the source 0.05 %. Together 0.1394 %, without the meter 0.0617 %.
#[rstest]
#[case::meter("0.02", "0.833 % - 0.139 % = 0.694 % of span")]
#[case::no_meter("", "0.833 % - 0.062 % = 0.772 % of span")]
#[case::nobodys_meter("0", "0.833 % - 0.062 % = 0.772 % of span")]
fn a_current_is_judged_with_its_meter_and_a_display_without(#[case] meter: &str, #[case] rule: &str) {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    bench.says(Key::MeterUncertainty, meter);
    // One who writes 12.0 left a nought out.
    bench.takes(&[("0", "0.0", "4.00"), ("10", "10.00", "12.0"), ("20", "20.00", "20.00")]);
    let [display, current] = bench.check().checks.try_into().unwrap();
    assert!(!display.by_current && display.rule().contains("0.833 % - 0.058 % = 0.776 % of span"));
    assert!(current.by_current && current.rule().contains(rule), "{}", current.rule());
}

/// On the display 0.1 and 0.2 % at the bottom, 0.3 % at the top; on the loop 0.05, 0.15 and 0.2 %.
#[rstest]
#[case::found(false, [60, 61, 62, 63, 64], [65, 66, 67, 68, 69])]
#[case::left(true, [70, 71, 72, 73, 74], [75, 76, 77, 78, 79])]
fn a_record_keeps_zero_span_hysteresis_worst_and_verdict_of_each(
    #[case] as_left: bool,
    #[case] display: [u16; 5],
    #[case] current: [u16; 5],
) {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    let points = [("0", "0.02", "4.008"), ("20", "20.06", "20.032"), ("0", "0.04", "4.024")];
    if as_left {
        left(&mut bench, &points);
    } else {
        bench.takes(&points);
    }
    let results = bench.sees().results(&bench.draft);
    let kept = results.iter().filter(|line| (60..80).contains(&line.key.code()));
    let kept: Vec<_> =
        kept.map(|line| (line.key.code(), line.value.value.to_f64(), line.value.unit.clone())).collect();
    let numbers = [[0.15, 0.15, 0.1, 0.3, 0.0], [0.1, 0.1, 0.1, 0.2, 0.0]];
    let mut expected = Vec::new();
    for (codes, numbers) in [display, current].into_iter().zip(numbers) {
        let units = ["%", "%", "%", "%", "1"].map(str::to_owned);
        expected.extend(
            codes.into_iter().zip(numbers).zip(units).map(|((code, number), unit)| (code, number, unit)),
        );
    }
    assert_eq!(kept, expected);
}

/// The means are 0.1 % at 0, 0.25 % at 50 and 0.2 % at 100 %: half-way stands 0.1 % off the line through the ends, and
/// 0.05 % off the line that is nearest to all.
#[test]
fn the_working_of_a_check_is_told_line_by_line() {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    bench.takes(&[
        ("0", "0.02", ""),
        ("10", "10.04", "12.016"),
        ("20", "20.04", ""),
        ("10", "10.06", ""),
        ("0", "0.02", ""),
    ]);
    let working = bench.sees().working(&bench.draft);
    let lines = |by: &str| {
        let heading = format!("five-point check as found, {by}: ");
        let own = working.iter().filter_map(|line| Some((line.what.strip_prefix(&heading)?, line)));
        own.map(|(what, line)| format!("{what} | {} | {}", line.how, line.value)).collect::<Vec<_>>()
    };
    let display = lines("display");
    let expected = [
        "0 % up | 0.00 ft due | +0.100 %",
        "50 % up | 10.00 ft due | +0.200 %",
        "100 % up | 20.00 ft due | +0.200 %",
        "50 % down | 10.00 ft due | +0.300 %",
        "0 % down | 0.00 ft due | +0.100 %",
        "zero error | mean error at 0 % | +0.100 %",
        "span error | mean error at 100 % less that at 0 % | +0.100 %",
        "hysteresis | down less up, largest at 50 % | 0.100 %",
        "terminal-based nonlinearity | from the line through the means at 0 and 100 % | 0.100 %",
        "independent nonlinearity | from the line nearest to all means | 0.050 %",
    ];
    assert_eq!(display[..10], expected);
    assert!(display.len() == 11 && display[10].starts_with("verdict | Rule (ILAC-G8:09/2019"), "{display:?}");
    let current = lines("loop current");
    assert_eq!(current[0], "50 % up | 10.00 ft due, 12.000 mA | +0.100 %");
}

/// Both ends are 0.1 % off, so the span is not, but for what a computer's last digit makes of it: that has no sign of its own.
#[test]
fn no_error_has_a_plus() {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    bench.takes(&[("0", "0.02", ""), ("20", "20.02", ""), ("0", "0.02", "")]);
    let working = bench.sees().working(&bench.draft);
    let span =
        working.iter().find(|line| line.what == "five-point check as found, display: span error").unwrap();
    assert_eq!(span.value, "+0.000 %");
}

#[rstest]
// hypot(0.30, 0.0289) and hypot(0.9, 0.0289); 0.8333 over 0.3 and over 0.9.
#[case::poor(
    "0.30 %",
    "within tolerance, with room for the uncertainty (± 0.301 % at 95 %; the source is only 2.8 times better than the tolerance).",
    "within tolerance when no error is more than 0.833 % - 0.301 % = 0.532 % of span; the uncertainty is expanded at 95 %, k = 2."
)]
#[case::far_too_poor(
    "0.9 %",
    "not judged, uncertainty too large (± 0.900 % at 95 %; the source is only 0.9 times better than the tolerance).",
    "Rule: an uncertainty of 0.900 % (95 %) is not smaller than the tolerance of 0.833 % of span, so nothing is judged by it."
)]
#[case::not_known("", "not judged, the source's uncertainty is not known.", "")]
fn how_sure_a_verdict_is_stands_beside_it(#[case] source: &str, #[case] verdict: &str, #[case] rule: &str) {
    let mut bench = Bench::with_source(source, Choice::SimulatedLevel);
    bench.takes(&[("0", "0.00", ""), ("20", "19.99", "")]);
    let check = &bench.check().checks[0];
    let worst = "By the display: worst -0.050 % of span at 100 % up; ";
    assert_eq!(check.verdict(), format!("{worst}{verdict}"));
    assert!(check.rule().ends_with(rule) && check.rule().is_empty() == rule.is_empty(), "{}", check.rule());
}

/// A dip of 9 ft under a display of 10 ft: the trim takes a foot more out, so 21 ft of pressure stand for an empty tank.
#[test]
fn as_left_the_new_offset_counts() {
    let mut bench = Bench::with_source("0.05 %", Choice::AppliedPressure);
    bench.says(Key::StandingHeadAt, Choice::HeadInOffset.word());
    let id = bench.draft.add_piece(domain::visit::PieceKind::Dip, domain::visit::Timing::Before);
    for row in 0..3 {
        bench.put(Spot::piece(id, Key::Dip, row), "9 ft 0 in");
    }
    assert!(bench.sees().check_left.is_none(), "nothing was trimmed");
    left(&mut bench, &[("21", "0.02", ""), ("31", "10.02", "")]);
    let sees = bench.sees();
    let (found, check) = (sees.check_found.as_ref().unwrap(), sees.check_left.as_ref().unwrap());
    assert_eq!(check.says(&check.rows[1]), ["display +0.100 %"]);
    let first = |check: &FivePoint| check.to_apply(&bench.draft, sees.conditions.gradient, &check.rows[0]);
    assert_eq!(first(check).unwrap().0, "21.00");
    assert_eq!(first(found).unwrap().0, "20.00");
}

#[rstest]
#[case::unknown_and_applied(Choice::OffsetUnknown, "20", true)]
#[case::unknown_and_nothing_applied(Choice::OffsetUnknown, "", false)]
#[case::known_and_applied(Choice::OffsetReadToday, "20", false)]
fn an_unknown_offset_is_said_once_something_is_applied(
    #[case] known: Choice,
    #[case] applied: &str,
    #[case] said: bool,
) {
    let mut bench = Bench::with_source("0.05 %", Choice::AppliedPressure);
    bench.says(Key::OffsetKnown, known.word());
    bench.takes(&[(applied, "0.00", "")][..usize::from(!applied.is_empty())]);
    let sees = bench.sees();
    assert_eq!(
        sees.remarks(Step::AsFound).iter().any(|remark| remark.code == "five_point.offset_unknown"),
        said
    );
}
