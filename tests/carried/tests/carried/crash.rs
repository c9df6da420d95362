//! The hub crashes while phones send, and the database under it does.

use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

use carried::{Chance, Hub, Phone, Proxy, control_postgres, database};
use record::EntryId;

/// Phones that write and send without a pause until they are told to stop. Returns how often it went well.
fn under_load(phones: &[(Phone, Proxy)], meanwhile: impl FnOnce()) -> u32 {
    let stop = AtomicBool::new(false);
    thread::scope(|scope| {
        let sending: Vec<_> = phones
            .iter()
            .map(|(phone, by)| {
                scope.spawn(|| {
                    let mut well = 0;
                    while !stop.load(Ordering::SeqCst) {
                        phone.write(2).unwrap();
                        well += u32::from(phone.exchange(by).is_ok());
                    }
                    well
                })
            })
            .collect();
        meanwhile();
        stop.store(true, Ordering::SeqCst);
        sending.into_iter().map(|sending| sending.join().unwrap()).sum()
    })
}

fn enrolled(hub: &Hub, names: &[&str]) -> Vec<(Phone, Proxy)> {
    let phone = |name: &&str| {
        let (phone, by) = (Phone::new(name).unwrap(), Proxy::to(hub.at()).unwrap());
        phone.enrol(hub, &by).unwrap();
        phone.exchange(&by).unwrap();
        (phone, by)
    };
    names.iter().map(phone).collect()
}

/// What phones were told is there, and nothing is there twice.
fn keeps_its_word(hub: &Hub, phones: &[(Phone, Proxy)]) -> usize {
    let held = hub.held().unwrap();
    let told: Vec<EntryId> = phones.iter().flat_map(|(phone, _)| phone.received().unwrap()).collect();
    assert_eq!(held.lacking(&told), []);
    assert_eq!(held.doubled(), []);
    told.len()
}

fn come_home(hub: &Hub, phones: &[(Phone, Proxy)]) {
    for (phone, by) in phones {
        phone.exchange_until_well(by).unwrap();
        let own = phone.own().unwrap();
        assert_eq!(phone.received().unwrap(), own, "{}", phone.name());
        assert_eq!(hub.held().unwrap().count(phone.log().unwrap()), own.len(), "{}", phone.name());
    }
    keeps_its_word(hub, phones);
}

#[test]
fn killed_twenty_times_under_load_the_hub_keeps_its_word() {
    let (mut chance, beginning) = Chance::anew().unwrap();
    println!("HEADMARK_CHANCE={beginning}");
    let mut hub = Hub::founded().unwrap();
    let phones = enrolled(&hub, &["asha", "ben", "ilse"]);
    let (mut well, mut told) = (0, 0);
    for kill in 0..20 {
        let after = Duration::from_millis(chance.between(30, 700));
        well += under_load(&phones, || {
            thread::sleep(after);
            hub.kill().unwrap();
        });
        // Before anybody can bring it again: what was acknowledged is on the storage of the dead hub.
        told = keeps_its_word(&hub, &phones);
        println!("kill {kill} after {after:?}: {told} acknowledged so far");
        hub.serve().unwrap();
    }
    assert!(well >= 10 && told >= 20, "{well} exchanges went well: the load was none");
    come_home(&hub, &phones);
}

#[test]
fn postgres_crashes_while_phones_send_and_the_hub_goes_on() {
    let (mut chance, beginning) = Chance::anew().unwrap();
    println!("HEADMARK_CHANCE={beginning}");
    let hub = Hub::founded_on(database("crashes").unwrap()).unwrap();
    let phones = enrolled(&hub, &["asha", "ben"]);
    for _ in 0..3 {
        let after = Duration::from_millis(chance.between(100, 900));
        let well = under_load(&phones, || {
            thread::sleep(after);
            control_postgres("restart").unwrap();
            thread::sleep(Duration::from_millis(1500));
        });
        println!("{well} exchanges went well around a crash after {after:?}");
        keeps_its_word(&hub, &phones);
    }
    come_home(&hub, &phones);
}
