//! Links that break. Whatever happens to any question, all entries end at the hub, as they were signed and once.

use std::collections::BTreeSet;

use carry::faulty::Fault;
use proptest::prelude::*;
use rstest::rstest;

use crate::hub::Hub;
use crate::phone::Phone;

const LENGTHS: [usize; 5] = [300, 20_000, 1_200, 40_000, 500];

fn all_came(hub: &Hub, phone: &Phone) {
    let held: BTreeSet<Vec<u8>> = hub.entries.borrow().values().cloned().collect();
    let (came, signed) = (held.len(), phone.entries.len());
    assert!(held == phone.entries.iter().cloned().collect(), "{came} of {signed} came as they were signed");
}

/// Bytes at which something begins or ends: nothing, one, the frame of the packing, within it, its last byte, behind it.
const CLASSES: [usize; 9] = [0, 1, 4, 5, 100, 4_000, 40_000, 99_999, 10_000_000];

#[rstest]
fn a_link_cut_at_any_kind_of_byte_loses_nothing(
    #[values(0, 1, 2)] question: usize,
    #[values(Fault::CutQuestion(0), Fault::CutAnswer(0), Fault::ShortAnswer(0), Fault::TurnedAnswer(0))]
    kind: Fault,
) {
    for at in CLASSES {
        let fault = match kind {
            Fault::CutQuestion(_) => Fault::CutQuestion(at),
            Fault::CutAnswer(_) => Fault::CutAnswer(at),
            Fault::ShortAnswer(_) => Fault::ShortAnswer(at),
            _ => Fault::TurnedAnswer(at),
        };
        let (hub, phone) = (Hub::default(), Phone::with(LENGTHS));
        let mut faults = vec![Fault::None; question];
        faults.push(fault);
        phone.exchange_at_last(&hub, faults);
        all_came(&hub, &phone);
    }
}

#[rstest]
fn every_byte_of_an_answer_may_be_the_last(#[values(0, 1)] question: usize) {
    // The answers of this hub are shorter than this.
    for at in 0..300 {
        let (hub, phone) = (Hub::default(), Phone::with([400]));
        let mut faults = vec![Fault::None; question];
        faults.push(Fault::ShortAnswer(at));
        phone.exchange_at_last(&hub, faults);
        all_came(&hub, &phone);
    }
}

#[test]
fn a_push_that_comes_twice_is_refused_the_second_time_and_loses_nothing() {
    let (hub, phone) = (Hub::default(), Phone::with(LENGTHS));
    let asked = phone.exchange_at_last(&hub, vec![Fault::None, Fault::Twice]);
    all_came(&hub, &phone);
    // The second exchange found everything there.
    assert_eq!((asked, hub.came_again.get()), (4, 0));
}

#[test]
fn a_link_that_is_gone_is_tried_again() {
    let (hub, phone) = (Hub::default(), Phone::with(LENGTHS));
    assert_eq!(phone.exchange_at_last(&hub, vec![Fault::Gone; 6]), 8);
    all_came(&hub, &phone);
}

fn fault() -> impl Strategy<Value = Fault> {
    prop_oneof![
        3 => Just(Fault::None),
        1 => Just(Fault::Gone),
        1 => Just(Fault::Late),
        1 => Just(Fault::Twice),
        2 => (0usize..150_000).prop_map(Fault::CutQuestion),
        2 => (0usize..500).prop_map(Fault::CutAnswer),
        1 => (0usize..500).prop_map(Fault::ShortAnswer),
        1 => (0usize..500).prop_map(Fault::TurnedAnswer),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn whatever_goes_wrong_a_dozen_times_all_comes_in_the_end(
        faults in proptest::collection::vec(fault(), 0..12),
        lengths in proptest::collection::vec(300usize..30_000, 1..12),
    ) {
        let (hub, phone) = (Hub::default(), Phone::with(lengths));
        phone.exchange_at_last(&hub, faults);
        all_came(&hub, &phone);
    }
}
