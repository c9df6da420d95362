//! Belonging to a hub, what is said of records on their way, photos as evidence, and bundle files.

use bodies::{Grade, Observation, Observed, PhotoHash, RECEIPT, Receipt};
use domain::visit::{Choice, Step};
use exchange::bundle::{self, Piece};
use exchange::packed;
use field::view::{Change, EnrolStage, Grade as MessageGrade, Network, SendButton};
use field::{Stage, Under};
use kit::Office;
use record::{Claimed, EntryId, Kind, Link, NewEntry, SecretKey, Signer};

use crate::desk::Desk;
use crate::records::sign;

pub(crate) const IDLE: Under = Under {
    stage: Stage::Idle,
    records: (0, 0),
    photos: (0, 0),
    bytes_left: None,
    seconds: 0,
    refused: 0,
    network: Network::Unmetered,
};

#[test]
fn a_phone_comes_to_belong_to_a_hub_by_its_code_and_six_digits() {
    let desk = Desk::ready();
    let office = Office::new().unwrap();
    let begins = desk.phone.enrol_view().unwrap();
    assert_eq!(begins.stage, EnrolStage::Begin);
    assert!(begins.key.starts_with("The key that signs records lies in a private file"), "{}", begins.key);
    let error = desk.phone.enrol_begin("https://id.marrowby.example/LT-2041").unwrap_err();
    assert_eq!(error.code(), "enrol.not_an_invitation");
    let invited = desk.phone.enrol_begin(&office.invitation()).unwrap();
    assert_eq!(invited.organisation, office.organisation());
    assert!(!invited.label.contains("Asha"), "a certificate is for ever, a name is not");
    let waits = desk.phone.enrol_asked(&invited, &office.met()).unwrap();
    assert_eq!((waits.stage, waits.digits.len()), (EnrolStage::Waiting, 6));
    assert_eq!(waits.hub, "hub.marrowby.example:8443");

    // The app may be ended while the supervisor is looked for.
    let desk = desk.restarted();
    assert_eq!(desk.phone.enrol_view().unwrap(), waits);
    assert_eq!(desk.phone.enrol_awaited().unwrap().unwrap().met, office.met());
    let (keys, entries) = office.confirms(&invited.key).unwrap();
    let enrolled = desk.phone.enrol_confirmed(&keys, &entries).unwrap();
    assert_eq!(enrolled.stage, EnrolStage::Enrolled);
    let way = desk.phone.way_to_hub().unwrap().unwrap();
    assert_eq!(
        (way.addresses, way.pins),
        (vec!["https://hub.marrowby.example:8443".into()], office.met().pins)
    );
    assert_eq!(desk.phone.enrol_awaited().unwrap(), None);
}

#[test]
fn only_a_certificate_for_this_phone_makes_it_belong() {
    let desk = Desk::ready();
    let office = Office::new().unwrap();
    let invited = desk.phone.enrol_begin(&office.invitation()).unwrap();
    desk.phone.enrol_asked(&invited, &office.met()).unwrap();
    let elsewhere = Desk::ready();
    let other = elsewhere.phone.enrol_begin(&office.invitation()).unwrap();
    let (keys, entries) = office.confirms(&other.key).unwrap();
    let hub_alone = &entries[..1];
    for entries in [&entries[..], hub_alone, &[]] {
        let error = desk.phone.enrol_confirmed(&keys, entries).unwrap_err();
        assert_eq!(error.code(), "enrol.not_confirmed");
    }
    assert_eq!(desk.phone.way_to_hub().unwrap(), None);
    assert_eq!(desk.phone.enrol_give_up().unwrap().stage, EnrolStage::Begin);
}

