//! What receipts mean: only what they truly cover, in the hub's present epoch, is called received.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, missing_docs, reason = "a panic here is the message")]

mod people;

use bodies::{Epoch, Grade};
use exchange::session::Ledger;
use people::{EPOCH, Phone, Writer, as_hub, kept, place};
use record::{Kind, Sealed, Signer};
use rstest::rstest;
use store::{Claimed, Counts, Draft, SignedVisit, Stands, TagKey, VisitState};

const LATER: Epoch = Epoch([0xe2; 16]);

fn with_entries(count: u8) -> (Phone, Vec<Sealed>) {
    let mut phone = Phone::new();
    let entries: Vec<Sealed> = (1..=count).map(|number| phone.own.something(number)).collect();
    entries.iter().for_each(|sealed| phone.append(sealed));
    (phone, entries)
}

fn stands(phone: &Phone, entries: &[Sealed]) -> Vec<Stands> {
    entries.iter().map(|sealed| phone.store.stands(place(sealed)).unwrap().unwrap()).collect()
}

use Stands::{AlsoElsewhere, BackedUp, Here, Received};

#[rstest]
#[case::stored(Grade::Stored, [Received, Received, Here])]
#[case::backed_up(Grade::BackedUp, [BackedUp, BackedUp, Here])]
fn a_receipt_covers_its_runs_and_no_more(#[case] grade: Grade, #[case] expected: [Stands; 3]) {
    let (mut phone, entries) = with_entries(3);
    let receipt = phone.hub.receipt(Some(EPOCH), &[(&entries[0], &entries[1])], &[], grade);
    phone.take(EPOCH, &[&receipt]);
    assert_eq!(stands(&phone, &entries), expected);
    let about = phone.store.about().unwrap();
    assert_eq!(about[0].receipts, [receipt.id.payload]);
    phone.store.rebuild().unwrap();
    assert_eq!(stands(&phone, &entries), expected);
}

#[test]
fn the_newest_counts_whatever_order_they_come_in() {
    let (mut phone, entries) = with_entries(3);
    let older = phone.hub.receipt(Some(EPOCH), &[(&entries[0], &entries[0])], &[], Grade::Stored);
    let newer = phone.hub.receipt(Some(EPOCH), &[(&entries[0], &entries[2])], &[], Grade::Stored);
    phone.take(EPOCH, &[&newer]);
    phone.take(EPOCH, &[&older]);
    assert_eq!(stands(&phone, &entries), [Received; 3]);
}

#[test]
fn an_end_that_is_not_ours_covers_nothing() {
    let (mut phone, entries) = with_entries(2);
    // What the hub holds at the third place is another payload than ours will be.
    let elsewhere = phone.own.beside(Kind(9), 1, &[1]);
    let ours = phone.own.entry(Kind(9), 1, &[2]);
    phone.append(&ours);
    let receipt = phone.hub.receipt(Some(EPOCH), &[(&entries[0], &elsewhere)], &[], Grade::Stored);
    phone.take(EPOCH, &[&receipt]);
    assert_eq!(stands(&phone, &entries), [Here, Here], "a fork at the hub proves nothing of what is below");
    // Once that branch is here too, it is known which entries it goes through.
    phone.store.take_in("a colleague", &[kept(&elsewhere)]).unwrap();
    assert_eq!(stands(&phone, &entries), [Received, Received]);
    assert_eq!(stands(&phone, &[ours]), [Here]);
}

#[test]
fn only_the_hub_of_this_epoch_may_say_received() {
    let (mut phone, entries) = with_entries(1);
    let runs = [(&entries[0], &entries[0])];
    // A stranger who claims to be the hub, and the true hub about an epoch that is not its own.
    let mut stranger = Writer::of(40);
    let forged = stranger.receipt(Some(EPOCH), &runs, &[], Grade::BackedUp);
    phone.store.vouch(&[stranger.log()]).unwrap();
    phone.store.take_in("a colleague", &[kept(&forged)]).unwrap();
    let wrong = phone.hub.receipt(Some(LATER), &runs, &[], Grade::BackedUp);
    phone.take(EPOCH, &[&wrong]);
    assert_eq!(stands(&phone, &entries), [Here]);
    // Another phone's says that there is a second copy; our own says nothing.
    let own = phone.own.receipt(None, &runs, &[], Grade::Relayed);
    phone.append(&own);
    assert_eq!(stands(&phone, &entries), [Here]);
    let relayed = stranger.receipt(None, &runs, &[], Grade::Relayed);
    phone.store.take_in("a colleague", &[kept(&relayed)]).unwrap();
    assert_eq!(stands(&phone, &entries), [AlsoElsewhere]);
}

