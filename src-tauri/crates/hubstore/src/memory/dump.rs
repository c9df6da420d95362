//! Dump and restore.

use tokio::sync::mpsc::{Receiver, Sender};

use super::Memory;
use super::state::State;
use crate::{Arrival, Batch, Dump, Error, Item, NewEntry};

impl Dump for Memory {
    async fn dump(&self, to: Sender<Item>) -> Result<(), Error> {
        let items = self.state().items();
        for item in items {
            if to.send(item).await.is_err() {
                break;
            }
        }
        Ok(())
    }

    async fn restore(&self, mut from: Receiver<Item>) -> Result<u64, Error> {
        let mut fresh = State::default();
        while let Some(item) = from.recv().await {
            fresh.take_in(item)?;
        }
        let mut state = self.writing()?;
        if state.identity.is_some() || !state.logs.is_empty() || !state.history.is_empty() {
            return Err(Error::NotEmpty);
        }
        let entries = fresh.entries.len() as u64;
        *state = fresh;
        Ok(entries)
    }
}

impl State {
    fn items(&self) -> Vec<Item> {
        let mut items: Vec<Item> = self.identity.iter().cloned().map(Item::Identity).collect();
        items.extend(self.settings.iter().map(|(name, value)| Item::Setting(name.clone(), value.clone())));
        items.extend(self.logs.values().cloned().map(Item::Log));
        items.extend(self.entries.values().cloned().map(Item::Entry));
        items.extend(
            self.parked.values().map(|(carrier, entry)| Item::Parked(*carrier, Box::new(entry.clone()))),
        );
        items.extend(self.history.iter().cloned().map(Item::Change));
        items.extend(self.persons.values().cloned().map(Item::Person));
        items.extend(self.devices.values().cloned().map(Item::Device));
        items.extend(self.photos.values().map(|(cited, whole)| Item::Photo(cited.clone(), *whole)));
        items.extend(self.found.iter().map(|(arrival, found)| Item::Found(*arrival, found.clone())));
        items
    }

    fn take_in(&mut self, item: Item) -> Result<(), Error> {
        match item {
            Item::Identity(identity) => self.identity = Some(identity),
            Item::Setting(name, value) => {
                self.settings.insert(name, value);
            }
            Item::Log(row) => {
                self.logs.insert(row.log, row);
            }
            Item::Entry(entry) => {
                self.ingest(Batch::of_known(vec![NewEntry::kept(&entry.bytes)?]));
                if self.newest() != entry.arrival {
                    return Err(Error::unreadable(format!(
                        "entry number {} is out of order",
                        entry.arrival.0
                    )));
                }
            }
            Item::Parked(carrier, entry) => self.park(carrier, *entry),
            Item::Change(change) => self.change(change),
            Item::Person(person) => {
                self.persons.insert(person.id, person);
            }
            Item::Device(device) => {
                self.devices.insert(device.log, device);
            }
            Item::Photo(cited, whole) => {
                self.photos.insert(cited.photo, (cited, whole));
            }
            Item::Found(arrival, found) => self.settle(arrival, found),
        }
        Ok(())
    }

    fn settle(&mut self, arrival: Arrival, found: crate::Found) {
        self.queue.remove(&arrival);
        self.found.insert(arrival, found);
    }
}
