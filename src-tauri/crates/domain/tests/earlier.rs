//! Earlier visits: as evidence, as the offset on record, and together as a history.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)] // A panic is the message.

#[path = "visits/tower.rs"]
mod tower;

use domain::history::{Fresh, NotJudged};
use domain::visit::{
    Choice, Draft, Earlier, Instrument, Key, Known, Moment, PieceKind, ResultKey, Spot, Step, Timing, assess,
    told,
};
use rstest::rstest;
use uom::si::length::foot;
use uom::si::pressure::pascal;

use tower::{TODAY, draft, three, tower, visit};

fn leaning(mut draft: Draft, same: &str) -> Draft {
    let id = draft.add_piece(PieceKind::EarlierVisit, Timing::Before);
    draft.answers.put(Spot::piece(id, Key::EarlierSame, 0), same.into(), Moment(TODAY + 90_000));
    draft
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
fn void_visits_are_refused(#[case] earlier: Vec<Earlier>, #[case] serial: &str, #[case] why: &str) {
    let mut draft = leaning(draft(tower(earlier), Choice::OffsetReadToday), "yes");
    draft.answers.put(Spot::of(Key::SerialRead), serial.into(), Moment(TODAY));
    let seen = assess(&draft).unwrap();
    assert!(seen.shift.result.is_none());
    let said = seen.piece_remarks(draft.pieces[0].id);
    assert!(said.iter().any(|remark| remark.code == "earlier.void" && remark.text.contains(why)), "{said:?}");
    assert!(!seen.complete(Step::Evidence));
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
    let past = domain::visit::Past::of(&known, None, gradient);
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
fn an_interval_that_is_none_is_named(#[case] text: &str) {
    let row = Instrument { interval: text.into(), ..tower(Vec::new()) };
    assert_eq!(Known::read(&row).unwrap_err()[0].field, "interval");
}
