//! A process that is killed between two writes: what the ledger says and what the lists show agree once the hub is
//! opened again, or both say nothing.

use bodies::{Decision, PersonId, Proposed};
use hub::deciding::{review, revoke};
use hub::home::{Hub, Signing};
use hubstore::{AnyStore, Logs, Memory, People, Standing};
use record::{Signer, Strict};

use crate::phone::Phone;
use crate::proposals::{decision, instrument, propose, register, stands};
use crate::world::{World, key};

const WHO: PersonId = PersonId([5; 16]);
/// More writes than any of these acts makes.
const ENOUGH: u32 = 12;

/// The hub as the next process opens it, on all that was written.
async fn opened_again(world: World, memory: &Memory) -> World {
    memory.stop_after(None);
    let signing = Signing { key: key(0x77), proof: Strict };
    let hub = Hub::open(AnyStore::from(memory.clone()), signing, world.clock.clone()).await.unwrap();
    World { hub, ..world }
}

#[tokio::test]
async fn accepting_is_whole_or_nothing_wherever_it_is_cut() {
    let mut done = Vec::new();
    for writes in 0..ENOUGH {
        let memory = Memory::new();
        let world = World::over(AnyStore::from(memory.clone())).await;
        let mut phone = Phone::with(1, 0);
        world.enrol(&phone, &[]).await;
        register(&world, &[instrument("LT-1", &[])]).await;
        let id = propose(&mut phone, "LT-1", Proposed::Code("X".into()));
        phone.sends(&world).await;
        memory.stop_after(Some(writes));
        let answered = review(&world.hub, &decision(id, Decision::Accepted, "")).await.is_ok();
        let world = opened_again(world, &memory).await;
        let decided = world.hub.trusted().await.unwrap().decided(&id).is_some();
        let says = stands(&world, "LT-1").await.codes == ["X"];
        assert_eq!((decided, says), (answered, answered), "cut after {writes} writes");
        done.push(answered);
    }
    assert!(!done[0] && done[1], "{done:?}");
}

#[tokio::test]
async fn a_revocation_shows_in_the_list_wherever_it_is_cut() {
    let mut done = Vec::new();
    for writes in 0..ENOUGH {
        let memory = Memory::new();
        let world = World::over(AnyStore::from(memory.clone())).await;
        let phone = Phone::with(1, 1);
        world.enrol(&phone, &[]).await;
        phone.sends(&world).await;
        memory.stop_after(Some(writes));
        let answered = revoke(&world.hub, phone.log(), None, "lost", WHO).await.is_ok();
        // What another process sees before anybody opens the hub anew.
        memory.stop_after(None);
        let revoked = world.hub.trusted().await.unwrap().trust().revoked(phone.log()).is_some();
        let shown = world.hub.store.log(phone.log()).await.unwrap().unwrap().standing;
        assert_eq!((revoked, shown == Standing::Revoked(None)), (answered, answered), "after {writes}");
        done.push(answered);
    }
    assert!(!done[0] && done[1], "{done:?}");
}

#[tokio::test]
async fn a_revocation_that_a_phone_gives_back_shows_once_the_hub_is_opened() {
    // Two hubs with the same keys: one that said it, and one that lost it and gets it back.
    let said = World::new().await;
    let phone = Phone::with(1, 1);
    said.enrol(&phone, &[]).await;
    phone.sends(&said).await;
    revoke(&said.hub, phone.log(), None, "lost", WHO).await.unwrap();
    let (answer, _) = phone.sends(&said).await;
    let mut cut = 0;
    for writes in 0..ENOUGH {
        let memory = Memory::new();
        let lost = World::over(AnyStore::from(memory.clone())).await;
        lost.enrol(&phone, &[]).await;
        memory.stop_after(Some(writes));
        let came = hub::exchange::Came {
            keys: [(key(0x77).public().log(), key(0x77).public().clone())].into(),
            entries: crate::phone::bytes(&answer.entries),
            ..Default::default()
        };
        cut += u32::from(lost.hub.take(came).await.is_err());
        let lost = opened_again(lost, &memory).await;
        let revoked = lost.hub.trusted().await.unwrap().trust().revoked(phone.log()).is_some();
        let shown = lost.hub.store.log(phone.log()).await.unwrap().unwrap().standing;
        assert_eq!(shown == Standing::Revoked(None), revoked, "cut after {writes} writes");
    }
    assert!(cut >= 2, "it was cut before the ledger, and between the ledger and the list");
}

#[tokio::test]
async fn a_phone_whose_enrolment_was_cut_is_listed_once_it_is_certified() {
    let mut certified = 0;
    for writes in 0..ENOUGH {
        let memory = Memory::new();
        let world = World::over(AnyStore::from(memory.clone())).await;
        let phone = Phone::with(1, 0);
        let code = hub::chance::bytes().unwrap();
        let made_for =
            hub::enrol::Offer { label: "M-07".into(), person: [9; 16], areas: vec!["north".into()] };
        hub::enrol::offer(&world.hub, &code, &made_for).await.unwrap();
        let waits = world.ask(&phone, &code).await.unwrap();
        memory.stop_after(Some(writes));
        let answered = hub::enrol::confirm(&world.hub, None, phone.log(), &waits.digits).await.is_ok();
        let world = opened_again(world, &memory).await;
        let trusts = world.trusts(phone.log()).await;
        let device = world.hub.store.device(phone.log()).await.unwrap();
        let known = world.hub.store.log(phone.log()).await.unwrap();
        assert_eq!(device.as_ref().map(|device| device.label.as_str()), trusts.then_some("M-07"));
        assert_eq!(known.is_some_and(|row| row.standing == Standing::Known), trusts, "after {writes}");
        certified += u32::from(trusts && !answered);
    }
    assert!(certified >= 2, "it was cut between the certificate and the lists");
}
