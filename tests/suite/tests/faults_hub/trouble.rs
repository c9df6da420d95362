//! The storage refuses, at any place: a sync fails once, or there is no room any more.
//!
//! The call that meets it must not say that it is committed. What it was about is then there whole or not at all, and all
//! before it is there.

use faults_vfs::{Files, Trouble};
use hubstore::{Error, Flush};

use crate::machine::Machine;
use crate::story::Deed;
use crate::truth::Truth;

impl Machine {
    /// Plays the day in trouble, and returns which deed was refused and why; none where the file did not open at all, or
    /// everything went through.
    fn play_in(&self, trouble: Trouble) -> Option<(usize, Error)> {
        self.mounted.replace(Files::new());
        self.mounted.disk().set_trouble(trouble);
        let store = self.open(Flush::AtCommit).ok()?;
        let refused = |deed: &Deed| self.runtime.block_on(deed.on(&store)).err();
        self.deeds.iter().enumerate().find_map(|(done, deed)| Some((done, refused(deed)?)))
    }

    /// What is there once the trouble is over.
    fn found(&self) -> Truth {
        self.mounted.disk().set_trouble(Trouble::None);
        let store = self.open(Flush::AtCommit).unwrap();
        self.runtime.block_on(store.check()).unwrap();
        self.runtime.block_on(Truth::of(&store)).unwrap()
    }

    /// Lets each write or sync of the day meet the trouble, until none does; returns how many deeds were refused.
    fn at_every_place(&self, trouble: impl Fn(u64) -> Trouble, is_it: impl Fn(&Error) -> bool) -> usize {
        let mut refused = 0;
        for place in 0.. {
            let met = self.play_in(trouble(place));
            let was_met = self.mounted.disk().count() > place;
            let found = self.found();
            match met {
                Some((done, error)) => {
                    assert!(is_it(&error), "place {place}, {:?}: {error:?}", self.deeds[done]);
                    let may_be = &self.truths[done..done + 2];
                    assert!(may_be.contains(&found), "place {place}: not as before or after deed {done}");
                    refused += 1;
                }
                None if !was_met => break,
                // While it was opened for the first time, or by the last sync, when nobody is left to be told.
                None => assert!([self.truths.first(), self.truths.last()].contains(&Some(&found))),
            }
        }
        refused
    }
}

#[test]
fn a_sync_that_fails_is_never_called_committed() {
    let machine = Machine::named("hub-lost-sync");
    let refused = machine.at_every_place(Trouble::SyncFailsAfter, |error| matches!(error, Error::Io { .. }));
    println!("{refused} deeds met a sync that failed");
    assert!(refused + 2 > machine.deeds.len(), "only {refused} deeds met one");
}

#[test]
fn storage_that_is_full_from_any_write_on_loses_nothing() {
    let machine = Machine::named("hub-full");
    let refused = machine.at_every_place(Trouble::FullAfter, |error| *error == Error::Full);
    println!("{refused} writes met a full storage");
    assert!(refused > machine.deeds.len(), "only {refused} writes met it");
}
