//! What the connections to a file have in common while they are open: the locks on it, and the memory that holds the index
//! of its write-ahead log. None of it is on the storage, and none of it outlasts a cut.
//!
//! The locks are those of SQLite's own Unix file system: of a file one of five levels for each connection ("File Locking
//! And Concurrency In SQLite Version 3", section 3), and of the index eight that are shared or taken alone ("WAL-mode File
//! Format", section 2.3).

use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::AtomicU64;

/// How far a connection has locked a file: 0 for not at all, then SHARED, RESERVED, PENDING and EXCLUSIVE.
pub(crate) type Level = i32;

const SHARED: Level = 1;
const RESERVED: Level = 2;
const PENDING: Level = 3;
const EXCLUSIVE: Level = 4;

/// A connection to a file.
pub(crate) type Who = u64;

/// How many locks an index has.
const LOCKS: usize = 8;

/// A piece of an index. SQLite writes into it from several threads and orders that by itself.
type Region = Box<[AtomicU64]>;

#[derive(Debug, Default)]
pub(crate) struct Together {
    files: BTreeMap<String, Common>,
    last: Who,
}

#[derive(Debug, Default)]
struct Common {
    levels: BTreeMap<Who, Level>,
    index: Vec<Region>,
    mapped: BTreeSet<Who>,
    locks: [Lock; LOCKS],
}

#[derive(Debug, Default)]
struct Lock {
    shared: BTreeSet<Who>,
    alone: Option<Who>,
}

impl Together {
    /// Names one more connection.
    pub(crate) fn next(&mut self) -> Who {
        self.last += 1;
        self.last
    }

    /// Forgets a connection.
    pub(crate) fn leave(&mut self, file: &str, who: Who) {
        self.unmap(file, who);
        self.unlock(file, who, 0);
        self.files.retain(|_, common| !common.levels.is_empty() || !common.mapped.is_empty());
    }

    /// Locks a file as far as a level; false where others are in the way.
    pub(crate) fn lock(&mut self, file: &str, who: Who, level: Level) -> bool {
        let levels = &mut self.files.entry(file.to_owned()).or_default().levels;
        if levels.get(&who).is_some_and(|held| *held >= level) {
            return true;
        }
        let highest =
            levels.iter().filter(|(other, _)| **other != who).map(|(_, level)| *level).max().unwrap_or(0);
        let gets = match level {
            ..=SHARED => highest < PENDING,
            RESERVED => highest < RESERVED,
            _ => highest < SHARED,
        };
        // Who waits to be alone lets nobody new in.
        let waits = !gets && level == EXCLUSIVE && highest == SHARED;
        if gets || waits {
            levels.insert(who, if gets { level } else { PENDING });
        }
        gets
    }

    /// Takes a lock back to a level.
    pub(crate) fn unlock(&mut self, file: &str, who: Who, level: Level) {
        let Some(common) = self.files.get_mut(file) else { return };
        if level == 0 {
            common.levels.remove(&who);
        } else if let Some(held) = common.levels.get_mut(&who) {
            *held = level.min(*held);
        }
    }

    /// Returns whether somebody means to write.
    pub(crate) fn is_reserved(&self, file: &str) -> bool {
        self.files.get(file).is_some_and(|common| common.levels.values().any(|level| *level >= RESERVED))
    }

    /// Returns where a piece of the index lies, made where it is not there and `extend` says so.
    pub(crate) fn map(
        &mut self,
        file: &str,
        who: Who,
        piece: usize,
        length: usize,
        extend: bool,
    ) -> Option<*const AtomicU64> {
        let common = self.files.entry(file.to_owned()).or_default();
        common.mapped.insert(who);
        while extend && common.index.len() <= piece {
            common.index.push((0..length.div_ceil(8)).map(|_| AtomicU64::new(0)).collect());
        }
        common.index.get(piece).map(|region| region.as_ptr())
    }

