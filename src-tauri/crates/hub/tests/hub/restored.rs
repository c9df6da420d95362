//! A hub that was lost and restored from an older backup.

use std::collections::BTreeSet;

use bodies::{Epoch, Grade, PersonId, RECEIPT, Receipt};
use exchange::have::HaveSet;
use exchange::message::{Answer, Push};
use hub::Store;
use hub::backing::copy;
use hub::deciding::revoke;
use hub::exchange::{give_receipts, receipts_of};
use hub::founding::Founding;
use hub::home::{Hub, Signing};
use hub::restoring::Restored;
use hubstore::{Access, Filter, Ledger, Limit, Meta, Opening, People, Purpose, Register, Row, Rows};
use minicbor::bytes::ByteVec;
use record::{EntryId, LogId, Signer, Strict};

use crate::phone::Phone;
use crate::world::{TLS, World, key};

/// A copy of the store as a backup has it.
pub(crate) async fn backed_up(world: &World, name: &str) -> Store {
    let store: Store = Opening::at(world.folder.path().join(name)).open().unwrap().into();
    copy(&world.hub.store, &store).await.unwrap();
    store
}

/// All that the hub said in its first life, as a phone holds it: what to tell of it, and the entries.
pub(crate) async fn of_hub(world: &World) -> (HaveSet, Vec<ByteVec>) {
    let log = world.hub.identity.log;
    let all = Filter { kinds: Vec::new(), logs: vec![log] };
    let entries = world.hub.store.since(hubstore::Arrival(0), &all, Limit::default()).await.unwrap().entries;
    let runs = world.hub.store.runs(&[log]).await.unwrap();
    let mut have = HaveSet::default();
    have.put(log, &runs[&log]);
    (have, entries.into_iter().map(|entry| entry.bytes.into()).collect())
}

/// The push with which a phone gives back what is wanted of the first hub's log.
pub(crate) fn giving(phone: &Phone, session: [u8; 32], of_hub: &[ByteVec]) -> Push {
    let mut giving = phone.pushing(session);
    giving.keys.push(key(0x77).public().cose().to_vec().into());
    giving.entries = of_hub.to_vec();
    giving.have = None;
    giving
}

/// The same hub out of a backup: another key, another epoch.
pub(crate) async fn restored(mut world: World, backup: &Store) -> World {
    let identity = backup.identity().await.unwrap().unwrap();
    let noted = Restored::from_backup(backup, &identity).await.unwrap();
    let signs = world.signs + 1;
    let database = world.folder.path().join(format!("restored-{signs}.db"));
    let store: Store = Opening::at(&database).open().unwrap().into();
    copy(backup, &store).await.unwrap();
    let log = world.organisation.public().log();
    let (seq, payload) = backup.tip(log).await.unwrap().unwrap();
    world.organisation.saw(EntryId { log, seq, payload });
    let founding = Founding {
        hub: key(signs).public().clone(),
        label: "Marrowby".into(),
        tls: TLS.to_vec(),
        epoch: [0x42 + signs - 0x77; 16],
        replaces: Some(world.hub.identity.log),
    };
    let certificate = founding.certify(&mut world.organisation, world.clock.now().claimed()).unwrap();
    founding.begin(&store, world.organisation.public(), &certificate, Some(&noted)).await.unwrap();
    let signing = Signing { key: key(signs), proof: Strict };
    let hub = Hub::open(store, signing, world.clock.clone()).await.unwrap();
    World { hub, database, signs, ..world }
}

#[tokio::test]
async fn a_phone_gives_back_what_the_hub_lost_the_hubs_own_entries_included() {
    let world = World::new().await;
    let (mut old, late) = (Phone::with(1, 2), Phone::with(2, 3));
    world.enrol(&old, &[]).await;
    old.sends(&world).await;
    let backup = backed_up(&world, "backup.db").await;
    // After the backup: more records, and another phone is enrolled.
    old.note();
    old.sends(&world).await;
    world.enrol(&late, &[]).await;
    late.sends(&world).await;
    let first_hub = world.hub.identity.log;
    let (have, lost) = of_hub(&world).await;
    let world = restored(world, &backup).await;
    assert!(!world.trusts(late.log()).await, "the backup knows nothing of it");
    let welcome = late.greets(&world).await;
    assert_eq!(welcome.epoch.0, [0x43; 16]);
    assert_eq!(welcome.trust.len(), 2, "the organisation certified both hubs, and the phone is shown it");
    let mut message = late.pushing(welcome.session);
    message.have = Some(have);
    let (answer, taken) = late.pushes(&world, &message).await.unwrap();
    assert_eq!((taken.parked, taken.new), (3, 0), "as yet it is a stranger");
    assert!(
        answer.wanted.iter().any(|wanted| wanted.log == first_hub),
        "the hub asks for its own lost entries"
    );
    let (_, taken) = late.pushes(&world, &giving(&late, answer.session, &lost)).await.unwrap();
    assert!(taken.new > 3, "its certificate came back, and its records were adopted: {taken:?}");
    assert!(world.trusts(late.log()).await);
    assert_eq!(world.held(&late).await, (1..=3).collect());
    assert!(world.hub.store.device(late.log()).await.unwrap().is_some());
    old.sends(&world).await;
    assert_eq!(world.held(&old).await, (1..=3).collect());
}

