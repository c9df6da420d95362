//! An instrument over its visits: the register's list and the phone's own records as one.

use domain::sketch::Shape;
use domain::visit::{Choice, Key, PieceKind, Spot, Step, Timing};
use field::view::{Change, HistoryView, RecordView};
use kit::Story;
use rstest::rstest;
use serde_json::{Value, json};

use crate::desk::Desk;

const COLD_ASH: &str = "LT-3107";
const YEAR: i64 = 365 * 86_400_000;

fn of(desk: &Desk, tag: &str) -> Option<HistoryView> {
    desk.phone.instrument(tag).unwrap().history
}

fn dates(history: &HistoryView) -> Vec<&str> {
    history.rows.iter().map(|row| row.date.as_str()).collect()
}

fn line<'a>(history: &'a HistoryView, what: &str) -> &'a str {
    history.lines.iter().find(|line| line.what == what).map_or("", |line| line.value.as_str())
}

fn sign(desk: &Desk, story: &Story) -> RecordView {
    let id = desk.phone.visit_begin(&story.tag, Choice::ByTyping, "").unwrap().id;
    for part in &story.parts {
        desk.phone.visit_change(&id, &Change::Go { step: part.step }).unwrap();
        for act in &part.acts {
            desk.phone.visit_change(&id, &act.change()).unwrap();
        }
    }
    desk.phone.visit_sign(&id).unwrap()
}

#[test]
fn the_registers_visits_make_a_chart_a_table_and_a_plan() {
    let desk = Desk::ready();
    let history = of(&desk, COLD_ASH).unwrap();
    assert_eq!(history.rows.len(), 6);
    // Newest first; what lies before the other unit was fitted does not count.
    assert_eq!((history.rows[0].date.as_str(), history.rows[5].date.as_str()), ("2026-02-03", "2021-02-18"));
    let counts: Vec<bool> = history.rows.iter().map(|row| row.current).collect();
    assert_eq!(counts, [true, true, true, true, false, false]);
    assert_eq!(line(&history, "history begins"), "2023-02-14");
    // -14.560, -14.573, -14.590, -14.604 m at very nearly one density and one year apart: so by 14.9 mm a year: (3 x 44 + 17) / 10.
    let drift = line(&history, "drift of the standing offset");
    assert!(drift.starts_with("-0.01") && drift.contains("a year"), "{drift}");
    // 14 mm of 40 mm: 12 months become 15.
    assert_eq!(line(&history, "next interval"), "15.0 months");
    assert_eq!(line(&history, "next visit due"), "2027-05-06");
    let points = history.chart.unwrap().shapes;
    assert_eq!(points.iter().filter(|shape| matches!(shape, Shape::Rect { .. })).count(), 6);
}

#[test]
fn nothing_known_shows_nothing() {
    let desk = Desk::ready();
    assert_eq!(of(&desk, "LT-2041"), None);
}

#[test]
fn an_own_record_joins_the_list_and_stands_in_the_next_visits_row() {
    let desk = Desk::ready();
    let first = sign(&desk, &kit::known_empty());
    let history = of(&desk, COLD_ASH).unwrap();
    assert_eq!((history.rows.len(), dates(&history)[0]), (7, "2026-11-25"));
    assert_eq!(first.history.unwrap().rows[0].date, "2026-11-25");
    desk.clock.move_by(YEAR);
    let id = desk.phone.visit_begin(COLD_ASH, Choice::ByTyping, "").unwrap().id;
    let text = String::from_utf8_lossy(&desk.on_storage()).into_owned();
    assert!(text.contains("2026-11-25"), "the draft holds what it rests on");
    desk.phone.visit_discard(&id).unwrap();
    let second = sign(&desk, &kit::known_empty());
    let again = second.history.unwrap();
    assert_eq!(dates(&again)[..2], ["2027-11-25", "2026-11-25"]);
    assert!(second.working.iter().any(|line| line.what == "drift of the standing offset"));
    // Shown again later it reads the same, from its own bytes.
    assert_eq!(desk.phone.record(&second.id).unwrap().history.unwrap(), again);
}

#[test]
fn a_record_of_the_registers_own_day_is_not_counted_twice() {
    let desk = Desk::ready();
    desk.clock.move_by(-295 * 86_400_000);
    sign(&desk, &kit::known_empty());
    let history = of(&desk, COLD_ASH).unwrap();
    assert_eq!((history.rows.len(), dates(&history)[0]), (6, "2026-02-03"));
}

