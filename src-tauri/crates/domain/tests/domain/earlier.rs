//! Earlier visits: as evidence, as the offset on record, and together as a history.

use domain::evidence::Amount;
use domain::history::{Fresh, NotJudged};
use domain::visit::{
    Choice, Draft, Earlier, Instrument, Key, Known, Moment, Past, PieceKind, ResultKey, Show, Spot, Step,
    Timing, assess, told,
};
use rstest::rstest;
use uom::si::length::foot;
use uom::si::pressure::pascal;

use crate::tower::{TODAY, draft, three, tower, visit};

fn leaning(mut draft: Draft, same: &str) -> Draft {
    let id = draft.add_piece(PieceKind::EarlierVisit, Timing::Before);
    draft.answers.put(Spot::piece(id, Key::EarlierSame, 0), same.into(), Moment(TODAY + 90_000));
    draft
}

fn without_offset(date: &str) -> Earlier {
    Earlier { offset: String::new(), uncertainty: String::new(), ..visit(date, 0.0) }
}

fn moved(visit: Earlier) -> Earlier {
    Earlier { moved: true, ..visit }
}

#[test]
fn an_earlier_visit_with_the_offset_read_gives_a_shift() {
    let seen = assess(&leaning(draft(tower(three()), Choice::OffsetReadToday), "yes")).unwrap();
    let result = seen.shift.result.as_deref().expect("a shift");
    let shift = seen.known.unit.reading(result.shift.value, seen.conditions.gradient);
    // The last visit called for -20.10 ft at 999.1 kg/m3; today's 999.10 at 15 degC moves that by under 0.001 ft.
    assert!((shift + 20.10).abs() < 2e-3, "{shift}");
    // The zero may have moved by 0.02 psi, 0.046 ft; drift so far makes up to about 0.09 ft in a year likely.
    let sure = seen.known.unit.reading(result.shift.expanded, seen.conditions.gradient);
    assert!((0.05..0.25).contains(&sure), "{sure}");
}

#[rstest]
#[case::no_visit(Vec::new(), "A1", "No earlier visit")]
#[case::another_unit(three(), "B9", "Another unit")]
#[case::clock(vec![visit("2025-11-24", -20.0), visit("2024-11-24", -20.0)], "A1", "contradict")]
#[case::moved_since(vec![visit("2024-11-24", -20.0), moved(without_offset("2025-11-24"))], "A1", "was moved or changed after")]
#[case::changed_since(
    vec![visit("2024-11-24", -20.0), Earlier { serial: "B9".into(), ..without_offset("2025-11-24") }],
    "A1",
    "was moved or changed after"
)]
fn void_visits_are_refused(#[case] earlier: Vec<Earlier>, #[case] serial: &str, #[case] why: &str) {
    let mut draft = leaning(draft(tower(earlier), Choice::OffsetReadToday), "yes");
    draft.answers.put(Spot::of(Key::SerialRead), serial.into(), Moment(TODAY));
    let seen = assess(&draft).unwrap();
    assert!(seen.shift.result.is_none());
    let said = seen.piece_remarks(draft.pieces[0].id);
    assert!(said.iter().any(|remark| remark.code == "earlier.void" && remark.text.contains(why)), "{said:?}");
    assert!(!seen.complete(Step::Evidence));
    assert!(seen.earlier_counts(&draft).unwrap_err().contains(why));
}

#[test]
fn a_visit_to_this_unit_counts_until_another_is_fitted() {
    let mut draft = draft(tower(three()), Choice::OffsetReadToday);
    assert_eq!(assess(&draft).unwrap().earlier_counts(&draft), Ok(()));
    // Neither a visit that says no serial nor a plate that nobody read is another unit.
    draft.answers.put(Spot::of(Key::SerialRead), String::new(), Moment(TODAY));
    assert_eq!(assess(&draft).unwrap().earlier_counts(&draft), Ok(()));
    let nameless = Earlier { serial: String::new(), ..visit("2025-11-24", -20.0) };
    draft.instrument.earlier = vec![nameless];
    assert_eq!(assess(&draft).unwrap().earlier_counts(&draft), Ok(()));
    draft.instrument.earlier = three();
    draft.answers.put(Spot::of(Key::SerialRead), "B9".into(), Moment(TODAY));
    assert!(assess(&draft).unwrap().earlier_counts(&draft).is_err());
}