#[test]
fn one_line_says_where_all_records_are_and_each_visit_its_own() {
    let desk = Desk::ready();
    let office = Office::new().unwrap();
    let (first, second) = (sign(&desk, &kit::dip()), sign(&desk, &kit::known_empty()));
    assert_eq!(desk.phone.home().unwrap().status, "2 records on this phone");
    let view = desk.phone.sending_view(&IDLE, None).unwrap();
    assert_eq!((view.button, view.waiting.len()), (SendButton::Enrol, 2));
    assert_eq!(view.why, "This phone belongs to no hub yet, so everything stays on it.");

    office.enrols(&desk.phone).unwrap();
    office.received(&desk.phone, 1, Grade::Stored, &[]).unwrap();
    let line = "2 records: 1 at the hub, 1 only here";
    assert_eq!(desk.phone.sending_status(&IDLE).unwrap().line, line);
    assert_eq!(desk.phone.record(&first.id).unwrap().whereabouts, "Received by the hub");
    assert_eq!(desk.phone.record(&second.id).unwrap().whereabouts, "On this phone");
    let view = desk.phone.sending_view(&IDLE, None).unwrap();
    assert_eq!((view.button, view.waiting.len()), (SendButton::Send, 1));
    assert_eq!(view.waiting[0].id, second.id);
    assert_eq!(view.why, "It goes with the next sending.");

    desk.phone.pause_sending(true).unwrap();
    let view = desk.phone.sending_view(&IDLE, None).unwrap();
    assert_eq!((view.button, view.why.as_str()), (SendButton::Resume, "Sending is paused on this phone."));
    assert_eq!(desk.phone.way_to_hub().unwrap(), None, "a pause holds whoever carries");
    desk.phone.pause_sending(false).unwrap();

    office.received(&desk.phone, 2, Grade::BackedUp, &[]).unwrap();
    let status = desk.phone.sending_status(&IDLE).unwrap();
    assert_eq!((status.line.as_str(), status.waits), ("All 2 records are at the hub", false));
    let whereabouts = desk.phone.record(&second.id).unwrap().whereabouts;
    assert_eq!(whereabouts, "Received by the hub, and in its backup");
}

#[test]
fn photos_wait_for_a_connection_that_costs_nothing_unless_allowed() {
    let desk = Desk::ready();
    for (network, goes) in [
        (Network::Unmetered, true),
        (Network::Metered, false),
        (Network::Unknown, false),
        (Network::None, false),
    ] {
        assert_eq!(desk.phone.photos_may_go(network).unwrap(), goes, "{network:?}");
    }
    desk.phone.allow_metered(true).unwrap();
    assert!(desk.phone.photos_may_go(Network::Metered).unwrap());
    assert!(!desk.phone.photos_may_go(Network::None).unwrap());
}

/// A visit to LT-2041 at the step of evidence, with the photo of a label.
fn with_photo(desk: &Desk) -> (String, Vec<u8>) {
    let photo = std::fs::read(kit::photo("label-lt-2041.jpg")).unwrap();
    let id = desk.phone.visit_begin("LT-2041", Choice::ByList, "").unwrap().id;
    desk.phone.visit_change(&id, &Change::Go { step: Step::Evidence }).unwrap();
    desk.phone.photo_add(&id, &desk.upload(&photo)).unwrap();
    (id, photo)
}

fn only_photo(desk: &Desk, id: &str) -> PhotoHash {
    let photos = desk.phone.ledger().photos_made_for(id).unwrap();
    assert_eq!(photos.len(), 1);
    photos[0]
}

#[test]
fn a_photo_is_kept_as_it_came_and_signed_where_it_was_taken() {
    let desk = Desk::ready();
    let (id, photo) = with_photo(&desk);
    let view = desk.phone.photo_add(&id, &desk.upload(&photo)).unwrap();
    assert_eq!(view.photos.as_deref(), Some("1 photo"), "the same photo again is the same photo");
    assert_eq!(desk.phone.visit_open(&id).unwrap().photos.as_deref(), Some("1 photo"));
    let store = desk.phone.ledger();
    let hash = only_photo(&desk, &id);
    assert_eq!(store.photo(hash).unwrap(), photo);
    let kept = store.of_kind(store::Kind(u64::from(bodies::OBSERVATION.0))).unwrap();
    assert_eq!(kept.len(), 1);
    let observation = Observation::of_entry(&record::open(&kept[0].entry.bytes).unwrap()).unwrap();
    assert_eq!((observation.what, observation.tag.as_str()), (Observed::Photo, "LT-2041"));
    assert_eq!(observation.made_for, id);
    let named = observation.photo.unwrap();
    assert_eq!((named.hash, named.media_type.as_str()), (hash, "image/jpeg"));
    assert_eq!(desk.phone.photos_to_send().unwrap(), [(hash.0, photo.len() as u64)]);
    let no_step = desk.phone.visit_change(&id, &Change::Go { step: Step::Sign }).unwrap();
    assert_eq!(no_step.photos, None);
}

