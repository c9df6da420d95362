//! Hello and push.

use bodies::{FileHash, Grade, RECEIPT, Receipt, RegisterRow, SensorTable};
use exchange::message::{About, Answer, Cursor};
use exchange::page::{Page, SENSORS};
use hub::changing::import;
use hub::exchange::PushError;
use hubstore::{Ledger, Logs, Register, Row, Rows};
use record::{Signer, Strict, open, verify};

use crate::phone::{Phone, bytes};
use crate::world::{World, key};

/// The receipts of an answer, each verified with the hub's key.
fn receipts(answer: &Answer) -> Vec<Receipt> {
    let entries = bytes(&answer.entries);
    let entries =
        entries.iter().map(|entry| open(entry).unwrap()).filter(|entry| entry.header.kind == RECEIPT);
    let read = entries.map(|entry| {
        verify(&entry, key(0x77).public()).unwrap();
        Receipt::of_entry(&entry).unwrap()
    });
    read.collect()
}

#[tokio::test]
async fn what_is_wanted_is_what_is_lacking() {
    let (world, phone) = (World::new().await, Phone::with(1, 5));
    world.enrol(&phone, &[]).await;
    let welcome = phone.greets(&world).await;
    let wanted: Vec<_> = welcome.wanted.iter().map(|wanted| (wanted.from.get(), wanted.to.get())).collect();
    assert_eq!(wanted, [(1, 5)]);
    let (answer, taken) = phone.sends(&world).await;
    assert_eq!((taken.new, taken.already, answer.refused.len()), (5, 0, 0));
    assert_eq!(phone.greets(&world).await.wanted, []);
    assert_eq!(world.held(&phone).await, (1..=5).collect());
}

#[tokio::test]
async fn a_receipt_is_signed_after_the_commit_and_only_when_it_says_more() {
    let (world, mut phone) = (World::new().await, Phone::with(1, 3));
    world.enrol(&phone, &[]).await;
    let (answer, _) = phone.sends(&world).await;
    let [receipt] = &receipts(&answer)[..] else { panic!("one receipt") };
    assert_eq!((receipt.log, receipt.grade), (phone.log(), Grade::Stored));
    assert_eq!(receipt.epoch.unwrap().0, [0x42; 16]);
    let [run] = receipt.runs[..] else { panic!("one run") };
    assert_eq!((run.from.get(), run.to.get(), run.end), (1, 3, phone.entries[2].id.payload));
    let before = world.hub.store.newest().await.unwrap();
    let (again, taken) = phone.sends(&world).await;
    assert_eq!((taken.new, taken.already), (0, 3), "the same once more changes nothing");
    assert_eq!(world.hub.store.newest().await.unwrap(), before, "and no second receipt is signed");
    assert_eq!(receipts(&again).len(), 1, "the newest one is told to who has not seen it");
    phone.news = again.news;
    phone.note();
    let (more, _) = phone.sends(&world).await;
    assert_eq!(receipts(&more)[0].runs[0].to.get(), 4);
}

#[tokio::test]
async fn a_push_that_comes_again_is_refused_and_changes_nothing() {
    let (world, phone) = (World::new().await, Phone::with(1, 2));
    world.enrol(&phone, &[]).await;
    let message = phone.pushing(phone.greets(&world).await.session);
    let (answer, _) = phone.pushes(&world, &message).await.unwrap();
    let again = phone.pushes(&world, &message).await;
    assert!(matches!(again, Err(PushError::Exchange(exchange::Error::NotProved))));
    // The session in the answer is good for the next one.
    let (_, taken) = phone.pushes(&world, &phone.pushing(answer.session)).await.unwrap();
    assert_eq!(taken.already, 2);
}

#[tokio::test]
async fn a_stolen_session_is_no_use_to_another_key_and_is_spent() {
    let (world, phone, thief) = (World::new().await, Phone::with(1, 2), Phone::with(2, 2));
    let session = phone.greets(&world).await.session;
    let stolen = thief.pushes(&world, &thief.pushing(session)).await;
    assert!(matches!(stolen, Err(PushError::Exchange(exchange::Error::NotProved))));
    assert!(phone.pushes(&world, &phone.pushing(session)).await.is_err(), "spent: the phone greets anew");
    assert_eq!(world.hub.store.parked().await.unwrap(), []);
}

#[tokio::test]
async fn a_session_ends_by_itself() {
    let (world, phone) = (World::new().await, Phone::with(1, 1));
    let session = phone.greets(&world).await.session;
    world.clock.move_by_seconds(15 * 60 + 1);
    assert!(phone.pushes(&world, &phone.pushing(session)).await.is_err());
}

