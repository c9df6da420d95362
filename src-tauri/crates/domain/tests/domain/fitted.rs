//! Another unit on the plate than in the register: its limits are used, and nothing of the old one's offset is.

use domain::history::{Act, Fresh, NotJudged};
use domain::visit::{
    Assessment, Choice, Draft, Instrument, Key, Known, Moment, Past, PieceKind, Spot, Step, Timing, assess,
    fitted,
};
use rstest::rstest;
use uom::si::pressure::psi;

use crate::tower::{TODAY, draft, three, tower};

/// A plate that says B-9, 30 psi.
const PLATE: [(Key, &str); 5] = [
    (Key::SerialRead, "B-9"),
    (Key::UnitFitted, "yes"),
    (Key::UnitLrl, "-14 psi"),
    (Key::UnitUrl, "30 psi"),
    (Key::UnitMaxWorking, "60 psi"),
];

fn with(mut draft: Draft, answers: &[(Key, &str)]) -> Draft {
    for (key, text) in answers {
        draft.answers.put(Spot::of(*key), (*text).into(), Moment(TODAY));
    }
    draft
}

fn other_unit(row: Instrument, offset: Choice) -> Draft {
    with(draft(row, offset), &PLATE)
}

/// Three dips of 5 ft, before the trim.
fn dipped(mut draft: Draft) -> Draft {
    let id = draft.add_piece(PieceKind::Dip, Timing::Before);
    for row in 0..3 {
        draft.answers.put(Spot::piece(id, Key::Dip, row), "5 ft".into(), Moment(TODAY + 70_000));
    }
    draft
}

fn codes(seen: &Assessment, step: Step) -> Vec<&str> {
    seen.remarks(step).iter().map(|remark| remark.code.as_str()).collect()
}

#[test]
fn its_limits_are_the_visits_and_what_is_left_empty_is_the_registers() {
    let draft = other_unit(tower(Vec::new()), Choice::OffsetReadToday);
    let limits = assess(&draft).unwrap().known.sensor.limits;
    let in_psi = |pressure: uom::si::f64::Pressure| pressure.get::<psi>();
    for (seen, said) in
        [(limits.lrl, -14.0), (limits.url, 30.0), (limits.max_working, 60.0), (limits.min_span, 1.0)]
    {
        assert!((in_psi(seen) - said).abs() < 1e-5, "{} is not {said}", in_psi(seen));
    }
    let row = fitted(&draft).unwrap();
    assert_eq!(
        (row.serial.as_str(), row.limits.url.as_str(), row.limits.accuracy.as_str()),
        ("B-9", "30 psi", "0.05 %")
    );
}

#[rstest]
#[case::it_is_the_registers_after_all(&[(Key::SerialRead, "a 1")])]
#[case::no_other_unit(&[(Key::UnitFitted, "no")])]
#[case::not_said_yet(&[(Key::UnitFitted, "")])]
fn without_another_unit_the_registers_row_stands(#[case] answers: &[(Key, &str)]) {
    let draft = with(other_unit(tower(Vec::new()), Choice::OffsetReadToday), answers);
    assert_eq!(fitted(&draft), None);
    assert!((assess(&draft).unwrap().known.sensor.limits.url.get::<psi>() - 50.0).abs() < 1e-5);
}

#[test]
fn it_is_asked_only_where_the_serial_differs() {
    let asked = |draft: &Draft| {
        let asks = domain::visit::asks(draft, Step::Find);
        asks.iter().map(|ask| (ask.spot.key, ask.required)).collect::<Vec<_>>()
    };
    let routine = draft(tower(Vec::new()), Choice::OffsetReadToday);
    assert_eq!(asked(&routine).len(), 3);
    let differs = with(routine, &[(Key::SerialRead, "B-9")]);
    assert!(asked(&differs).contains(&(Key::UnitFitted, true)) && asked(&differs).len() == 4);
    let fitted = asked(&with(differs, &PLATE));
    assert!(fitted.contains(&(Key::UnitUrl, true)) && fitted.contains(&(Key::UnitMinSpan, false)));
}

#[test]
fn said_it_needs_no_reason_and_unsaid_it_does() {
    let fitted = assess(&other_unit(tower(Vec::new()), Choice::OffsetReadToday)).unwrap();
    assert!(codes(&fitted, Step::Find).contains(&"unit.fitted"));
    assert!(!codes(&fitted, Step::Find).contains(&"plate.serial_differs"));
    let no = with(other_unit(tower(Vec::new()), Choice::OffsetReadToday), &[(Key::UnitFitted, "no")]);
    assert!(codes(&assess(&no).unwrap(), Step::Find).contains(&"plate.serial_differs"));
}

