//! A long dip with a cold tape, from the question to the signed record.

use domain::visit::{Choice, Key, PieceId, PieceKind, Spot, Step, Timing};
use field::view::{Change, FieldKind, PieceView, VisitView};
use kit::answer;

use crate::desk::Desk;

fn puts(desk: &Desk, id: &str, spot: Spot, text: &str) -> VisitView {
    desk.clock.move_by(20_000);
    desk.phone.visit_change(id, &answer(spot, text)).unwrap()
}

fn dip(key: Key) -> Spot {
    Spot::piece(PieceId(1), key, 0)
}

/// Cold Ash, made safe and nearly full.
fn nearly_full(desk: &Desk) -> String {
    let id = desk.phone.visit_begin("LT-3107", Choice::ByList, "").unwrap().id;
    for (key, text) in
        [(Key::TagMatches, "yes"), (Key::SerialRead, "MW-30-20455"), (Key::RangeMatches, "yes")]
    {
        puts(desk, &id, Spot::of(key), text);
    }
    let view = desk.phone.visit_change(&id, &Change::Go { step: Step::MakeSafe }).unwrap();
    for field in view.now.fields.iter().filter(|field| field.key == Key::SafetyItem) {
        puts(desk, &id, Spot::row(Key::SafetyItem, field.row), "done");
    }
    for (key, text) in [
        (Key::ControlRoomTold, "Duty desk, Marrowby"),
        (Key::Display, "7.20"),
        (Key::OffsetKnown, "offset_unknown"),
        (Key::StandingHeadAt, "head_in_offset"),
        (Key::LineBled, "bled_clear"),
        (Key::VentLooked, "vent_clear"),
    ] {
        puts(desk, &id, Spot::of(key), text);
    }
    desk.phone.visit_change(&id, &Change::Go { step: Step::Evidence }).unwrap();
    desk.phone.visit_change(&id, &Change::Add { kind: PieceKind::Dip, timing: Timing::Before }).unwrap();
    puts(desk, &id, dip(Key::TapeUsed), "Tape M-14");
    id
}

fn asks(piece: &PieceView, key: Key) -> bool {
    piece.fields.iter().any(|field| field.key == key)
}

#[test]
fn a_short_dip_asks_nothing_more_and_a_long_one_may_be_told() {
    let desk = Desk::ready();
    let id = nearly_full(&desk);
    let view = puts(&desk, &id, dip(Key::Dip), "6.000 m");
    assert!(!asks(&view.now.pieces[0], Key::TapeTemperature));
    let view = puts(&desk, &id, dip(Key::Dip), "7.200 m");
    let asked = view.now.pieces[0].fields.iter().find(|field| field.key == Key::TapeTemperature).unwrap();
    assert_eq!((asked.kind, asked.required), (FieldKind::Temperature, false));
    assert!(view.now.next.ready, "{:?}", view.now.next.missing);
}

/// 7.200 m x 1.17e-5 x (-5 - 20) K = -2.106 mm: the level is 7.1979 m and the display 2 mm too high.
#[test]
fn a_cold_tape_is_corrected_shown_and_signed() {
    let desk = Desk::ready();
    let id = nearly_full(&desk);
    puts(&desk, &id, dip(Key::Dip), "7.200 m");
    let view = puts(&desk, &id, dip(Key::TapeTemperature), "-5 degC");
    let piece = &view.now.pieces[0];
    let field = piece.fields.iter().find(|field| field.key == Key::TapeTemperature).unwrap();
    assert_eq!(field.echo, "23.0 degF");
    let said = piece.messages.iter().find(|message| message.code == "tape.corrected").unwrap();
    assert!(said.text.contains("-2.1 mm"), "{}", said.text);
    let view = desk.phone.visit_change(&id, &Change::Go { step: Step::Shift }).unwrap();
    let shift = view.now.shift.as_ref().unwrap();
    let line = shift.working.iter().find(|line| line.what == "tape at -5.0 degC").unwrap();
    assert_eq!(line.value, "-2.1 mm");
    assert_eq!(line.how, "7.2000 m x 11.7 millionths per K x -25.0 K, true at 20.0 degC");
    let row = shift.budget.iter().find(|line| line.what.contains("warmer than it is true at")).unwrap();
    // 3 K over root three; 7.2 m x 1.17e-5 x 9803 Pa/m (11 degC, Cold Ash, less the air) is 0.826 Pa/K.
    assert_eq!((row.value.as_str(), row.standard.as_str()), ("-25.0 K", "+1.7 K"));
    assert!(
        row.sensitivity.ends_with(" Pa/K")
            && row.sensitivity.trim_start_matches(['+', '-']).starts_with("0.82"),
        "{row:?}"
    );
    let row = shift.budget.iter().find(|line| line.what.starts_with("expansion of tape Tape M-14")).unwrap();
    assert_eq!(row.value, "11.7e-6 /K");
    let steel = shift.assumptions.iter().any(|message| message.text.contains("taken as steel"));
    assert!(steel, "{:?}", shift.assumptions);
    puts(&desk, &id, Spot::of(Key::Decision), "leave");
    for row in 0..4 {
        puts(&desk, &id, Spot::row(Key::BackItem, row), "done");
    }
    let record = desk.phone.visit_sign(&id).unwrap();
    let lines = || record.parts.iter().flat_map(|part| &part.lines);
    let kept = lines().find(|line| line.what == "Tape temperature").unwrap();
    assert_eq!((kept.value.as_str(), kept.echo.as_str()), ("-5 degC", "-5 degC"));
    assert!(record.working.iter().any(|line| line.what == "tape at -5.0 degC" && line.value == "-2.1 mm"));
}

