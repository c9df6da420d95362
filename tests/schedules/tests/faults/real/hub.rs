//! The hub's data in its SQLite file.

use std::cell::Cell;

use faults_vfs::{Files, Trouble};
use hub::backing;
use hubstore::{Error, Flush, Opening, Sqlite};

use super::storage::Storage;
use crate::chance::Chance;
use crate::house::House;

/// How a process ends, or its power.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum End {
    /// It closes its file.
    Well,
    /// All that it wrote arrives.
    Killed,
    /// What it had not synced may not.
    Cut,
}

/// A file on a storage of its own. One that is not `SYNCED` leaves it to that when to store what was written.
pub struct OnFile<const SYNCED: bool> {
    storage: Storage,
    end: Cell<End>,
}

impl<const SYNCED: bool> OnFile<SYNCED> {
    fn opened(&self) -> Result<Sqlite, Error> {
        let flush = if SYNCED { Flush::AtCommit } else { Flush::Never };
        Opening::at("hub.db").through(self.storage.name()).flush(flush).open()
    }

    /// Everything ends after some operation of the next few.
    fn off_soon(&self, most: usize, chance: &mut Chance) {
        self.storage.meets(Trouble::OffAfter(chance.below(most) as u64));
        self.end.set(if chance.percent(30) { End::Killed } else { End::Cut });
    }
}

impl<const SYNCED: bool> House for OnFile<SYNCED> {
    type Store = Sqlite;

    fn new() -> OnFile<SYNCED> {
        OnFile { storage: Storage::holding(Files::new()), end: Cell::new(End::Well) }
    }

    async fn open(&self) -> Result<Sqlite, Error> {
        self.opened()
    }

    /// As the hub's own commands copy it, in a backup and out of one.
    async fn copy_of(store: &Sqlite) -> (OnFile<SYNCED>, Sqlite) {
        let house = OnFile::new();
        let copy = house.opened().unwrap();
        backing::copy(store, &copy).await.unwrap();
        (house, copy)
    }

    fn stops(&self, chance: &mut Chance) {
        self.off_soon(60, chance);
    }

    fn fills_up(&self, chance: &mut Chance) {
        let writes = chance.below(40) as u64;
        let trouble = match chance.below(3) {
            0 => Trouble::FullAfter(writes),
            1 => Trouble::NoGrowthAfter(writes),
            _ => Trouble::SyncFailsAfter(writes / 10),
        };
        self.storage.meets(trouble);
    }

    fn has_room(&self) {
        self.storage.meets(Trouble::None);
    }

    fn ends(&self, chance: &mut Chance) {
        if self.end.get() == End::Well && chance.percent(60) {
            self.off_soon(1, chance);
        }
    }

    fn ended(&mut self, chance: &mut Chance) {
        match self.end.replace(End::Well) {
            End::Well => self.storage.meets(Trouble::None),
            End::Killed => self.storage.turn_on(self.storage.files()),
            End::Cut => self.storage.was_cut(chance),
        }
    }

    fn stops_opening(&self, chance: &mut Chance) -> bool {
        let stops = chance.percent(25);
        if stops {
            self.off_soon(40, chance);
        }
        stops
    }
}
