//! What must hold, whatever happened.

use std::collections::{BTreeMap, BTreeSet};

use bodies::{CERTIFICATE, LastTrusted, REVIEW, REVOCATION, Review, Revocation};
use exchange::run::Wanted;
use exchange::trust::Standing;
use hub::counting::Counting;
use hubstore::{Arrival, Ledger, Register, StoredEntry};
use record::{EntryId, LogId, PayloadHash, Seq};

use crate::air::Links;
use crate::house::House;
use crate::phone::{Found, Phone};
use crate::photos;
use crate::world::World;

/// After each deed: what a phone calls received is at the hub, and what was backed up is there for good. The hub is asked
/// anew for all of them each time.
pub async fn no_false_receipt<P: Phone, H: House>(world: &World<P, H>) {
    for (entries, said) in [(&world.stored, "called received"), (&world.backed_up, "backed up")] {
        let entries: Vec<EntryId> = entries.iter().copied().collect();
        let held = world.hub.store().holds(&entries).await.unwrap();
        assert_eq!(held.len(), entries.len(), "an answer for each");
        let lost: Vec<_> = entries.iter().zip(held).filter(|(_, held)| !held).map(|(id, _)| id).collect();
        assert!(lost.is_empty(), "{said} and not at the hub: {lost:?}");
    }
}

/// Over good links everything comes together.
pub async fn all_comes_together<P: Phone, H: House>(world: &mut World<P, H>) {
    world.enrol_all().await;
    round_of_exchanges(world).await;
    // An app is started now and then.
    for phone in &mut world.phones {
        phone.starts_again(&mut world.chance);
    }
    let mut rounds = 1;
    while round_of_exchanges(world).await && rounds < 4 {
        rounds += 1;
    }
    let entries = world.hub.entries().await;
    let phones: Vec<Found> = world.phones.iter().map(Phone::found).collect();
    if phones.iter().any(|phone| !phone.lacks.is_empty()) {
        world.reached.note("a phone that lost what it had passed on");
    }
    nothing_is_lost_or_doubled(world, &phones, &entries).await;
    what_a_phone_lost_is_back(world, &phones, &entries).await;
    every_fork_is_reported(world, &phones, &entries).await;
    what_counts_is_what_was_decided(world, &phones, &entries).await;
    everyone_heard_the_news(&phones, &entries);
    registers_are_alike(world, &phones).await;
    no_false_receipt(world).await;
    photos::all_came_home(world, &phones).await;
    photos::no_photo_is_lost(world).await;
}

/// Everyone exchanges once. Returns whether anything came of it: where nothing did, nothing would of another.
async fn round_of_exchanges<P: Phone, H: House>(world: &mut World<P, H>) -> bool {
    let before = (world.hub.store().newest().await.unwrap(), world.photos_brought);
    let mut came = false;
    for at in 0..world.phones.len() {
        let on_it = world.phones[at].holds();
        world.exchange(&[at], Links::Good).await;
        came |= world.phones[at].holds() != on_it;
    }
    came || (world.hub.store().newest().await.unwrap(), world.photos_brought) != before
}

/// What a phone holds is at the hub. Only of a hub's life that nobody can vouch for any more, since the backup is from before
/// it and the phone that had its certificate was damaged, entries wait parked: as many as there are.
async fn nothing_is_lost_or_doubled<P: Phone, H: House>(
    world: &World<P, H>,
    phones: &[Found],
    entries: &[StoredEntry],
) {
    let held: BTreeMap<EntryId, &StoredEntry> = entries.iter().map(|entry| (entry.id, entry)).collect();
    assert_eq!(held.len(), entries.len(), "something is held twice");
    let arrivals: BTreeSet<Arrival> = entries.iter().map(|entry| entry.arrival).collect();
    assert_eq!(arrivals.len(), entries.len(), "two arrived as one");
    let (trusted, parked) = (world.hub.hub().trusted().await.unwrap(), world.hub.parked().await);
    let mut waiting: BTreeSet<EntryId> = BTreeSet::new();
    for phone in phones {
        let nobodys = |id: &EntryId| !trusted.trust().knows(id.log) && parked.contains_key(&id.log);
        for (id, bytes) in &phone.entries {
            let Some(at_hub) = held.get(id) else {
                assert!(nobodys(id), "on a phone and not at the hub: {id}");
                waiting.insert(*id);
                continue;
            };
            assert_eq!(at_hub.bytes, *bytes, "the bytes that arrived are those that are kept");
        }
    }
    for (log, count) in parked {
        let here = waiting.iter().filter(|id| id.log == log).count() as u64;
        assert!(here <= count, "{here} entries of {log} on phones, and {count} parked");
    }
}