#[test]
fn what_is_no_photo_is_refused_and_the_visit_is_as_it_was() {
    let desk = Desk::ready();
    let id = desk.phone.visit_begin("LT-2041", Choice::ByList, "").unwrap().id;
    desk.phone.visit_change(&id, &Change::Go { step: Step::AsFound }).unwrap();
    let cut = std::fs::read(kit::photo("label-lt-2041.jpg")).unwrap()[..200].to_vec();
    for (file, code) in [(b"%PDF-1.7".to_vec(), "photo.not_a_photo"), (cut, "photo.damaged")] {
        let error = desk.phone.photo_add(&id, &desk.upload(&file)).unwrap_err();
        assert_eq!(error.code(), code);
        assert!(!error.message().text.contains("label"), "it is about a visit's photo");
    }
    assert_eq!(desk.phone.visit_open(&id).unwrap().photos.as_deref(), Some(""));
    assert_eq!(desk.entries(), 0);
}

#[test]
fn a_record_is_sent_before_its_photo_and_says_so() {
    let desk = Desk::ready();
    let office = Office::new().unwrap();
    let (id, _) = with_photo(&desk);
    let hash = only_photo(&desk, &id);
    let record = sign(&desk, &kit::dip());
    assert_eq!(
        (record.photos.as_str(), record.whereabouts.as_str()),
        ("1 photo", "On this phone, with 1 photo")
    );
    let kept = desk.phone.ledger().of_kind(store::Kind(u64::from(bodies::VISIT.0))).unwrap();
    let visit = bodies::Visit::of_entry(&record::open(&kept[0].entry.bytes).unwrap()).unwrap();
    assert_eq!(visit.cited.len(), 1);
    office.enrols(&desk.phone).unwrap();
    office.received(&desk.phone, 2, Grade::Stored, &[]).unwrap();
    let whereabouts = || desk.phone.record(&record.id).unwrap().whereabouts;
    assert_eq!(whereabouts(), "Record sent, 1 photo still here");
    let under = Under { network: Network::Metered, ..IDLE };
    assert!(desk.phone.sending_view(&under, None).unwrap().why.contains("not paid by volume"));
    office.received(&desk.phone, 2, Grade::Stored, &[hash]).unwrap();
    assert_eq!(whereabouts(), "Received by the hub with 1 photo");
    assert_eq!(desk.phone.photos_to_send().unwrap(), []);
}

/// The file that a phone writes.
pub(crate) fn made(desk: &Desk) -> Vec<u8> {
    let made = desk.phone.bundle_make().unwrap();
    assert_eq!(made.messages, []);
    std::fs::read(made.path).unwrap()
}

#[test]
fn a_person_frees_photos_that_the_hub_has_in_its_backup_and_no_others() {
    let desk = Desk::ready();
    let office = Office::new().unwrap();
    let (id, first) = with_photo(&desk);
    let second = std::fs::read(kit::photo("label-lt-3107.jpg")).unwrap();
    desk.phone.photo_add(&id, &desk.upload(&second)).unwrap();
    let [safe, other] = [&first, &second].map(|bytes| store::photo_hash(bytes));
    let record = sign(&desk, &kit::dip());
    let space = || desk.phone.sending_view(&IDLE, None).unwrap().space;
    assert_eq!((space().may_go, space().stays.contains("belongs to no hub")), (None, true));
    office.enrols(&desk.phone).unwrap();
    office.received(&desk.phone, 3, Grade::Stored, &[safe, other]).unwrap();
    assert_eq!(space().may_go, None, "received is not backed up");
    let said = desk.phone.photos_free().unwrap();
    assert!(said.starts_with("Nothing was freed"), "{said}");

    office.received(&desk.phone, 3, Grade::BackedUp, &[safe]).unwrap();
    // A look at the screen, a pause and no network at all: nothing goes by itself, and nothing else is needed.
    desk.phone.pause_sending(true).unwrap();
    let desk = desk.restarted();
    let store = desk.phone.ledger();
    assert_eq!(store.photo(safe).unwrap(), first);
    let under = Under { network: Network::None, ..IDLE };
    let view = desk.phone.sending_view(&under, None).unwrap().space;
    let may_go = view.may_go.unwrap();
    assert!(view.takes.starts_with("2 photos take"), "{}", view.takes);
    assert!(may_go.ask == "Take 1 photo off this phone?" && may_go.button.starts_with("Free "), "{may_go:?}");
    let said = desk.phone.photos_free().unwrap();
    assert!(said.starts_with("1 photo was taken off this phone"), "{said}");
    assert!(matches!(store.photo(safe), Err(store::Error::NoPhoto)));
    assert_eq!(store.photo(other).unwrap(), second);
    let view = desk.phone.sending_view(&under, None).unwrap().space;
    assert_eq!((view.may_go, view.takes.starts_with("1 photo takes")), (None, true));
    // The record is as it was, and says so.
    let again = desk.phone.record(&record.id).unwrap();
    assert_eq!(
        (again.photos.as_str(), again.whereabouts.as_str()),
        ("2 photos", "Received by the hub with 2 photos")
    );
}

