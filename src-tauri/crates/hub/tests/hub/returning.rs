//! What a phone once had and has no more is given back to it.

use bodies::PersonId;
use exchange::message::{About, Answer};
use exchange::run::Wanted;
use hub::deciding::revoke;
use hubstore::Ledger;
use record::{EntryId, PublicKey, Seq, open};

use crate::phone::Phone;
use crate::world::World;

/// These places of a phone's log, up to the entry at the last of them.
fn lacks(of: &Phone, from: u64, to: u64) -> Wanted {
    let end = of.entries[usize::try_from(to).unwrap() - 1].id;
    Wanted { log: end.log, from: Seq::new(from).unwrap(), to: end.seq, end: end.payload }
}

async fn asks(world: &World, who: &Phone, lacks: &[Wanted]) -> Answer {
    let mut message = who.pushing(who.greets(world).await.session);
    message.about = vec![About { log: who.log(), receipts: Vec::new() }];
    message.lacks = Some(lacks.to_vec());
    who.pushes(world, &message).await.unwrap().0
}

/// The entries of a log in an answer.
fn of_log(answer: &Answer, of: &Phone) -> Vec<EntryId> {
    let ids = answer.entries.iter().map(|entry| open(entry).unwrap().id);
    ids.filter(|id| id.log == of.log()).collect()
}

fn ids(of: &Phone, from: usize, to: usize) -> Vec<EntryId> {
    of.entries[from - 1..to].iter().map(|entry| entry.id).collect()
}

#[tokio::test]
async fn a_phone_gets_back_what_it_names_by_its_end() {
    let (world, lost, now) = (World::new().await, Phone::with(1, 6), Phone::with(2, 1));
    for phone in [&lost, &now] {
        world.enrol(phone, &[]).await;
        phone.sends(&world).await;
    }
    // Its file was damaged, so it writes another log now.
    let answer = asks(&world, &now, &[lacks(&lost, 2, 4), lacks(&lost, 6, 6), lacks(&lost, 3, 4)]).await;
    assert_eq!(of_log(&answer, &lost), [ids(&lost, 2, 4), ids(&lost, 6, 6)].concat(), "each once");
    let keys = answer.keys.iter().map(|key| PublicKey::from_cose(key).unwrap().log());
    assert!(keys.collect::<Vec<_>>().contains(&lost.log()), "with the key to verify them");
    assert_eq!(of_log(&asks(&world, &now, &[]).await, &lost), []);
    let unheard = Wanted { end: lost.entries[0].id.payload, ..lacks(&lost, 2, 4) };
    assert_eq!(of_log(&asks(&world, &now, &[unheard]).await, &lost), [], "nobody who had it asks so");
    let of_hub = world.hub.store.tip(world.hub.identity.log).await.unwrap().unwrap();
    let of_hub = Wanted { log: world.hub.identity.log, from: Seq::FIRST, to: of_hub.0, end: of_hub.1 };
    let before = asks(&world, &now, &[]).await.entries.len();
    assert_eq!(asks(&world, &now, &[of_hub]).await.entries.len(), before, "what hubs say comes as news");
}

#[tokio::test]
async fn of_what_the_hub_lost_too_the_rest_is_given_back() {
    let (world, mut lost, now) = (World::new().await, Phone::with(1, 6), Phone::with(2, 1));
    for phone in [&lost, &now] {
        world.enrol(phone, &[]).await;
    }
    let all = lost.entries.clone();
    lost.entries.remove(2);
    lost.sends(&world).await;
    lost.entries = all;
    let answer = asks(&world, &now, &[lacks(&lost, 1, 6)]).await;
    assert_eq!(of_log(&answer, &lost), ids(&lost, 4, 6), "below the gap nothing is known to lead there");
    let answer = asks(&world, &now, &[lacks(&lost, 1, 3), lacks(&lost, 1, 2)]).await;
    assert_eq!(of_log(&answer, &lost), ids(&lost, 1, 2));
}

#[tokio::test]
async fn strangers_and_revoked_phones_get_nothing_back() {
    let (world, lost, now) = (World::new().await, Phone::with(1, 3), Phone::with(2, 1));
    world.enrol(&lost, &[]).await;
    lost.sends(&world).await;
    let asked = [lacks(&lost, 1, 3)];
    assert_eq!(asks(&world, &now, &asked).await.entries.len(), 0, "a stranger");
    world.enrol(&now, &[]).await;
    assert_eq!(of_log(&asks(&world, &now, &asked).await, &lost).len(), 3);
    revoke(&world.hub, now.log(), None, "lost", PersonId([5; 16])).await.unwrap();
    assert_eq!(of_log(&asks(&world, &now, &asked).await, &lost), []);
}

#[tokio::test]
async fn much_comes_in_pieces_lowest_first() {
    let (world, mut lost, now) = (World::new().await, Phone::with(1, 1_200), Phone::with(2, 1));
    // Small ones in one answer, then large ones, of which an answer holds eight.
    let large = [&[0x59, 0xea, 0x60][..], &vec![7; 60_000]].concat();
    (0..20).for_each(|_| lost.sign(record::Kind(4_000), 1, &large));
    for phone in [&lost, &now] {
        world.enrol(phone, &[]).await;
    }
    lost.sends(&world).await;
    let (mut have, mut rounds) = (Vec::new(), 0);
    while have.len() < 1_220 {
        let from = u64::try_from(have.len()).unwrap() + 1;
        let came = asks(&world, &now, &[lacks(&lost, from, 1_220)]).await;
        assert!(came.entries.iter().map(|entry| entry.len()).sum::<usize>() < 600_000);
        have.extend(of_log(&came, &lost));
        rounds += 1;
    }
    assert_eq!((have, rounds), (ids(&lost, 1, 1_220), 4));
}