/// Whatever a phone had once is on it again, where the hub has it.
async fn what_a_phone_lost_is_back<P: Phone, H: House>(
    world: &World<P, H>,
    phones: &[Found],
    entries: &[StoredEntry],
) {
    let held: BTreeSet<EntryId> = entries.iter().map(|entry| entry.id).collect();
    let trusted = world.hub.hub().trusted().await.unwrap();
    for phone in phones.iter().filter(|phone| trusted.trust().revoked(phone.log).is_none()) {
        let closed = phone.own.split_last().map_or(&[][..], |(_, closed)| closed);
        let lost = held.iter().filter(|id| closed.contains(&id.log) && !phone.entries.contains_key(id));
        assert_eq!(lost.collect::<Vec<_>>(), [] as [&EntryId; 0], "of its own, and not given back");
        let end = |wanted: &Wanted| EntryId { log: wanted.log, seq: wanted.to, payload: wanted.end };
        let lost = phone.lacks.iter().map(end).filter(|id| held.contains(id));
        assert_eq!(lost.collect::<Vec<_>>(), [], "passed on once, and not given back");
    }
}

async fn every_fork_is_reported<P: Phone, H: House>(
    world: &mut World<P, H>,
    phones: &[Found],
    entries: &[StoredEntry],
) {
    let mut places: BTreeMap<(LogId, Seq), BTreeSet<PayloadHash>> = BTreeMap::new();
    for entry in entries {
        places.entry((entry.id.log, entry.id.seq)).or_default().insert(entry.id.payload);
    }
    let forked: Vec<_> = places.into_iter().filter(|(_, payloads)| payloads.len() > 1).collect();
    if !forked.is_empty() {
        world.reached.note("a forked log");
    }
    let reported = world.hub.store().forks().await.unwrap();
    let reported: Vec<_> = reported
        .into_iter()
        .map(|fork| ((fork.log, fork.seq), fork.payloads.into_iter().collect::<BTreeSet<_>>()))
        .collect();
    assert_eq!(reported, forked, "forks");
    for phone in phones {
        let foreign =
            entries.iter().any(|entry| entry.id.log == phone.log && !phone.entries.contains_key(&entry.id));
        assert!(!foreign || phone.knows_of_copy, "a copy writes on, and the phone does not know");
    }
}

/// What counts, worked out by going over all entries: below the lowest cut of its log, what leads there; what somebody
/// adopted; and of a log that nobody revoked all, or where it is forked what stands below the place where it parts. The hub
/// says the same, and so do the phones of who was revoked.
async fn what_counts_is_what_was_decided<P: Phone, H: House>(
    world: &mut World<P, H>,
    phones: &[Found],
    entries: &[StoredEntry],
) {
    let said: BTreeMap<EntryId, &StoredEntry> = entries.iter().map(|one| (one.id, one)).collect();
    let mut cuts: BTreeMap<LogId, Option<LastTrusted>> = BTreeMap::new();
    let mut adopted = BTreeSet::new();
    for entry in said.values() {
        let opened = record::open(&entry.bytes).unwrap();
        match entry.kind {
            REVOCATION => {
                let revocation = Revocation::of_entry(&opened).unwrap();
                let cut = cuts.entry(revocation.log).or_insert(revocation.last);
                if revocation.last.map(|last| last.seq) < cut.map(|cut| cut.seq) {
                    *cut = revocation.last;
                }
            }
            REVIEW => _ = adopted.insert(Review::of_entry(&opened).unwrap().subject),
            _ => {}
        }
    }
    let leading: BTreeSet<EntryId> =
        cuts.iter().flat_map(|(log, cut)| leading_to(&said, *log, *cut)).collect();
    let partings = partings(&said);
    let mut counting = Counting::at(world.hub.hub()).await.unwrap();
    let mut rescued = false;
    for id in said.keys() {
        let parts = partings.get(&id.log).is_some_and(|parting| *parting <= id.seq);
        let expected = match (adopted.contains(id), cuts.contains_key(&id.log)) {
            (true, _) => Standing::Adopted,
            (false, true) if leading.contains(id) => Standing::Counts,
            (false, true) => Standing::AfterRevocation,
            (false, false) if parts => Standing::Forked,
            (false, false) => Standing::Counts,
        };
        assert_eq!(counting.standing(id).await.unwrap(), expected, "{id}");
        rescued |= expected == Standing::Adopted && (parts || cuts.contains_key(&id.log));
    }
    if rescued {
        world.reached.note("an entry of a forked or revoked log that was adopted");
    }
    for phone in phones {
        for (log, cut) in &cuts {
            assert_eq!(phone.trust.revoked(*log), Some(*cut), "a phone thinks otherwise of a revoked log");
        }
    }
}

