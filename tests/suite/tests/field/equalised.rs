//! A differential cell on the screen: its zero is seen with both sides joined, and nobody is told to vent it.

use domain::visit::{Choice, PieceKind, Step, Timing};
use field::view::{Change, Grade};
use rstest::rstest;
use serde_json::{Value, json};

use crate::desk::Desk;

/// The brine tank's row with another mounting: a closed tank of water.
fn desk(mounting: Value) -> Desk {
    let desk = Desk::new();
    desk.phone.set_technician("Asha Renn").unwrap();
    let mut file: Value = serde_json::from_slice(kit::register()).unwrap();
    let row = file["instruments"][4].as_object_mut().unwrap();
    row.insert("liquid".into(), json!({ "name": "water" }));
    row.insert("mounting".into(), mounting);
    row.remove("others");
    let report = desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    assert_eq!(report.problems, []);
    desk
}

#[rstest]
#[case::wet_leg(
    json!({ "kind": "wet_leg", "top": "3.4 m", "fill": { "name": "water" }, "vapour_density": "1.2 kg/m3" }),
    "Equalised zero"
)]
#[case::riser(json!({ "kind": "riser" }), "")]
fn the_check_has_its_own_name_and_cautions(#[case] mounting: Value, #[case] name: &str) {
    let desk = desk(mounting);
    let id = desk.phone.visit_begin("LT-4020", Choice::ByTyping, "").unwrap().id;
    let view = desk.phone.visit_change(&id, &Change::Go { step: Step::Evidence }).unwrap();
    let offer = view.now.offers.iter().find(|offer| offer.kind == PieceKind::Vented).unwrap();
    assert_eq!((offer.name.as_str(), offer.not_here.as_str()), (name, ""));
    let add = Change::Add { kind: PieceKind::Vented, timing: Timing::Before };
    let view = desk.phone.visit_change(&id, &add).unwrap();
    let piece = &view.now.pieces[0];
    assert_eq!(piece.name, name);
    let joined = !name.is_empty();
    assert_eq!(piece.fields[0].label.contains("join its sides"), joined);
    let dangers = piece.messages.iter().filter(|message| message.grade == Grade::Danger);
    let codes: Vec<&str> = dangers.map(|message| message.code.as_str()).collect();
    assert_eq!(
        codes,
        if joined { vec!["equalised.caution", "equalised.order"] } else { vec!["vented.caution"] }
    );
    let shut = view.now.offers.iter().find(|offer| offer.kind == PieceKind::Vented).unwrap();
    let called = if joined { name } else { "Vented check" };
    assert_eq!(shut.not_here, format!("{called} is in the list already."));
    let view = desk.phone.visit_change(&id, &Change::Go { step: Step::Sign }).unwrap();
    let titles: Vec<&str> = view.now.review.iter().map(|part| part.title.as_str()).collect();
    assert!(titles.contains(&format!("Evidence: {called}").as_str()), "{titles:?}");
    let words = serde_json::to_string(&view).unwrap();
    assert!(!words.contains("atmosphere"), "{words}");
}