fn pieces(file: &[u8]) -> (usize, usize) {
    let bytes = packed::unpack(file, bundle::MOST).unwrap();
    let (pieces, cut) = bundle::read(&bytes).unwrap();
    assert_eq!(cut, None);
    let keys = pieces.iter().filter(|piece| matches!(piece, Piece::Key(_))).count();
    (keys, pieces.len() - keys)
}

#[test]
fn a_bundle_carries_records_to_another_phone_which_says_that_it_has_them() {
    let (from, to) = (Desk::ready(), Desk::ready());
    let office = Office::new().unwrap();
    office.enrols(&from.phone).unwrap();
    office.enrols(&to.phone).unwrap();
    sign(&from, &kit::dip());
    sign(&from, &kit::known_empty());
    let file = made(&from);
    // Keys of three logs; where the phone stands, two visits and two certificates.
    assert_eq!(pieces(&file), (3, 5));
    let report = to.phone.bundle_take(&to.upload(&file)).unwrap();
    // The organisation's certificate of the hub is there already.
    assert_eq!(report.text, "3 records were new and were taken in.");
    assert_eq!(report.messages, []);
    let again = to.phone.bundle_take(&to.upload(&file)).unwrap();
    assert_eq!(again.text, "Nothing in the file was new here.");

    // The relay's receipt is an entry of its own log, and comes back in its bundle.
    let back = made(&to);
    from.phone.bundle_take(&from.upload(&back)).unwrap();
    let receipts = from.phone.ledger().of_kind(store::Kind(u64::from(RECEIPT.0))).unwrap();
    let said: Vec<Receipt> = receipts
        .iter()
        .map(|kept| Receipt::of_entry(&record::open(&kept.entry.bytes).unwrap()).unwrap())
        .collect();
    assert_eq!((said.len(), said.first().map(|said| said.grade)), (1, Some(Grade::Relayed)));
    assert_eq!((said[0].epoch, said[0].runs[0].to.get()), (None, 2));
    let line = "2 records: 2 also on another phone";
    assert_eq!(from.phone.sending_status(&IDLE).unwrap().line, line);

    // A receipt for receipts would call for another, for ever.
    let once_more = made(&from);
    let report = to.phone.bundle_take(&to.upload(&once_more)).unwrap();
    assert_eq!(report.text, "Nothing in the file was new here.");
}

#[test]
fn of_a_bundle_that_was_cut_what_came_whole_is_taken_in() {
    let (from, to) = (Desk::ready(), Desk::ready());
    sign(&from, &kit::dip());
    let whole = made(&from);
    let unpacked = packed::unpack(&whole, bundle::MOST).unwrap();
    let cut = packed::pack(&unpacked[..unpacked.len() - 1]).unwrap();
    let report = to.phone.bundle_take(&to.upload(&cut)).unwrap();
    assert_eq!(report.messages[0].code, "bundle.cut_short");
    assert_eq!(report.text, "Nothing in the file was new here.");
    let mut turned = unpacked;
    let last = turned.len() - 1;
    turned[last] ^= 1;
    let report = to.phone.bundle_take(&to.upload(&packed::pack(&turned).unwrap())).unwrap();
    assert_eq!(report.messages[0].code, "bundle.bad_entries");
    let error = to.phone.bundle_take(&to.upload(b"no bundle")).unwrap_err();
    assert_eq!(error.code(), "exchange.damaged");
}

#[test]
fn what_the_hub_has_in_its_backup_is_not_carried_again() {
    let desk = Desk::ready();
    let office = Office::new().unwrap();
    sign(&desk, &kit::dip());
    sign(&desk, &kit::known_empty());
    office.enrols(&desk.phone).unwrap();
    office.received(&desk.phone, 1, Grade::BackedUp, &[]).unwrap();
    office.received(&desk.phone, 2, Grade::Stored, &[]).unwrap();
    let file = made(&desk);
    // Keys of three logs; where the phone stands, the second visit, both certificates, the newest receipt of each grade.
    assert_eq!(pieces(&file), (3, 6));
}

