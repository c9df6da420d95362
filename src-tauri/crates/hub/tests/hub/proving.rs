//! Whose keys signed a file: told by its certificates, and held to an organisation where one is named.

use bodies::{CERTIFICATE, CERTIFICATE_VERSION, Certificate, Certified, Epoch, LastTrusted, SpkiHash};
use exchange::bundle::Writer;
use exchange::packed;
use hub::deciding::revoke;
use hub::names::hex;
use record::{Kind, Signer};

use crate::phone::Phone;
use crate::world::World;

/// What a program learns, and what a person reads.
fn verified(world: &World, file: &str, organisation: Option<&str>) -> (Option<i32>, String) {
    let mut command = vec!["verify", file];
    command.extend(organisation.iter().flat_map(|name| ["--organisation", name]));
    let output = world.command(&command);
    let said = [output.stdout, output.stderr].concat();
    (output.status.code(), String::from_utf8(said).unwrap())
}

async fn exported(world: &World) -> String {
    let file = world.folder.path().join("all.bundle").display().to_string();
    world.says(&["export", &file]);
    file
}

fn bundle(world: &World, name: &str, phones: &[&Phone]) -> String {
    let mut bundle = Writer::new();
    for phone in phones {
        bundle.key(phone.key.public().cose());
        phone.entries.iter().for_each(|entry| bundle.entry(&entry.bytes));
    }
    let file = world.folder.path().join(name);
    std::fs::write(&file, packed::pack(&bundle.done()).unwrap()).unwrap();
    file.display().to_string()
}

#[tokio::test]
async fn an_export_goes_back_to_its_organisation_and_to_no_other() {
    let (world, phone) = (World::new().await, Phone::with(1, 2));
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    let file = exported(&world).await;
    let organisation = hex(&world.hub.organisation().log().0);
    let (code, said) = verified(&world, &file, None);
    assert!(
        code == Some(0) && said.contains(&format!("the organisation {organisation}.")),
        "{code:?}: {said}"
    );
    assert!(world.says(&["status"]).contains(&organisation), "and a hub names it");
    let (code, said) = verified(&world, &file, Some(&organisation));
    assert!(code == Some(0) && said.ends_with("Nothing fails.\n"), "{code:?}: {said}");
    let other = hex(&[7; 32]);
    let (code, said) = verified(&world, &file, Some(&other));
    assert!(code == Some(1) && said.contains("does not vouch"), "{code:?}: {said}");
    assert!(said.contains(&format!("NOT VOUCHED FOR: log {}, 2 records.", hex(&phone.log().0))), "{said}");
    let (code, said) = verified(&world, &file, Some("organisation"));
    assert!(code == Some(1) && said.contains("headmark-hub status"), "{code:?}: {said}");
}

#[tokio::test]
async fn a_file_of_keys_that_nobody_certified_says_so() {
    let (world, phone) = (World::new().await, Phone::with(1, 2));
    let file = bundle(&world, "own.bundle", &[&phone]);
    let log = hex(&phone.log().0);
    let (code, said) = verified(&world, &file, None);
    assert!(code == Some(0) && said.contains("WHOSE KEYS SIGNED IS NOT SHOWN"), "{code:?}: {said}");
    assert!(said.contains(&format!("\nlog {log}, 2 records.")), "{said}");
    let (code, _) = verified(&world, &file, Some(&hex(&world.hub.organisation().log().0)));
    assert_eq!(code, Some(1));
}

/// Somebody's own organisation, hub and phone, and beside them a phone of nobody.
#[tokio::test]
async fn a_key_beside_those_that_are_vouched_for_is_told_apart() {
    let world = World::new().await;
    let (mut root, mut hub) = (Phone::with(3, 0), Phone::with(4, 0));
    let (phone, stranger) = (Phone::with(1, 2), Phone::with(2, 1));
    let certify = |by: &mut Phone, whom: &Phone, certified| {
        let certificate = Certificate { key: whom.key.public().clone(), label: String::new(), certified };
        by.sign(CERTIFICATE, CERTIFICATE_VERSION, &certificate.encode().unwrap());
    };
    let of_hub = Certified::Hub { tls: vec![SpkiHash([1; 32])], epoch: Epoch([1; 16]), replaces: None };
    certify(&mut root, &hub, of_hub);
    let of_phone = Certified::Device { person: bodies::PersonId([2; 16]), areas: [].into() };
    certify(&mut hub, &phone, of_phone);
    let vouched = bundle(&world, "vouched.bundle", &[&root, &hub, &phone]);
    let (code, said) = verified(&world, &vouched, None);
    assert!(code == Some(0) && said.contains(&hex(&root.log().0)), "{code:?}: {said}");
    let beside = bundle(&world, "beside.bundle", &[&root, &hub, &phone, &stranger]);
    let (code, said) = verified(&world, &beside, None);
    assert!(code == Some(3) && said.contains("Nothing fails of what could be checked."), "{code:?}: {said}");
    assert!(said.contains(&format!("NOT VOUCHED FOR: log {}, 1 records.", hex(&stranger.log().0))), "{said}");
    // It is not this hub's organisation, however well it hangs together.
    let (code, _) = verified(&world, &vouched, Some(&hex(&world.hub.organisation().log().0)));
    assert_eq!(code, Some(1));
}

#[tokio::test]
async fn a_fork_fails_until_somebody_decides_which_branch_counts() {
    let (world, phone) = (World::new().await, Phone::with(1, 3));
    let mut copy = Phone::with(1, 1);
    copy.sign(Kind(4_001), 1, b"\x65other");
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    copy.sends(&world).await;
    let (code, said) = verified(&world, &exported(&world).await, None);
    assert!(code == Some(1) && said.contains("Two records stand at one place"), "{code:?}: {said}");
    let last = phone.entries[2].id;
    let last = LastTrusted { seq: last.seq, payload: last.payload };
    revoke(&world.hub, phone.log(), Some(last), "copied", bodies::PersonId([5; 16])).await.unwrap();
    let (code, said) = verified(&world, &exported(&world).await, None);
    assert!(code == Some(0) && said.contains("1 logs are forked, and it was decided"), "{code:?}: {said}");
    assert!(said.contains("1 records count no more"), "{said}");
}
