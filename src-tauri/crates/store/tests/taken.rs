//! Entries of many logs: whatever the order, all of it is kept, what is held is known, and each branch can be given.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, missing_docs, reason = "a panic here is the message")]

mod people;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use exchange::run::{Runs, Step, Wanted};
use exchange::session::Ledger;
use people::{Phone, Writer, arrived, as_device, kept};
use proptest::prelude::*;
use record::{Kind, Sealed, Signer};
use store::{
    Brought, Error, LogId, MOST_PARKED_BYTES, MOST_PARKED_ENTRIES, NewEntry, Opening, PayloadHash, Place,
    Seq, Taken,
};

/// Two strangers' logs of nine entries; the second one's parts after its fourth: two branches of three.
static LOGS: LazyLock<Vec<Sealed>> = LazyLock::new(|| {
    let (mut one, mut two) = (Writer::of(21), Writer::of(22));
    let mut all: Vec<Sealed> = (1..=9).map(|number| one.something(number)).collect();
    all.extend((1..=4).map(|number| two.something(number)));
    let fork = two.link;
    for branch in [10, 20] {
        two.link = fork;
        all.extend((1..=3).map(|number| two.something(branch + number)));
    }
    all
});

fn runs_of(held: &[&Sealed]) -> BTreeMap<record::LogId, Runs> {
    let mut all: BTreeMap<record::LogId, Runs> = BTreeMap::new();
    let ids: BTreeSet<_> = held.iter().map(|sealed| (sealed.id.seq, sealed.id.payload)).collect();
    let mut added = BTreeSet::new();
    for sealed in held {
        let before = sealed.header.previous.zip(record::Seq::new(sealed.id.seq.get() - 1));
        let parent_held = before.is_some_and(|(hash, seq)| added.contains(&(seq, hash)));
        added.insert((sealed.id.seq, sealed.id.payload));
        let step = Step { seq: sealed.id.seq, previous: sealed.header.previous, hash: sealed.id.payload };
        all.entry(sealed.id.log).or_default().add(step, parent_held);
    }
    assert_eq!(added, ids);
    all
}

/// What a have set says, whichever branch of a fork the piece below it was joined to: ends, and how much is held.
fn said(have: &exchange::have::HaveSet) -> BTreeMap<record::LogId, (BTreeSet<record::PayloadHash>, u64)> {
    let of = |ranges: &Vec<bodies::HeldRun>| {
        let held = ranges.iter().map(|range| range.to.get() - range.from.get() + 1).sum();
        (ranges.iter().map(|range| range.end).collect(), held)
    };
    have.0.iter().map(|(log, ranges)| (*log, of(ranges))).collect()
}

