//! Two processes of one hub on one PostgreSQL, written to at once.

use std::thread;

use carried::{Hub, Phone, Proxy, database};

#[test]
fn two_processes_written_to_at_once_hold_everything_once() {
    let hub = Hub::founded_on(database("shared").unwrap()).unwrap();
    let second = hub.beside().unwrap();
    let phones: Vec<(Phone, Proxy)> = ["asha", "ben", "ilse", "tom"]
        .iter()
        .map(|name| {
            let (phone, by) = (Phone::new(name).unwrap(), Proxy::to(hub.at()).unwrap());
            phone.enrol(&hub, &by).unwrap();
            (phone, by)
        })
        .collect();
    thread::scope(|scope| {
        for (at, (phone, by)) in phones.iter().enumerate() {
            let doors = [hub.at(), second.at()];
            scope.spawn(move || {
                for turn in 0..8 {
                    // By the one process and the other in turn, half of the phones each.
                    by.leads_to(doors[(turn + at) % 2]);
                    phone.write(2).unwrap();
                    phone.exchange_until_well(by).unwrap();
                    assert_eq!(phone.received().unwrap(), phone.own().unwrap(), "{}", phone.name());
                }
            });
        }
    });
    let held = hub.held().unwrap();
    assert_eq!(held.doubled(), []);
    for (phone, _) in &phones {
        let own = phone.own().unwrap();
        assert_eq!((own.len(), held.lacking(&own)), (16, vec![]), "{}", phone.name());
        assert_eq!(held.count(phone.log().unwrap()), 16, "{}", phone.name());
    }
    assert_eq!(hub.held().unwrap(), second.held().unwrap());
}