#[rstest]
#[case::upside_down(&[(Key::UnitLrl, "40 psi")])]
#[case::no_pressure(&[(Key::UnitUrl, "thirty")])]
#[case::no_unit(&[(Key::UnitMaxWorking, "60")])]
#[case::negative(&[(Key::UnitMaxWorking, "-60 psi")])]
fn limits_that_cannot_be_are_told_and_the_visit_still_opens(#[case] answers: &[(Key, &str)]) {
    let draft = with(other_unit(tower(Vec::new()), Choice::OffsetReadToday), answers);
    let seen = assess(&draft).unwrap();
    assert!(codes(&seen, Step::Find).contains(&"unit.limits"));
    assert!(!seen.complete(Step::Find));
    assert!((seen.known.sensor.limits.url.get::<psi>() - 50.0).abs() < 1e-5, "the register's stand in");
}

/// The display says 25.00 ft with no offset, so the sensor feels 25 ft of water, 10.8 psi: more than 10 psi.
#[test]
fn a_reading_beyond_its_limits_is_seen() {
    let beyond = |url: &'static str| {
        let draft = with(other_unit(tower(Vec::new()), Choice::OffsetReadToday), &[(Key::UnitUrl, url)]);
        let seen = assess(&draft).unwrap();
        let problem = seen.entries.of(Key::Display).and_then(|entry| entry.problem.clone());
        problem.is_some_and(|problem| problem.code == "reading.beyond_limits")
    };
    assert!(beyond("10 psi") && !beyond("30 psi"));
}

#[test]
fn nothing_of_the_old_units_offset_is_on_record() {
    let mut earlier = three();
    earlier[2].left = "-20.10 ft".into();
    let row =
        Instrument { offset_on_record: "-20.10".into(), offset_date: "2025-11-24".into(), ..tower(earlier) };
    let on_record = |draft: Draft| assess(&dipped(draft)).unwrap().shift.result.unwrap().carried.is_some();
    assert!(on_record(draft(row.clone(), Choice::OffsetFromRecord)));
    assert!(!on_record(other_unit(row, Choice::OffsetFromRecord)));
}

#[test]
fn the_history_and_the_interval_begin_anew_and_the_old_ones_stand_apart() {
    let draft = dipped(other_unit(tower(three()), Choice::OffsetReadToday));
    let seen = assess(&draft).unwrap();
    let past = seen.past(&draft);
    assert_eq!(
        past.visits.iter().map(|visit| visit.current).collect::<Vec<_>>(),
        [false, false, false, true]
    );
    assert_eq!(
        (past.history.fresh, past.history.drift.clone()),
        (Some(Fresh::UnitChanged), Err(NotJudged::OneVisit))
    );
    // A dip of 5 ft under a display of 25 ft is far beyond 2 in; it says nothing of a unit that was only just fitted, so
    // the twelve months in force stay.
    let plan = past.plan.unwrap();
    assert_eq!(plan.next.act, Act::Begin);
    assert!((plan.next.next.0 - 12.0).abs() < 1e-9);
}

/// The serial was read and nobody said yet whether another unit is fitted: it is the plate's own history all the same.
#[test]
fn a_serial_that_was_read_begins_its_own_history() {
    let row = draft(tower(three()), Choice::OffsetReadToday);
    let draft = dipped(with(row, &[(Key::SerialRead, "B-9")]));
    let past = assess(&draft).unwrap().past(&draft);
    assert_eq!(
        (past.history.fresh, past.history.drift.clone(), past.used()),
        (Some(Fresh::UnitChanged), Err(NotJudged::OneVisit), 1)
    );
}

#[test]
fn without_an_offset_today_the_old_units_drift_is_not_the_new_ones() {
    let draft = other_unit(tower(three()), Choice::OffsetUnknown);
    let past = assess(&draft).unwrap().past(&draft);
    assert_eq!((past.used(), past.history.drift.clone()), (0, Err(NotJudged::NoVisits)));
    assert!(past.visits.iter().all(|visit| !visit.current));
}

#[test]
fn a_register_that_names_the_new_unit_shows_no_history_of_it_before_its_first_visit() {
    let gradient = assess(&draft(tower(Vec::new()), Choice::OffsetUnknown)).unwrap().conditions.gradient;
    let known = Known::read(&Instrument { serial: "B9".into(), ..tower(three()) }).unwrap();
    let past = Past::of(&known, None, gradient);
    assert_eq!(past.history.drift, Err(NotJudged::NoVisits));
    assert!(past.plan.is_err() && past.visits.iter().all(|visit| !visit.current));
}
