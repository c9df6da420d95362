//! What is still missing: by name, and where it leads.

use domain::visit::{Choice, Key, Spot, Step};
use field::view::{Change, FieldView, LeadsTo, MissingView, VisitView};
use kit::answer;

use crate::desk::Desk;

struct Visit {
    desk: Desk,
    id: String,
}

impl Visit {
    fn begun() -> Visit {
        let desk = Desk::ready();
        let id = desk.phone.visit_begin("LT-2041", Choice::ByList, "").unwrap().id;
        Visit { desk, id }
    }

    fn does(&self, change: &Change) -> VisitView {
        self.desk.phone.visit_change(&self.id, change).unwrap()
    }

    fn says(&self, key: Key, text: &str) -> VisitView {
        self.does(&answer(Spot::of(key), text))
    }

    fn at(&self, step: Step) -> VisitView {
        self.does(&Change::Go { step })
    }
}

fn questions(missing: &[MissingView]) -> Vec<(Key, u32, &str)> {
    let question = |one: &'_ MissingView| match &one.leads {
        LeadsTo::Question { key, row, .. } => Some((*key, *row, one.message.code.clone())),
        _ => None,
    };
    let named = missing.iter().filter_map(question);
    named
        .map(|(key, row, code)| match code.as_str() {
            "missing.answer" => (key, row, "open"),
            "missing.unreadable" => (key, row, "unreadable"),
            "missing.reason" => (key, row, "reason"),
            other => panic!("{other}"),
        })
        .collect()
}

/// Every question that is led to is a field of the page, called alike, and says what to do.
fn lead_to_fields(view: &VisitView) {
    let reasons = view.now.messages.iter().filter_map(|message| message.reason.as_deref());
    let fields: Vec<&FieldView> = view
        .now
        .fields
        .iter()
        .chain(view.now.pieces.iter().flat_map(|piece| &piece.fields))
        .chain(reasons)
        .collect();
    for one in &view.now.next.missing {
        assert!(!one.message.text.is_empty() && !one.message.remedy.is_empty(), "{one:?}");
        let LeadsTo::Question { key, piece, row, label } = &one.leads else { continue };
        let same = |field: &&&FieldView| (field.key, field.piece, field.row) == (*key, *piece, *row);
        let field = fields.iter().find(same).unwrap_or_else(|| panic!("{one:?} leads nowhere"));
        assert_eq!(&field.label, label);
    }
}

#[test]
fn what_is_not_answered_is_named_question_by_question() {
    let view = Visit::begun().at(Step::AsFound);
    lead_to_fields(&view);
    let open = [Key::Display, Key::OffsetKnown, Key::StandingHeadAt, Key::LineBled, Key::VentLooked];
    assert_eq!(questions(&view.now.next.missing), open.map(|key| (key, 0, "open")));
}

#[test]
fn a_sites_own_item_is_named_by_its_own_words() {
    let view = Visit::begun().at(Step::MakeSafe);
    lead_to_fields(&view);
    let Some(LeadsTo::Question { label, .. }) = view.now.next.missing.first().map(|one| &one.leads) else {
        panic!("{:?}", view.now.next.missing)
    };
    assert_eq!(label, "Gate code and site radio checked with the Marrowby control room");
}

#[test]
fn an_answer_that_cannot_be_read_says_what_is_wrong_with_it() {
    let visit = Visit::begun();
    visit.at(Step::AsFound);
    let view = visit.says(Key::Display, "12 o'clock");
    lead_to_fields(&view);
    let first = view.now.next.missing.first().unwrap();
    assert_eq!(questions(&view.now.next.missing).first(), Some(&(Key::Display, 0, "unreadable")));
    let field = view.now.fields.iter().find(|field| field.key == Key::Display).unwrap();
    let problem = field.problem.as_ref().unwrap();
    assert_eq!((&first.message.text, &first.message.remedy), (&problem.text, &problem.remedy));
}

#[test]
fn a_reason_that_is_wanted_leads_to_its_field() {
    let visit = Visit::begun();
    visit.at(Step::AsFound);
    let view = visit.says(Key::LineBled, "bled_not_possible");
    lead_to_fields(&view);
    let questions = questions(&view.now.next.missing);
    assert!(questions.contains(&(Key::WarningReason, 12, "reason")), "{questions:?}");
}

#[test]
fn on_sign_each_step_that_is_open_is_led_to() {
    let view = Visit::begun().at(Step::Sign);
    lead_to_fields(&view);
    let steps: Vec<Step> = view
        .now
        .next
        .missing
        .iter()
        .filter_map(|one| match one.leads {
            LeadsTo::Step { step } => Some(step),
            _ => None,
        })
        .collect();
    assert_eq!(steps.len(), view.now.next.missing.len());
    assert_eq!((steps.first(), steps.last()), (Some(&Step::Find), Some(&Step::BackInService)));
}
