//! A restored hub, until somebody has looked through its phones: a revocation of after the backup may be missing.

use std::collections::BTreeSet;

use bodies::{Change, ChangeMade, HubRole, PersonId, RECEIPT};
use exchange::message::Answer;
use hub::Error;
use hub::api::Limits;
use hub::deciding::revoke;
use hub::founding::Founding;
use hub::names::{entry_name, hex};
use hub::restoring::{REMARK, Restored, looked_through, restored as note};
use hubstore::{Arrival, Ledger, Memory, Meta, Register, Row, Rows};
use record::{EntryId, Signer};
use reqwest::{Method, StatusCode};
use serde_json::{Value, json};

use crate::phone::Phone;
use crate::restored::{backed_up, giving, of_hub, restored};
use crate::server::{Server, Session, json};
use crate::visit::{finished, sign};
use crate::world::{NOW, TLS, World, key};

const WHO: PersonId = PersonId([5; 16]);

/// The kinds of what a phone was told.
fn kinds(answer: &Answer) -> BTreeSet<u32> {
    answer.entries.iter().map(|entry| record::open(entry).unwrap().header.kind.0).collect()
}

async fn asks(server: &Server, session: &Session, path: &str) -> Value {
    json(session.on(server.get(path)).send().await.unwrap()).await
}

async fn says_looked_through(server: &Server, session: &Session) -> (StatusCode, Value) {
    let request = server.ask(Method::POST, "/phones/looked-through");
    let answer = session.on(request).send().await.unwrap();
    (answer.status(), json(answer).await)
}

/// Of each visit in the list its name, whether it counts, and what is to be known of it.
async fn visits(server: &Server, session: &Session) -> Vec<(String, String, Option<String>)> {
    let text = |value: &Value| value.as_str().map(str::to_owned);
    let list = asks(server, session, "/records").await;
    let line =
        |one: &Value| (text(&one["id"]).unwrap(), text(&one["standing"]).unwrap(), text(&one["remark"]));
    list["items"].as_array().unwrap().iter().map(line).collect()
}

fn visit(id: EntryId, standing: &str, marked: bool) -> (String, String, Option<String>) {
    (entry_name(&id), standing.to_owned(), marked.then(|| REMARK.to_owned()))
}

async fn metric(server: &Server) -> String {
    let text = server.get("/metrics").send().await.unwrap().text().await.unwrap();
    let line = text.lines().find(|line| line.starts_with("headmark_hub_phones_to_look_through "));
    line.unwrap_or_else(|| panic!("{text}")).to_owned()
}