#[tokio::test]
async fn one_bad_entry_stops_no_other() {
    let (world, phone) = (World::new().await, Phone::with(1, 4));
    world.enrol(&phone, &[]).await;
    let session = phone.greets(&world).await.session;
    let mut message = phone.pushing(session);
    // The last byte is the body's: the header no longer names it.
    let mut changed = message.entries[1].to_vec();
    *changed.last_mut().unwrap() ^= 1;
    message.entries[1] = changed.into();
    message.entries.push(b"\xff\xffno entry".to_vec().into());
    let (answer, taken) = phone.pushes(&world, &message).await.unwrap();
    assert_eq!((taken.new, taken.not_entries), (3, 1));
    assert_eq!(answer.refused.len(), 1);
    assert_eq!(
        (answer.refused[0].id, answer.refused[0].code.as_str()),
        (phone.entries[1].id, "exchange.record")
    );
    let wanted: Vec<_> = answer.wanted.iter().map(|wanted| (wanted.from.get(), wanted.to.get())).collect();
    assert_eq!(wanted, [(2, 2)], "the hub asks for what is missing between");
    assert_eq!(world.held(&phone).await, [1, 3, 4].into());
}

#[tokio::test]
async fn every_byte_that_is_changed_is_found() {
    let (world, phone) = (World::new().await, Phone::with(1, 1));
    world.enrol(&phone, &[]).await;
    let whole = phone.entries[0].bytes.clone();
    for at in (0..whole.len()).step_by(7) {
        let mut message = phone.pushing(phone.greets(&world).await.session);
        let mut changed = whole.clone();
        changed[at] ^= 0x10;
        message.entries = vec![changed.into()];
        let (_, taken) = phone.pushes(&world, &message).await.unwrap();
        assert_eq!((taken.new, taken.refused.len() as u64 + taken.not_entries), (0, 1), "byte {at}");
    }
}

#[tokio::test]
async fn a_stranger_is_parked_and_adopted_whole_when_it_is_enrolled() {
    let (world, phone) = (World::new().await, Phone::with(1, 3));
    let (answer, taken) = phone.sends(&world).await;
    assert_eq!((taken.new, taken.parked), (0, 3));
    assert_eq!((answer.entries.len(), answer.pages.len()), (0, 0), "a stranger is told nothing");
    assert_eq!(world.hub.store.parked().await.unwrap()[0].entries, 3);
    world.enrol(&phone, &[]).await;
    assert_eq!(world.held(&phone).await, (1..=3).collect());
    let (answer, _) = phone.sends(&world).await;
    assert_eq!(receipts(&answer)[0].runs[0].to.get(), 3);
}

#[tokio::test]
async fn a_relay_brings_what_another_signed() {
    let (world, phone, relay) = (World::new().await, Phone::with(1, 3), Phone::with(2, 1));
    world.enrol(&phone, &[]).await;
    world.enrol(&relay, &[]).await;
    let mut message = relay.pushing(relay.greets(&world).await.session);
    message.entries.extend(phone.entries.iter().map(|entry| entry.bytes.clone().into()));
    // The key of the other log is not sent: the hub knows it.
    message.about.push(About { log: phone.log(), receipts: Vec::new() });
    let (answer, taken) = relay.pushes(&world, &message).await.unwrap();
    assert_eq!(taken.new, 4);
    let logs: Vec<_> = receipts(&answer).iter().map(|receipt| receipt.log).collect();
    assert!(logs.contains(&phone.log()) && logs.contains(&relay.log()), "receipts travel with the relay");
}

#[tokio::test]
async fn both_branches_of_a_fork_are_kept_and_told() {
    let (world, phone, mut copy) = (World::new().await, Phone::with(1, 3), Phone::with(1, 2));
    world.enrol(&phone, &[]).await;
    copy.sign(record::Kind(4_001), 1, b"\x65other");
    phone.sends(&world).await;
    let (answer, taken) = copy.sends(&world).await;
    assert_eq!((taken.new, taken.forks, taken.already), (1, 1, 2));
    let forks = world.hub.store.forks().await.unwrap();
    assert_eq!((forks.len(), forks[0].seq.get(), forks[0].payloads.len()), (1, 3, 2));
    assert_eq!(receipts(&answer).last().unwrap().runs.len(), 2, "the receipt names both ends");
}

/// The demo's first instrument.
fn row(tag: &str, area: &str) -> Row {
    let text = include_str!("../../../../../demo/data/register.json");
    let register: serde_json::Value = serde_json::from_str(text).unwrap();
    let mut instrument = register["instruments"][0].clone();
    instrument["tag"] = tag.into();
    let bytes = RegisterRow(serde_json::from_value(instrument).unwrap()).encode().unwrap();
    Row { tag: tag.into(), area: area.into(), bytes }
}

fn pages(answer: &Answer) -> Vec<Page> {
    let pages = bytes(&answer.pages);
    pages.iter().map(|page| Page::open(page, key(0x77).public(), &Strict).unwrap().page).collect()
}

