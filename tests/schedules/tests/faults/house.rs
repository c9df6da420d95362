//! Where a hub of the simulation keeps its data: in memory, or as [`crate::real`] has it.

use hubstore::{HubStore, Memory};

use crate::chance::Chance;

/// A place for a hub's data. It outlives the hub's process.
#[allow(async_fn_in_trait, reason = "nobody outside calls it")]
pub trait House: Sized {
    type Store: HubStore + 'static;

    /// An empty one.
    fn new() -> Self;

    /// Opens what is there.
    async fn open(&self) -> Result<Self::Store, hubstore::Error>;

    /// Copies all of it into another one.
    async fn copy_of(store: &Self::Store) -> (Self, Self::Store);

    /// Lets the process or its power stop at one of the next writes.
    fn stops(&self, chance: &mut Chance);

    /// Lets the storage be full from one of the next writes on.
    fn fills_up(&self, chance: &mut Chance);

    /// There is room again.
    fn has_room(&self);

    /// The process is about to end, well or not.
    fn ends(&self, chance: &mut Chance);

    /// It ended: what is there now is what is found by the next one.
    fn ended(&mut self, chance: &mut Chance);

    /// Whether the next opening is to stop on its way.
    fn stops_opening(&self, chance: &mut Chance) -> bool;
}

/// In memory: a write goes through or does not.
pub struct InMemory(Memory);

impl House for InMemory {
    type Store = Memory;

    fn new() -> InMemory {
        InMemory(Memory::new())
    }

    async fn open(&self) -> Result<Memory, hubstore::Error> {
        Ok(self.0.clone())
    }

    async fn copy_of(store: &Memory) -> (InMemory, Memory) {
        let copy = store.copy();
        (InMemory(copy.clone()), copy)
    }

    fn stops(&self, chance: &mut Chance) {
        self.0.stop_after(Some(u32::try_from(chance.below(6)).unwrap()));
    }

    fn fills_up(&self, chance: &mut Chance) {
        self.0.full_after(Some(u32::try_from(chance.below(6)).unwrap()));
    }

    fn has_room(&self) {
        self.0.full_after(None);
    }

    fn ends(&self, _: &mut Chance) {}

    fn ended(&mut self, _: &mut Chance) {
        self.0.stop_after(None);
    }

    fn stops_opening(&self, _: &mut Chance) -> bool {
        false
    }
}