#[test]
fn receipts_of_an_earlier_epoch_are_history() {
    let (mut phone, entries) = with_entries(2);
    let receipt = phone.hub.receipt(Some(EPOCH), &[(&entries[0], &entries[1])], &[], Grade::BackedUp);
    phone.take(EPOCH, &[&receipt]);
    assert_eq!(stands(&phone, &entries), [BackedUp; 2]);
    // The hub was restored: it signs with a new key and lost the second entry.
    let mut restored = Writer::of(4);
    let certificate = phone.organisation.certify(&restored, as_hub(LATER, Some(&phone.hub)));
    phone.take(LATER, &[&certificate]);
    assert_eq!(stands(&phone, &entries), [Here; 2]);
    assert_eq!(phone.store.about().unwrap()[0].receipts, []);
    assert_eq!(phone.store.marks().unwrap().news, 0);
    let again = restored.receipt(Some(LATER), &[(&entries[0], &entries[0])], &[], Grade::Stored);
    phone.hub = restored;
    phone.take(LATER, &[&again]);
    assert_eq!(stands(&phone, &entries), [Received, Here]);
}

fn line(of: &Sealed) -> SignedVisit {
    SignedVisit {
        place: place(of),
        tag_key: TagKey("LT-201".into()),
        tag: "LT-201".into(),
        service: String::new(),
        site: String::new(),
        signed_at: Claimed(0),
        verdict: String::new(),
    }
}

#[test]
fn a_visit_is_sent_when_its_record_and_all_its_photos_are_there() {
    let mut phone = Phone::new();
    let photos =
        [b"one".as_slice(), b"two"].map(|bytes| phone.store.keep_photo(bytes, "image/jpeg").unwrap());
    let observations =
        [phone.own.photo(b"one", "d"), phone.own.photo(b"two", "d"), phone.own.photo(b"three", "d")];
    observations.iter().for_each(|sealed| phone.append(sealed));
    let visit = phone.own.visit(&observations.iter().collect::<Vec<_>>());
    let draft = Draft { id: "d".into(), tag: "LT-201".into(), body: String::new(), saved_at: Claimed(0) };
    phone.store.save_draft(&draft).unwrap();
    phone.store.sign("d", &kept(&visit), &line(&visit)).unwrap();
    let state = |phone: &Phone| phone.store.visit_state(place(&visit)).unwrap().unwrap();
    let nothing =
        VisitState { record: Here, photos: 3, photos_received: 0, photos_backed_up: 0, photos_missing: 1 };
    assert_eq!(state(&phone), nothing);
    let counts = Counts {
        visits: 1,
        only_here: 1,
        photos_waiting: 2,
        photos_missing: 1,
        entries_waiting: 4,
        ..Counts::default()
    };
    assert_eq!(phone.store.counts().unwrap(), counts);

    // The visit alone is not the record: what it names belongs to it.
    let receipt =
        phone.hub.receipt(Some(EPOCH), &[(&observations[0], &observations[1])], &photos[..1], Grade::Stored);
    phone.take(EPOCH, &[&receipt]);
    assert_eq!(state(&phone), VisitState { photos_received: 1, ..nothing });
    let receipt = phone.hub.receipt(Some(EPOCH), &[(&observations[0], &visit)], &photos, Grade::Stored);
    phone.take(EPOCH, &[&receipt]);
    let record = VisitState { record: Received, photos_received: 2, ..nothing };
    assert_eq!(state(&phone), record);
    assert_eq!(phone.store.waiting().unwrap().len(), 1, "a photo is nowhere: that is not sent");
    let counts = Counts { visits: 1, received: 1, photos_missing: 1, ..Counts::default() };
    assert_eq!(phone.store.counts().unwrap(), counts);
    let all = [photos[0], photos[1], store::photo_hash(b"three")];
    let receipt = phone.hub.receipt(Some(EPOCH), &[(&observations[0], &visit)], &all, Grade::Stored);
    phone.take(EPOCH, &[&receipt]);
    assert!(state(&phone).is_sent());
    let safe = phone.hub.receipt(Some(EPOCH), &[(&observations[0], &visit)], &photos[..1], Grade::BackedUp);
    phone.take(EPOCH, &[&safe]);
    let safe = VisitState {
        record: BackedUp,
        photos_received: 3,
        photos_backed_up: 1,
        photos_missing: 0,
        ..nothing
    };
    assert_eq!(state(&phone), safe, "a backup of the record is none of its photos");
    assert_eq!(phone.store.waiting().unwrap(), []);
}