/// A hub with two phones and a register; after its backup the first phone was revoked, and then the hub was restored.
/// Returned with what the phones hold of its first life.
async fn restored_before_a_revocation() -> (World, [Phone; 2], HaveSet, Vec<ByteVec>) {
    let world = World::new().await;
    let phones = [Phone::with(1, 2), Phone::with(2, 2)];
    for phone in &phones {
        world.enrol(phone, &[]).await;
        phone.sends(&world).await;
    }
    let row = Row { tag: "LT-1".into(), area: String::new(), bytes: vec![0xa0] };
    world.hub.store.put_rows(Rows::Some(vec![row])).await.unwrap();
    let backup = backed_up(&world, "backup.db").await;
    revoke(&world.hub, phones[0].log(), None, "left on a bus", PersonId([5; 16])).await.unwrap();
    let (have, lost) = of_hub(&world).await;
    (restored(world, &backup).await, phones, have, lost)
}

fn first_hub() -> LogId {
    key(0x77).public().log()
}

/// Entries, pages, the number of the last news, and whether there is more.
fn told(answer: &Answer) -> (usize, usize, u64, bool) {
    (answer.entries.len(), answer.pages.len(), answer.news, answer.more)
}

#[tokio::test]
async fn a_phone_is_told_nothing_before_it_has_given_back_its_own_lost_revocation() {
    let (world, [phone, _], have, lost) = restored_before_a_revocation().await;
    let mut message = phone.pushing(phone.greets(&world).await.session);
    message.have = Some(have);
    let before = world.hub.store.newest().await.unwrap();
    let (answer, _) = phone.pushes(&world, &message).await.unwrap();
    assert!(answer.wanted.iter().any(|wanted| wanted.log == first_hub()), "the hub lacks the revocation");
    assert_eq!(told(&answer), (0, 0, 0, false), "no receipt, no news, no page");
    assert_eq!(world.hub.store.newest().await.unwrap(), before, "nor is a receipt signed");
    // Half of it, with more to come.
    let mut part = giving(&phone, answer.session, &[]);
    part.last = false;
    let (answer, _) = phone.pushes(&world, &part).await.unwrap();
    assert_eq!(told(&answer), (0, 0, 0, false), "it has not ended yet");
    let (answer, _) = phone.pushes(&world, &giving(&phone, answer.session, &lost)).await.unwrap();
    assert!(world.hub.trusted().await.unwrap().trust().revoked(phone.log()).is_some());
    assert_eq!(answer.pages.len(), 0, "a phone that is revoked gets no register");
}

#[tokio::test]
async fn a_lost_revocation_that_another_phone_brings_home_holds_for_who_is_still_giving_back() {
    let (world, [phone, other], have, lost) = restored_before_a_revocation().await;
    let mut message = phone.pushing(phone.greets(&world).await.session);
    message.have = Some(have.clone());
    let (mine, _) = phone.pushes(&world, &message).await.unwrap();
    assert_eq!(told(&mine), (0, 0, 0, false));
    // Meanwhile the other one comes, and is through.
    let mut message = other.pushing(other.greets(&world).await.session);
    message.have = Some(have);
    let (answer, _) = other.pushes(&world, &message).await.unwrap();
    assert_eq!(told(&answer), (0, 0, 0, false), "nor is the one that is trusted");
    let (answer, _) = other.pushes(&world, &giving(&other, answer.session, &lost)).await.unwrap();
    assert_eq!(answer.pages.len(), 1, "it gave back what it had and gets the register");
    assert!(answer.entries.iter().any(|entry| record::open(entry).unwrap().header.kind == RECEIPT));
    // The first one brings nothing after all: it was revoked all the same.
    let (answer, _) = phone.pushes(&world, &giving(&phone, mine.session, &[])).await.unwrap();
    assert_eq!(answer.pages.len(), 0);
    let kinds = answer.entries.iter().map(|entry| record::open(entry).unwrap().header.kind);
    assert!(kinds.collect::<Vec<_>>().contains(&bodies::REVOCATION), "it is told why");
}

