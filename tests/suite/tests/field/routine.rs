//! A routine check that needs no adjustment: few touches, each answer its own, and nothing answered beforehand.

use domain::visit::{Choice, Key, PieceId, PieceKind, Spot, Step, Timing};
use field::view::{Change, StatedAnswer, VisitView};
use kit::answer;

use crate::desk::Desk;

/// Somebody whose touches are counted. A number typed on the pad is one: its field.
struct Thumb<'a> {
    desk: &'a Desk,
    view: VisitView,
    touches: u32,
}

impl<'a> Thumb<'a> {
    fn begins(desk: &'a Desk, tag: &str) -> Thumb<'a> {
        Thumb { desk, view: desk.phone.visit_begin(tag, Choice::ByCode, "").unwrap(), touches: 0 }
    }

    fn does(&mut self, change: &Change) {
        self.touches += 1;
        self.view = self.desk.phone.visit_change(&self.view.id, change).unwrap();
    }

    fn answers(&mut self, spot: Spot, text: &str) {
        self.does(&answer(spot, text));
    }

    /// Presses the one button that states what is as usual.
    fn states(&mut self) -> usize {
        let lines = self.view.now.together.clone().unwrap().lines;
        let answers: Vec<StatedAnswer> = lines.into_iter().map(|line| line.answer).collect();
        let count = answers.len();
        self.does(&Change::Together { answers });
        count
    }

    fn goes_on(&mut self) {
        assert!(self.view.now.next.ready, "{:?}", self.view.now.next.missing);
        let step = self.view.now.next.to.unwrap();
        self.does(&Change::Go { step });
    }

    fn is_at(&self, step: Step) {
        assert_eq!(self.view.now.step, step, "{:?}", self.view.now.next.missing);
    }
}

/// Sedge Hill, 14 ft 3 1/2 in by the tape, 14.29 ft on the display: the same.
#[test]
fn a_check_that_needs_no_adjustment_takes_fewer_than_fifteen_touches() {
    let desk = Desk::ready();
    let mut thumb = Thumb::begins(&desk, "LT-2041");
    assert_eq!(thumb.states(), 3, "tag, serial, range");
    thumb.is_at(Step::MakeSafe);
    thumb.answers(Spot::row(Key::SafetyItem, 0), "done");
    thumb.answers(Spot::of(Key::ControlRoomTold), "Duty desk, Marrowby");
    assert_eq!(thumb.states(), 7, "the usual items");
    thumb.is_at(Step::AsFound);
    thumb.answers(Spot::of(Key::Display), "14.29");
    assert_eq!(thumb.states(), 4, "offset, standing head, line, vent");
    thumb.is_at(Step::Evidence);
    thumb.does(&Change::Add { kind: PieceKind::Dip, timing: Timing::Before });
    thumb.answers(Spot::piece(PieceId(1), Key::Dip, 0), "14' 3 1/2\"");
    thumb.goes_on();
    thumb.answers(Spot::of(Key::Decision), "leave");
    thumb.goes_on();
    thumb.goes_on();
    thumb.is_at(Step::BackInService);
    assert_eq!(thumb.states(), 4);
    thumb.is_at(Step::Sign);
    let record = desk.phone.visit_sign(&thumb.view.id).unwrap();
    assert!(thumb.touches + 1 < 15, "{} touches and the signature", thumb.touches);
    assert_eq!(record.verdict.code, "within", "{}", record.verdict.text);
    let safe = record.parts.iter().find(|part| part.title == "Make safe").unwrap();
    assert_eq!(safe.lines.iter().filter(|line| line.value == "done").count(), 8, "each item by itself");
}

#[test]
fn the_sites_own_items_are_answered_one_by_one_before_the_usual_ones() {
    let desk = Desk::ready();
    let mut thumb = Thumb::begins(&desk, "LT-2041");
    thumb.does(&Change::Go { step: Step::MakeSafe });
    assert!(
        thumb.view.now.fields.iter().all(|field| field.text.is_empty()),
        "nothing is answered beforehand"
    );
    assert_eq!(thumb.view.now.together, None);
    thumb.answers(Spot::row(Key::SafetyItem, 0), "done");
    let offered = thumb.view.now.together.clone().unwrap();
    let own = &thumb.view.now.fields[0].label;
    assert!(offered.lines.iter().all(|line| &line.label != own && !line.label.is_empty()));
    assert_eq!(offered.leads_to, None, "nobody in the control room was told yet");
}

#[test]
fn what_was_answered_by_itself_is_not_stated_over() {
    let desk = Desk::ready();
    let mut thumb = Thumb::begins(&desk, "LT-2041");
    thumb.does(&Change::Go { step: Step::MakeSafe });
    thumb.answers(Spot::row(Key::SafetyItem, 0), "done");
    let offered = thumb.view.now.together.clone().unwrap();
    thumb.answers(Spot::row(Key::SafetyItem, 3), "does_not_apply");
    let answers = offered.lines.into_iter().map(|line| line.answer).collect();
    thumb.does(&Change::Together { answers });
    let field = thumb.view.now.fields.iter().find(|field| field.key == Key::SafetyItem && field.row == 3);
    assert_eq!(field.unwrap().text, "does_not_apply");
}

#[test]
fn as_usual_is_not_offered_where_it_is_not() {
    let desk = Desk::ready();
    let mut thumb = Thumb::begins(&desk, "LT-2041");
    thumb.answers(Spot::of(Key::SerialRead), "MW-50-99999");
    thumb.does(&Change::Go { step: Step::AsFound });
    assert_eq!(thumb.view.now.together, None, "the display is not read yet");
    thumb.answers(Spot::of(Key::Display), "45.60");
    let keys: Vec<Key> =
        thumb.view.now.together.clone().unwrap().lines.iter().map(|line| line.answer.key).collect();
    // Another unit is fitted, so no offset by the record; and 45.60 ft is riser and level together.
    assert_eq!(keys, [Key::LineBled, Key::VentLooked]);
}