/// The entries of a branch as far down as they are held without a gap, by going over everything.
fn naive_branch(held: &[&Sealed], wanted: &Wanted) -> Vec<Vec<u8>> {
    let mut branch = Vec::new();
    let (mut seq, mut hash) = (wanted.to, Some(wanted.end));
    while let Some(found) = held
        .iter()
        .find(|sealed| sealed.id.log == wanted.log && sealed.id.seq == seq && Some(sealed.id.payload) == hash)
    {
        branch.push(found.bytes.clone());
        hash = found.header.previous;
        if seq <= wanted.from {
            break;
        }
        seq = record::Seq::new(seq.get() - 1).unwrap();
    }
    branch.reverse();
    branch
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn whatever_the_order_nothing_is_lost_and_what_is_held_is_known(
        picks in proptest::collection::vec(0..LOGS.len(), 1..50),
        vouched in 0..50usize,
        cut in 1..10usize,
    ) {
        let folder = tempfile::tempdir().unwrap();
        let store = Opening::at(folder.path().join("headmark.db")).open().unwrap();
        let mut held: Vec<&Sealed> = Vec::new();
        let logs = [&LOGS[0], &LOGS[9]].map(|sealed| LogId::of(sealed.id.log));
        let mut known = false;
        for (at, batch) in picks.chunks(cut).enumerate() {
            if at == vouched {
                store.vouch(&logs).unwrap();
                known = true;
            }
            let entries: Vec<NewEntry> = batch.iter().map(|pick| kept(&LOGS[*pick])).collect();
            let taken = store.take_in("a colleague", &entries).unwrap();
            for (pick, taken) in batch.iter().zip(taken) {
                let new = !held.contains(&&LOGS[*pick]);
                let id = LOGS[*pick].id;
                let beside = held.iter().any(|other| other.id.log == id.log && other.id.seq == id.seq && other.id != id);
                let right = match taken {
                    Taken::New(_) => known && new && !beside,
                    Taken::Fork(_) => known && new && beside,
                    Taken::Already(_) => known && !new,
                    Taken::Parked => !known,
                    Taken::NoRoom => false,
                };
                prop_assert!(right, "{taken:?} for {id}");
                if new {
                    held.push(&LOGS[*pick]);
                }
            }
        }
        let runs = runs_of(&held);
        let have = Ledger::have(&store).unwrap();
        let mut expected = exchange::have::HaveSet::default();
        runs.iter().for_each(|(log, runs)| expected.put(*log, runs));
        prop_assert_eq!(said(&have), said(&expected));
        for sealed in &held {
            let id = sealed.id;
            for from in [1, 3, id.seq.get()] {
                let from = record::Seq::new(from.min(id.seq.get())).unwrap();
                let wanted = Wanted { log: id.log, from, to: id.seq, end: id.payload };
                let naive = naive_branch(&held, &wanted);
                let all = Ledger::branch(&store, &wanted, usize::MAX).unwrap();
                prop_assert_eq!(all.iter().map(|held| held.bytes.clone()).collect::<Vec<_>>(), naive.clone());
                let room = naive.iter().take(2).map(Vec::len).sum();
                let few = Ledger::branch(&store, &wanted, room).unwrap();
                prop_assert_eq!(few.len(), naive.len().min(2));
                let least = Ledger::branch(&store, &wanted, 1).unwrap();
                prop_assert_eq!(least.len(), 1);
            }
        }
        if known {
            prop_assert_eq!(store.parked().unwrap(), vec![]);
            let forked: Vec<LogId> = runs.iter().filter(|(_, runs)| runs.has_fork()).map(|(log, _)| LogId::of(*log)).collect();
            prop_assert_eq!(store.forked().unwrap(), forked);
            let before = logs.map(|log| store.runs(log).unwrap());
            store.rebuild().unwrap();
            prop_assert_eq!(logs.map(|log| store.runs(log).unwrap()), before);
        }
    }
}

#[test]
fn a_certificate_adopts_what_was_parked_and_a_stranger_certifies_nobody() {
    let mut phone = Phone::new();
    let (mut other, mut stranger) = (Writer::of(30), Writer::of(31));
    let work: Vec<Sealed> = (1..=3).map(|number| other.something(number)).collect();
    let keys = [other.key.public().clone(), stranger.key.public().clone()];
    let brought: Vec<_> = work.iter().rev().map(arrived).collect();
    assert_eq!(phone.store.take_bundle("a card", &keys, &brought).unwrap(), Brought { new: 3, no_room: 0 });
    let forged = stranger.certify(&other, as_device());
    assert_eq!(phone.store.take_bundle("a card", &keys, &[arrived(&forged)]).unwrap().new, 1);
    assert_eq!(phone.store.parked().unwrap().len(), 4);
    let certificate = phone.hub.certify(&other, as_device());
    assert_eq!(phone.take(people::EPOCH, &[&certificate]), 1);
    assert_eq!(phone.store.parked().unwrap(), [kept(&forged)]);
    assert_eq!(phone.store.runs(other.log()).unwrap().all().len(), 1);
    assert_eq!(phone.store.tip(other.log()).unwrap().unwrap().seq, Seq(3));
    // The very certificate may come in the same bundle as what it is for, and behind it.
    let mut third = Writer::of(32);
    let first = third.something(1);
    let certificate = phone.hub.certify(&third, as_device());
    assert_eq!(
        phone.store.take_bundle("a card", &keys, &[arrived(&first), arrived(&certificate)]).unwrap().new,
        2
    );
    assert_eq!(phone.store.tip(third.log()).unwrap().unwrap().seq, Seq(1));
}

