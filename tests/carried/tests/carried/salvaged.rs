//! A phone's data file is damaged: what could not be taken over comes back from the hub.

use carried::{Hub, Phone, Proxy};
use store::{Place, Seq};

#[test]
fn what_a_damaged_file_lost_comes_back_with_the_next_exchange() {
    let hub = Hub::founded().unwrap();
    let by = Proxy::to(hub.at()).unwrap();
    let phone = Phone::new("asha").unwrap();
    phone.enrol(&hub, &by).unwrap();
    phone.write(14).unwrap();
    phone.exchange(&by).unwrap();
    let (log, before) = (phone.log().unwrap(), phone.own().unwrap());
    let from = Place { log: store::LogId::of(log), seq: Seq(1) };
    let kept = phone.store().entries(from, u32::MAX).unwrap();
    // One in the middle, two behind one another, and the end.
    let spoilt = [3, 8, 9, 13].map(|at: usize| kept[at].entry.bytes.clone());

    let phone = phone.spoilt(&spoilt).unwrap();
    assert_eq!(phone.store().salvaged().unwrap().len(), 1, "it was put aside and taken over");
    let left = phone.held_of(log).unwrap();
    assert!(left.len() <= 10 && left.iter().all(|id| before.contains(id)), "{} are left", left.len());
    assert_ne!(phone.log().unwrap(), log, "it writes another log now");

    phone.enrol(&hub, &by).unwrap();
    phone.write(1).unwrap();
    let sent = phone.exchange(&by).unwrap();
    assert_eq!(phone.held_of(log).unwrap(), before, "whole again, after {} questions", sent.rounds);
    for id in &before {
        let place = Place { log: store::LogId::of(log), seq: Seq::of(id.seq) };
        assert!(phone.store().stands(place).unwrap().is_some_and(store::Stands::is_at_hub), "{id}");
    }
    let all = phone.store().of_kind(store::Kind(u64::from(bodies::VISIT.0))).unwrap();
    let listed = usize::try_from(phone.store().signed_count().unwrap()).unwrap();
    assert_eq!(listed, all.len(), "what came back stands in the list of visits");
    assert_eq!(exchange::session::Ledger::lacks(phone.store()).unwrap(), [], "nothing is lacking any more");
    let sent = phone.exchange(&by).unwrap();
    assert_eq!((sent.rounds, sent.taken), (2, 0), "and nothing is asked for again");
}