/// The lowest place of each forked log of which two payloads are known: held, or named by what is held as the one before.
fn partings(said: &BTreeMap<EntryId, &StoredEntry>) -> BTreeMap<LogId, Seq> {
    let mut known: BTreeMap<(LogId, Seq), BTreeSet<PayloadHash>> = BTreeMap::new();
    let (mut places, mut forked) = (BTreeSet::new(), BTreeSet::new());
    for (EntryId { log, seq, payload }, entry) in said {
        known.entry((*log, *seq)).or_default().insert(*payload);
        if let Some((below, previous)) = Seq::new(seq.get() - 1).zip(entry.previous) {
            known.entry((*log, below)).or_default().insert(previous);
        }
        if !places.insert((*log, *seq)) {
            forked.insert(*log);
        }
    }
    let mut partings = BTreeMap::new();
    for ((log, seq), _) in known.into_iter().filter(|(_, payloads)| payloads.len() > 1) {
        if forked.contains(&log) {
            partings.entry(log).or_insert(seq);
        }
    }
    partings
}

/// The entries from a cut down, as far as each names the one before it.
fn leading_to(said: &BTreeMap<EntryId, &StoredEntry>, log: LogId, cut: Option<LastTrusted>) -> Vec<EntryId> {
    let mut leading = Vec::new();
    let mut next = cut.map(|cut| EntryId { log, seq: cut.seq, payload: cut.payload });
    while let Some(entry) = next.and_then(|id| said.get(&id)) {
        leading.push(entry.id);
        let below = Seq::new(entry.id.seq.get() - 1).zip(entry.previous);
        next = below.map(|(seq, payload)| EntryId { log, seq, payload });
    }
    leading
}

fn everyone_heard_the_news(phones: &[Found], entries: &[StoredEntry]) {
    let everyones = [CERTIFICATE, REVOCATION];
    for phone in phones {
        for entry in entries.iter().filter(|entry| everyones.contains(&entry.kind)) {
            assert!(phone.entries.contains_key(&entry.id), "{} was not heard of", entry.id);
        }
        let trust = &phone.trust;
        for entry in entries.iter().filter(|entry| entry.kind == REVIEW) {
            let review = bodies::Review::of_entry(&record::open(&entry.bytes).unwrap()).unwrap();
            if review.subject.log == phone.log && trust.hub(entry.id.log).is_some() {
                assert!(phone.entries.contains_key(&entry.id), "a review of its own was not heard of");
            }
        }
    }
}

async fn registers_are_alike<P: Phone, H: House>(world: &World<P, H>, phones: &[Found]) {
    let rows = world.hub.store().rows("", 1_000).await.unwrap();
    let at_hub: BTreeMap<_, _> = rows.into_iter().map(|row| ((row.area, row.tag), row.bytes)).collect();
    let trusted = world.hub.hub().trusted().await.unwrap();
    for phone in phones.iter().filter(|phone| trusted.trust().revoked(phone.log).is_none()) {
        assert_eq!(phone.register, at_hub, "the register");
    }
}
