//! What people decide, and what follows.

use bodies::{Decision, LastTrusted, PersonId, Review};
use exchange::trust::Standing;
use hub::counting::standing;
use hub::deciding::{review, revoke};
use hubstore::{Register, Row, Rows};
use record::EntryId;

use crate::phone::Phone;
use crate::world::World;

const WHO: PersonId = PersonId([5; 16]);

fn id(phone: &Phone, place: usize) -> EntryId {
    phone.entries[place - 1].id
}

fn last(phone: &Phone, place: usize) -> Option<LastTrusted> {
    let id = id(phone, place);
    Some(LastTrusted { seq: id.seq, payload: id.payload })
}

#[tokio::test]
async fn what_follows_a_revocation_is_kept_and_counts_only_when_adopted() {
    let (world, mut phone) = (World::new().await, Phone::with(1, 3));
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    revoke(&world.hub, phone.log(), last(&phone, 2), "lost in the yard", WHO).await.unwrap();
    phone.note();
    let (_, taken) = phone.sends(&world).await;
    assert_eq!((taken.new, taken.refused.len()), (1, 0), "it is kept");
    assert_eq!(world.held(&phone).await, (1..=4).collect());
    let stands = [1, 2, 3, 4].map(|place| id(&phone, place));
    let mut found = Vec::new();
    for id in &stands {
        found.push(standing(&world.hub, id).await.unwrap());
    }
    assert_eq!(
        found,
        [Standing::Counts, Standing::Counts, Standing::AfterRevocation, Standing::AfterRevocation]
    );
    let adopted =
        Review { subject: stands[3], decision: Decision::Adopted, note: "honest".into(), person: WHO };
    review(&world.hub, &adopted).await.unwrap();
    assert_eq!(standing(&world.hub, &stands[3]).await.unwrap(), Standing::Adopted);
    assert_eq!(
        standing(&world.hub, &stands[2]).await.unwrap(),
        Standing::AfterRevocation,
        "by its hash alone"
    );
}

#[tokio::test]
async fn a_branch_forged_below_the_last_trusted_entry_does_not_count() {
    let (world, phone, mut forger) = (World::new().await, Phone::with(1, 3), Phone::with(1, 1));
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    revoke(&world.hub, phone.log(), last(&phone, 3), "key copied", WHO).await.unwrap();
    forger.sign(record::Kind(4_001), 1, b"\x66forged");
    forger.sends(&world).await;
    assert_eq!(standing(&world.hub, &id(&forger, 2)).await.unwrap(), Standing::AfterRevocation);
    assert_eq!(standing(&world.hub, &id(&phone, 2)).await.unwrap(), Standing::Counts);
}

#[tokio::test]
async fn a_revoked_phone_gets_no_register() {
    let (world, phone) = (World::new().await, Phone::with(1, 1));
    world.enrol(&phone, &[]).await;
    let row = Row { tag: "LT-1".into(), area: String::new(), bytes: vec![0xa0] };
    world.hub.store.put_rows(Rows::Some(vec![row])).await.unwrap();
    assert_eq!(phone.sends(&world).await.0.pages.len(), 1);
    revoke(&world.hub, phone.log(), None, "lost", WHO).await.unwrap();
    let (answer, _) = phone.sends(&world).await;
    assert_eq!(answer.pages.len(), 0);
    let kinds: Vec<_> = answer.entries.iter().map(|entry| record::open(entry).unwrap().header.kind).collect();
    assert!(kinds.contains(&bodies::REVOCATION), "it is told why");
}

#[tokio::test]
async fn nobody_revokes_what_is_no_phone_or_reviews_what_is_not_there() {
    let (world, phone) = (World::new().await, Phone::with(1, 1));
    assert!(revoke(&world.hub, phone.log(), None, "lost", WHO).await.is_err());
    assert!(revoke(&world.hub, world.hub.identity.log, None, "hub", WHO).await.is_err());
    let said =
        Review { subject: id(&phone, 1), decision: Decision::Approved, note: String::new(), person: WHO };
    assert!(review(&world.hub, &said).await.is_err());
    world.enrol(&phone, &[]).await;
    assert!(revoke(&world.hub, phone.log(), None, " ", WHO).await.is_err(), "a reason is asked for");
    assert!(
        revoke(&world.hub, phone.log(), last(&phone, 1), "lost", WHO).await.is_err(),
        "that entry is not here"
    );
}
