//! A phone whose key is sealed: what is left when the marker or the key store's key is not there any more.

use std::fs;
use std::path::PathBuf;

use domain::visit::Step;
use field::Ports;
use field::host::{HostClock, HostEntropy};
use kit::{Core, Office, Phone, dip};
use rstest::rstest;

use crate::stand_in::StandIn;
use crate::{SealedFolder, marker};

fn open(phone: &Phone, store: &StandIn) -> Core {
    let keys = SealedFolder::at(keys(phone), store.clone());
    let ports =
        Ports { clock: Box::new(HostClock::start()), keys: Box::new(keys), entropy: Box::new(HostEntropy) };
    Core::open_with(phone, ports).unwrap()
}

fn keys(phone: &Phone) -> PathBuf {
    phone.data().join("keys")
}

/// What the phone calls itself: it names the log that it writes.
fn log(core: &Core) -> String {
    core.phone().enrol_begin(&Office::new().unwrap().invitation()).unwrap().label
}

#[rstest]
#[case::restored_without_the_marker(|phone: &Phone, _: &StandIn| fs::remove_file(keys(phone).join(marker::FILE)).unwrap())]
#[case::with_the_marker_of_another(|phone: &Phone, _: &StandIn| fs::write(keys(phone).join(marker::FILE), [1; 16]).unwrap())]
#[case::without_its_files(|phone: &Phone, _: &StandIn| fs::remove_dir_all(keys(phone)).unwrap())]
#[case::on_another_phone(|_: &Phone, store: &StandIn| store.forget())]
fn a_restored_phone_begins_a_new_log_and_keeps_records_and_drafts(#[case] restored: fn(&Phone, &StandIn)) {
    let (phone, store) = (Phone::new().unwrap(), StandIn::default());
    let core = open(&phone, &store);
    core.prepare("Asha Renn").unwrap();
    let story = dip();
    let signed = core.play(&story, Step::Sign).unwrap();
    let record = core.sign(&signed, &story).unwrap();
    let draft = core.play(&story, Step::Shift).unwrap();
    let before = log(&core);
    let says = core.phone().enrol_view().unwrap().key;
    assert_eq!(says, "The key that signs records is sealed by this phone's own key store.");
    drop(core);
    restored(&phone, &store);

    let core = open(&phone, &store);
    let after = log(&core);
    assert_ne!(after, before);
    assert_eq!(core.phone().home().unwrap().drafts[0].id, draft);
    assert_eq!(core.phone().record(&record.id).unwrap().proof, record.proof);
    core.play_on(&draft, &story, Step::Sign).unwrap();
    assert_eq!(core.sign(&draft, &story).unwrap().proof, record.proof);
    drop(core);
    assert_eq!(log(&open(&phone, &store)), after, "the new log is gone on with");
}

#[test]
fn a_key_store_that_refuses_begins_no_new_log() {
    let (phone, store) = (Phone::new().unwrap(), StandIn::default());
    let before = log(&open(&phone, &store));
    store.refuse(true);
    let core = open(&phone, &store);
    assert_eq!(core.phone().home().unwrap().drafts, []);
    let refused = core.phone().enrol_begin(&Office::new().unwrap().invitation()).unwrap_err();
    assert_eq!((refused.code(), refused.is_retryable()), ("key.refused", true));
    store.refuse(false);
    assert_eq!(log(&core), before);
}
