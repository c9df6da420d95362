//! What must be there: a model of the store in plain Rust, and the comparison with the real one.

use std::collections::BTreeMap;

use store::{Draft, Error, InstrumentRow, NewEntry, Place, RegisterName, Seq, SignedVisit, Store};

use crate::story::{Deed, LOG};

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
}

impl Truth {
    fn after(mut self, deed: &Deed) -> Truth {
        match deed {
            Deed::Save(draft) => {
                self.drafts.retain(|other| other.id != draft.id);
                self.drafts.insert(0, draft.clone());
            }
            Deed::Discard(id) => self.drafts.retain(|draft| draft.id != *id),
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
        self
    }

    /// Returns what must be there before the first deed, after it, after the second, and so on.
    pub(crate) fn along(deeds: &[Deed]) -> Vec<Truth> {
        let mut truths = vec![Truth::default()];
        for deed in deeds {
            let last = truths[truths.len() - 1].clone();
            truths.push(last.after(deed));
        }
        truths
    }

    /// Reads all that a store holds, or says what could not be read.
    pub(crate) fn of(store: &Store) -> Result<Truth, Error> {
        let mut settings = BTreeMap::new();
        for name in ["technician", "theme"] {
            if let Some(value) = store.setting(name)? {
                settings.insert(name.to_owned(), value);
            }
        }
        let entries = store.entries(Place { log: LOG, seq: Seq::FIRST }, 1_000)?;
        Ok(Truth {
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
        }
        for row in &self.rows {
            let tags = store.tags_of_code(&row.codes[0]);
            count(tags.map(|tags| tags == [row.listed.tag.clone()]));
            let body = store.instrument(&row.listed.key);
            count(body.map(|body| body.as_ref() == Some(&row.body)));
        }
        let twins = store.tags_of_code("twin");
        count(twins.map(|tags| tags.len() == self.rows.len()));
        errors
    }
}

/// Reads the register back as it was loaded.
fn rows_of(store: &Store) -> Result<Vec<InstrumentRow>, Error> {
    let twins = store.tags_of_code("twin")?;
    let mut rows = Vec::new();
    for listed in store.listed()? {
        let body = store.instrument(&listed.key)?.unwrap_or_default();
        let edition = listed.serial.replace('-', "/");
        let own = format!("https://example.invalid/{edition}");
        let mut codes = Vec::new();
        if store.tags_of_code(&own)? == [listed.tag.clone()] {
            codes.push(own);
        }
        if twins.contains(&listed.tag) {
            codes.push("twin".to_owned());
        }
        rows.push(InstrumentRow { listed, codes, body });
    }
    Ok(rows)
}