#[test]
fn a_receipt_of_photos_alone_adds_photos_and_takes_no_place() {
    let mut phone = Phone::new();
    let photos =
        [b"one".as_slice(), b"two"].map(|bytes| phone.store.keep_photo(bytes, "image/jpeg").unwrap());
    let entries = [phone.own.photo(b"one", "d"), phone.own.photo(b"two", "d")];
    entries.iter().for_each(|sealed| phone.append(sealed));
    let before = phone.hub.receipt(Some(EPOCH), &[(&entries[0], &entries[1])], &photos[1..], Grade::Stored);
    let alone = phone.hub.receipt_of_photos(EPOCH, phone.own.log(), &photos[..1], Grade::Stored);
    phone.take(EPOCH, &[&before, &alone]);
    for _ in 0..2 {
        assert_eq!(stands(&phone, &entries), [Received; 2]);
        assert_eq!(phone.store.photos_to_send().unwrap(), []);
        assert_eq!(phone.store.about().unwrap()[0].receipts, [before.id.payload]);
        phone.store.rebuild().unwrap();
    }
}

#[test]
fn a_photo_that_the_newest_receipt_leaves_out_is_brought_again_and_kept() {
    let mut phone = Phone::new();
    let photos =
        [b"one".as_slice(), b"two"].map(|bytes| phone.store.keep_photo(bytes, "image/jpeg").unwrap());
    let entries = [phone.own.photo(b"one", "d"), phone.own.photo(b"two", "d")];
    entries.iter().for_each(|sealed| phone.append(sealed));
    let runs = [(&entries[0], &entries[1])];
    let mut given = |photos: &[_], grade| phone.hub.receipt(Some(EPOCH), &runs, photos, grade);
    let (both, safe) = (given(&photos, Grade::Stored), given(&photos, Grade::BackedUp));
    let older = given(&photos, Grade::Stored);
    let lost = given(&photos[1..], Grade::Stored);
    let again = given(&photos, Grade::Stored);
    let without = given(&photos[1..], Grade::BackedUp);
    let to_send = |phone: &Phone| {
        let waiting = phone.store.photos_to_send().unwrap();
        waiting.into_iter().map(|(photo, _)| photo).collect::<Vec<_>>()
    };
    let may_go = |phone: &Phone| phone.store.photo_space().unwrap().may_go.photos;
    phone.take(EPOCH, &[&both, &safe]);
    assert_eq!((to_send(&phone), may_go(&phone)), (vec![], 2));
    // The hub lost one. The backup that had it does not make up for that: it would be the only one to have it.
    phone.take(EPOCH, &[&lost]);
    for _ in 0..2 {
        assert_eq!((to_send(&phone), may_go(&phone)), (vec![photos[0]], 1));
        assert_eq!(stands(&phone, &entries), [BackedUp; 2], "records are not photos");
        phone.store.rebuild().unwrap();
    }
    // What was said before comes late and says nothing.
    phone.take(EPOCH, &[&older]);
    assert_eq!((to_send(&phone), may_go(&phone)), (vec![photos[0]], 1));
    phone.take(EPOCH, &[&again]);
    for _ in 0..2 {
        assert_eq!((to_send(&phone), may_go(&phone)), (vec![], 2), "it is there again, and in the backup");
        phone.store.rebuild().unwrap();
    }
    // A later backup was made without it: it is at the hub, and the phone's is the second copy.
    phone.take(EPOCH, &[&without]);
    assert_eq!((to_send(&phone), may_go(&phone)), (vec![], 1));
}

