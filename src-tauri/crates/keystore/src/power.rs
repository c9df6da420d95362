//! A folder whose power goes, and the cuts that sealing and taking over have to survive.
//!
//! What is in a file is safe once it is written, its name only once the names are synced. Until then a power cut may keep
//! any of the changes and lose any other; the write that it meets leaves a piece of its file.

use std::collections::BTreeMap;
use std::io::{Error, Result};
use std::sync::{Arc, Mutex, MutexGuard};

use field::host::{KeyFolder, KeyName};
use field::{Kept, Keys, KeysError};

use crate::folder::SEALED;
use crate::stand_in::StandIn;
use crate::{Files, SealedFolder, marker};

type Names = BTreeMap<String, Vec<u8>>;

#[derive(Debug, Clone)]
struct Folder(Arc<Mutex<State>>);

#[derive(Debug)]
struct State {
    seen: Names,
    safe: Names,
    since: Vec<Change>,
    /// How many changes go well before the power goes, and how much of the file is left that is then written.
    cut: (usize, usize),
    off: bool,
}

#[derive(Debug, Clone)]
enum Change {
    Put(String, Vec<u8>),
    Rename(String, String),
    Remove(String),
}

impl Change {
    fn happens(&self, names: &mut Names) {
        match self {
            Change::Put(name, bytes) => {
                names.insert(name.clone(), bytes.clone());
            }
            Change::Rename(from, to) => {
                if let Some(bytes) = names.remove(from) {
                    names.insert(to.clone(), bytes);
                }
            }
            Change::Remove(name) => {
                names.remove(name);
            }
        }
    }
}

impl Folder {
    fn of(names: Names, cut: (usize, usize)) -> Folder {
        Folder(Arc::new(Mutex::new(State {
            seen: names.clone(),
            safe: names,
            since: Vec::new(),
            cut,
            off: false,
        })))
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.0.lock().unwrap()
    }

    fn change(&self, change: Change) -> Result<()> {
        let mut state = self.on()?;
        if state.cut.0 == 0 {
            state.off = true;
            if let Change::Put(name, mut bytes) = change {
                bytes.truncate(state.cut.1);
                state.since.push(Change::Put(name, bytes));
            }
            return Err(Error::other("the power is gone"));
        }
        state.cut.0 -= 1;
        change.happens(&mut state.seen);
        state.since.push(change);
        Ok(())
    }

    fn on(&self) -> Result<MutexGuard<'_, State>> {
        let state = self.state();
        if state.off { Err(Error::other("the power is gone")) } else { Ok(state) }
    }

    /// Returns every state that the folder may be in once the power is back.
    fn outcomes(&self) -> Vec<Names> {
        let state = self.state();
        let outcome = |kept: usize| {
            let mut names = state.safe.clone();
            let changes = state.since.iter().enumerate().filter(|(at, _)| kept >> at & 1 == 1);
            changes.for_each(|(_, change)| change.happens(&mut names));
            names
        };
        (0..1 << state.since.len()).map(outcome).collect()
    }
}

impl Files for Folder {
    fn names(&self) -> Result<Vec<String>> {
        Ok(self.on()?.seen.keys().cloned().collect())
    }

    fn read(&self, name: &str) -> Result<Option<Vec<u8>>> {
        Ok(self.on()?.seen.get(name).cloned())
    }

    fn write(&self, name: &str, bytes: &[u8]) -> Result<()> {
        assert!(!self.on()?.seen.contains_key(name), "{name} is there already");
        self.change(Change::Put(name.to_owned(), bytes.to_owned()))
    }

    fn rename(&self, from: &str, to: &str) -> Result<()> {
        self.change(Change::Rename(from.to_owned(), to.to_owned()))
    }

    fn remove(&self, name: &str) -> Result<()> {
        self.change(Change::Remove(name.to_owned()))
    }

    fn sync(&self) -> Result<()> {
        let mut state = self.on()?;
        if state.cut.0 == 0 {
            state.off = true;
            return Err(Error::other("the power is gone"));
        }
        state.cut.0 -= 1;
        state.safe = state.seen.clone();
        state.since.clear();
        Ok(())
    }
}

const SECRET: [u8; 32] = [7; 32];
const NEVER: (usize, usize) = (usize::MAX, 0);

fn name() -> KeyName {
    KeyName::read(b"key-file:000102030405060708090a0b0c0d0e0f").unwrap()
}

/// The folder of an earlier install.
fn earlier() -> Names {
    BTreeMap::from([(name().file(KeyFolder::ENDING), SECRET.to_vec())])
}