/// The names of the visits in a file.
fn visits(file: &[u8]) -> Vec<EntryId> {
    let bytes = packed::unpack(file, bundle::MOST).unwrap();
    let (pieces, _) = bundle::read(&bytes).unwrap();
    let entries = pieces.iter().filter_map(|piece| match piece {
        Piece::Entry(bytes) => record::open(bytes).ok(),
        _ => None,
    });
    entries.filter(|entry| entry.header.kind == bodies::VISIT).map(|entry| entry.id).collect()
}

#[test]
fn what_does_not_fit_a_bundle_is_told_and_goes_into_the_next() {
    let (from, to) = (Desk::ready(), Desk::ready());
    let office = Office::new().unwrap();
    office.enrols(&from.phone).unwrap();
    let stories = [kit::dip(), kit::known_empty(), kit::vented()];
    stories.iter().for_each(|story| drop(sign(&from, story)));
    let whole = visits(&made(&from));
    assert_eq!(whole.len(), 3);
    let all = packed::unpack(&made(&from), bundle::MOST).unwrap().len();

    // A medium that holds nearly all of it: the last entry is left.
    let first = from.phone.bundle_make_within(all - 1).unwrap();
    assert_eq!(first.messages.len(), 1);
    assert_eq!(
        (first.messages[0].code.as_str(), first.messages[0].grade),
        ("bundle.not_all", MessageGrade::Warning)
    );
    assert_eq!(first.messages[0].text, "The file is full: 1 record did not go in.");
    let first = std::fs::read(first.path).unwrap();
    assert_eq!(visits(&first), whole[..2]);
    // What is signed meanwhile goes into the next one too, which says what it is.
    sign(&from, &kit::cleared_riser());
    let second = from.phone.bundle_make().unwrap();
    assert_eq!(
        second.text,
        "2 records are in the file. It goes on where the file before it ended, and holds the rest."
    );
    assert_eq!(second.messages, []);
    let second = std::fs::read(second.path).unwrap();
    assert_eq!((visits(&second).len(), visits(&second)[0]), (2, whole[2]));
    // Each can be judged by itself, whichever comes first; together they are all.
    office.enrols(&to.phone).unwrap();
    for file in [&second, &first] {
        assert_eq!(to.phone.bundle_take(&to.upload(file)).unwrap().messages, []);
    }
    assert_eq!(visits(&made(&to)).len(), 4);
    // After the last file the next one begins anew.
    assert_eq!(visits(&made(&from)).len(), 4);
}

#[test]
fn a_bundle_for_which_nothing_is_small_enough_holds_one_entry_so_that_it_goes_on() {
    let desk = Desk::ready();
    sign(&desk, &kit::dip());
    sign(&desk, &kit::known_empty());
    let made: Vec<_> = (0..3).map(|_| desk.phone.bundle_make_within(1).unwrap()).collect();
    let left: Vec<usize> = made.iter().map(|made| made.messages.len()).collect();
    assert_eq!(left, [1, 0, 1]);
    let files: Vec<_> = made.iter().map(|made| visits(&std::fs::read(&made.path).unwrap())).collect();
    assert_eq!(files.iter().map(Vec::len).collect::<Vec<_>>(), [1, 1, 1]);
    assert!(files[0] != files[1] && files[0] == files[2]);
}

/// A file that unpacks to far more than it is, or to a list far larger than it is, is refused before it fills the memory.
#[test]
fn a_file_that_would_burst_a_phone_is_refused_and_changes_nothing() {
    let desk = Desk::ready();
    sign(&desk, &kit::dip());
    let before = made(&desk);
    let bomb = |piece: &[u8], times: usize| {
        let mut bytes = bundle::Writer::new().done();
        (0..times).for_each(|_| bytes.extend_from_slice(piece));
        let packed = packed::pack(&bytes).unwrap();
        assert!(packed.len() < bytes.len() / 500, "{} of {}", packed.len(), bytes.len());
        packed
    };
    // A piece of 64 KiB of nothing, for 64 MiB in all; and 8 million pieces without content.
    let mut large = vec![0x82, 0x02, 0x5a, 0, 1, 0, 0];
    large.resize(large.len() + (1 << 16), 0);
    for (file, code) in [
        (bomb(&large, 1024), "exchange.too_large"),
        (bomb(&[0x82, 0x02, 0x40], 8_000_000), "exchange.not_a_bundle"),
    ] {
        let error = desk.phone.bundle_take(&desk.upload(&file)).unwrap_err();
        assert_eq!(error.code(), code);
    }
    assert_eq!(made(&desk), before);
}

