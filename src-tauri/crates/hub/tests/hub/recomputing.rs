//! Visits worked out again, in the queue and in a file.

use std::time::Duration;

use domain::visit::MODEL;
use exchange::bundle::Writer;
use exchange::packed;
use hub::proving::{Proved, prove};
use hub::recompute::{compare, work_off, work_through};
use hubstore::{Found, Jobs};
use record::{Signer, open};

use crate::phone::Phone;
use crate::visit::{finished, sign};
use crate::world::World;

/// Three visits: honest, with one number changed before it was signed, and by an older model.
fn three() -> Phone {
    let mut phone = Phone::with(1, 0);
    sign(&mut phone, finished());
    let mut changed = finished();
    let line = changed.results.iter_mut().find(|line| line.key == domain::visit::ResultKey::Shift).unwrap();
    line.value.value.mantissa += 10_i64.pow(4);
    sign(&mut phone, changed);
    let mut older = finished();
    older.model = 1;
    sign(&mut phone, older);
    phone
}

#[test]
fn an_honest_visit_agrees_and_a_changed_number_is_named() {
    let phone = three();
    let found: Vec<_> =
        phone.entries.iter().map(|entry| compare(&open(&entry.bytes).unwrap()).unwrap()).collect();
    assert_eq!(found[0], Found::Agrees);
    let Found::Differs(text) = &found[1] else { panic!("{:?}", found[1]) };
    assert!(text.starts_with("Shift: signed "), "{text}");
    assert_eq!(found[2], Found::OtherModel(1), "an older model is no fault");
}

#[test]
fn a_visit_that_says_less_than_its_answers_make_is_told() {
    let found = |change: &dyn Fn(&mut domain::visit::Finished)| {
        let (mut phone, mut visit) = (Phone::with(1, 0), finished());
        change(&mut visit);
        sign(&mut phone, visit);
        compare(&open(&phone.entries[0].bytes).unwrap()).unwrap()
    };
    for line in &finished().results {
        let left_out = found(&|visit| visit.results.retain(|one| one.key != line.key));
        let Found::Differs(text) = &left_out else { panic!("without {:?}: {left_out:?}", line.key) };
        assert!(text.starts_with(&format!("{:?}: signed nothing, worked out ", line.key)), "{text}");
    }
    let spots: Vec<_> = finished().answers.into_iter().filter(|one| one.value.is_some()).collect();
    assert!(!spots.is_empty());
    for answer in spots {
        let unread = found(&|visit| {
            let of_visit = visit.answers.iter_mut().find(|one| one.spot == answer.spot);
            of_visit.unwrap().value = None;
        });
        assert!(matches!(&unread, Found::Differs(text) if text.contains("signed nothing")), "{unread:?}");
    }
}

/// A visit of which the model's number was changed before it was signed.
fn of_model(model: u32) -> Phone {
    let (mut phone, mut visit) = (Phone::with(1, 0), finished());
    visit.model = model;
    sign(&mut phone, visit);
    phone
}

#[test]
fn a_model_from_the_future_vouches_for_nothing() {
    let found = |model| compare(&open(&of_model(model).entries[0].bytes).unwrap()).unwrap();
    assert_eq!(found(MODEL), Found::Agrees);
    assert_eq!(found(MODEL - 1), Found::OtherModel(MODEL - 1));
    assert_eq!(found(MODEL + 1), Found::NewerModel(MODEL + 1));
    assert_eq!(found(u32::MAX), Found::NewerModel(u32::MAX));
    assert!(matches!(found(0), Found::Unreadable(_)), "there never was one");
}

#[tokio::test]
async fn a_file_of_a_newer_app_does_not_pass_as_checked() {
    let world = World::new().await;
    let verified = |name: &str, model| {
        let file = world.folder.path().join(name);
        std::fs::write(&file, export(&of_model(model))).unwrap();
        let output = world.command(&["verify", file.to_str().unwrap()]);
        (output.status.code(), String::from_utf8(output.stdout).unwrap())
    };
    let (code, said) = verified("newer.headmark", MODEL + 1);
    assert!(
        said.contains("1 visits were made by a newer app: their numbers are NOT CHECKED. Update the hub"),
        "{said}"
    );
    assert!(
        code == Some(3) && said.ends_with("Nothing fails of what could be checked.\n"),
        "{code:?}: {said}"
    );
    let (code, said) = verified("older.headmark", MODEL - 1);
    assert!(
        said.contains("1 visits were worked out by an older model: their numbers are not checked here."),
        "{said}"
    );
    assert!(code == Some(0) && said.ends_with("Nothing fails.\n"), "{code:?}: {said}");
}