#[tokio::test]
async fn the_register_comes_by_area_and_from_where_the_phone_stands() {
    let (world, mut phone) = (World::new().await, Phone::with(1, 1));
    world.enrol(&phone, &["north"]).await;
    let rows = vec![row("LT-1", "north"), row("LT-2", "south"), row("LT-3", "north")];
    world.hub.store.put_rows(Rows::Some(rows)).await.unwrap();
    let (answer, _) = phone.sends(&world).await;
    let [page] = &pages(&answer)[..] else { panic!("one page") };
    let tags: Vec<_> = page.upserts.iter().map(|upsert| upsert.tag.as_str()).collect();
    assert_eq!(
        (page.area.as_str(), page.snapshot, page.from, tags),
        ("north", true, 0, vec!["LT-1", "LT-3"])
    );
    assert_eq!(RegisterRow::decode(&page.upserts[0].row).unwrap().0.tag, "LT-1");
    phone.areas = vec![Cursor { area: "north".into(), version: page.to }];
    assert_eq!(pages(&phone.sends(&world).await.0), [], "nothing new, no page");
    world.hub.store.put_rows(Rows::Some(vec![row("LT-3", "south")])).await.unwrap();
    let answer = phone.sends(&world).await.0;
    let [moved] = &pages(&answer)[..] else { panic!("one page") };
    assert_eq!((moved.from, moved.snapshot, &moved.removals[..]), (page.to, false, &["LT-3".to_owned()][..]));
}

#[tokio::test]
async fn the_table_of_sensors_goes_to_every_phone_once() {
    let (world, mut phone) = (World::new().await, Phone::with(1, 1));
    world.enrol(&phone, &["north"]).await;
    let ranges = |name: &str| {
        let range = serde_json::json!({ "name": name, "lrl": "-25 kPa", "url": "25 kPa", "max_working": "10 MPa",
            "accuracy": "0.1 %" });
        vec![serde_json::from_value(range).unwrap()]
    };
    let comes_in = async |name: &str| {
        let came = (Rows::Some(Vec::new()), ranges(name));
        import(&world.hub, None, FileHash([0; 32]), came).await.unwrap().sensors
    };
    assert!(comes_in("low").await);
    assert_eq!(pages(&phone.sends(&world).await.0), [], "a phone without a register has no use for it");
    world.hub.store.put_rows(Rows::Some(vec![row("LT-1", "north")])).await.unwrap();
    let answer = phone.sends(&world).await.0;
    let [_, table] = &pages(&answer)[..] else { panic!("two pages") };
    let read = SensorTable::decode(table.sensors.as_ref().unwrap()).unwrap();
    assert_eq!((table.area.as_str(), table.snapshot, table.to, read.0), (SENSORS, true, 1, ranges("low")));
    phone.areas =
        vec![Cursor { area: "north".into(), version: 1 }, Cursor { area: SENSORS.into(), version: 1 }];
    assert_eq!(pages(&phone.sends(&world).await.0), [], "it has it");
    assert!(!comes_in("low").await, "the same is no change");
    assert!(comes_in("high").await);
    let answer = phone.sends(&world).await.0;
    let [table] = &pages(&answer)[..] else { panic!("one page") };
    assert_eq!((table.to, table.snapshot), (2, true));
}

#[tokio::test]
async fn many_rows_come_in_pages_that_join() {
    let (world, phone) = (World::new().await, Phone::with(1, 1));
    world.enrol(&phone, &[]).await;
    let rows = (0..450).map(|at| row(&format!("LT-{at}"), "")).collect();
    world.hub.store.put_rows(Rows::Some(rows)).await.unwrap();
    let pages = pages(&phone.sends(&world).await.0);
    let mut stands = 0;
    let mut tags = 0;
    for (at, page) in pages.iter().enumerate() {
        assert_eq!((page.from, page.snapshot), (stands, at == 0));
        stands = page.to;
        tags += page.upserts.len();
    }
    assert_eq!((pages.len(), tags), (3, 450));
}

#[tokio::test]
async fn an_area_that_a_phone_no_longer_gets_is_emptied() {
    let (world, mut phone) = (World::new().await, Phone::with(1, 1));
    world.enrol(&phone, &["north"]).await;
    phone.areas = vec![Cursor { area: "south".into(), version: 7 }];
    let [page] = &pages(&phone.sends(&world).await.0)[..] else { panic!("one page") };
    assert_eq!((page.area.as_str(), page.snapshot, page.to, page.upserts.len()), ("south", true, 0, 0));
}

#[tokio::test]
async fn a_newer_protocol_is_named_and_not_guessed_at() {
    let (world, phone) = (World::new().await, Phone::with(1, 1));
    let mut newer = phone.hello();
    newer.protocol += 1;
    let refused = hub::exchange::hello(&world.hub, &newer, [0; 32]).await;
    assert!(matches!(refused, Err(PushError::Exchange(exchange::Error::OtherProtocol(2)))));
}
