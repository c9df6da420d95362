//! What is proposed to be measured next, pressed.

use domain::visit::{Choice, Key, PieceId, PieceKind, Spot, Step, Timing};
use field::view::{Change, ProposalView, VisitView};
use kit::answer;

use crate::desk::Desk;

fn puts(desk: &Desk, id: &str, spot: Spot, text: &str) -> VisitView {
    desk.phone.visit_change(id, &answer(spot, text)).unwrap()
}

/// The register with the hatch of Sedge Hill reached from the ground.
fn desk() -> Desk {
    let desk = Desk::new();
    desk.phone.set_technician("Asha Renn").unwrap();
    let mut register: serde_json::Value = serde_json::from_slice(kit::register()).unwrap();
    let rows = register.get_mut("instruments").and_then(|rows| rows.as_array_mut()).unwrap();
    let row = rows.iter_mut().find(|row| row.get("tag").is_some_and(|tag| tag == "LT-2041")).unwrap();
    let crew = serde_json::json!({ "hatch_from_ground": true });
    row.as_object_mut().unwrap().insert("crew".to_owned(), crew);
    let report = desk.phone.register_load(&desk.upload(register.to_string().as_bytes())).unwrap();
    assert_eq!(report.problems, []);
    desk
}

/// Sedge Hill with the display read and the offset known, and no reference yet.
fn as_found(desk: &Desk) -> String {
    let id = desk.phone.visit_begin("LT-2041", Choice::ByList, "").unwrap().id;
    for (key, text) in [
        (Key::Display, "14.50"),
        (Key::OffsetKnown, "offset_unknown"),
        (Key::StandingHeadAt, "head_in_offset"),
        (Key::LineBled, "bled_clear"),
        (Key::VentLooked, "vent_clear"),
    ] {
        puts(desk, &id, Spot::of(key), text);
    }
    id
}

fn proposals(view: &VisitView) -> &[ProposalView] {
    view.now.measure_next.as_ref().map_or(&[], |next| &next.proposals)
}

fn adds(view: &VisitView, kind: PieceKind) -> Change {
    let add = Change::Add { kind, timing: Timing::Before };
    let found = proposals(view).iter().find(|proposal| proposal.change == add);
    assert!(found.is_some(), "no {kind:?} among {:?}", proposals(view));
    found.unwrap().change.clone()
}

#[test]
fn a_proposal_pressed_on_evidence_adds_its_piece() {
    let desk = desk();
    let id = as_found(&desk);
    let view = desk.phone.visit_change(&id, &Change::Go { step: Step::Evidence }).unwrap();
    let view = desk.phone.visit_change(&id, &adds(&view, PieceKind::Dip)).unwrap();
    assert_eq!(view.now.step, Step::Evidence);
    let [piece] = view.now.pieces.as_slice() else { panic!("{:?}", view.now.pieces) };
    assert_eq!((piece.kind, piece.timing), (PieceKind::Dip, Timing::Before));
    assert!(piece.fields.iter().all(|field| field.text.is_empty()), "nothing is answered beforehand");
}

/// Pressed on Shift it would add a piece where nobody sees it: it leads to where the piece is.
#[test]
fn a_proposal_pressed_on_shift_leads_to_its_piece() {
    let desk = desk();
    let id = as_found(&desk);
    let view = desk.phone.visit_change(&id, &Change::Go { step: Step::Shift }).unwrap();
    let view = desk.phone.visit_change(&id, &adds(&view, PieceKind::Drop)).unwrap();
    assert_eq!(view.now.step, Step::Evidence);
    assert_eq!(view.now.pieces[0].kind, PieceKind::Drop);
}

/// The same for what a shift that is not determined offers.
#[test]
fn a_way_out_pressed_on_shift_leads_to_its_piece() {
    let desk = desk();
    let id = as_found(&desk);
    puts(&desk, &id, Spot::of(Key::OffsetKnown), "offset_from_record");
    let view = desk.phone.visit_change(&id, &Change::Go { step: Step::Shift }).unwrap();
    let ways = &view.now.shift.as_ref().unwrap().ways_out;
    let add = |kind| Change::Add { kind, timing: Timing::Before };
    let measure = ways
        .iter()
        .map(|way| &way.change)
        .find(|change| [add(PieceKind::Riser), add(PieceKind::Vented)].contains(change));
    let view =
        desk.phone.visit_change(&id, measure.unwrap_or_else(|| panic!("no piece among {ways:?}"))).unwrap();
    assert_eq!((view.now.step, view.now.pieces.len()), (Step::Evidence, 1));
}

#[test]
fn proof_added_after_the_trim_stays_on_as_left() {
    let desk = desk();
    let id = as_found(&desk);
    desk.phone.visit_change(&id, &Change::Go { step: Step::AsLeft }).unwrap();
    let proof = Change::Add { kind: PieceKind::Dip, timing: Timing::After };
    let view = desk.phone.visit_change(&id, &proof).unwrap();
    assert_eq!((view.now.step, view.now.pieces.len()), (Step::AsLeft, 1));
}

/// Following every proposal in turn ends: each is taken from the list by what it asks for, or by good enough.
#[test]
fn what_was_proposed_and_done_is_not_proposed_again() {
    let desk = desk();
    let id = as_found(&desk);
    let view = desk.phone.visit_change(&id, &Change::Go { step: Step::Evidence }).unwrap();
    desk.phone.visit_change(&id, &adds(&view, PieceKind::Dip)).unwrap();
    for (row, text) in (0..).zip(["14' 3\"", "14' 3\"", "14' 3\""]) {
        puts(&desk, &id, Spot::piece(PieceId(1), Key::Dip, row), text);
    }
    let view = puts(&desk, &id, Spot::piece(PieceId(1), Key::TapeUsed, 0), "Tape M-14");
    let next = view.now.measure_next.as_ref().unwrap();
    // Readings stand two decimals deep: 14.50 against 14.25, and the tape is good to millimetres.
    assert!(next.says.starts_with("± ") || next.enough, "{}", next.says);
    let temperature = next.proposals.iter().find(|one| one.change == Change::Go { step: Step::AsFound });
    if let Some(proposal) = temperature {
        let view = desk.phone.visit_change(&id, &proposal.change).unwrap();
        assert_eq!(view.now.step, Step::AsFound);
    }
    let view = puts(&desk, &id, Spot::of(Key::LiquidTemperature), "52 degF");
    assert!(proposals(&view).iter().all(|one| !one.what.contains("temperature")), "{:?}", proposals(&view));
}
