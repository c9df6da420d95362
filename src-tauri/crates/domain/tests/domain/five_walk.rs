//! How a five-point check is gone about: its rows, what is to be applied next, and what the sensor cannot take.

use domain::visit::{Choice, Earlier, Key, Spot, Step, check_cautions};
use rstest::rstest;

use crate::five_point::{Bench, left};
use crate::tower::visit;

/// A pressure on the sensor shows as itself plus what the unit carries: read today, cleared, on record, or not known.
#[rstest]
#[case::read(Choice::OffsetReadToday, "-20.00", "", Some("20.00"))]
#[case::cleared(Choice::OffsetClearedToday, "-20.00", "", Some("0.00"))]
#[case::typed_off_a_record(Choice::OffsetFromRecord, "-19.00", "", Some("19.00"))]
#[case::not_asked_where_one_is_on_record(Choice::OffsetFromRecord, "-19.00", "-18.00", Some("18.00"))]
#[case::on_record(Choice::OffsetFromRecord, "", "-18.00", Some("18.00"))]
#[case::nothing_on_record(Choice::OffsetFromRecord, "", "", None)]
#[case::unknown(Choice::OffsetUnknown, "-20.00", "-18.00", None)]
fn what_is_to_be_applied_for_an_empty_tank_is_what_the_unit_takes_out(
    #[case] known: Choice,
    #[case] typed: &str,
    #[case] recorded: &str,
    #[case] applied: Option<&str>,
) {
    let mut bench = Bench::with_source("0.05 %", Choice::AppliedPressure);
    bench.draft.instrument.offset_on_record = recorded.into();
    bench.says(Key::OffsetKnown, known.word());
    bench.says(Key::OffsetValue, typed);
    let check = bench.check();
    let to_apply = check.to_apply(&bench.draft, bench.sees().conditions.gradient, &check.rows[0]);
    assert_eq!(to_apply.map(|(number, _)| number).as_deref(), applied);
}

/// The last visit left -20.20 ft in the unit; the register still has the -19.00 ft of 2024.
#[rstest]
#[case::the_visit_is_newer("2025-11-20", "A1", "2024-05-02", "20.20")]
#[case::the_register_is_newer("2025-11-20", "A1", "2026-01-07", "19.00")]
#[case::the_register_says_no_date("2025-11-20", "A1", "", "20.20")]
#[case::the_visit_was_to_another_unit("2025-11-20", "B9", "2024-05-02", "19.00")]
fn as_found_a_pressure_shows_what_the_last_visit_left(
    #[case] visited: &str,
    #[case] serial: &str,
    #[case] written: &str,
    #[case] applied: &str,
) {
    let mut bench = Bench::with_source("0.05 %", Choice::AppliedPressure);
    bench.draft.instrument.offset_on_record = "-19.00".into();
    bench.draft.instrument.offset_date = written.into();
    let left = Earlier { left: "-20.20 ft".into(), serial: serial.into(), ..visit(visited, -20.20) };
    bench.draft.instrument.earlier = vec![left];
    bench.says(Key::OffsetKnown, Choice::OffsetFromRecord.word());
    bench.says(Key::OffsetValue, "");
    let (check, seen) = (bench.check(), bench.sees());
    let to_apply = check.to_apply(&bench.draft, seen.conditions.gradient, &check.rows[0]);
    assert_eq!(to_apply.map(|(number, _)| number).as_deref(), Some(applied));
    assert!(!seen.asks(&bench.draft, Step::AsFound).iter().any(|ask| ask.spot.key == Key::OffsetValue));
}

#[rstest]
#[case::level("ft", Choice::SimulatedLevel, &[])]
#[case::pressure("ft", Choice::AppliedPressure, &["ft", "psi", "kPa", "mbar", "inH2O"])]
#[case::a_display_in_one_of_them("kPa", Choice::AppliedPressure, &["kPa", "psi", "mbar", "inH2O"])]
fn the_units_of_a_source_are_offered_once_each(
    #[case] unit: &str,
    #[case] applied: Choice,
    #[case] offered: &[&str],
) {
    let mut bench = Bench::with_source("0.05 %", applied);
    bench.draft.instrument.unit = unit.into();
    let asks = bench.sees().asks(&bench.draft, Step::AsFound);
    let units = asks.iter().find(|ask| ask.spot.key == Key::SourceUnit).map(|ask| &ask.takes);
    let units = match units {
        Some(domain::visit::Takes::Choice(units)) => units.iter().map(|unit| unit.value.as_str()).collect(),
        _ => Vec::new(),
    };
    assert_eq!(units, offered);
}

