//! A phone of the simulation, as the world handles it, whatever it keeps its data in.

use std::collections::{BTreeMap, BTreeSet};

use bodies::{Epoch, Grade, LastTrusted, Observation, PhotoHash};
use exchange::run::Wanted;
use exchange::session::{Ledger, Marks};
use exchange::trust::Trust;
use record::{EntryId, LogId, PublicKey, Signer};

use crate::chance::Chance;
use crate::cheap::Signing;

/// What becomes of the next step that writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Write {
    Goes,
    /// Full, or stopped before the commit.
    Fails,
    /// Stopped after the commit, before anyone heard of it.
    GoesUnheard,
}

/// What a hub gives a phone when it is enrolled.
pub struct Confirmed {
    pub organisation: LogId,
    pub hub: LogId,
    pub keys: Vec<Vec<u8>>,
    pub entries: Vec<Vec<u8>>,
}

/// A phone. One that stops in a deed is started again before the next.
pub trait Phone: Sized {
    /// How everybody signs.
    type Signing: Signing;
    /// What a session reads and fills.
    type Kept: Ledger;
    /// Its key, for a session.
    type Key: Signer;
    /// A copy of its data.
    type Backup;

    /// A phone fresh from the shop, in whose register or settings stands nothing.
    fn new(organisation: &PublicKey, chance: &mut Chance) -> Self;

    /// The key it signs with now.
    fn key(&self) -> PublicKey;

    /// The end of its own branch: where it writes on.
    fn tip(&self) -> Option<LastTrusted>;

    fn log(&self) -> LogId {
        self.key().log()
    }

    /// Says what becomes of the next step that writes. Each of the deeds below ends it.
    fn next_write(&mut self, write: Write, chance: &mut Chance);

    /// Writes an entry.
    fn write(&mut self, chance: &mut Chance);

    /// Takes a photo and writes the record of it.
    fn photograph(&mut self, chance: &mut Chance);

    /// Frees what the hub has in its backup, as far as this phone knows.
    fn free(&mut self, chance: &mut Chance);

    /// What it would hand to another phone.
    fn bundle(&mut self) -> Vec<u8>;

    /// Takes in what another phone carries, and gives a receipt for it.
    fn take_bundle(&mut self, bundle: &[u8], chance: &mut Chance);

    /// Takes the hub's word that it is one of its phones. Only then some phones know a hub at all.
    fn confirmed(&mut self, confirmed: &Confirmed, chance: &mut Chance);

    /// Whether it knows a hub that it could ask.
    fn has_hub(&self) -> bool;

    /// What a session is driven over.
    fn session(&self) -> (&Self::Kept, Self::Key);

    /// A session ended, or broke off with this error of what is kept.
    fn exchanged(&mut self, error: Option<String>, chance: &mut Chance);

    /// The photos that it would bring, in any order.
    fn photos_to_bring(&self) -> Vec<PhotoHash>;

    /// The app ends and is started again.
    fn starts_again(&mut self, chance: &mut Chance);

    /// A copy of its data, as a backup of the phone makes it.
    fn back_up(&mut self, chance: &mut Chance) -> Self::Backup;

    /// Becomes the phone that such a copy was put on: its key did not come with it, so it begins a new log.
    fn restore(&mut self, backup: &Self::Backup, chance: &mut Chance);

    /// Loses a part of its data, and goes on with a new log; what it finds of the rest is its own business. Returns false
    /// where nothing came of the damage.
    fn is_damaged(&mut self, chance: &mut Chance) -> bool;

    /// Another phone with the same data, key and all.
    fn clone_of(&mut self, chance: &mut Chance) -> Self;

    /// Returns whether something may have changed since this was asked.
    fn changed(&self) -> bool;

    /// The epoch of the hub that it met last.
    fn epoch(&self) -> Option<Epoch>;

    /// What it would call received, in that epoch, with the grades. An entry may come several times.
    fn received(&self) -> Vec<(EntryId, Grade)>;

    /// The photos that the hub of that epoch said to hold, with the grades.
    fn photos_received(&self) -> Vec<(PhotoHash, Grade)>;

    /// The photos that it had and gave up.
    fn freed(&self) -> BTreeSet<PhotoHash>;

    /// How many entries it holds, and where it stands with the hub.
    fn holds(&self) -> (usize, Marks);

    /// All that is on it.
    fn found(&self) -> Found;

    /// A row of the register.
    fn row(tag: &str, area: &str, chance: &mut Chance) -> Vec<u8>;
}

/// What is on a phone.
pub struct Found {
    pub log: LogId,
    /// Entries by what they are, with their bytes; what waits parked too.
    pub entries: BTreeMap<EntryId, Vec<u8>>,
    /// The logs that it wrote, the one that it writes now last.
    pub own: Vec<LogId>,
    pub trust: Trust,
    /// What it had once and has no more.
    pub lacks: Vec<Wanted>,
    /// Whether it knows that another writes its log too.
    pub knows_of_copy: bool,
    /// By area and tag.
    pub register: BTreeMap<(String, String), Vec<u8>>,
    /// Photos that are here, whole.
    pub photos: Vec<PhotoHash>,
}

impl Found {
    /// The entries that cite a photo.
    pub fn cites(&self, photo: PhotoHash) -> Vec<EntryId> {
        let cites = |bytes: &[u8]| {
            let entry = record::open(bytes).ok()?;
            Observation::of_entry(&entry).ok()?.photo.filter(|cited| cited.hash == photo)
        };
        self.entries.iter().filter(|(_, bytes)| cites(bytes).is_some()).map(|(id, _)| *id).collect()
    }
}