#[test]
fn a_clock_that_was_set_back_is_not_judged() {
    let desk = Desk::ready();
    sign(&desk, &kit::known_empty());
    desk.clock.move_by(-YEAR);
    sign(&desk, &kit::known_empty());
    let history = of(&desk, COLD_ASH).unwrap();
    assert_eq!(line(&history, "drift of the standing offset"), "not judged");
    let why = &history.lines.iter().find(|line| line.what == "drift of the standing offset").unwrap().how;
    assert!(why.contains("clock was wrong"), "{why}");
}

#[test]
fn an_earlier_visit_is_offered_with_the_reason_where_it_does_not_count() {
    let desk = Desk::ready();
    let id = desk.phone.visit_begin(COLD_ASH, Choice::ByTyping, "").unwrap().id;
    let offer = |desk: &Desk| {
        let view = desk.phone.visit_change(&id, &Change::Go { step: Step::Evidence }).unwrap();
        let found = view.now.offers.into_iter().find(|offer| offer.kind == PieceKind::EarlierVisit);
        found.map(|offer| offer.not_here)
    };
    assert_eq!(offer(&desk), Some(String::new()));
    let spot = Spot::of(Key::SerialRead);
    desk.phone.visit_change(&id, &kit::answer(spot, "MW-30-99999")).unwrap();
    assert!(offer(&desk).unwrap().contains("Another unit"));
    // Where nothing is known of earlier visits the list is no longer than before.
    let other = desk.phone.visit_begin("LT-2041", Choice::ByTyping, "").unwrap().id;
    let view = desk.phone.visit_change(&other, &Change::Go { step: Step::Evidence }).unwrap();
    assert!(view.now.offers.iter().all(|offer| offer.kind != PieceKind::EarlierVisit));
}

#[test]
fn an_earlier_visit_alone_with_the_offset_read_gives_a_shift() {
    let desk = Desk::ready();
    let mut story = kit::known_empty();
    let evidence = story.parts.iter_mut().find(|part| part.step == Step::Evidence).unwrap();
    let same = Spot::piece(domain::visit::PieceId(1), Key::EarlierSame, 0);
    evidence.acts =
        vec![kit::Act::Adds(PieceKind::EarlierVisit, Timing::Before), kit::Act::Chooses(same, Choice::Yes)];
    let id = desk.phone.visit_begin(&story.tag, Choice::ByTyping, "").unwrap().id;
    for part in story.parts.iter().take_while(|part| part.step != Step::AsLeft) {
        desk.phone.visit_change(&id, &Change::Go { step: part.step }).unwrap();
        for act in &part.acts {
            desk.phone.visit_change(&id, &act.change()).unwrap();
        }
    }
    let view = desk.phone.visit_change(&id, &Change::Go { step: Step::Shift }).unwrap();
    let shift = view.now.shift.unwrap();
    // The last visit called for -14.604 m at very nearly today's density, the unit carries -14.60: 4 mm more.
    assert_eq!((shift.from.as_str(), shift.to.as_str()), ("0.110 m", "0.106 m"));
    assert!(shift.working.iter().any(|line| line.what.contains("visit of 2026-02-03")));
}

#[rstest]
#[case::date(json!([{"date": "soon"}]), "earlier[0].date", "2025-11-20")]
#[case::offset_alone(json!([{"date": "2025-01-01", "offset": "-14 m"}]), "earlier[0].offset", "density")]
#[case::misspelt(json!([{"date": "2025-01-01", "offsett": "-14 m"}]), "earlier[0].offsett", "no such field")]
#[case::long(json!([{"date": "2025-01-01", "serial": "x".repeat(200)}]), "earlier[0]", "120")]
fn a_bad_earlier_visit_is_named(#[case] earlier: Value, #[case] field: &str, #[case] says: &str) {
    let desk = Desk::new();
    let mut file: Value = serde_json::from_slice(kit::register()).unwrap();
    file["instruments"][1]["earlier"] = earlier;
    let report = desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    let problem = report.problems.first().unwrap();
    assert_eq!((problem.row, problem.tag.as_str()), (2, COLD_ASH));
    assert!(problem.field.starts_with(field) && problem.text.contains(says), "{problem:?}");
}