    /// Lets the index go. With the last who lets go its memory is gone.
    pub(crate) fn unmap(&mut self, file: &str, who: Who) {
        let Some(common) = self.files.get_mut(file) else { return };
        common.mapped.remove(&who);
        for lock in &mut common.locks {
            lock.let_go(who);
        }
        if common.mapped.is_empty() {
            common.index.clear();
        }
    }

    /// Takes some of the index's locks, alone or shared; false where others are in the way, and then none of them.
    pub(crate) fn take(&mut self, file: &str, who: Who, (from, many): (usize, usize), alone: bool) -> bool {
        let locks = &mut self.files.entry(file.to_owned()).or_default().locks;
        let mut wanted = locks.iter().skip(from).take(many);
        if !wanted.all(|lock| lock.is_free_for(who, alone)) {
            return false;
        }
        for lock in locks.iter_mut().skip(from).take(many) {
            if alone {
                lock.alone = Some(who);
            } else {
                lock.shared.insert(who);
            }
        }
        true
    }

    /// Gives some of them back.
    pub(crate) fn give_back(&mut self, file: &str, who: Who, (from, many): (usize, usize)) {
        let Some(common) = self.files.get_mut(file) else { return };
        common.locks.iter_mut().skip(from).take(many).for_each(|lock| lock.let_go(who));
    }
}

impl Lock {
    fn is_free_for(&self, who: Who, alone: bool) -> bool {
        let others_share = self.shared.iter().any(|other| *other != who);
        self.alone.is_none_or(|holder| holder == who) && !(alone && others_share)
    }

    fn let_go(&mut self, who: Who) {
        self.shared.remove(&who);
        self.alone.take_if(|holder| *holder == who);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_writes_and_others_read_until_it_has_to_be_alone() {
        let mut files = Together::default();
        let [one, other, late] = [files.next(), files.next(), files.next()];
        assert!(files.lock("a", one, SHARED) && files.lock("a", other, SHARED));
        assert!(!files.is_reserved("a"));
        assert!(files.lock("a", one, RESERVED) && !files.lock("a", other, RESERVED));
        assert!(files.is_reserved("a") && !files.is_reserved("b"));
        assert!(!files.lock("a", one, EXCLUSIVE), "the other reads");
        assert!(!files.lock("a", late, SHARED), "nobody new comes in");
        files.unlock("a", other, 0);
        assert!(files.lock("a", one, EXCLUSIVE) && !files.lock("a", other, SHARED));
        files.unlock("a", one, SHARED);
        assert!(files.lock("a", other, SHARED));
        files.leave("a", one);
        assert!(files.lock("a", other, EXCLUSIVE));
    }

    #[test]
    fn an_index_is_shared_while_somebody_has_it_and_then_begins_anew() {
        let mut files = Together::default();
        let [one, other] = [files.next(), files.next()];
        assert_eq!(files.map("a", one, 0, 32_768, false), None);
        let first = files.map("a", one, 1, 32_768, true);
        assert!(first.is_some() && files.map("a", other, 1, 32_768, false) == first);
        assert_ne!(files.map("b", one, 1, 32_768, true), first);
        files.unmap("a", one);
        assert_eq!(files.map("a", other, 1, 32_768, false), first);
        files.unmap("a", other);
        assert_eq!(files.map("a", one, 0, 32_768, false), None);
    }

    #[test]
    fn a_lock_of_the_index_is_many_readers_or_one_alone() {
        let mut files = Together::default();
        let [one, other] = [files.next(), files.next()];
        assert!(files.take("a", one, (3, 1), false) && files.take("a", other, (3, 1), false));
        assert!(!files.take("a", one, (1, 4), true) && files.take("a", other, (1, 2), true), "all or none");
        files.give_back("a", other, (3, 1));
        assert!(files.take("a", one, (3, 1), true) && !files.take("a", other, (3, 1), false));
        files.unmap("a", one);
        assert!(files.take("a", other, (3, 1), false));
    }
}
