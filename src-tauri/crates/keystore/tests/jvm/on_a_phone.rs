//! A phone whose keys the stand-in seals, from the install before it on.

use domain::visit::Step;
use field::Ports;
use field::host::{HostClock, HostEntropy, PrivateFolder};
use keystore::SealedFolder;
use kit::{Core, Phone, dip};

use crate::machine::Alias;

fn sealed(phone: &Phone, alias: Alias) -> Core {
    let ports = Ports {
        clock: Box::new(HostClock::start()),
        keys: Box::new(SealedFolder::at(phone.data().join("keys"), alias.store())),
        entropy: Box::new(HostEntropy),
    };
    Core::open_with(phone, ports).unwrap()
}

fn log(core: &Core) -> String {
    core.phone().enrol_begin(&kit::Office::new().unwrap().invitation()).unwrap().label
}

#[test]
fn the_key_of_an_earlier_install_goes_on_signing_its_log() {
    let (phone, alias) = (Phone::new().unwrap(), Alias("phone"));
    let keys = PrivateFolder::at(phone.data().join("keys"));
    let unsealed = |keys: &PrivateFolder| keys.names().unwrap().iter().any(|name| name.ends_with(".key"));
    let core = Core::open(&phone).unwrap();
    core.prepare("Asha Renn").unwrap();
    let before = log(&core);
    drop(core);
    assert!(unsealed(&keys));

    let core = sealed(&phone, alias);
    assert_eq!(log(&core), before);
    assert!(!unsealed(&keys));
    let story = dip();
    let id = core.play(&story, Step::Sign).unwrap();
    assert_eq!(core.sign(&id, &story).unwrap().proof, "Signature checked");
    drop(core);
    assert_eq!(log(&sealed(&phone, alias)), before);
    // The key store of another phone.
    assert_ne!(log(&sealed(&phone, Alias("another phone"))), before);
}