#[tokio::test]
async fn a_revoked_phone_that_comes_first_is_seen_as_such_and_counts_no_more_once_its_revocation_is_home() {
    let world = World::new().await;
    let ada = world.person("Ada", HubRole::Administer).await;
    world.person("Ben", HubRole::Supervise).await;
    let (mut lost, other) = (Phone::with(1, 0), Phone::with(2, 1));
    sign(&mut lost, finished());
    for phone in [&lost, &other] {
        world.enrol(phone, &[]).await;
        phone.sends(&world).await;
    }
    let row = Row { tag: "LT-1".into(), area: String::new(), bytes: vec![0xa0] };
    world.hub.store.put_rows(Rows::Some(vec![row])).await.unwrap();
    let backup = backed_up(&world, "backup.db").await;
    revoke(&world.hub, lost.log(), None, "left on a bus", WHO).await.unwrap();
    let (have, of_hub) = of_hub(&world).await;
    let server = Server::before(restored(world, &backup).await, Limits::default()).await;
    let (world, ada_in, ben_in) = (&server.world, server.sign_in("Ada").await, server.sign_in("Ben").await);

    // The revoked phone, which never heard of it, comes first. The field goes on, for it as for all.
    sign(&mut lost, finished());
    let (answer, taken) = lost.sends(world).await;
    assert_eq!((taken.new, taken.already, answer.pages.len()), (1, 1, 2), "the row, and who is called what");
    assert!(kinds(&answer).contains(&RECEIPT.0));
    let [before, since] = [lost.entries[0].id, lost.entries[1].id];
    let marked = [visit(since, "counts", true), visit(before, "counts", false)];
    assert_eq!(visits(&server, &ben_in).await, marked);
    let one = asks(&server, &ben_in, &format!("/records/{}", entry_name(&since))).await;
    assert_eq!((&one["standing"], &one["remark"]), (&json!("counts"), &json!(REMARK)));
    let phones = asks(&server, &ben_in, "/phones").await;
    assert_eq!(phones["restored"]["since"], NOW);
    assert!(phones["restored"]["text"].as_str().unwrap().contains("Look through the phones"));
    let listed = |phones: &Value, log: &str| {
        let items = phones["items"].as_array().unwrap();
        items.iter().find(|one| one["log"] == log).unwrap().clone()
    };
    let its = listed(&phones, &hex(&lost.log().0));
    assert_eq!((&its["upto"], &its["revoked"], &its["label"]), (&json!(2), &Value::Null, &json!("phone")));
    let health = asks(&server, &ben_in, "/health").await;
    assert_eq!(health["phones_looked_through"], false);
    assert_eq!(metric(&server).await, "headmark_hub_phones_to_look_through 2");
    assert_eq!(says_looked_through(&server, &ben_in).await.0, StatusCode::FORBIDDEN);

    // A phone that heard of the revocation brings it home.
    let mut message = other.pushing(other.greets(world).await.session);
    message.have = Some(have);
    let (answer, _) = other.pushes(world, &message).await.unwrap();
    other.pushes(world, &giving(&other, answer.session, &of_hub)).await.unwrap();
    let counts_no_more =
        |marked| [visit(since, "after_revocation", marked), visit(before, "after_revocation", false)];
    assert_eq!(visits(&server, &ben_in).await, counts_no_more(true));
    assert_eq!(listed(&asks(&server, &ben_in, "/phones").await, &hex(&lost.log().0))["revoked"], 0);
    assert_eq!(metric(&server).await, "headmark_hub_phones_to_look_through 1");

    // Somebody looks through them all.
    let (status, made) = says_looked_through(&server, &ada_in).await;
    assert_eq!(status, StatusCode::CREATED, "{made}");
    assert_eq!(visits(&server, &ben_in).await, counts_no_more(false));
    assert_eq!(asks(&server, &ben_in, "/phones").await["restored"], Value::Null);
    assert_eq!(asks(&server, &ben_in, "/health").await["phones_looked_through"], true);
    assert_eq!(metric(&server).await, "headmark_hub_phones_to_look_through 0");
    let newest = asks(&server, &ben_in, "/changes?limit=1").await["items"][0].clone();
    assert_eq!((&newest["id"], &newest["what"]), (&made["entry"], &json!("phones_looked_through")));
    assert_eq!(newest["by"], json!({ "number": hex(&ada.0), "name": "Ada" }));
    assert_eq!(says_looked_through(&server, &ada_in).await.0, StatusCode::CONFLICT);
    server.stop().await;
}

#[tokio::test]
async fn a_hub_that_was_never_restored_has_nothing_to_look_through() {
    let server = Server::start().await;
    server.world.person("Ada", HubRole::Administer).await;
    let mut phone = Phone::with(1, 0);
    sign(&mut phone, finished());
    server.world.enrol(&phone, &[]).await;
    phone.sends(&server.world).await;
    let session = server.sign_in("Ada").await;
    assert_eq!(visits(&server, &session).await, [visit(phone.entries[0].id, "counts", false)]);
    assert_eq!(asks(&server, &session, "/phones").await["restored"], Value::Null);
    assert_eq!(asks(&server, &session, "/health").await["phones_looked_through"], true);
    assert_eq!(metric(&server).await, "headmark_hub_phones_to_look_through 0");
    let before = server.world.hub.store.newest().await.unwrap();
    let (status, why) = says_looked_through(&server, &session).await;
    assert_eq!(status, StatusCode::CONFLICT);
    assert!(why["text"].as_str().unwrap().contains("Nothing waits"), "{why}");
    assert_eq!(server.world.hub.store.newest().await.unwrap(), before, "nor is anything said");
    server.stop().await;
}