/// With the carried offset off a record as well, both say the same.
#[rstest]
#[case::read(Choice::OffsetReadToday, false)]
#[case::off_a_record(Choice::OffsetFromRecord, true)]
fn an_offset_off_a_record_adds_nothing_to_an_earlier_visit(#[case] known: Choice, #[case] said: bool) {
    let draft = leaning(draft(tower(three()), known), "yes");
    let seen = assess(&draft).unwrap();
    let codes: Vec<&str> =
        seen.piece_remarks(draft.pieces[0].id).iter().map(|remark| remark.code.as_str()).collect();
    assert_eq!(
        (codes.contains(&"earlier.said"), codes.contains(&"earlier.and_record")),
        (true, said),
        "{codes:?}"
    );
}

#[test]
fn a_moved_unit_says_nothing() {
    let draft = leaning(draft(tower(three()), Choice::OffsetReadToday), "no");
    let seen = assess(&draft).unwrap();
    assert!(seen.shift.result.is_none());
    assert!(seen.piece_remarks(draft.pieces[0].id).iter().any(|remark| remark.code == "earlier.not_same"));
}

#[test]
fn the_offset_on_record_is_the_one_the_last_visit_left_with_its_date() {
    let mut earlier = three();
    earlier[2].left = "-20.10 ft".into();
    let mut row = tower(earlier);
    row.offset_on_record = "-19.00".into();
    row.offset_date = "2022-01-01".into();
    let mut draft = draft(row, Choice::OffsetFromRecord);
    let id = draft.add_piece(PieceKind::Riser, Timing::Before);
    draft.answers.put(Spot::piece(id, Key::RiserHeight, 0), "20 ft".into(), Moment(TODAY));
    draft.answers.put(Spot::piece(id, Key::RiserHow, 0), "by_tape".into(), Moment(TODAY));
    let seen = assess(&draft).unwrap();
    let result = seen.shift.result.as_deref().expect("a shift");
    let carried = result.carried.as_ref().expect("carried");
    let feet = seen.known.unit.reading(carried.value, seen.conditions.gradient);
    assert!((feet + 20.10).abs() < 2e-3, "{feet}");
    assert!(seen.shift.assumptions.iter().any(|said| said.text.contains("of 2025-11-24")));
}

#[test]
fn a_dip_today_closes_the_history_with_todays_point() {
    let mut draft = draft(tower(three()), Choice::OffsetReadToday);
    draft.answers.put(Spot::of(Key::Display), "25.15".into(), Moment(TODAY));
    let id = draft.add_piece(PieceKind::Dip, Timing::Before);
    for row in 0..3 {
        draft.answers.put(Spot::piece(id, Key::Dip, row), "5 ft".into(), Moment(TODAY + 70_000));
    }
    let seen = assess(&draft).unwrap();
    let past = seen.past(&draft);
    // -20.00, -20.05, -20.10, and 5 - 25.15 = -20.15 ft: -0.05 ft a year.
    let drift = past.drift().expect("a drift");
    let feet = seen.known.unit.reading(drift.per_year, seen.conditions.gradient);
    assert_eq!((past.visits.len(), past.used()), (4, 4));
    assert!((feet + 0.05).abs() < 1e-3, "{feet}");
    // Error as found: 25.15 shown, 5 true, nothing taken out: far beyond 2 in, so 12 months become 9.
    let plan = past.plan.as_ref().unwrap();
    assert!((plan.next.next.0 - 9.0).abs() < 1e-9);
    let results = past.results();
    let of = |key| results.iter().find(|line| line.key == key).map(|line| line.value.value.to_f64());
    assert_eq!(of(ResultKey::DriftVisits), Some(4.0));
    assert!((of(ResultKey::DriftPerYear).unwrap() - drift.per_year.get::<pascal>()).abs() < 1e-6);
    assert_eq!(of(ResultKey::NextInterval), Some(9.0));
    assert!(seen.working(&draft).iter().any(|line| line.what == "drift of the standing offset"));
}