fn stranger(number: u64, log: u8, length: usize) -> NewEntry {
    let mut hash = [log; 32];
    hash[..8].copy_from_slice(&number.to_be_bytes());
    let place = Place { log: LogId([log; 32]), seq: Seq(number) };
    NewEntry { place, hash: PayloadHash(hash), previous: None, kind: store::Kind(1), bytes: vec![1; length] }
}

#[test]
fn a_stranger_fills_neither_a_log_beyond_a_thousand_nor_a_phone_beyond_64_mib() {
    let phone = Phone::new();
    let most = u64::from(MOST_PARKED_ENTRIES);
    let many: Vec<NewEntry> = (1..=most + 2).map(|number| stranger(number, 50, 40)).collect();
    let taken = phone.store.take_in("one", &many).unwrap();
    let refused = taken.iter().filter(|taken| **taken == Taken::NoRoom).count();
    assert_eq!((refused, taken[999], taken[1_000]), (2, Taken::Parked, Taken::NoRoom));
    let length = 256 * 1024;
    let room = MOST_PARKED_BYTES / length as u64;
    let large: Vec<NewEntry> =
        (1..=room + 1).map(|number| stranger(number, 60 + (number / 200) as u8, length)).collect();
    let taken = phone.store.take_in("two", &large).unwrap();
    assert_eq!(taken.iter().filter(|taken| **taken == Taken::NoRoom).count(), 1);
    // Somebody else still has room, and what is there already takes none.
    assert_eq!(phone.store.take_in("three", &large[large.len() - 1..]).unwrap(), [Taken::Parked]);
    assert_eq!(phone.store.take_in("two", &large[..1]).unwrap(), [Taken::Parked]);
}

/// Whoever can make keys can sign logs of gaps over them: more runs than a hub listens to, in one bundle or in several.
#[test]
fn what_strangers_brought_does_not_end_this_phones_sending() {
    let mut phone = Phone::new();
    let own = phone.own.something(1);
    phone.append(&own);
    let gapped = |at: u64| NewEntry {
        previous: Some(PayloadHash([7; 32])),
        ..stranger(2 + 2 * (at % 100), u8::try_from(at / 100).unwrap() + 40, 300)
    };
    let many: Vec<NewEntry> = (0..20_001).map(gapped).collect();
    let taken = phone.store.take_in("a card", &many).unwrap();
    assert!(taken.iter().all(|taken| *taken == Taken::Parked));
    let have = Ledger::have(&phone.store).unwrap();
    let runs: usize = have.0.values().map(Vec::len).sum();
    assert_eq!(have.0.get(&own.id.log).map(Vec::len), Some(1), "what this phone signed is said first");
    assert_eq!(runs, 1 + 1_000);
}

#[test]
fn what_there_is_no_room_for_is_counted() {
    let phone = Phone::new();
    let mut stranger = Writer::of(70);
    let entries: Vec<_> = (0..=MOST_PARKED_ENTRIES).map(|_| arrived(&stranger.something(1))).collect();
    let keys = [stranger.key.public().clone()];
    let brought = phone.store.take_bundle("a card", &keys, &entries).unwrap();
    assert_eq!(brought, Brought { new: MOST_PARKED_ENTRIES, no_room: 1 });
}

#[test]
fn this_phone_never_writes_behind_a_place_that_is_taken() {
    let mut phone = Phone::new();
    let one = phone.own.beside(Kind(9), 1, &[1]);
    let other = phone.own.beside(Kind(9), 1, &[2]);
    phone.append(&one);
    let error = phone.store.append(&kept(&other)).unwrap_err();
    assert!(matches!(error, Error::Taken { .. }), "{error}");
    // Brought by others it is kept, and told.
    let taken = phone.store.take_in("a colleague", &[kept(&other)]).unwrap();
    assert!(matches!(taken[0], Taken::Fork(_)));
    assert_eq!(phone.store.forked().unwrap(), [phone.own.log()]);
    phone.own.link = one.next();
    let next = phone.own.something(3);
    phone.append(&next);
    assert_eq!(phone.store.tip(phone.own.log()).unwrap().unwrap().hash, kept(&next).hash);
}