/// Opens a folder with every cut in turn, as often one after the other as `again` says, and returns how many were made.
/// After each the key opens, or is refused while the power is gone; then it is taken over whole.
fn cuts(names: &Names, store: &StandIn, again: usize) -> usize {
    let mut made = 0;
    for (cut, torn) in (0..).flat_map(|cut| [0, 20, usize::MAX].map(|torn| (cut, torn))) {
        let folder = Folder::of(names.clone(), (cut, torn));
        let opened = SealedFolder::over(folder.clone(), store.clone()).open(&name().kept());
        if !folder.state().off {
            assert_eq!(opened, Ok(SECRET));
            let held: Vec<_> = folder.state().safe.keys().cloned().collect();
            assert_eq!(held, [name().file(SEALED), marker::FILE.to_owned()], "something was left lying");
            break;
        }
        assert!(matches!(opened, Ok(SECRET) | Err(KeysError::Refused { .. })), "{opened:?}");
        made += 1;
        for outcome in folder.outcomes() {
            let after = SealedFolder::over(Folder::of(outcome.clone(), NEVER), store.clone());
            assert_eq!(after.open(&name().kept()), Ok(SECRET), "cut {cut}, {torn} bytes: {outcome:?}");
            if again > 0 {
                made += cuts(&outcome, store, again - 1);
            }
        }
    }
    made
}

#[test]
fn a_key_is_taken_over_whatever_cut_the_power_once_and_again() {
    let made = cuts(&earlier(), &StandIn::default(), 1);
    println!("{made} cuts");
    assert!(made > 500, "only {made} cuts were made");
}

#[test]
fn a_key_that_was_sealed_is_there_after_any_cut() {
    let mut cut = 0;
    loop {
        let (store, folder) = (StandIn::default(), Folder::of(Names::new(), (cut, 0)));
        let sealed = SealedFolder::over(folder.clone(), store.clone()).seal(&SECRET);
        if let Ok(kept) = sealed {
            for outcome in folder.outcomes() {
                let after = SealedFolder::over(Folder::of(outcome, NEVER), store.clone());
                assert_eq!(after.open(&kept), Ok(SECRET));
            }
            break;
        }
        cut += 1;
    }
    assert_eq!(cut, 8, "marker and key: what was left of a file goes, a file, its name, the sync");
}

#[test]
fn a_key_store_that_refuses_leaves_the_key_of_an_earlier_install_in_use() {
    let (store, folder) = (StandIn::default(), Folder::of(earlier(), NEVER));
    store.refuse(true);
    let keys = SealedFolder::over(folder.clone(), store.clone());
    assert_eq!(keys.open(&name().kept()), Ok(SECRET));
    assert_eq!(keys.kept(&name().kept()), Kept::InAFile);
    assert!(folder.state().seen.contains_key(&name().file(KeyFolder::ENDING)));
    store.refuse(false);
    let keys = SealedFolder::over(folder.clone(), store);
    assert_eq!((keys.open(&name().kept()), keys.kept(&name().kept())), (Ok(SECRET), Kept::Sealed));
    assert!(!folder.state().safe.contains_key(&name().file(KeyFolder::ENDING)));
}

#[test]
fn a_key_store_that_seals_wrongly_takes_no_key_over() {
    let (store, folder) = (StandIn::default(), Folder::of(earlier(), NEVER));
    store.seal_wrongly();
    let keys = SealedFolder::over(folder.clone(), store);
    assert_eq!(keys.open(&name().kept()), Ok(SECRET));
    assert!(folder.state().safe.contains_key(&name().file(KeyFolder::ENDING)));
}

#[test]
fn keys_of_logs_that_are_written_no_more_are_taken_over_and_pieces_are_left() {
    let other = KeyName::read(b"key-file:ffffffffffffffffffffffffffffffff").unwrap();
    let mut names = earlier();
    names.insert(other.file(KeyFolder::ENDING), vec![9; 32]);
    names.insert("eeeeeeeeeeeeeeeeeeeeeeeeeeeeeeee.key".to_owned(), vec![1; 31]);
    let (store, folder) = (StandIn::default(), Folder::of(names, NEVER));
    let keys = SealedFolder::over(folder.clone(), store);
    assert_eq!(keys.open(&name().kept()), Ok(SECRET));
    assert_eq!(keys.open(&other.kept()), Ok([9; 32]));
    let unsealed: Vec<_> =
        folder.state().safe.keys().filter(|name| name.ends_with(".key")).cloned().collect();
    assert_eq!(unsealed, ["eeeeeeeeeeeeeeeeeeeeeeeeeeeeeeee.key"]);
}