#[test]
fn another_serial_begins_a_history_of_its_own() {
    let mut earlier = three();
    earlier[2].serial = "B9".into();
    let known = Known::read(&Instrument { serial: "B9".into(), ..tower(earlier) }).unwrap();
    let gradient = assess(&draft(tower(Vec::new()), Choice::OffsetUnknown)).unwrap().conditions.gradient;
    let past = Past::of(&known, None, gradient);
    assert_eq!(past.history.fresh, Some(Fresh::UnitChanged));
    assert_eq!(past.history.drift, Err(NotJudged::OneVisit));
    assert_eq!(past.visits.iter().filter(|visit| visit.current).count(), 1);
}

#[test]
fn what_a_visit_tells_is_read_back_as_it_was() {
    let mut draft = draft(tower(Vec::new()), Choice::OffsetReadToday);
    let id = draft.add_piece(PieceKind::Dip, Timing::Before);
    for row in 0..3 {
        draft.answers.put(Spot::piece(id, Key::Dip, row), "5 ft".into(), Moment(TODAY + 70_000));
    }
    draft.answers.put(Spot::piece(id, Key::TapeUsed, 0), "T-7".into(), Moment(TODAY));
    draft.answers.put(Spot::of(Key::Decision), "trim".into(), Moment(TODAY));
    draft.answers.put(Spot::of(Key::TrimResult), "trim_took".into(), Moment(TODAY));
    let seen = assess(&draft).unwrap();
    let total = seen.shift.result.as_deref().unwrap().total.unwrap();
    let line = told(&draft, &seen.results(&draft), "2026-11-25".into());
    assert_eq!((line.by.as_str(), line.tape.as_str(), line.serial.as_str()), ("dip", "T-7", "A-1"));
    let known = Known::read(&tower(vec![line])).unwrap();
    let [read] = known.earlier.as_slice() else { panic!() };
    let standing = read.standing.unwrap();
    assert!((standing.offset - total.value).get::<pascal>().abs() < 1e-5);
    assert!((standing.standard - total.standard).get::<pascal>().abs() < 1e-5);
    assert!((read.left.unwrap() - total.value).get::<pascal>().abs() < 1e-5);
    assert!((read.error.unwrap().get::<foot>() - 20.0).abs() < 1e-3);
}

#[rstest]
#[case::date("date", "soon", "earlier[0].date")]
#[case::density("density", "999.1", "earlier[0].density")]
#[case::no_density("density", "", "earlier[0].density")]
#[case::gravity("gravity", "32.17", "earlier[0].gravity")]
#[case::uncertainty("uncertainty", "0 ft", "earlier[0].uncertainty")]
#[case::no_uncertainty("uncertainty", "", "earlier[0].uncertainty")]
#[case::offset("offset", "about -20", "earlier[0].offset")]
#[case::left("left", "-20 furlongs", "earlier[0].left")]
#[case::error("error", "some", "earlier[0].error")]
#[case::tolerance("tolerance", "-2 in", "earlier[0].tolerance")]
#[case::by("by", "guess", "earlier[0].by")]
fn a_bad_value_is_named(#[case] field: &str, #[case] text: &str, #[case] named: &str) {
    let mut line = serde_json::to_value(visit("2025-11-24", -20.0)).unwrap();
    line[field] = text.into();
    let faults = Known::read(&tower(vec![serde_json::from_value(line).unwrap()])).unwrap_err();
    assert!(faults.iter().any(|fault| fault.field == named && !fault.text.is_empty()), "{faults:?}");
}

#[rstest]
#[case::months("18 months", Some(18.0))]
#[case::years("2 years", Some(24.0))]
#[case::none("", None)]
fn intervals_are_read(#[case] text: &str, #[case] months: Option<f64>) {
    let row = Instrument { interval: text.into(), ..tower(Vec::new()) };
    assert_eq!(Known::read(&row).unwrap().interval.map(|months| months.0), months);
}

