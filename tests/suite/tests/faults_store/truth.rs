//! What must be there: a model of the store in plain Rust, and the comparison with the real one.

use std::collections::BTreeMap;

use bodies::{Grade, Receipt, RegisterRow};
use exchange::message::Cursor;
use exchange::page::Page;
use exchange::run::{Runs, Step};
use exchange::session::{Ledger, Marks, Taken};
use store::{
    Draft, Error, Hub, InstrumentRow, NewEntry, Place, RegisterName, Seq, SignedVisit, Stands, Store,
};

use crate::story::{Deed, LOG, hub};

/// All that a store holds.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Truth {
    /// Newest first.
    drafts: Vec<Draft>,
    /// In the order of their places.
    entries: Vec<NewEntry>,
    /// Newest first.
    signed: Vec<SignedVisit>,
    settings: BTreeMap<String, String>,
    register: Option<RegisterName>,
    /// In the order of their folded tags.
    rows: Vec<InstrumentRow>,
    /// Entries of other logs, by log, place and hash.
    others: Vec<NewEntry>,
    /// Entries that are parked, in the same order.
    parked: Vec<NewEntry>,
    /// What the hub said it holds of the own log: up to which place, how safely.
    receipts: Vec<(u64, Stands)>,
    marks: Marks,
    hub: Option<Hub>,
}

impl Truth {
    /// The same as it is read back: where each own entry stands.
    fn read_back(mut self) -> Truth {
        self.receipts = (1..=self.entries.len() as u64).map(|seq| (seq, self.stands(seq))).collect();
        self
    }

    fn after(mut self, deed: &Deed) -> Truth {
        match deed {
            Deed::Save(draft) => {
                self.drafts.retain(|other| other.id != draft.id);
                self.drafts.insert(0, draft.clone());
            }
            Deed::Discard(id) => self.drafts.retain(|draft| draft.id != *id),
            Deed::Identify => {}
            Deed::Join => self.hub = Some(hub()),
            Deed::Append(entry) => self.entries.push(entry.clone()),
            Deed::Bring(entries) => {
                let known = self.marks.epoch.is_some();
                if known { &mut self.others } else { &mut self.parked }.extend(entries.iter().cloned());
            }
            Deed::Take(taken) => self.take(taken),
            Deed::Sign(id, signed) => {
                self.drafts.retain(|draft| draft.id != *id);
                self.entries.push(signed.0.clone());
                self.signed.insert(0, signed.1.clone());
            }
            Deed::Set(name, value) => _ = self.settings.insert(name.clone(), value.clone()),
            Deed::Load(name, rows) => {
                self.register = Some(name.clone());
                self.rows.clone_from(rows);
            }
            Deed::Checkpoint | Deed::Suspend => {}
        }
        self.others.sort_by_key(|entry| (entry.place, entry.hash));
        self.parked.sort_by_key(|entry| (entry.place, entry.hash));
        self
    }

    /// In the story the first answer of the hub vouches for the other phone.
    fn take(&mut self, taken: &Taken) {
        self.others.append(&mut self.parked);
        for came in &taken.entries {
            let opened = record::open(&came.bytes).unwrap();
            if let Ok(receipt) = Receipt::of_entry(&opened) {
                let stands =
                    if receipt.grade == Grade::BackedUp { Stands::BackedUp } else { Stands::Received };
                self.receipts.push((receipt.runs[0].to.get(), stands));
            }
            self.others.push(NewEntry {
                place: Place { log: store::LogId::of(came.id.log), seq: Seq::of(came.id.seq) },
                hash: store::PayloadHash::of(came.id.payload),
                previous: came.previous.map(store::PayloadHash::of),
                kind: store::Kind(u64::from(came.kind.0)),
                bytes: came.bytes.clone(),
            });
        }
        self.marks.give_back |= self.marks.epoch != Some(taken.epoch);
        self.marks.epoch = Some(taken.epoch);
        self.marks.news = taken.news.unwrap();
        for signed in &taken.pages {
            self.page(&signed.page);
        }
    }

