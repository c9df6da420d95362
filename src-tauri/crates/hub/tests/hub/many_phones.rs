//! Receipts for many phones, as after a backup.

use std::collections::BTreeSet;

use bodies::Grade;
use hub::exchange::give_receipts;
use hubstore::{AnyStore, Batch, Ledger, Memory, NewEntry, NewLog};
use record::{LogId, SecretKey, Signer};

use crate::phone::Phone;
use crate::world::World;

/// More than are signed in one step.
const MANY: u16 = 300;

fn phone(number: u16) -> Phone {
    let mut seed = [0x55; 32];
    seed[..2].copy_from_slice(&number.to_be_bytes());
    let mut phone =
        Phone { key: SecretKey::take(&mut seed), entries: Vec::new(), news: 0, areas: Vec::new() };
    phone.note();
    phone
}

#[tokio::test]
async fn each_of_many_phones_gets_its_own_in_few_steps() {
    let memory = Memory::new();
    let world = World::over(AnyStore::from(memory.clone())).await;
    let phones: Vec<Phone> = (0..MANY).map(phone).collect();
    let key = |phone: &Phone| NewLog { log: phone.log(), key: phone.key.public().cose().to_vec() };
    let entry = |phone: &Phone| NewEntry::of(&record::open(&phone.entries[0].bytes).unwrap());
    let (known, entries) = (phones.iter().map(key).collect(), phones.iter().map(entry).collect());
    world.hub.store.ingest(Batch { known, entries, ..Batch::default() }).await.unwrap();
    let logs: BTreeSet<LogId> = phones.iter().map(Phone::log).collect();
    memory.stop_after(Some(2));
    let said = give_receipts(&world.hub, &logs, Grade::BackedUp).await.unwrap();
    assert_eq!(said.len(), usize::from(MANY));
    assert_eq!(said.iter().map(|(of, _)| *of).collect::<BTreeSet<_>>(), logs);
    let receipts: Vec<_> = said.iter().map(|(_, receipt)| *receipt).collect();
    assert!(world.hub.store.holds(&receipts).await.unwrap().into_iter().all(|held| held));
    memory.stop_after(Some(0));
    assert_eq!(give_receipts(&world.hub, &logs, Grade::BackedUp).await.unwrap(), [], "said once");
}