#[rstest]
#[case::no_unit("12")]
#[case::word("often")]
#[case::negative("-3 months")]
#[case::nothing("0 months")]
fn an_interval_that_is_none_is_named(#[case] text: &str) {
    let row = Instrument { interval: text.into(), ..tower(Vec::new()) };
    assert_eq!(Known::read(&row).unwrap_err()[0].field, "interval");
}

/// What the past says, each line in one: `what | how | value`.
fn told_of(row: &Instrument) -> Vec<String> {
    let seen =
        assess(&draft(Instrument { earlier: Vec::new(), ..row.clone() }, Choice::OffsetUnknown)).unwrap();
    let known = Known::read(row).unwrap();
    let past = Past::of(&known, None, seen.conditions.gradient);
    let lines = past.lines(&Show::new(&known, seen.conditions.gradient));
    lines.iter().map(|line| format!("{} | {} | {}", line.what, line.how, line.value)).collect()
}

/// 0, 366 and 731 days apart and 0.05 ft each: 0.04997 ft a year. Each is known to 0.015 ft, so the slope to
/// 0.015 / root two = 0.0106 ft a year, or 0.021 at 95 %.
#[test]
fn a_drift_is_told_with_how_it_was_found() {
    let told = told_of(&tower(three()));
    assert_eq!(
        told[0],
        "drift of the standing offset | line through 3 visits at one density, weighted by their uncertainties, standing \
         0.000 ft about it; k = 1.96 | -0.05 ft a year ± 0.021 ft (95\u{a0}%)"
    );
    assert!(told[1].starts_with("likely causes of the drift | to tell: "), "{}", told[1]);
    // Two are known to 0.021 ft a year as well, and 0.01 ft is no drift.
    let told = told_of(&tower(vec![visit("2024-11-24", -20.0), visit("2025-11-24", -20.01)]));
    assert!(
        told[0].contains("line through 2 visits") && told[0].contains("k = 1.96; no drift shows beyond"),
        "{}",
        told[0]
    );
    assert!(told[1].starts_with("next interval"), "no causes of what does not show: {}", told[1]);
}

/// The line falls by 1.36799e-4 ft a day. From where it stands at the last visit it takes 0.16667 ft, 2 in, in 1218.3 days;
/// from 20.07 ft, where the unit was left, it needs 0.1367 ft more: 998.8 days. 0.05 ft, 0.6 in, are passed in 365.5 days.
#[rstest]
#[case::longer(
    "0.4 in",
    "",
    "",
    "20 % of the tolerance: at most 80 %, so longer; 12.0 months become 15.0",
    "15.0 months",
    "2029-03-26",
    "2027-02-24"
)]
#[case::kept(
    "-1.8 in",
    "",
    "",
    "90 % of the tolerance: within it, so kept; 12.0 months become 12.0",
    "12.0 months",
    "2029-03-26",
    "2026-11-24"
)]
#[case::shorter(
    "2.4 in",
    "",
    "",
    "120 % of the tolerance: beyond it, so shorter; 12.0 months become 9.0",
    "9.0 months",
    "2029-03-26",
    "2026-08-25"
)]
#[case::as_left(
    "0.4 in",
    "-20.07 ft",
    "",
    "20 % of the tolerance: at most 80 %, so longer; 12.0 months become 15.0",
    "15.0 months",
    "2028-08-18",
    "2027-02-24"
)]
#[case::by_drift(
    "0.3 in",
    "",
    "0.6 in",
    "50 % of the tolerance: at most 80 %, so longer; 12.0 months become 15.0",
    "15.0 months",
    "2026-11-24",
    "2026-11-24"
)]
fn the_next_visit_is_planned_by_error_and_drift(
    #[case] error: &str,
    #[case] left: &str,
    #[case] tolerance: &str,
    #[case] how: &str,
    #[case] next: &str,
    #[case] reaches: &str,
    #[case] due: &str,
) {
    let mut earlier = three();
    (earlier[2].error, earlier[2].left, earlier[2].tolerance) = (error.into(), left.into(), tolerance.into());
    let by = if reaches == due {
        "the drift, before the interval is over"
    } else {
        "the interval from the last visit"
    };
    assert_eq!(
        told_of(&tower(earlier))[2..],
        [
            format!(
                "next interval | error as found {how} (staircase after ILAC-G24; its factors are ours) | {next}"
            ),
            format!("drift reaches the tolerance | by the line, from the offset in force | {reaches}"),
            format!("next visit due | {by} | {due}"),
        ]
    );
}