#[tokio::test]
async fn what_waited_for_a_newer_hub_is_worked_out_once_this_is_one() {
    let (world, phone) = (World::new().await, of_model(MODEL));
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    let store = &world.hub.store;
    // As an older hub found it.
    let jobs = store.claim(world.hub.now(), hubstore::Moment(world.hub.now().0 + 1), 9).await.unwrap();
    store.finish(&[(jobs[0].arrival, Found::NewerModel(MODEL))]).await.unwrap();
    let (stop, stopped) = tokio::sync::watch::channel(false);
    let watching = async {
        while store.found(phone.entries[0].id).await.unwrap() != Some(Found::Agrees) {
            tokio::time::sleep(Duration::from_millis(5)).await;
        }
        stop.send(true).unwrap();
    };
    let both = async { tokio::join!(work_through(store, &world.clock, stopped), watching) };
    tokio::time::timeout(Duration::from_secs(60), both).await.expect("it is worked out again");
}

#[test]
fn a_reading_that_was_changed_is_named_too() {
    let mut phone = Phone::with(1, 0);
    let mut changed = finished();
    let answer =
        changed.answers.iter_mut().find(|answer| answer.spot.key == domain::visit::Key::Dip).unwrap();
    answer.value.as_mut().unwrap().value.mantissa += 10;
    sign(&mut phone, changed);
    let found = compare(&open(&phone.entries[0].bytes).unwrap()).unwrap();
    assert!(matches!(&found, Found::Differs(text) if text.contains("answer Dip")), "{found:?}");
}

#[tokio::test]
async fn the_queue_is_worked_off_and_findings_are_kept() {
    let (world, phone) = (World::new().await, three());
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    let store = &world.hub.store;
    assert_eq!(store.tally().await.unwrap().waiting, 3);
    assert_eq!(work_off(store, &world.clock).await.unwrap(), 3);
    assert_eq!(work_off(store, &world.clock).await.unwrap(), 0, "done once");
    let tally = store.tally().await.unwrap();
    assert_eq!(
        (tally.waiting, tally.done["agrees"], tally.done["differs"], tally.done["other_model"]),
        (0, 1, 1, 1)
    );
    let found = store.found(phone.entries[1].id).await.unwrap();
    assert!(matches!(found, Some(Found::Differs(_))));
}

#[tokio::test]
async fn what_one_process_claimed_and_lost_is_done_by_the_next() {
    let (world, phone) = (World::new().await, three());
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    let store = &world.hub.store;
    let now = world.hub.now();
    store.claim(now, hubstore::Moment(now.0 + 120_000), 32).await.unwrap();
    assert_eq!(work_off(store, &world.clock).await.unwrap(), 0, "somebody has them");
    world.clock.move_by_seconds(121);
    assert_eq!(work_off(store, &world.clock).await.unwrap(), 3);
}

fn export(phone: &Phone) -> Vec<u8> {
    let mut file = phone.key.public().cose().to_vec();
    phone.entries.iter().for_each(|entry| file.extend_from_slice(&entry.bytes));
    file
}

#[test]
fn a_whole_export_is_proved_entry_by_entry() {
    let Proved::Export(report) = prove(&export(&three()), None) else { panic!("an export") };
    assert_eq!((report.entries, report.logs, report.agree, report.other_model), (3, 1, 1, 1));
    let [failing] = &report.failing[..] else { panic!("one fails: {:?}", report.failing) };
    assert_eq!(failing.piece, 3, "the key is the first piece");
    assert!(failing.what.contains("Shift"), "{failing}");
}

#[test]
fn a_changed_byte_and_a_missing_entry_are_found() {
    let phone = {
        let mut phone = Phone::with(1, 4);
        phone.entries.remove(1);
        phone
    };
    let Proved::Export(report) = prove(&export(&phone), None) else { panic!("an export") };
    assert_eq!((report.gaps, report.holds()), (1, true), "an export may be a selection");
    let mut file = export(&phone);
    *file.last_mut().unwrap() ^= 1;
    let Proved::Export(report) = prove(&file, None) else { panic!("an export") };
    assert_eq!((report.entries, report.failing.len()), (2, 1));
    // One entry of another branch between: it names another one before it.
    let mut other = Phone::with(1, 1);
    other.sign(record::Kind(4_001), 1, b"\x65other");
    let mut mixed = Phone::with(1, 3);
    mixed.entries[1] = other.entries.remove(1);
    let Proved::Export(report) = prove(&export(&mixed), None) else { panic!("an export") };
    assert_eq!(report.failing.len(), 1, "{report}");
}

#[test]
fn a_bundle_is_proved_and_one_that_was_cut_says_so() {
    let (one, other) = (three(), Phone::with(2, 2));
    let mut bundle = Writer::new();
    for phone in [&one, &other] {
        bundle.key(phone.key.public().cose());
        phone.entries.iter().for_each(|entry| bundle.entry(&entry.bytes));
    }
    let whole = bundle.done();
    let Proved::Bundle(report) = prove(&packed::pack(&whole).unwrap(), None) else { panic!("a bundle") };
    assert_eq!((report.entries, report.logs, report.failing.len()), (5, 2, 1));
    let cut = &whole[..whole.len() - 3];
    let Proved::Bundle(report) = prove(&packed::pack(cut).unwrap(), None) else { panic!("a bundle") };
    assert_eq!((report.entries, report.failing.len()), (4, 2), "{report}");
    assert!(matches!(prove(b"anything", None), Proved::Neither(_)));
}
