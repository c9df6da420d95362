//! What is taken over from a damaged file: nothing that was ever false, and nothing missing that could be read.
//!
//! What could be read is known by counting: each page is spoilt once in turn, so a thing may be missing at most as often
//! as there are pages that it stands on.

use std::collections::BTreeMap;
use std::path::Path;

use store::{Opening, Place, Seq, Stands, Store};

use crate::people::{SIGNED, kept};
use crate::story::{Deed, LOG, day, hub};
use crate::truth::{self, Truth};

/// How often each thing was missing, and on how many pages it stands.
#[derive(Debug, Default)]
pub(crate) struct Tally(BTreeMap<String, (usize, usize)>);

impl Tally {
    fn miss(&mut self, thing: String, length: usize) {
        self.miss_on(thing, pages_of(length));
    }

    fn miss_on(&mut self, thing: String, pages: usize) {
        self.0.entry(thing).or_insert((0, pages)).0 += 1;
    }

    /// Panics where something was missing more often than pages that hold it were spoilt.
    pub(crate) fn nothing_lost_that_could_be_read(&self) {
        let lost: Vec<_> = self.0.iter().filter(|(_, (missed, pages))| missed > pages).collect();
        assert!(lost.is_empty(), "missing more often than they were spoilt: {lost:?}");
    }
}

/// A row of up to 4061 bytes stands on one page; of a longer one, part of it and 4092 bytes on each further one.
fn pages_of(length: usize) -> usize {
    if length < 3_900 { 1 } else { 1 + length.div_ceil(4092) }
}

/// Takes over what the file that was put aside holds, and compares.
pub(crate) fn compare(path: &Path, aside: &Path, truth: &Truth, tally: &mut Tally, what: &str) {
    let store = Opening::at(path).open().unwrap();
    assert_eq!(store.unsalvaged().unwrap(), [aside.to_owned()], "{what}");
    let salvaged = store.salvage(aside).unwrap();
    assert_eq!(store.unsalvaged().unwrap(), [""; 0].map(std::path::PathBuf::from), "{what}");
    entries(&store, truth, tally, what);
    drafts(&store, truth, tally, what);
    settings(&store, tally, what);
    register(&store, truth, tally, what);
    assert_eq!(
        store.identity().unwrap(),
        None,
        "{what}: nothing may be written behind an end that may be lost"
    );
    assert_eq!(store.drafts().unwrap().len() as u32, salvaged.drafts, "{what}");
    let before = truth::all(&store).unwrap();
    store.salvage(aside).unwrap();
    assert_eq!(truth::all(&store).unwrap(), before, "{what}: twice is not once");
}

fn entries(store: &Store, truth: &Truth, tally: &mut Tally, what: &str) {
    let mut found = truth::all(store).unwrap();
    found.extend(store.parked().unwrap());
    for entry in &found {
        assert!(truth.every_entry().any(|true_one| true_one == entry), "{what}: an entry that never was");
    }
    for entry in truth.every_entry().filter(|entry| !found.contains(entry)) {
        tally.miss(format!("entry {} {:?}", entry.place, entry.hash), entry.bytes.len());
    }
    // What the hub has may be forgotten, and is told again; what it has not is never called sent.
    for seq in 1..=5 {
        let place = Place { log: *LOG, seq: Seq(seq) };
        let stands = store.stands(place).unwrap().unwrap_or(Stands::Here);
        assert!(stands <= truth.stands(seq), "{what}: {place} is called {stands:?}");
    }
}

fn drafts(store: &Store, truth: &Truth, tally: &mut Tally, what: &str) {
    let found = store.drafts().unwrap();
    let ever: Vec<_> = (day().into_iter())
        .filter_map(|deed| if let Deed::Save(draft) = deed { Some(draft) } else { None })
        .collect();
    assert!(found.iter().all(|draft| ever.contains(draft)), "{what}: a draft that never was");
    for draft in truth.drafts().iter().filter(|draft| !found.contains(draft)) {
        tally.miss(format!("draft {}", draft.id), draft.body.len());
    }
}

fn settings(store: &Store, tally: &mut Tally, what: &str) {
    for (name, value) in [("technician", "A. Marsh"), ("theme", "sun")] {
        match store.setting(name).unwrap() {
            None => tally.miss(format!("setting {name}"), 1),
            Some(found) => assert_eq!(found, value, "{what}"),
        }
    }
    match store.hub().unwrap() {
        None => tally.miss("hub".into(), 1),
        Some(found) => assert_eq!(found.organisation, hub().organisation, "{what}"),
    }
    for writer in [&SIGNED.own, &SIGNED.hub, &SIGNED.organisation] {
        if store.public_key(writer.log()).unwrap().is_none() {
            tally.miss(format!("key of {:?}", writer.log()), 1);
        }
    }
    // The list of signed visits and the identities each say which logs are this phone's.
    assert!(
        store.own_logs().unwrap().iter().all(|log| *log == kept(&SIGNED.own_entries[0]).place.log),
        "{what}"
    );
    if store.own_logs().unwrap().is_empty() {
        tally.miss("own logs".into(), 1);
    }
}

fn register(store: &Store, truth: &Truth, tally: &mut Tally, what: &str) {
    let found = store.listed().unwrap();
    for row in truth.rows() {
        match store.instrument(&row.listed.key).unwrap() {
            // Once more with the first page, which says what is unused: an older version of the row stands there, and
            // without that page nobody can say which one counts.
            None => tally.miss_on(format!("instrument {}", row.listed.tag), pages_of(row.body.len()) + 1),
            Some(body) => assert!(body == row.body || !found.contains(&row.listed), "{what}"),
        }
    }
}