/// One empty row follows the last one filled, up to forty; as left there is none before a trim that took.
#[test]
fn rows_are_asked_one_after_the_other() {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    let rows = |bench: &Bench, step, key| {
        bench.sees().asks(&bench.draft, step).iter().filter(|ask| ask.spot.key == key).count()
    };
    let found = |bench: &Bench| rows(bench, Step::AsFound, Key::CheckApplied);
    assert_eq!((found(&bench), bench.check().rows.len()), (1, 1));
    bench.put(Spot::row(Key::CheckCurrent, 2), "4.00");
    assert_eq!((found(&bench), bench.check().rows.len()), (4, 4));
    let filled: Vec<bool> = bench.check().rows.iter().map(|row| row.filled).collect();
    assert_eq!(filled, [true, true, true, false]);
    bench.put(Spot::row(Key::CheckApplied, 39), "0");
    assert_eq!((found(&bench), bench.check().rows.len()), (40, 40));
    let as_left = |bench: &Bench| rows(bench, Step::AsLeft, Key::CheckAppliedLeft);
    bench.says(Key::Decision, Choice::Trim.word());
    assert_eq!(as_left(&bench), 0);
    bench.says(Key::TrimResult, Choice::TrimTook.word());
    assert_eq!(as_left(&bench), 1);
    bench.says(Key::Decision, Choice::Leave.word());
    assert_eq!(as_left(&bench), 0);
}

/// Up to the top and back: what the walk wants next, and which way it goes.
#[test]
fn the_walk_goes_up_and_down_by_quarters() {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    let mut places = Vec::new();
    for (row, applied) in (0..).zip(["0", "5", "10", "15", "20", "15", "10", "5", "0"]) {
        let check = bench.check();
        places.push(check.at(check.rows.last().unwrap()));
        bench.put(Spot::row(Key::CheckApplied, row), applied);
    }
    let check = bench.check();
    places.push(check.at(check.rows.last().unwrap()));
    assert_eq!(
        places,
        [
            "0 % up",
            "25 % up",
            "50 % up",
            "75 % up",
            "100 % up",
            "75 % down",
            "50 % down",
            "25 % down",
            "0 % down",
            "another"
        ]
    );
}

/// A range of 4 to 20 ft: its first quarter ends at 8 ft.
#[test]
fn what_is_applied_next_goes_up_from_the_lrv() {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    bench.draft.instrument.lrv = "4".into();
    bench.takes(&[("4", "4.00", "")]);
    let check = bench.check();
    let (text, unit) =
        check.to_apply(&bench.draft, bench.sees().conditions.gradient, &check.rows[1]).unwrap();
    assert_eq!((text.as_str(), unit.as_str()), ("8.00", "ft"));
}

/// 30 psi are 69.4 ft of this water, 2981 Pa each, and 60 psi 138.8 ft.
#[test]
fn the_sensors_limits_are_told_before_the_source_is_connected() {
    let mut bench = Bench::with_source("0.05 %", Choice::SimulatedLevel);
    let told = |bench: &Bench, step| {
        let sees = bench.sees();
        check_cautions(&bench.draft, &sees.known, &sees.conditions, step)
    };
    let text = "Never over-range it: the sensor reads to 69.38 ft and stands 138.76 ft at most.";
    assert_eq!(told(&bench, Step::AsFound)[1].text, text);
    assert!(told(&bench, Step::Shift).is_empty() && told(&bench, Step::AsLeft).is_empty());
    left(&mut bench, &[]);
    assert_eq!(told(&bench, Step::AsLeft).len(), 3);
}

/// The sensor takes -5 to 30 psi, -11.56 to 69.38 ft; what it is over-ranged by is the smaller of range and strength.
#[rstest]
#[case::least("-11.5", "60 psi", false)]
#[case::below("-11.6", "60 psi", true)]
#[case::most("69.3", "60 psi", false)]
#[case::above("69.5", "60 psi", true)]
#[case::weaker_than_it_reads("47", "20 psi", true)]
#[case::just_the_least("-5 psi", "60 psi", false)]
#[case::just_the_most("30 psi", "60 psi", false)]
fn what_the_sensor_cannot_take_is_not_applied(
    #[case] applied: &str,
    #[case] stands: &str,
    #[case] beyond: bool,
) {
    let mut bench = Bench::with_source("0.05 %", Choice::AppliedPressure);
    bench.draft.instrument.limits.max_working = stands.into();
    let (applied, unit) = applied.split_once(' ').unwrap_or((applied, "ft"));
    bench.says(Key::SourceUnit, unit);
    bench.takes(&[(applied, "", "")]);
    left(&mut bench, &[(applied, "", "")]);
    for key in [Key::CheckApplied, Key::CheckAppliedLeft] {
        let sees = bench.sees();
        let problem = sees.entries.at(Spot::row(key, 0)).unwrap().problem.as_ref();
        assert_eq!(
            problem.is_some_and(|problem| problem.code == "five_point.beyond_limits"),
            beyond,
            "{problem:?}"
        );
    }
}

/// What is asked because a source is at hand belongs to the check, and nothing else does.
#[test]
fn what_belongs_to_a_check_is_what_a_source_adds() {
    let mut bench = Bench::with_source("0.05 %", Choice::AppliedPressure);
    left(&mut bench, &[]);
    let keys = |bench: &Bench, step| -> Vec<Key> {
        bench.sees().asks(&bench.draft, step).iter().map(|ask| ask.spot.key).collect()
    };
    let with: Vec<_> = [Step::AsFound, Step::AsLeft].map(|step| keys(&bench, step)).concat();
    bench.says(Key::PressureSource, Choice::No.word());
    let without: Vec<_> = [Step::AsFound, Step::AsLeft].map(|step| keys(&bench, step)).concat();
    for key in with {
        let added = key == Key::PressureSource || !without.contains(&key);
        assert_eq!(domain::visit::belongs_to_check(key), added, "{key:?}");
    }
}
