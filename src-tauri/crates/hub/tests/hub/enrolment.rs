//! Codes, digits and certificates.

use bodies::{Certificate, Certified};
use hub::enrol::{CODE_SECONDS, Confirming, Offer, confirm, offer, six_digits, status};
use hubstore::Access;
use record::{PublicKey, open, verify};

use crate::phone::Phone;
use crate::world::World;

const CODE: [u8; 16] = [0x33; 16];

async fn offered(world: &World) {
    let made_for = Offer { label: "M-07".into(), person: [9; 16], areas: vec!["north".into()] };
    offer(&world.hub, &CODE, &made_for).await.unwrap();
}

#[tokio::test]
async fn a_phone_with_the_code_is_certified_when_the_digits_are_the_same() {
    let (world, phone) = (World::new().await, Phone::with(1, 0));
    offered(&world).await;
    let waits = world.ask(&phone, &CODE).await.unwrap();
    assert_eq!(waits.digits, six_digits(world.hub.identity.log, phone.log(), &CODE));
    assert!(matches!(status(&world.hub, phone.log()).await.unwrap(), Confirming::Waiting(_)));
    assert!(!world.trusts(phone.log()).await, "asking alone is nothing");
    confirm(&world.hub, None, phone.log(), &waits.digits).await.unwrap();
    assert!(world.trusts(phone.log()).await);
    let Confirming::Enrolled { keys, entries } = status(&world.hub, phone.log()).await.unwrap() else {
        panic!("it is enrolled")
    };
    // What the phone gets can be verified from the organisation's key alone.
    let keys: Vec<_> = keys.iter().map(|key| PublicKey::from_cose(key).unwrap()).collect();
    let said: Vec<_> = entries
        .iter()
        .map(|bytes| {
            let entry = open(bytes).unwrap();
            verify(&entry, keys.iter().find(|key| key.log() == entry.id.log).unwrap()).unwrap();
            Certificate::of_entry(&entry).unwrap()
        })
        .collect();
    assert_eq!(said.len(), 2, "the hub's and its own");
    let own = said.iter().find(|one| one.key.log() == phone.log()).unwrap();
    let Certified::Device { person, areas } = &own.certified else { panic!("a device") };
    assert_eq!((own.label.as_str(), person.0, areas.contains("north")), ("M-07", [9; 16], true));
    assert_eq!(world.hub.store.enrolments().await.unwrap(), [], "nobody waits any more");
}

#[tokio::test]
async fn a_code_that_was_used_is_none_for_a_second_phone() {
    let (world, thief, phone) = (World::new().await, Phone::with(6, 0), Phone::with(1, 0));
    offered(&world).await;
    let stolen = world.ask(&thief, &CODE).await.unwrap();
    assert_eq!(world.ask(&phone, &CODE).await, None, "the phone in the hand is told, and a person looks");
    // Whoever was first shows other digits than the phone in the hand would.
    assert_ne!(stolen.digits, six_digits(world.hub.identity.log, phone.log(), &CODE));
    let digits = six_digits(world.hub.identity.log, phone.log(), &CODE);
    assert!(confirm(&world.hub, None, thief.log(), &digits).await.is_err());
    assert!(!world.trusts(thief.log()).await);
}

#[tokio::test]
async fn a_code_ends_after_ten_minutes() {
    let (world, phone) = (World::new().await, Phone::with(1, 0));
    assert_eq!(CODE_SECONDS, 600);
    offered(&world).await;
    world.clock.move_by_seconds(CODE_SECONDS + 1);
    assert_eq!(world.ask(&phone, &CODE).await, None);
    offered(&world).await;
    world.clock.move_by_seconds(CODE_SECONDS - 1);
    assert!(world.ask(&phone, &CODE).await.is_some());
}

#[tokio::test]
async fn a_key_that_is_not_proved_spends_no_code() {
    let (world, phone) = (World::new().await, Phone::with(1, 0));
    offered(&world).await;
    let other = Phone::with(2, 0);
    let proof = other.enrol_proof(world.hub.organisation().log(), &CODE, "phone");
    let cose = record::Signer::public(&phone.key).cose().to_vec();
    assert_eq!(hub::enrol::ask(&world.hub, &cose, &CODE, "phone", &proof).await.unwrap(), None);
    assert!(world.ask(&phone, &CODE).await.is_some());
}

#[tokio::test]
async fn a_code_that_was_never_made_is_none() {
    let (world, phone) = (World::new().await, Phone::with(1, 0));
    assert_eq!(world.ask(&phone, &[0; 16]).await, None);
    assert_eq!(status(&world.hub, phone.log()).await.unwrap(), Confirming::Unknown);
}
