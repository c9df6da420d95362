//! The power goes at any write.
//!
//! The day is played once on a storage that notes every operation. Then, for each prefix of the operations and several
//! tosses, the storage is left as a cut might leave it, and the file opened on that: it must open, pass SQLite's own check
//! of every page, hold what was acknowledged (and at most the one deed under way besides, whole), and go on working. Some
//! of the openings are cut again themselves.
//!
//! The hub is closed once in the middle of the day, so that the log is moved into the file then too.

use faults_vfs::power::{Wakes, cut_everywhere, end_everywhere};
use faults_vfs::{Files, Mounted, Op};
use hubstore::{Flush, Ledger};

use crate::machine::Machine;
use crate::story::afterwards;
use crate::truth::Truth;

impl Machine {
    /// Plays the day from an empty storage and returns all that was done to it.
    fn play(&self, flush: Flush) -> Vec<Op> {
        self.mounted.replace(Files::new());
        let mut store = self.open(flush).unwrap();
        for (number, deed) in (1..).zip(&self.deeds) {
            self.runtime.block_on(deed.on(&store)).unwrap();
            self.mounted.disk().acknowledge(number);
            if number == self.deeds.len() as u64 / 2 {
                drop(store);
                store = self.open(flush).unwrap();
            }
        }
        let found = self.runtime.block_on(Truth::of(&store)).unwrap();
        assert_eq!(Some(&found), self.truths.last(), "without any cut");
        drop(store);
        self.mounted.disk().ops().to_vec()
    }
}

impl Wakes for Machine {
    fn mounted(&self) -> &Mounted {
        &self.mounted
    }

    /// Opens the hub on these files: all that was acknowledged is there, each once, and the hub goes on working.
    fn compare(&self, files: Files, acknowledged: usize) -> Result<(), String> {
        self.mounted.replace(files);
        let store = self.open(Flush::AtCommit).map_err(|error| format!("does not open: {error}"))?;
        self.mounted.disk().acknowledge(0);
        self.runtime.block_on(store.check()).map_err(|error| format!("is damaged: {error}"))?;
        let found = self.runtime.block_on(Truth::of(&store));
        let found = found.map_err(|error| format!("cannot be read: {error}"))?;
        let may_be = &self.truths[acknowledged..self.truths.len().min(acknowledged + 2)];
        if !may_be.contains(&found) {
            return Err(format!("is not as it was after deed {acknowledged} or the next"));
        }
        let (next, entry) = afterwards();
        self.runtime.block_on(next.on(&store)).map_err(|error| format!("takes nothing more: {error}"))?;
        drop(store);
        let again =
            self.open(Flush::AtCommit).map_err(|error| format!("does not open a second time: {error}"))?;
        match self.runtime.block_on(again.holds(&[entry])) {
            Ok(held) if held == [true] => Ok(()),
            other => Err(format!("does not keep what came after: {other:?}")),
        }
    }
}

#[test]
fn nothing_acknowledged_is_lost_to_a_power_cut() {
    let machine = Machine::named("hub-power-full");
    let ops = machine.play(Flush::AtCommit);
    let wrong = cut_everywhere(&machine, &ops, 3);
    println!("{} operations, 3 tosses each", ops.len());
    assert!(wrong.is_empty(), "{} of the cuts lost something:\n{}", wrong.len(), wrong.join("\n"));
}

/// The same cuts on a file that is never synced: the test above is worth something only if this one finds losses.
#[test]
fn the_same_cuts_find_the_losses_of_a_hub_that_does_not_sync() {
    let machine = Machine::named("hub-power-off");
    let ops = machine.play(Flush::Never);
    let wrong = cut_everywhere(&machine, &ops, 1);
    println!("{} of {} cuts lost something", wrong.len(), ops.len());
    assert!(wrong.len() > ops.len() / 4, "only {} of {} cuts lost something", wrong.len(), ops.len());
}

/// A process that is killed leaves all its writes to the system: every prefix, nothing dropped.
#[test]
fn nothing_acknowledged_is_lost_when_every_write_so_far_arrives() {
    let machine = Machine::named("hub-power-kill");
    let ops = machine.play(Flush::AtCommit);
    let (wrong, acknowledged) = end_everywhere(&machine, &ops);
    assert!(wrong.is_empty(), "{wrong:?}");
    assert_eq!(acknowledged, machine.deeds.len());
}