#[tokio::test]
async fn who_met_the_new_epoch_and_does_not_say_what_it_holds_is_told_nothing() {
    let (world, [_, other], have, _) = restored_before_a_revocation().await;
    let mut silent = other.pushing(other.greets(&world).await.session);
    silent.have = None;
    let (answer, taken) = other.pushes(&world, &silent).await.unwrap();
    assert_eq!(
        (told(&answer), taken.already),
        ((0, 0, 0, false), 2),
        "what it brings is taken in all the same"
    );
    silent.session = answer.session;
    assert_eq!(told(&other.pushes(&world, &silent).await.unwrap().0), (0, 0, 0, false));
    // One that knows this epoch was through with it in an earlier session.
    let mut hello = other.hello();
    hello.epoch = Some(Epoch([0x43; 16]));
    let welcome = hub::exchange::hello(&world.hub, &hello, hub::chance::bytes().unwrap()).await.unwrap();
    silent.session = welcome.session;
    assert_eq!(other.pushes(&world, &silent).await.unwrap().0.pages.len(), 1);
    // Until another phone gives it something of a hub's log that the hub lacks.
    silent.session = hub::exchange::hello(&world.hub, &hello, [9; 32]).await.unwrap().session;
    silent.have = Some(have);
    let (answer, _) = other.pushes(&world, &silent).await.unwrap();
    assert_eq!((told(&answer), answer.wanted.len()), ((0, 0, 0, false), 1));
}

#[tokio::test]
async fn receipts_of_a_new_epoch_are_signed_anew() {
    let world = World::new().await;
    let phone = Phone::with(1, 2);
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    let backup = backed_up(&world, "backup.db").await;
    let world = restored(world, &backup).await;
    let (answer, taken) = phone.sends(&world).await;
    assert_eq!((taken.new, taken.already), (0, 2));
    let entries = answer.entries.iter().map(|entry| record::open(entry).unwrap());
    let epochs: BTreeSet<_> = entries
        .filter_map(|entry| Receipt::of_entry(&entry).ok())
        .filter_map(|receipt| receipt.epoch)
        .collect();
    assert!(epochs.iter().any(|epoch| epoch.0 == [0x43; 16]), "{epochs:?}");
}

#[tokio::test]
async fn codes_sessions_and_sign_ins_of_before_are_over() {
    let world = World::new().await;
    let phone = Phone::with(1, 1);
    let offer = hub::enrol::Offer::default();
    hub::enrol::offer(&world.hub, &[7; 16], &offer).await.unwrap();
    let session = phone.greets(&world).await.session;
    let backup = backed_up(&world, "backup.db").await;
    let world = restored(world, &backup).await;
    assert_eq!(world.ask(&phone, &[7; 16]).await, None);
    assert!(phone.pushes(&world, &phone.pushing(session)).await.is_err());
    let hash = sha2::Digest::finalize(<sha2::Sha256 as sha2::Digest>::new()).into();
    assert_eq!(world.hub.store.look_token(Purpose::SignIn, hash, world.hub.now()).await.unwrap(), None);
}

#[tokio::test]
async fn backed_up_is_said_of_what_the_backup_holds_and_of_no_more() {
    let world = World::new().await;
    let mut phone = Phone::with(1, 2);
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    let backup = backed_up(&world, "backup.db").await;
    phone.note();
    phone.sends(&world).await;
    let logs = BTreeSet::from([phone.log()]);
    let said = receipts_of(&world.hub, &backup, &logs, Grade::BackedUp).await.unwrap();
    let [(of, said)] = said[..] else { panic!("{said:?}") };
    assert_eq!(of, phone.log());
    let kept = world.hub.store.entry(said).await.unwrap().unwrap();
    let receipt = Receipt::of_entry(&record::open(&kept.bytes).unwrap()).unwrap();
    assert_eq!(
        (receipt.grade, receipt.runs[0].to.get()),
        (Grade::BackedUp, 2),
        "the third came after the backup"
    );
    assert_eq!(give_receipts(&world.hub, &logs, Grade::Stored).await.unwrap(), [], "that is another grade");
    let again = receipts_of(&world.hub, &backup, &logs, Grade::BackedUp).await.unwrap();
    assert_eq!(again, [], "said once");
    // Both grades reach the phone.
    let kinds = phone.sends(&world).await.0.entries;
    let grades: BTreeSet<_> = kinds
        .iter()
        .map(|entry| record::open(entry).unwrap())
        .filter(|entry| entry.header.kind == RECEIPT)
        .map(|entry| Receipt::of_entry(&entry).unwrap().grade)
        .collect();
    assert_eq!(grades, [Grade::Stored, Grade::BackedUp].into());
}
