//! The power goes at any write.
//!
//! The day is played once on a storage that notes every operation. Then, for each prefix of the operations and
//! several tosses, the storage is left as a cut might leave it, and the store opened on that: it must open,
//! pass SQLite's own check of every page, hold what was acknowledged (and at most the one deed under way
//! besides, whole), and go on working. Some of the openings are cut again themselves.
//!
//! The store runs with its real settings. Exclusive locking means that the write-ahead log needs no shared
//! memory, so the storage for tests has none.

use faults_vfs::power::{Wakes, cut_everywhere, end_everywhere};
use faults_vfs::{Files, Mounted, Op};
use store::{Flush, Opening};

use crate::story::{Deed, day, draft};
use crate::truth::Truth;

const FILE: &str = "headmark.db";

/// A phone on a storage that can lose its power.
struct Phone {
    mounted: Mounted,
    deeds: Vec<Deed>,
    truths: Vec<Truth>,
}

impl Phone {
    fn named(name: &str) -> Phone {
        let deeds = day();
        let truths = Truth::along(&deeds);
        Phone { mounted: Mounted::named(name), deeds, truths }
    }

    /// Plays the day from an empty storage and returns all that was done to it.
    fn play(&self, flush: Flush) -> Vec<Op> {
        self.mounted.replace(Files::new());
        let store = Opening::at(FILE).through(self.mounted.name()).flush(flush).open().unwrap();
        for (number, deed) in (1..).zip(&self.deeds) {
            deed.on(&store).unwrap();
            self.mounted.disk().acknowledge(number);
        }
        drop(store);
        self.mounted.disk().ops().to_vec()
    }
}

impl Wakes for Phone {
    fn mounted(&self) -> &Mounted {
        &self.mounted
    }

    /// Opens the store on these files: all that was acknowledged is there, and the store goes on working.
    fn compare(&self, files: Files, acknowledged: usize) -> Result<(), String> {
        self.mounted.replace(files);
        let open = || Opening::at(FILE).through(self.mounted.name()).open();
        let store = open().map_err(|error| format!("does not open: {error}"))?;
        self.mounted.disk().acknowledge(0);
        let found = Truth::of(&store).map_err(|error| format!("cannot be read: {error}"))?;
        let may_be = &self.truths[acknowledged..self.truths.len().min(acknowledged + 2)];
        if !may_be.contains(&found) {
            return Err(format!("is not as it was after deed {acknowledged} or the next"));
        }
        let next = draft(99, 1);
        store.save_draft(&next).map_err(|error| format!("takes nothing more: {error}"))?;
        drop(store);
        let again = open().map_err(|error| format!("does not open a second time: {error}"))?;
        match again.draft(&next.id) {
            Ok(Some(kept)) if kept == next => Ok(()),
            other => Err(format!("does not keep what came after: {other:?}")),
        }
    }
}

#[test]
fn nothing_acknowledged_is_lost_to_a_power_cut() {
    let phone = Phone::named("power-full");
    let ops = phone.play(Flush::AtCommit);
    let wrong = cut_everywhere(&phone, &ops, 3);
    println!("{} operations, 3 tosses each", ops.len());
    assert!(wrong.is_empty(), "{} of the cuts lost something:\n{}", wrong.len(), wrong.join("\n"));
}

/// The same cuts on a store that never syncs: the test above is worth something only if this one finds losses.
#[test]
fn the_same_cuts_find_the_losses_of_a_store_that_does_not_sync() {
    let phone = Phone::named("power-off");
    let ops = phone.play(Flush::Never);
    let wrong = cut_everywhere(&phone, &ops, 1);
    println!("{} of {} cuts lost something", wrong.len(), ops.len());
    assert!(wrong.len() > ops.len() / 4, "only {} of {} cuts lost something", wrong.len(), ops.len());
}

/// A process that is killed leaves all its writes to the system: every prefix, nothing dropped.
#[test]
fn nothing_acknowledged_is_lost_when_every_write_so_far_arrives() {
    let phone = Phone::named("power-kill");
    let ops = phone.play(Flush::AtCommit);
    let (wrong, acknowledged) = end_everywhere(&phone, &ops);
    assert!(wrong.is_empty(), "{wrong:?}");
    assert_eq!(acknowledged, phone.deeds.len());
}
