//! A phone with more photos than one receipt can name, and a hub that has said of none of them that it holds them: as after
//! a restore.

use std::collections::BTreeSet;

use bodies::{
    Confirmed, Grade, OBSERVATION, OBSERVATION_VERSION, Observation, Observed, PersonId, Photo, PhotoHash,
    RECEIPT_PHOTOS, Receipt, Technician,
};
use exchange::message::{About, Answer};
use hub::exchange::receipts_of;
use hubstore::{Ledger, Photos};
use record::PayloadHash;

use crate::phone::Phone;
use crate::world::World;

/// More than two receipts hold.
const MANY: u32 = 8_100;

fn photo(number: u32) -> PhotoHash {
    let mut hash = [7; 32];
    hash[..4].copy_from_slice(&number.to_be_bytes());
    PhotoHash(hash)
}

fn observation(number: u32) -> Vec<u8> {
    let observation = Observation {
        app: String::new(),
        technician: Technician { person: PersonId([9; 16]), confirmed: Confirmed::Pin },
        tag: String::new(),
        what: Observed::Photo,
        photo: Some(Photo { hash: photo(number), length: 1, media_type: "image/jpeg".into() }),
        readings: Vec::new(),
        note: String::new(),
        made_for: String::new(),
    };
    observation.encode().unwrap()
}

fn receipts(answer: &Answer) -> Vec<(PayloadHash, Receipt)> {
    let entries = answer.entries.iter().map(|entry| record::open(entry).unwrap());
    entries.filter_map(|entry| Some((entry.id.payload, Receipt::of_entry(&entry).ok()?))).collect()
}

/// Asks until there is nothing more, as a phone that keeps what it was told; returns all receipts that came.
async fn asks(phone: &mut Phone, world: &World, newest: &[PayloadHash]) -> Vec<(PayloadHash, Receipt)> {
    let mut came = Vec::new();
    let mut session = phone.greets(world).await.session;
    for _ in 0..20 {
        let mut message = phone.pushing(session);
        message.entries.clear();
        message.about = vec![About { log: phone.log(), receipts: newest.to_vec() }];
        let (answer, _) = phone.pushes(world, &message).await.unwrap();
        phone.news = answer.news;
        session = answer.session;
        came.extend(receipts(&answer));
        if !answer.more {
            return came;
        }
    }
    panic!("there was always more");
}

fn named(came: &[(PayloadHash, Receipt)], grade: Grade) -> BTreeSet<PhotoHash> {
    came.iter()
        .filter(|(_, receipt)| receipt.grade == grade)
        .flat_map(|(_, receipt)| receipt.photos.clone())
        .collect()
}

/// As for a phone that carries what many others wrote, and meets the hub for the first time since it was restored.
#[tokio::test]
async fn receipts_of_many_logs_come_in_answers_that_a_phone_takes() {
    const LOGS: u8 = 5;
    let world = World::in_memory().await;
    let most = u32::try_from(RECEIPT_PHOTOS).unwrap();
    let mut about = Vec::new();
    for log in 0..u32::from(LOGS) {
        let mut phone = Phone::with(u8::try_from(log).unwrap() + 1, 0);
        world.enrol(&phone, &[]).await;
        let photos = log * most..(log + 1) * most;
        photos.clone().for_each(|number| phone.sign(OBSERVATION, OBSERVATION_VERSION, &observation(number)));
        phone.sends(&world).await;
        for number in photos {
            world.hub.store.came_whole(photo(number), 1).await.unwrap();
        }
        about.push(About { log: phone.log(), receipts: Vec::new() });
    }
    let logs: BTreeSet<_> = about.iter().map(|about| about.log).collect();
    for grade in [Grade::Stored, Grade::BackedUp] {
        receipts_of(&world.hub, &world.hub.store, &logs, grade).await.unwrap();
    }
    let mut relay = Phone::with(LOGS + 1, 0);
    world.enrol(&relay, &[]).await;
    let newest = world.hub.store.newest().await.unwrap().0;
    let mut session = relay.greets(&world).await.session;
    let (mut came, mut rounds) = (Vec::new(), 0);
    loop {
        relay.news = newest;
        let mut message = relay.pushing(session);
        message.about.clone_from(&about);
        let (answer, _) = relay.pushes(&world, &message).await.unwrap();
        session = answer.session;
        assert!(answer.entries.iter().map(|entry| entry.len()).sum::<usize>() <= 1 << 20);
        for (payload, receipt) in receipts(&answer) {
            let of_log = about.iter_mut().find(|about| about.log == receipt.log).unwrap();
            of_log.receipts.push(payload);
            came.push((receipt.log, receipt.grade));
        }
        rounds += 1;
        if !answer.more {
            break;
        }
    }
    came.sort_unstable();
    let expected = logs.iter().flat_map(|log| [(*log, Grade::Stored), (*log, Grade::BackedUp)]);
    assert_eq!(came, expected.collect::<Vec<_>>());
    assert_eq!(rounds, 2);
}

#[tokio::test]
async fn every_photo_is_named_once_the_hub_has_it_however_many_there_are() {
    let world = World::in_memory().await;
    let mut phone = Phone::with(1, 0);
    world.enrol(&phone, &[]).await;
    for number in 0..MANY {
        phone.sign(OBSERVATION, OBSERVATION_VERSION, &observation(number));
    }
    phone.sends(&world).await;
    // All were brought before anybody was told of one.
    for number in 0..MANY {
        world.hub.store.came_whole(photo(number), 1).await.unwrap();
    }
    let all: BTreeSet<PhotoHash> = (0..MANY).map(photo).collect();
    let came = asks(&mut phone, &world, &[]).await;
    assert_eq!(named(&came, Grade::Stored).len(), all.len());
    let (newest, last) = came.last().unwrap();
    assert!(
        !last.runs.is_empty() && last.photos.len() == RECEIPT_PHOTOS,
        "the newest has runs and comes last"
    );
    assert!(
        came.iter().rev().skip(1).all(|(_, receipt)| receipt.runs.is_empty() || receipt.photos.is_empty())
    );

    // It is said once.
    assert_eq!(asks(&mut phone, &world, &[*newest]).await, []);
    // One more photo costs one more receipt, not all of them again.
    phone.sign(OBSERVATION, OBSERVATION_VERSION, &observation(MANY));
    phone.sends(&world).await;
    world.hub.store.came_whole(photo(MANY), 1).await.unwrap();
    let came = asks(&mut phone, &world, &[*newest]).await;
    assert!(named(&came, Grade::Stored).contains(&photo(MANY)));
    assert!(came.len() == 1 && came[0].1.photos.len() == RECEIPT_PHOTOS, "{}", came.len());

    // What stands in a backup is said in the same way.
    let logs = BTreeSet::from([phone.log()]);
    let said = receipts_of(&world.hub, &world.hub.store, &logs, Grade::BackedUp).await.unwrap();
    assert_eq!(said.len(), 3, "two of photos alone and the newest");
    assert!(said.iter().all(|(of, _)| *of == phone.log()));
    let came = asks(&mut phone, &world, &[came[0].0]).await;
    assert_eq!(named(&came, Grade::BackedUp).len(), all.len() + 1);
}
