//! Everything that a damaged file holds and that proves itself, gathered.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use record::PublicKey;

use super::candidate::{self, Candidate};
use super::cells;
use super::pages::Pages;
use crate::known::HubLog;
use crate::{
    Draft, Error, Identity, Kind, Listed, LogId, NewEntry, PayloadHash, Place, RegisterName, Seq,
    SignedVisit, TagKey, backfill, photos,
};

/// What was found in a damaged file.
#[derive(Default)]
pub(crate) struct Found {
    pub(super) keys: BTreeMap<LogId, PublicKey>,
    /// By their arrival in the damaged file, so that they come in the same order; true where they were parked.
    pub(super) entries: Vec<(NewEntry, bool)>,
    pub(super) unproved: u32,
    pub(super) identities: BTreeMap<i64, Identity>,
    /// By how often drafts had been saved when this one was last: the highest was touched last.
    pub(super) drafts: Vec<Draft>,
    pub(super) signed: BTreeMap<Place, SignedVisit>,
    pub(super) settings: One<String, String>,
    pub(super) marks: One<String, Vec<u8>>,
    pub(super) hub_logs: BTreeSet<HubLog>,
    pub(super) known_logs: BTreeSet<LogId>,
    pub(super) register: One<(), RegisterName>,
    pub(super) listed: One<TagKey, Listed>,
    pub(super) sheets: One<TagKey, String>,
    pub(super) areas: BTreeSet<String>,
    pub(super) photos: BTreeMap<bodies::PhotoHash, photos::Known>,
}

/// Values of which there is one for each name. Where two different ones were found, one of them was replaced and nobody
/// can say which.
pub(super) struct One<K, V>(BTreeMap<K, Option<V>>);

impl<K, V> Default for One<K, V> {
    fn default() -> One<K, V> {
        One(BTreeMap::new())
    }
}

impl<K: Ord, V: PartialEq> One<K, V> {
    fn add(&mut self, key: K, value: V) {
        let held = self.0.entry(key);
        held.and_modify(|held| {
            if held.as_ref() != Some(&value) {
                *held = None;
            }
        })
        .or_insert(Some(value));
    }

    /// Returns what is sure.
    pub(super) fn sure(&self) -> impl Iterator<Item = (&K, &V)> {
        self.0.iter().filter_map(|(key, value)| Some((key, value.as_ref()?)))
    }

    /// Returns a sure value.
    pub(super) fn get(&self, key: &K) -> Option<&V> {
        self.0.get(key)?.as_ref()
    }
}

/// Entries as they were found, not yet proved.
#[derive(Default)]
struct Unproved {
    /// Where a row was found twice, the sealed one.
    rows: BTreeMap<(i64, Vec<u8>), (NewEntry, bool, bool)>,
    drafts: BTreeMap<String, (i64, Draft)>,
}

impl Found {
    /// Reads a file.
    pub(crate) fn read(path: &Path) -> Result<Found, Error> {
        let pages = Pages::read(path)?;
        let unused = pages.unused();
        let mut found = Found::default();
        let mut unproved = Unproved::default();
        for number in pages.numbers() {
            for row in cells::rows(&pages, number) {
                let Some(candidate) = candidate::of(&row) else { continue };
                // Only entries are for ever: anything else on an unused page was removed or replaced.
                if !unused.contains(&number) || matches!(candidate, Candidate::Entry { .. }) {
                    found.add(candidate, &mut unproved);
                }
            }
        }
        found.finish(unproved);
        Ok(found)
    }

    fn add(&mut self, candidate: Candidate, unproved: &mut Unproved) {
        match candidate {
            Candidate::Entry { arrival, row, sealed, parked } => {
                let held = unproved.rows.entry((arrival, row.bytes.clone()));
                let new = (row, sealed, parked);
                held.and_modify(|held| {
                    if sealed {
                        *held = new.clone();
                    }
                })
                .or_insert(new);
            }
            Candidate::Draft(draft, touched) => {
                let held = unproved.drafts.entry(draft.id.clone()).or_insert((touched, draft.clone()));
                if held.0 < touched {
                    *held = (touched, draft);
                }
            }
            Candidate::Identity(number, identity) => _ = self.identities.insert(number, identity),
            Candidate::RegisterName(name) => self.register.add((), name),
            Candidate::Listed(listed) => self.listed.add(listed.key.clone(), listed),
            Candidate::Sheet(key, body) => self.sheets.add(key, body),
            Candidate::Setting(name, value) => self.settings.add(name, value),
            Candidate::Mark(name, value) => self.marks.add(name, value),
            Candidate::Key(key) => _ = self.keys.insert(LogId::of(key.log()), key),
            Candidate::HubLog(hub) => _ = self.hub_logs.insert(hub),
            Candidate::KnownLog(log) => _ = self.known_logs.insert(log),
            Candidate::Photo(photo) => _ = self.photos.insert(photo.hash, photo),
            Candidate::Area(area) => _ = self.areas.insert(area),
            Candidate::Signed(visit) => _ = self.signed.insert(visit.place, visit),
        }
    }

    /// Proves the entries, now that all keys are known.
    fn finish(&mut self, unproved: Unproved) {
        for (_, value) in self.settings.sure().filter(|(name, _)| name.starts_with(backfill::SIGNER)) {
            if let Some(key) = backfill::key(value) {
                self.keys.insert(LogId::of(key.log()), key);
            }
        }
        let mut seen = BTreeSet::new();
        for ((_, _), (row, sealed, parked)) in unproved.rows {
            let Some(entry) = proved(&row, sealed, &self.keys) else {
                self.unproved += 1;
                continue;
            };
            if seen.insert((entry.place, entry.hash)) {
                self.entries.push((entry, parked));
            }
        }
        let mut drafts: Vec<(i64, Draft)> = unproved.drafts.into_values().collect();
        drafts.sort_by_key(|(touched, _)| *touched);
        self.drafts = drafts.into_iter().map(|(_, draft)| draft).collect();
    }
}

/// Proves an entry by its signature; where its key was lost, by the seal that was made when it was verified.
fn proved(row: &NewEntry, sealed: bool, keys: &BTreeMap<LogId, PublicKey>) -> Option<NewEntry> {
    let opened = record::open(&row.bytes).ok()?;
    let entry = NewEntry {
        place: Place { log: LogId::of(opened.id.log), seq: Seq::of(opened.id.seq) },
        hash: PayloadHash::of(opened.id.payload),
        previous: opened.header.previous.map(PayloadHash::of),
        kind: Kind(u64::from(opened.header.kind.0)),
        bytes: row.bytes.clone(),
    };
    let holds = match keys.get(&entry.place.log) {
        Some(key) => record::verify(&opened, key).is_ok(),
        None => sealed && *row == entry,
    };
    holds.then_some(entry)
}
