//! Whose word makes a phone known: a hub's, and nobody else's.

use std::collections::BTreeSet;

use bodies::{CERTIFICATE, CERTIFICATE_VERSION, Certificate, Certified, PersonId};
use hub::enrol::{Offer, confirm, offer};
use hubstore::{AnyStore, Logs, Memory, People, Standing};
use record::Signer;
use rstest::rstest;

use crate::phone::Phone;
use crate::world::World;

/// A certificate of a phone, as a hub words it.
fn of(whom: &Phone) -> Vec<u8> {
    let certified = Certified::Device { person: PersonId([9; 16]), areas: BTreeSet::new() };
    Certificate { key: whom.key.public().clone(), label: "M-66".into(), certified }.encode().unwrap()
}

#[rstest]
#[case::a_stranger(false)]
#[case::an_enrolled_phone(true)]
#[tokio::test]
async fn a_phone_that_no_hub_certified_is_not_listed(#[case] enrolled: bool) {
    let (world, mut who, other) = (World::new().await, Phone::with(1, 0), Phone::with(2, 1));
    if enrolled {
        world.enrol(&who, &[]).await;
    }
    who.sign(CERTIFICATE, CERTIFICATE_VERSION, &of(&other));
    let (_, taken) = who.sends(&world).await;
    assert_eq!((taken.new, taken.parked), if enrolled { (1, 0) } else { (0, 1) }, "kept all the same");
    assert_eq!(world.hub.store.device(other.log()).await.unwrap(), None);
    let (_, taken) = other.sends(&world).await;
    assert_eq!((taken.new, taken.parked), (0, 1), "its records wait for a hub's word");
    let row = world.hub.store.log(other.log()).await.unwrap().unwrap();
    assert_eq!(row.standing, Standing::Parked);
}

#[tokio::test]
async fn a_phone_whose_enrolment_was_cut_is_listed_as_the_hub_certified_it() {
    let memory = Memory::new();
    let world = World::over(AnyStore::from(memory.clone())).await;
    let (mut who, other) = (Phone::with(1, 0), Phone::with(2, 0));
    let code = hub::chance::bytes().unwrap();
    let made_for = Offer { label: "M-07".into(), person: [9; 16], areas: vec!["north".into()] };
    offer(&world.hub, &code, &made_for).await.unwrap();
    let waits = world.ask(&other, &code).await.unwrap();
    // The certificate is in the ledger, and the process is killed before the lists say it.
    memory.stop_after(Some(1));
    confirm(&world.hub, None, other.log(), &waits.digits).await.unwrap_err();
    memory.stop_after(None);
    assert!(world.trusts(other.log()).await);
    who.sign(CERTIFICATE, CERTIFICATE_VERSION, &of(&other));
    who.sends(&world).await;
    let device = world.hub.store.device(other.log()).await.unwrap().unwrap();
    assert_eq!((device.label.as_str(), &device.areas[..]), ("M-07", &["north".to_owned()][..]));
}