    fn page(&mut self, page: &Page) {
        if page.snapshot {
            self.rows.clear();
        }
        for upsert in &page.upserts {
            let row = InstrumentRow::of(&RegisterRow::decode(&upsert.row).unwrap().0).unwrap();
            self.rows.retain(|other| other.listed.key != row.listed.key);
            self.rows.push(row);
        }
        self.rows.retain(|row| !page.removals.contains(&row.listed.tag));
        self.rows.sort_by(|one, other| one.listed.key.cmp(&other.listed.key));
        self.marks.areas = vec![Cursor { area: page.area.clone(), version: page.to }];
        let name = RegisterName { name: "From the hub: north".into(), dated: format!("version {}", page.to) };
        self.register = Some(name);
    }

    /// Every entry, parked ones too.
    pub(crate) fn every_entry(&self) -> impl Iterator<Item = &NewEntry> {
        self.entries.iter().chain(&self.others).chain(&self.parked)
    }

    pub(crate) fn drafts(&self) -> &[Draft] {
        &self.drafts
    }

    pub(crate) fn rows(&self) -> &[InstrumentRow] {
        &self.rows
    }

    /// Where the entry at a place stands.
    pub(crate) fn stands(&self, seq: u64) -> Stands {
        let covering = self.receipts.iter().filter(|(until, _)| seq <= *until);
        covering.map(|(_, stands)| *stands).max().unwrap_or(Stands::Here)
    }

    /// Returns what must be there before the first deed, after it, after the second, and so on.
    pub(crate) fn along(deeds: &[Deed]) -> Vec<Truth> {
        let mut truths = vec![Truth::default()];
        for deed in deeds {
            let last = truths[truths.len() - 1].clone();
            truths.push(last.after(deed));
        }
        truths.into_iter().map(Truth::read_back).collect()
    }

    /// Reads all that a store holds, or says what could not be read.
    pub(crate) fn of(store: &Store) -> Result<Truth, Error> {
        let mut settings = BTreeMap::new();
        for name in ["technician", "theme"] {
            if let Some(value) = store.setting(name)? {
                settings.insert(name.to_owned(), value);
            }
        }
        let entries = store.entries(Place { log: *LOG, seq: Seq::FIRST }, 1_000)?;
        let (mut others, mut parked): (Vec<NewEntry>, _) = (all(store)?, store.parked()?);
        others.retain(|entry| entry.place.log != *LOG);
        parked.sort_by_key(|entry| (entry.place, entry.hash));
        views_agree(store, &others)?;
        Ok(Truth {
            others,
            parked,
            receipts: receipts_of(store, entries.len() as u64)?,
            marks: Ledger::marks(store)?,
            hub: store.hub()?,
            drafts: store.drafts()?,
            entries: entries.into_iter().map(|entry| entry.entry).collect(),
            signed: store.signed(1_000)?,
            settings,
            register: store.register_name()?,
            rows: rows_of(store)?,
        })
    }