/// No interval is in force: the 365 days between the last two visits stand for it, 11.99 months.
#[test]
fn without_an_interval_the_time_between_the_last_two_visits_stands_for_it() {
    let row = Instrument { interval: String::new(), ..tower(three()) };
    let told = told_of(&row);
    assert!(told[2].contains("12.0 months become 15.0"), "{}", told[2]);
    // Of one visit alone, or of two on one day, nothing is said.
    let one = Instrument { interval: String::new(), ..tower(vec![visit("2025-11-24", -20.0)]) };
    assert!(
        told_of(&one).last().unwrap().starts_with("next interval | ")
            && told_of(&one).last().unwrap().ends_with("not judged")
    );
    let day = vec![visit("2025-11-24", -20.0), visit("2025-11-24", -20.0)];
    let twice = Instrument { interval: String::new(), ..tower(day) };
    assert!(told_of(&twice).last().unwrap().contains("no interval is in force"), "{:?}", told_of(&twice));
}

/// What an earlier visit and today lean on alike stands in the budget as lines of its own, and is taken out of what was
/// stated: 0.2 ft at 95 %, 30.48 mm or 298.12 Pa standard at 9780.9 Pa a metre. Shared are the tape's 2 mm, a mark's 4 mm, the
/// drawing's 25 mm, and 86.18 Pa, half of 0.05 % of 50 psi. A third at least stays.
#[rstest]
// root(298.12^2 - 86.18^2 - 19.56^2)
#[case::dip("dip", "T-7", "0.2 ft", "0 ft", 284.72, Some(("tape T-7", 19.56)))]
#[case::dip_by_nobodys_tape("dip", "", "0.2 ft", "0 ft", 285.39, None)]
// ... less (39.12 Pa)^2 for the mark.
#[case::dip_over_a_floor("dip", "T-7", "0.2 ft", "-1 ft", 282.02, Some(("tank floor above zero", 39.12)))]
#[case::drop("drop", "T-7", "0.2 ft", "0 ft", 282.02, Some(("hatch mark above zero", 39.12)))]
#[case::vented("vented", "T-7", "0.2 ft", "0 ft", 284.72, None)]
#[case::empty("known_empty", "T-7", "0.2 ft", "0 ft", 285.39, None)]
#[case::drawn("riser", "", "0.2 ft", "0 ft", 147.17, Some(("riser off the drawing", 244.52)))]
#[case::a_third("dip", "T-7", "0.03 ft", "0 ft", 14.91, None)]
fn what_an_earlier_visit_shares_with_today_is_taken_out_of_its_own(
    #[case] by: &str,
    #[case] tape: &str,
    #[case] uncertainty: &str,
    #[case] floor: &str,
    #[case] own: f64,
    #[case] shared: Option<(&str, f64)>,
) {
    let earlier = Earlier {
        by: by.into(),
        tape: tape.into(),
        uncertainty: uncertainty.into(),
        ..visit("2025-11-24", -20.0)
    };
    let row = Instrument { floor: floor.into(), ..tower(vec![earlier]) };
    let seen = assess(&leaning(draft(row, Choice::OffsetReadToday), "yes")).unwrap();
    let budget = &seen.shift.result.as_deref().expect("a shift").budget;
    let part = |label: &str| {
        let row =
            budget.iter().find(|row| row.label == label).unwrap_or_else(|| panic!("{label}: {budget:?}"));
        match row.contribution {
            Amount::Pressure(part) => part.get::<pascal>().abs(),
            _ => panic!("{row:?}"),
        }
    };
    for (label, expected) in [Some(("offset by the visit of 2025-11-24", own)), shared].into_iter().flatten()
    {
        assert!((part(label) - expected).abs() < 0.02, "{label}: {} Pa", part(label));
    }
    // An empty tank pressed on nothing, so how good the sensor is under head does not count.
    let pressed = budget.iter().any(|row| row.label == "sensor accuracy under head");
    assert_eq!(pressed, by != "known_empty");
}

