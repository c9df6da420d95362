//! A visit under way: saved before it is judged, opened where it stopped.

use domain::visit::{Choice, Key, PieceKind, Spot, Step, Timing};
use field::view::{Change, FieldView, VisitView};

use kit::{Hands, answer};

use crate::desk::{Desk, holds, open};

fn begin(desk: &Desk) -> VisitView {
    desk.phone.visit_begin("LT-2041", Choice::ByTyping, "").unwrap()
}

fn shown(view: &VisitView, key: Key) -> FieldView {
    view.now.fields.iter().find(|field| field.key == key).cloned().unwrap()
}

#[test]
fn what_makes_no_sense_is_saved_too_and_judged_after() {
    let desk = Desk::ready();
    let id = begin(&desk).id;
    desk.phone.visit_change(&id, &Change::Go { step: Step::AsFound }).unwrap();
    let view = desk.phone.visit_change(&id, &answer(Spot::of(Key::Display), "12..3")).unwrap();
    let field = shown(&view, Key::Display);
    assert_eq!(field.text, "12..3");
    assert!(field.problem.is_some());
    let again = desk.restarted();
    let view = again.phone.visit_open(&id).unwrap();
    assert_eq!((view.now.step, shown(&view, Key::Display).text.as_str()), (Step::AsFound, "12..3"));
}

#[test]
fn saved_says_the_local_time_of_the_save_also_when_opened_later() {
    let desk = Desk::ready();
    let view = begin(&desk);
    assert_eq!(view.saved, "Saved 11:42:07");
    desk.clock.move_by(3_600_000);
    assert_eq!(desk.phone.visit_open(&view.id).unwrap().saved, "Saved 11:42:07");
}

#[test]
fn a_clock_set_back_hides_no_visit() {
    let desk = Desk::ready();
    let first = begin(&desk).id;
    desk.clock.move_by(-86_400_000);
    let second = desk.phone.visit_begin("LT-3107", Choice::ByList, "").unwrap().id;
    let lines: Vec<_> = desk.phone.home().unwrap().drafts.into_iter().map(|line| line.id).collect();
    assert_eq!(lines, [second, first]);
}

#[test]
fn an_instrument_has_one_open_visit() {
    let desk = Desk::ready();
    let first = begin(&desk);
    assert_eq!(begin(&desk).id, first.id);
    desk.phone.visit_discard(&first.id).unwrap();
    assert_ne!(begin(&desk).id, first.id);
    let error = desk.phone.visit_open(&first.id).unwrap_err();
    assert_eq!(error.code(), "store.no_draft");
}

#[test]
fn evidence_comes_and_goes_with_its_answers() {
    let desk = Desk::ready();
    let id = begin(&desk).id;
    let dip = Change::Add { kind: PieceKind::Dip, timing: Timing::Before };
    desk.phone.visit_change(&id, &Change::Go { step: Step::Evidence }).unwrap();
    let piece = desk.phone.visit_change(&id, &dip).unwrap().now.pieces[0].id;
    let spot = Spot::piece(domain::visit::PieceId(piece), Key::Dip, 0);
    desk.phone.visit_change(&id, &answer(spot, "14' 3 1/2\"")).unwrap();
    let view = desk.phone.visit_change(&id, &Change::Remove { piece }).unwrap();
    assert!(view.now.pieces.is_empty());
    assert_eq!(desk.phone.visit_change(&id, &answer(spot, "1 ft")).unwrap_err().code(), "visit.no_piece");
    let next = desk.phone.visit_change(&id, &dip).unwrap().now.pieces[0].clone();
    assert_eq!(next.id, piece + 1, "a number is never used twice");
    assert!(next.fields.iter().all(|field| field.text.is_empty()));
    desk.phone.visit_change(&id, &Change::Remove { piece }).unwrap();
}

#[test]
fn what_is_too_long_is_refused_and_the_last_text_stands() {
    let desk = Desk::ready();
    let id = begin(&desk).id;
    let note = Spot::of(Key::Note);
    desk.phone.visit_change(&id, &answer(note, "calm")).unwrap();
    let error = desk.phone.visit_change(&id, &answer(note, &"x".repeat(2_001))).unwrap_err();
    assert_eq!(error.code(), "answer.too_long");
    let row = Spot::row(Key::SafetyReason, 100_000);
    assert_eq!(desk.phone.visit_change(&id, &answer(row, "x")).unwrap_err().code(), "visit.too_many_rows");
    desk.phone.visit_change(&id, &Change::Go { step: Step::Sign }).unwrap();
    assert_eq!(shown(&desk.phone.visit_open(&id).unwrap(), Key::Note).text, "calm");
}