#[test]
fn entries_of_strangers_that_there_is_no_room_for_are_told() {
    let desk = Desk::ready();
    let stranger = SecretKey::take(&mut [0x5d; 32]);
    let mut file = bundle::Writer::new();
    file.key(stranger.public().cose());
    let mut link = Link::First;
    for _ in 0..1_002 {
        let claimed = Claimed { millis: 1_795_600_000_000, offset_minutes: 0 };
        let new = NewEntry { link, kind: Kind(4_000), body_version: 1, claimed, boot: None };
        let sealed = record::seal(&new, b"\x65hello", &stranger).unwrap();
        link = sealed.next();
        file.entry(&sealed.bytes);
    }
    let file = packed::pack(&file.done()).unwrap();
    let report = desk.phone.bundle_take(&desk.upload(&file)).unwrap();
    assert_eq!(report.text, "1000 records were new and were taken in.");
    assert_eq!(report.messages.len(), 1);
    assert_eq!(report.messages[0].code, "bundle.no_room");
    assert!(report.messages[0].text.starts_with("2 records of phones that nobody has certified yet"));
}

#[test]
fn a_row_of_the_hubs_register_that_cannot_be_read_is_told_on_the_screen_of_sending() {
    let desk = Desk::ready();
    let office = Office::new().unwrap();
    office.enrols(&desk.phone).unwrap();
    assert_eq!(codes(&desk), [""; 0]);
    office.feeds_unreadable(&desk.phone, &["LT-2041", "LT-7"]).unwrap();
    assert_eq!(codes(&desk), ["register.unread_rows"]);
    let view = desk.phone.sending_view(&IDLE, None).unwrap();
    assert!(view.messages[0].text.contains("what the hub's register says of LT-2041, LT-7."));
    assert!(view.messages[0].remedy.starts_with("Update Headmark"));
}

/// The codes of the messages on the screen of sending.
fn codes(desk: &Desk) -> Vec<String> {
    let view = desk.phone.sending_view(&IDLE, None).unwrap();
    view.messages.into_iter().map(|message| message.code).collect()
}

#[test]
fn a_copied_phone_is_told_of_on_sending_and_where_its_file_is_taken_in() {
    let office = Office::new().unwrap();
    let (one, relay) = (Desk::ready(), Desk::ready());
    office.enrols(&one.phone).unwrap();
    office.enrols(&relay.phone).unwrap();
    sign(&one, &kit::dip());
    let copy = one.copied();
    sign(&one, &kit::known_empty());
    sign(&copy, &kit::vented());
    assert_eq!(codes(&one), [""; 0]);

    let (first, second) = (made(&one), made(&copy));
    assert_eq!(relay.phone.bundle_take(&relay.upload(&first)).unwrap().messages, []);
    let report = relay.phone.bundle_take(&relay.upload(&second)).unwrap();
    assert_eq!(report.text, "1 record was new and was taken in.", "both are kept");
    let [message] = &report.messages[..] else { panic!("{:?}", report.messages) };
    assert_eq!(message.code, "bundle.forked");
    assert!(message.remedy.starts_with("Tell your supervisor"), "{}", message.remedy);
    assert_eq!(codes(&relay), ["records.forked"], "the line stays");
    assert_eq!(relay.phone.bundle_take(&relay.upload(&second)).unwrap().messages, [], "nothing in it is new");

    assert_eq!(one.phone.bundle_take(&one.upload(&second)).unwrap().messages[0].code, "bundle.forked");
    assert_eq!(codes(&one), ["records.copied"]);
    let one = one.restarted();
    let view = one.phone.sending_view(&IDLE, None).unwrap();
    assert!(view.messages[0].text.contains("a copy of the phone is in use"), "{:?}", view.messages);
}

#[test]
fn a_receipt_for_a_record_that_is_not_here_tells_of_a_copy() {
    let desk = Desk::ready();
    let office = Office::new().unwrap();
    sign(&desk, &kit::dip());
    office.enrols(&desk.phone).unwrap();
    office.receives(&desk.phone, 1).unwrap();
    assert_eq!(codes(&desk), [""; 0], "all that the hub has is here");
    office.received_of_a_copy(&desk.phone, 1).unwrap();
    assert_eq!(codes(&desk), ["records.copied"]);
    assert_eq!(exchange::session::Ledger::lacks(desk.phone.ledger()).unwrap(), [], "it is not fetched");
}