/// The zero may have moved by what the register allows, 0.02 psi or 137.90 Pa; by a drift of 0.04997 ± 0.02077 ft a year in 366
/// days, 0.07089 ft or 211.3 Pa, where three visits show one and it is more. Both over root three.
#[rstest]
#[case::three(three(), 122.0)]
#[case::two(three()[1..].to_vec(), 79.61)]
#[case::three_alike(vec![visit("2023-11-24", -20.0), visit("2024-11-24", -20.0), visit("2025-11-24", -20.0)], 79.61)]
fn the_zero_may_have_moved_since_by_the_allowance_or_the_drift(
    #[case] earlier: Vec<Earlier>,
    #[case] pascals: f64,
) {
    let seen = assess(&leaning(draft(tower(earlier), Choice::OffsetReadToday), "yes")).unwrap();
    let budget = &seen.shift.result.as_deref().expect("a shift").budget;
    let row =
        budget.iter().find(|row| row.label.starts_with("what the sensor's zero may have moved")).unwrap();
    let Amount::Pressure(part) = row.contribution else { panic!("{row:?}") };
    assert!((part.get::<pascal>().abs() - pascals).abs() < 0.1, "{part:?}");
}

/// Off one drawing it is one height, whenever it was looked at; another height, or one that was measured, stands beside it.
#[rstest]
#[case::the_same_drawing("20 ft 0 in", "by_drawing", 0)]
#[case::another_drawing("21 ft 0 in", "by_drawing", 1)]
#[case::measured("20 ft 0 in", "by_tape", 1)]
fn a_drawing_is_one_cause(#[case] height: &str, #[case] how: &str, #[case] own: usize) {
    let earlier = Earlier {
        by: "riser".into(),
        tape: String::new(),
        uncertainty: "0.2 ft".into(),
        ..visit("2025-11-24", -20.0)
    };
    let mut draft = leaning(draft(tower(vec![earlier]), Choice::OffsetReadToday), "yes");
    let id = draft.add_piece(PieceKind::Riser, Timing::Before);
    draft.answers.put(Spot::piece(id, Key::RiserHeight, 0), height.into(), Moment(TODAY));
    draft.answers.put(Spot::piece(id, Key::RiserHow, 0), how.into(), Moment(TODAY));
    // With the zero checked the riser stands for the whole offset, as that visit does.
    let id = draft.add_piece(PieceKind::Vented, Timing::Before);
    draft.answers.put(Spot::piece(id, Key::VentAllowed, 0), "yes".into(), Moment(TODAY));
    draft.answers.put(Spot::piece(id, Key::VentedReading, 0), "0.00".into(), Moment(TODAY));
    let seen = assess(&draft).unwrap();
    let budget = &seen.shift.result.as_deref().expect("a shift").budget;
    let lines = |label: &str| budget.iter().filter(|row| row.label == label).count();
    assert_eq!((lines("riser off the drawing"), lines("riser height")), (1, own), "{budget:?}");
}

/// That day's 990 kg/m3 press (990 - 1.22) / (999.10 - 1.22) = 0.99088 of today's: its -20.10 ft are -19.92 ft of today, and 20 ft
/// of riser press 0.18 ft more today.
#[test]
fn the_working_tells_what_an_earlier_visit_comes_to_today() {
    let earlier = Earlier { density: "990 kg/m3".into(), ..visit("2025-11-24", -20.10) };
    let draft = leaning(draft(tower(vec![earlier]), Choice::OffsetReadToday), "yes");
    let working = assess(&draft).unwrap().working(&draft);
    let line = working.iter().find(|line| line.what.ends_with("by the visit of 2025-11-24")).unwrap();
    assert_eq!(line.what, "zero error and standing head by the visit of 2025-11-24");
    assert_eq!(
        line.how,
        "-(-19.92 ft) at that day's density, +0.18 ft by today's over the riser of 20 ft 0 in"
    );
    assert_eq!(line.value, "20.10 ft");
}