#[test]
fn two_at_once_lose_no_answer() {
    let desk = Desk::ready();
    let id = begin(&desk).id;
    std::thread::scope(|scope| {
        for row in 0..16u32 {
            let (phone, id) = (&desk.phone, &id);
            scope.spawn(move || {
                let spot = Spot::row(Key::SafetyReason, row);
                phone.visit_change(id, &answer(spot, &format!("reason-{row:02}"))).unwrap();
            });
        }
    });
    let bytes = desk.on_storage();
    for row in 0..16 {
        assert!(holds(&bytes, format!("reason-{row:02}").as_bytes()), "row {row}");
    }
}

#[test]
fn a_full_storage_says_so_and_what_was_saved_stands() {
    let folder = tempfile::tempdir().unwrap();
    let clock = Hands::default();
    let phone = open(folder.path(), &clock, Some(124)).unwrap();
    let desk = Desk { folder, clock, phone };
    desk.phone.set_technician("Asha Renn").unwrap();
    desk.phone.register_load(&desk.upload(kit::register())).unwrap();
    let id = begin(&desk).id;
    let mut kept = 0;
    let error = (0..200u32).find_map(|row| {
        let change = answer(Spot::row(Key::SafetyReason, row), &"x".repeat(2_000));
        let refused = desk.phone.visit_change(&id, &change).err();
        kept += u32::from(refused.is_none());
        refused
    });
    let message = error.expect("124 pages do not hold 200 such texts").message();
    assert_eq!(message.code, "store.full");
    assert!(message.text.contains("Free some space"), "{}", message.text);
    let desk = desk.restarted();
    desk.phone.visit_open(&id).unwrap();
    let mark = |row: u32| format!("\"key\":\"safety_reason\",\"row\":{row}");
    let bytes = desk.on_storage();
    assert!(kept > 0 && holds(&bytes, mark(kept - 1).as_bytes()));
}

#[test]
fn a_corrected_reading_keeps_the_time_of_the_reading() {
    let desk = Desk::ready();
    let id = begin(&desk).id;
    let spot = Spot::of(Key::Display);
    let at = |desk: &Desk| kept_time(desk, "display");
    desk.phone.visit_change(&id, &answer(spot, "14.35")).unwrap();
    desk.clock.move_by(20 * 60_000);
    desk.phone.visit_change(&id, &answer(spot, "14.53")).unwrap();
    assert_eq!(at(&desk), Hands::START.0, "a digit mended twenty minutes later is still the reading of then");
    desk.phone.visit_change(&id, &answer(spot, "")).unwrap();
    desk.clock.move_by(60_000);
    desk.phone.visit_change(&id, &answer(spot, "14.61")).unwrap();
    assert_eq!(at(&desk), Hands::START.0 + 21 * 60_000, "cleared first, it is another reading");
}

#[test]
fn what_is_chosen_or_stated_anew_takes_its_own_time() {
    let desk = Desk::ready();
    let id = begin(&desk).id;
    let item = Spot::row(Key::SafetyItem, 0);
    let minutes = Spot::of(Key::InhibitMinutes);
    desk.phone.visit_change(&id, &answer(item, "does_not_apply")).unwrap();
    desk.phone.visit_change(&id, &answer(minutes, "30")).unwrap();
    desk.clock.move_by(20 * 60_000);
    desk.phone.visit_change(&id, &answer(item, "done")).unwrap();
    desk.phone.visit_change(&id, &answer(minutes, "60")).unwrap();
    assert_eq!(kept_time(&desk, "safety_item"), Hands::START.0 + 20 * 60_000);
    assert_eq!(kept_time(&desk, "inhibit_minutes"), Hands::START.0 + 20 * 60_000);
}

/// When the first answer under a key was given, as the storage has it.
fn kept_time(desk: &Desk, key: &str) -> i64 {
    let bytes = desk.on_storage();
    let text = String::from_utf8_lossy(&bytes);
    // The file may hold older pages too; the newest time is the one that stands.
    let mark = format!("\"key\":\"{key}\",\"row\":0}},{{\"text\":\"");
    let after = text.match_indices(&mark).map(|(at, found)| &text[at + found.len()..]);
    let times = after.filter_map(|rest| {
        let (_, rest) = rest.split_once("\"at\":")?;
        rest.split(|c: char| !c.is_ascii_digit()).next()?.parse().ok()
    });
    times.max().unwrap()
}

#[test]
fn hazards_are_said_before_a_visit_and_where_it_is_made_safe_and_not_between() {
    let desk = Desk::ready();
    let codes = |messages: &[field::view::Message]| {
        let said = messages.iter().map(|message| message.code.clone());
        said.filter(|code| code.starts_with("hazard.")).collect::<Vec<_>>()
    };
    let before = codes(&desk.phone.instrument("LT-2041").unwrap().hazards);
    assert!(before.contains(&"hazard.ladder".to_owned()), "{before:?}");
    let view = begin(&desk);
    assert_eq!(view.now.step, Step::Find);
    assert_eq!(codes(&view.now.cautions), Vec::<String>::new());
    let view = desk.phone.visit_change(&view.id, &Change::Go { step: Step::MakeSafe }).unwrap();
    assert!(codes(&view.now.cautions).contains(&"hazard.ladder".to_owned()));
}