#[tokio::test]
async fn what_may_be_missing_is_told_by_the_hubs_clock_and_from_the_first_restore_on() {
    let world = World::new().await;
    let mut phone = Phone::with(1, 1);
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    // A phone's clock is ahead, and what it signed is the newest of the backup.
    phone.note();
    let came = hub::exchange::Came {
        entries: phone.entries.iter().map(|entry| entry.bytes.clone()).collect(),
        ..Default::default()
    };
    world.hub.take(came).await.unwrap();
    assert!(phone.entries[1].header.claimed.millis > NOW);
    let backup = backed_up(&world, "backup.db").await;
    let upto = backup.newest().await.unwrap().0;
    let world = restored(world, &backup).await;
    let first = note(&world.hub.store).await.unwrap().unwrap();
    assert_eq!(first, Restored { since: NOW, upto });
    assert_eq!(first.remark(Arrival(upto)), None);
    assert_eq!(first.remark(Arrival(upto + 1)), Some(REMARK));
    // Restored once more before anybody has looked: what was missing then is missing still.
    world.clock.move_by_seconds(86_400);
    phone.sends(&world).await;
    let backup = backed_up(&world, "second.db").await;
    let world = restored(world, &backup).await;
    assert_eq!(note(&world.hub.store).await.unwrap(), Some(first));
    looked_through(&world.hub, WHO).await.unwrap();
    assert_eq!(note(&world.hub.store).await.unwrap(), None);
    let backup = backed_up(&world, "third.db").await;
    let upto = backup.newest().await.unwrap().0;
    let world = restored(world, &backup).await;
    let third = note(&world.hub.store).await.unwrap();
    assert_eq!(third, Some(Restored { since: NOW + 86_400_000, upto }), "and from then on anew");
}

/// The note stands with the new epoch: a hub that was restored cannot answer without it.
#[tokio::test]
async fn the_note_stands_with_the_new_epoch_or_neither_does() {
    let store = Memory::new();
    let mut world = World::over(store.clone().into()).await;
    let old = store.identity().await.unwrap().unwrap();
    let noted = Restored::from_backup(&store, &old).await.unwrap();
    let founding = Founding {
        hub: key(0x78).public().clone(),
        label: "Marrowby".into(),
        tls: TLS.to_vec(),
        epoch: [0x43; 16],
        replaces: Some(old.log),
    };
    let certificate = founding.certify(&mut world.organisation, world.clock.now().claimed()).unwrap();
    let mut cut = 0;
    for writes in 0.. {
        store.stop_after(Some(writes));
        let begun = founding.begin(&store, world.organisation.public(), &certificate, Some(&noted)).await;
        store.stop_after(None);
        let (epoch, note) = (store.identity().await.unwrap().unwrap().epoch, note(&store).await.unwrap());
        if begun.is_ok() {
            assert_eq!((epoch.0, note), ([0x43; 16], Some(noted)));
            break;
        }
        assert_eq!((epoch, note), (old.epoch, None), "after {writes} writes");
        cut += 1;
    }
    assert!(cut > 1, "it was cut on the way too");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn of_two_who_looked_through_the_phones_one_says_so() {
    let world = World::new().await;
    let backup = backed_up(&world, "backup.db").await;
    let world = restored(world, &backup).await;
    let other = world.once_more().await;
    let (one, two) = tokio::join!(looked_through(&world.hub, WHO), looked_through(&other, WHO));
    let (said, refused): (Vec<_>, Vec<_>) = [one, two].into_iter().partition(Result::is_ok);
    assert!(matches!(refused[..], [Err(Error::Asked(_))]), "{refused:?}");
    let entry = world.hub.store.entry(*said[0].as_ref().unwrap()).await.unwrap().unwrap();
    let change = Change::of_entry(&record::open(&entry.bytes).unwrap()).unwrap();
    assert_eq!(change, Change { by: Some(WHO), made: ChangeMade::PhonesLookedThrough });
}