#[test]
fn a_history_begins_with_a_move_or_another_unit() {
    let mut earlier = three();
    earlier[1].moved = true;
    let told = told_of(&tower(earlier));
    assert_eq!(told[0], "history begins | the transmitter was moved | 2024-11-24");
    // The second visit since then is judged by its error, and so is the only one to a unit that nobody changed.
    assert!(told.iter().any(|line| line.contains("error as found 20 % of the tolerance")), "{told:?}");
    let told = told_of(&tower(vec![visit("2025-11-24", -20.0)]));
    assert!(told.iter().any(|line| line.contains("error as found 20 % of the tolerance")), "{told:?}");
    let mut earlier = three();
    earlier[2].serial = "B9".into();
    let row = Instrument { serial: "B9".into(), ..tower(earlier) };
    let told = told_of(&row);
    assert_eq!(told[0], "history begins | another unit was fitted | 2025-11-24");
    assert_eq!(
        told[2..],
        [
            "next interval | the first visit since the history began: the interval in force, neither longer nor shorter | 12.0 months",
            "next visit due | the interval from this visit | 2026-11-24",
        ]
    );
    // Of a third unit nothing is known yet.
    let told = told_of(&Instrument { serial: "C3".into(), ..row });
    assert_eq!(told[0], "history begins | another unit was fitted | with the first visit to it");
    assert!(told[1..].iter().all(|line| line.ends_with("| not judged")) && told.len() == 3, "{told:?}");
    assert_eq!(told_of(&tower(Vec::new())), Vec::<String>::new());
}

/// Four visits about -20.005 ft and four about -20.605: within either the line falls by 0.002 ft a year, 0.008 of the 0.600 in
/// four years. Each known to 0.015 ft, the step is known to 0.015 x root(1/4 + 1/4 + 16/10) = 0.0217 ft.
#[test]
fn a_step_is_told_with_the_visit_before_which_it_came() {
    let years = (2018..).zip([-20.0, -20.01, -20.0, -20.01, -20.6, -20.61, -20.6, -20.61]);
    let told = told_of(&tower(years.map(|(year, feet)| visit(&format!("{year}-11-24"), feet)).collect()));
    let step = told.iter().find(|line| line.starts_with("step of the standing offset")).unwrap();
    assert_eq!(
        step,
        "step of the standing offset | before the visit of 2022-11-24; no move and no other unit on record explains it; chance \
         alone makes one so large in at most 0.001 % of histories | -0.59 ft ± 0.043 ft (95\u{a0}%)"
    );
    assert!(told.iter().any(|line| line.starts_with("likely causes of the step")), "{told:?}");
}

/// A move is kept until the next visit that holds an offset, and a visit in between without one neither ends nor begins a
/// history.
#[test]
fn a_move_before_a_visit_without_an_offset_is_not_forgotten() {
    let earlier = vec![
        visit("2023-11-24", -20.0),
        moved(without_offset("2024-05-24")),
        visit("2024-11-24", -20.3),
        visit("2025-11-24", -20.3),
    ];
    let known = Known::read(&tower(earlier)).unwrap();
    let gradient = assess(&draft(tower(Vec::new()), Choice::OffsetUnknown)).unwrap().conditions.gradient;
    let past = Past::of(&known, None, gradient);
    assert_eq!((past.history.fresh, past.history.since, past.used()), (Some(Fresh::Moved), 1, 2));
    assert_eq!(past.visits.iter().map(|visit| visit.current).collect::<Vec<_>>(), [false, false, true, true]);
    assert_eq!(past.visit(1).unwrap().date, "2024-11-24", "a place counts visits that hold an offset");
}
