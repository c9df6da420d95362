//! People and phones.

use bodies::{HubRole, PersonId};
use hubstore::{AnyStore, Device, Error, HubPerson, People, Version};
use record::LogId;

fn person(id: u8, name: &str, role: HubRole) -> HubPerson {
    HubPerson { id: PersonId([id; 16]), name: name.into(), secret: "$argon2id$...".into(), role }
}

pub(crate) async fn people_have_names_of_their_own(store: &AnyStore) {
    let (marsh, okoro) = (person(2, "A. Marsh", HubRole::Read), person(1, "N. Okoro", HubRole::Administer));
    store.put_person(&okoro).await.unwrap();
    store.put_person(&marsh).await.unwrap();
    assert_eq!(store.persons().await.unwrap(), [marsh.clone(), okoro.clone()]);
    assert_eq!(store.put_person(&person(3, "A. Marsh", HubRole::Read)).await, Err(Error::NameTaken));
    let promoted = HubPerson { role: HubRole::Supervise, ..marsh.clone() };
    store.put_person(&promoted).await.unwrap();
    assert_eq!(store.person_named("A. Marsh").await.unwrap(), Some(promoted));
    assert_eq!(store.person_named("a. marsh").await.unwrap(), None);
    assert!(store.drop_person(marsh.id).await.unwrap());
    assert!(!store.drop_person(marsh.id).await.unwrap());
    store.put_person(&person(3, "A. Marsh", HubRole::Read)).await.unwrap();
    assert_eq!(store.persons().await.unwrap().len(), 2);
}

pub(crate) async fn each_change_to_people_takes_a_number(store: &AnyStore) {
    let at = async || store.people_version().await.unwrap();
    let asha = person(1, "Asha", HubRole::Read);
    assert_eq!(at().await, Version(0));
    store.put_person(&asha).await.unwrap();
    store.put_person(&HubPerson { name: "Asha Renn".into(), ..asha.clone() }).await.unwrap();
    assert_eq!(at().await, Version(2));
    assert_eq!(store.put_person(&person(2, "Asha Renn", HubRole::Read)).await, Err(Error::NameTaken));
    assert!(!store.drop_person(PersonId([2; 16])).await.unwrap());
    assert_eq!(at().await, Version(2), "what changed nothing takes none");
    store.drop_person(asha.id).await.unwrap();
    assert_eq!((at().await, store.persons().await.unwrap()), (Version(3), vec![]));
}

pub(crate) async fn phones_keep_their_areas(store: &AnyStore) {
    let phone = Device {
        log: LogId([2; 32]),
        label: "Asha's phone".into(),
        person: Some(PersonId([4; 16])),
        areas: vec!["south".into(), "north\n".into()],
    };
    let other = Device { log: LogId([1; 32]), label: String::new(), person: None, areas: vec![] };
    store.put_device(&phone).await.unwrap();
    store.put_device(&other).await.unwrap();
    assert_eq!(store.devices().await.unwrap(), [other.clone(), phone.clone()]);
    let fewer = Device { areas: vec!["north\n".into()], ..phone.clone() };
    store.put_device(&fewer).await.unwrap();
    assert_eq!(store.device(phone.log).await.unwrap(), Some(fewer));
    assert_eq!(store.device(LogId([3; 32])).await.unwrap(), None);
}