/// What the register says of a tape reaches the visit, and comes back out of the signed record.
#[test]
fn a_tape_of_the_register_is_taken_as_it_is_made() {
    let desk = Desk::new();
    desk.phone.set_technician("Asha Renn").unwrap();
    let mut register: serde_json::Value = serde_json::from_slice(kit::register()).unwrap();
    let row = register["instruments"].as_array_mut().unwrap().iter_mut().find(|row| row["tag"] == "LT-3107");
    // 30 N over 3 mm2 x 100 GPa: 100 millionths, 0.7 mm of 7.2 m.
    row.unwrap()["tapes"] = serde_json::json!([{ "id": "Tape M-14", "uncertainty": "2 mm", "due": "2027-03-31",
        "expansion": "2e-5", "at": "68 degF", "pull": "30", "section": "3", "modulus": "100" }]);
    let report = desk.phone.register_load(&desk.upload(register.to_string().as_bytes())).unwrap();
    assert_eq!(report.problems, []);
    let id = nearly_full(&desk);
    let view = puts(&desk, &id, dip(Key::Dip), "7.200 m");
    let said = &view.now.pieces[0].messages;
    assert!(said.iter().any(|message| message.text.contains("+0.7 mm")), "{said:?}");
    puts(&desk, &id, Spot::of(Key::Decision), "leave");
    for row in 0..4 {
        puts(&desk, &id, Spot::row(Key::BackItem, row), "done");
    }
    let signed = desk.phone.visit_sign(&id).unwrap();
    let again = desk.phone.record(&signed.id).unwrap();
    assert!(again.working.iter().any(|line| line.what == "tape under its bob" && line.value == "+0.7 mm"));
}

#[test]
fn a_bad_tape_in_the_register_names_its_field() {
    let desk = Desk::new();
    desk.phone.set_technician("Asha Renn").unwrap();
    let mut register: serde_json::Value = serde_json::from_slice(kit::register()).unwrap();
    register["instruments"][0]["tapes"][1]["expansion"] = "steel".into();
    let report = desk.phone.register_load(&desk.upload(register.to_string().as_bytes())).unwrap();
    let fields: Vec<_> = report.problems.iter().map(|problem| problem.field.as_str()).collect();
    assert_eq!(fields, ["tapes[1].expansion"]);
}

/// Tape M-14 is good to the end of 2027-03-31. At 02:00 UTC on the day after, it is 19:00 on that day seven hours west, and
/// 03:00 on the next an hour east.
#[test]
fn a_tape_is_good_to_the_end_of_the_technicians_day() {
    let overdue = |minutes: i16| {
        let desk = Desk::ready();
        // 127 days from 2026-11-25, 10:42:07 UTC.
        desk.clock.move_by(((127 * 24 + 2) * 3600 - (10 * 3600 + 42 * 60 + 7)) * 1000);
        desk.clock.ahead_by(minutes);
        let id = nearly_full(&desk);
        // What counts is where the visit began.
        desk.clock.ahead_by(0);
        let view = puts(&desk, &id, dip(Key::Dip), "6.000 m");
        view.now.pieces[0].messages.iter().any(|message| message.code == "tape.overdue")
    };
    assert!(!overdue(-420));
    assert!(overdue(60) && overdue(0));
}
