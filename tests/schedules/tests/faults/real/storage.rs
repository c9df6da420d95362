//! A storage of a phone or a hub. What is on it outlives their processes, and some of it a cut of the power.

use std::cell::RefCell;
use std::sync::atomic::{AtomicU64, Ordering};

use faults_vfs::cut;
use faults_vfs::{Files, Mounted, Plain, Trouble};

use crate::chance::Chance;

static NAMES: AtomicU64 = AtomicU64::new(0);

thread_local! {
    /// Those that nobody uses now: SQLite never forgets one.
    static UNUSED: RefCell<Vec<Mounted>> = const { RefCell::new(Vec::new()) };
}

/// A storage, with the files that it held when it was last turned on.
pub struct Storage {
    /// None only while it is dropped.
    mounted: Option<Mounted>,
    begun: Files,
}

impl Storage {
    pub fn holding(files: Files) -> Storage {
        let named = || Mounted::named(&format!("storage-{}", NAMES.fetch_add(1, Ordering::Relaxed)));
        let mounted = UNUSED.with_borrow_mut(Vec::pop).unwrap_or_else(named);
        mounted.replace(files.clone());
        Storage { mounted: Some(mounted), begun: files }
    }

    fn mounted(&self) -> &Mounted {
        self.mounted.as_ref().unwrap()
    }

    /// The name that SQLite knows it by.
    pub fn name(&self) -> &str {
        self.mounted().name()
    }

    pub fn plain(&self) -> Plain {
        self.mounted().plain()
    }

    /// Lets something go wrong from now on.
    pub fn meets(&self, trouble: Trouble) {
        self.mounted().disk().set_trouble(trouble);
    }

    /// The files as whoever runs sees them, which is also what a process leaves that is killed.
    pub fn files(&self) -> Files {
        self.mounted().disk().files().clone()
    }

    /// Turns it on with these files. None of it may be open.
    pub fn turn_on(&mut self, files: Files) {
        self.mounted().replace(files.clone());
        self.begun = files;
    }

    /// The power was cut, where [`Trouble::OffAfter`] had it or now: some of what was not synced is lost.
    pub fn was_cut(&mut self, chance: &mut Chance) {
        let mut storage = cut::Storage::holding(&self.begun);
        self.mounted().disk().ops().iter().for_each(|op| storage.follow(op));
        let left = storage.survivors(&mut faults_vfs::chance::Chance::from(chance.bits()));
        self.turn_on(left);
    }
}

impl Drop for Storage {
    fn drop(&mut self) {
        if let Some(mounted) = self.mounted.take() {
            mounted.replace(Files::new());
            UNUSED.with_borrow_mut(|unused| unused.push(mounted));
        }
    }
}