#[test]
fn a_photo_that_was_freed_and_the_hub_lost_is_called_nowhere() {
    let mut phone = Phone::new();
    let photo = phone.store.keep_photo(b"one", "image/jpeg").unwrap();
    let entry = phone.own.photo(b"one", "d");
    phone.append(&entry);
    let runs = [(&entry, &entry)];
    let mut given = |photos: &[_], grade| phone.hub.receipt(Some(EPOCH), &runs, photos, grade);
    let (both, safe, lost) =
        (given(&[photo], Grade::Stored), given(&[photo], Grade::BackedUp), given(&[], Grade::Stored));
    phone.take(EPOCH, &[&both, &safe]);
    assert_eq!(phone.store.free_photos().unwrap().photos, 1);
    assert_eq!(phone.store.counts().unwrap().photos_missing, 0);
    phone.take(EPOCH, &[&lost]);
    let counts = phone.store.counts().unwrap();
    assert_eq!((counts.photos_waiting, counts.photos_missing), (0, 1));
    // Taken out of a folder of pictures once more, it is brought.
    phone.store.keep_photo(b"one", "image/jpeg").unwrap();
    assert_eq!(phone.store.photos_to_send().unwrap(), [(photo, 3)]);
}

/// Beyond what one receipt names nothing is taken back: it may have been left out for want of room.
#[test]
fn a_receipt_without_room_takes_no_photo_back() {
    let mut phone = Phone::new();
    let photo = phone.store.keep_photo(b"one", "image/jpeg").unwrap();
    let entry = phone.own.photo(b"one", "d");
    phone.append(&entry);
    let runs = [(&entry, &entry)];
    let other = |number: usize| {
        let mut hash = [7; 32];
        hash[..8].copy_from_slice(&number.to_be_bytes());
        bodies::PhotoHash(hash)
    };
    let others: Vec<_> = (0..bodies::RECEIPT_PHOTOS).map(other).collect();
    let mut given = |photos: &[_]| phone.hub.receipt(Some(EPOCH), &runs, photos, Grade::Stored);
    let (older, full, fuller) = (given(&[photo]), given(&others), given(&others));
    phone.take(EPOCH, &[&full]);
    assert_eq!(phone.store.photos_to_send().unwrap(), [(photo, 3)]);
    phone.take(EPOCH, &[&older]);
    assert_eq!(phone.store.photos_to_send().unwrap(), [], "the newest had no room for it");
    phone.take(EPOCH, &[&fuller]);
    assert_eq!(phone.store.photos_to_send().unwrap(), []);
}

/// After a damaged file was taken over, a phone may not know any more that it wrote a log.
#[test]
fn a_photo_that_is_here_goes_whoever_signed_the_entry_that_names_it() {
    let mut phone = Phone::new();
    let mut other = Writer::of(30);
    let certificate = phone.hub.certify(&other, people::as_device());
    let (here, elsewhere) = (other.photo(b"one", "d"), other.photo(b"two", "d"));
    let photo = phone.store.keep_photo(b"one", "image/jpeg").unwrap();
    phone.take(EPOCH, &[&certificate, &here, &elsewhere]);
    assert_eq!(phone.store.photos_to_send().unwrap(), [(photo, 3)]);
    let counts = phone.store.counts().unwrap();
    assert_eq!((counts.photos_waiting, counts.photos_missing), (1, 0), "others' photos are not missed here");
    let receipt = phone.hub.receipt(Some(EPOCH), &[(&here, &elsewhere)], &[photo], Grade::Stored);
    phone.take(EPOCH, &[&receipt]);
    assert_eq!(phone.store.photos_to_send().unwrap(), []);
}

#[test]
fn receipts_of_what_is_passed_on_are_asked_for_too() {
    let (mut phone, _) = with_entries(1);
    let mut other = Writer::of(30);
    let work = other.something(1);
    let certificate = phone.hub.certify(&other, people::as_device());
    phone.take(EPOCH, &[&certificate]);
    phone.store.take_bundle("a card", &[other.key.public().clone()], &[people::arrived(&work)]).unwrap();
    let about: Vec<_> = phone.store.about().unwrap().into_iter().map(|about| about.log).collect();
    // The hub's own log and the organisation's are nobody's to acknowledge.
    assert_eq!(about.len(), 2, "{about:?}");
    assert!(about.contains(&work.id.log));
}
