//! Another unit found on the plate: the visit uses its limits, and it is proposed to the register with the signature.

use bodies::Visit;
use domain::visit::{Key, Step, fitted};
use field::view::{HistoryView, InstrumentView};
use kit::{Act, Story};
use record::read_export;
use serde_json::Value;

use crate::desk::Desk;
use crate::records::sign;

const COLD_ASH: &str = "LT-3107";
const NEW: &str = "MW-30-77001";

fn plate<'a>(view: &'a InstrumentView, what: &str) -> &'a str {
    view.plate.iter().find(|line| line.what == what).map_or("", |line| line.value.as_str())
}

fn line<'a>(history: &'a HistoryView, what: &str) -> &'a str {
    history.lines.iter().find(|line| line.what == what).map_or("", |line| line.value.as_str())
}

#[test]
fn it_is_signed_with_the_visit_proposed_and_pending() {
    let desk = Desk::ready();
    let record = sign(&desk, &Story::another_unit());
    assert_eq!((record.proof.as_str(), desk.entries()), ("Signature checked", 2));
    let desk = desk.restarted();
    let view = desk.phone.instrument(COLD_ASH).unwrap();
    assert_eq!(plate(&view, "Serial number"), NEW);
    assert_eq!(plate(&view, "Sensor limits (LRL to URL)"), "-1 bar to 2.5 bar");
    assert!(plate(&view, "Offset on record").is_empty(), "the old unit's offset is not the new one's");
    let pending = view.messages.iter().find(|message| message.code == "unit.pending").unwrap();
    assert!(pending.text.contains(NEW) && pending.text.contains("MW-30-20455"), "{pending:?}");
    assert_eq!(desk.phone.search("LT-3107").unwrap()[0].serial, NEW);
}

#[test]
fn the_signed_body_holds_what_was_read_off_the_plate() {
    let desk = Desk::ready();
    let record = sign(&desk, &Story::another_unit());
    let file = std::fs::read(desk.phone.record_export(&record.id).unwrap()).unwrap();
    let visit = Visit::of_entry(&read_export(&file).unwrap().entries[0]).unwrap();
    assert_eq!(visit.finished.instrument.serial, "MW-30-20455", "the row stands as it stood");
    let draft = domain::visit::Draft::again(&visit.finished);
    let row = fitted(&draft).unwrap();
    assert_eq!((row.serial.as_str(), row.limits.url.as_str()), (NEW, "2.5 bar"));
    let url = visit.finished.answers.iter().find(|answer| answer.spot.key == Key::UnitUrl).unwrap();
    // 2.5 bar is 250 000 Pa.
    let value = url.value.as_ref().unwrap();
    assert_eq!((value.value.to_string().as_str(), value.unit.as_str()), ("250000", "Pa"));
}

#[test]
fn its_history_and_interval_begin_anew_and_the_old_ones_stand_apart() {
    let desk = Desk::ready();
    let before = desk.phone.instrument(COLD_ASH).unwrap().history.unwrap();
    assert_eq!(line(&before, "next interval"), "15.0 months");
    let record = sign(&desk, &Story::another_unit());
    for history in [record.history.unwrap(), desk.phone.instrument(COLD_ASH).unwrap().history.unwrap()] {
        let current: Vec<bool> = history.rows.iter().map(|row| row.current).collect();
        assert_eq!(current, [true, false, false, false, false, false, false]);
        assert_eq!((history.rows[0].serial.as_str(), line(&history, "history begins")), (NEW, "2026-11-25"));
        assert_eq!(line(&history, "drift of the standing offset"), "not judged");
        assert_eq!(line(&history, "next interval"), "12.0 months");
    }
}

#[test]
fn the_next_visit_knows_the_unit_and_a_register_that_has_it_settles_it() {
    let desk = Desk::ready();
    sign(&desk, &Story::another_unit());
    desk.clock.move_by(86_400_000);
    let mut again = kit::known_empty();
    let find = again.parts.iter_mut().find(|part| part.step == Step::Find).unwrap();
    for act in &mut find.acts {
        if let Act::Writes(spot, text) = act
            && spot.key == Key::SerialRead
        {
            NEW.clone_into(text);
        }
    }
    sign(&desk, &again);
    assert_eq!(desk.entries(), 3, "the same unit is not proposed twice");

    let mut file: Value = serde_json::from_slice(kit::register()).unwrap();
    file["instruments"][1]["serial"] = NEW.into();
    desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    let view = desk.phone.instrument(COLD_ASH).unwrap();
    assert!(view.messages.iter().all(|message| message.code != "unit.pending"));
    // A register that has decided otherwise counts.
    file["instruments"][1]["serial"] = "MW-30-88888".into();
    desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    assert_eq!(plate(&desk.phone.instrument(COLD_ASH).unwrap(), "Serial number"), "MW-30-88888");
}