    /// Asks a store for one thing after the other and returns how many answers were errors. An answer must be
    /// the truth: panics where it is not.
    pub(crate) fn errors_of(&self, store: &Store, what: &str) -> usize {
        let mut errors = 0;
        let mut count = |result: Result<bool, Error>| match result {
            Ok(same) => assert!(same, "{what}: an answer is not the truth"),
            Err(error) => {
                assert_ne!(error.code(), "store.full", "{what}: {error}");
                errors += 1;
            }
        };
        count(store.drafts().map(|drafts| drafts == self.drafts));
        count(store.signed(1_000).map(|signed| signed == self.signed));
        count(store.signed_count().map(|count| count as usize == self.signed.len()));
        count(store.register_name().map(|name| name == self.register));
        count(store.instrument_count().map(|count| count as usize == self.rows.len()));
        for (name, value) in &self.settings {
            count(store.setting(name).map(|found| found.as_ref() == Some(value)));
        }
        for draft in &self.drafts {
            count(store.draft(&draft.id).map(|found| found.as_ref() == Some(draft)));
        }
        for entry in &self.entries {
            let same = |found: Option<store::Entry>| found.is_some_and(|found| found.entry == *entry);
            count(store.entry(entry.place).map(same));
            let stands = store.stands(entry.place);
            count(stands.map(|stands| stands.is_some_and(|stands| stands == self.stands(entry.place.seq.0))));
        }
        count(all(store).map(|found| {
            found.into_iter().filter(|entry| entry.place.log != *LOG).collect::<Vec<_>>() == self.others
        }));
        count(store.parked().map(|parked| parked.len() == self.parked.len()));
        count(Ledger::marks(store).map(|marks| marks == self.marks));
        count(store.hub().map(|hub| hub == self.hub));
        for row in &self.rows {
            for code in row.codes.iter().filter(|code| *code != "twin") {
                count(store.tags_of_code(code).map(|tags| tags == [row.listed.tag.clone()]));
            }
            let body = store.instrument(&row.listed.key);
            count(body.map(|body| body.as_ref() == Some(&row.body)));
        }
        let twins = store.tags_of_code("twin");
        let expected = self.rows.iter().filter(|row| row.codes.iter().any(|code| code == "twin")).count();
        count(twins.map(|tags| tags.len() == expected));
        errors
    }
}

/// Every entry, by log, place and hash.
pub(crate) fn all(store: &Store) -> Result<Vec<NewEntry>, Error> {
    let mut all: Vec<NewEntry> = store.newest(None, u32::MAX)?.into_iter().map(|kept| kept.entry).collect();
    all.sort_by_key(|entry| (entry.place, entry.hash));
    Ok(all)
}

/// What is held of each log must be what its entries say, whatever happened.
fn views_agree(store: &Store, others: &[NewEntry]) -> Result<(), Error> {
    let mut naive: BTreeMap<store::LogId, (Runs, Vec<(Seq, store::PayloadHash)>)> = BTreeMap::new();
    for entry in others {
        let (runs, held) = naive.entry(entry.place.log).or_default();
        let before = entry.previous.map(|hash| (Seq(entry.place.seq.0 - 1), hash));
        let step = Step {
            seq: entry.place.seq.of_record().unwrap(),
            previous: entry.previous.map(store::PayloadHash::of_record),
            hash: entry.hash.of_record(),
        };
        runs.add(step, before.is_some_and(|before| held.contains(&before)));
        held.push((entry.place.seq, entry.hash));
    }
    for (log, (runs, _)) in naive {
        assert_eq!(store.runs(log)?, runs, "what is held of a log is not what its entries say");
    }
    Ok(())
}

/// The receipts as far as they can be told apart: where the own entries stand.
fn receipts_of(store: &Store, entries: u64) -> Result<Vec<(u64, Stands)>, Error> {
    let mut receipts = Vec::new();
    for seq in 1..=entries {
        receipts.push((seq, store.stands(Place { log: *LOG, seq: Seq(seq) })?.unwrap()));
    }
    Ok(receipts)
}

/// Reads the register back as it was loaded.
fn rows_of(store: &Store) -> Result<Vec<InstrumentRow>, Error> {
    let twins = store.tags_of_code("twin")?;
    let mut rows = Vec::new();
    for listed in store.listed()? {
        let body = store.instrument(&listed.key)?.unwrap_or_default();
        let edition = listed.serial.replace('-', "/");
        let mut own = vec![format!("https://example.invalid/{edition}")];
        // A row of the hub says its codes itself.
        if let Ok(row) = serde_json::from_str::<domain::visit::Instrument>(&body) {
            own = row.codes;
        }
        let mut codes = Vec::new();
        for own in own {
            if store.tags_of_code(&own)? == [listed.tag.clone()] {
                codes.push(own);
            }
        }
        if twins.contains(&listed.tag) {
            codes.push("twin".to_owned());
        }
        rows.push(InstrumentRow { listed, codes, body });
    }
    Ok(rows)
}
