//! The files as the running system sees them, and the note of everything that was done to them.

use std::collections::BTreeMap;

use crate::chance::Chance;
use crate::together::Together;

/// Files by name, with what is in them.
pub type Files = BTreeMap<String, Vec<u8>>;

/// One thing done to the storage, or said about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Op {
    /// A file was made.
    Created {
        /// Its name.
        file: String,
    },
    /// Bytes were written.
    Written {
        /// Where to.
        file: String,
        /// From which byte on.
        at: usize,
        /// The bytes.
        bytes: Vec<u8>,
    },
    /// A file was cut to a length.
    Truncated {
        /// Its name.
        file: String,
        /// Its new length.
        length: usize,
    },
    /// A file's content was pushed to the storage.
    Synced {
        /// Its name.
        file: String,
    },
    /// A file was removed.
    Removed {
        /// Its name.
        file: String,
        /// Whether the folder was synced with it.
        for_good: bool,
    },
    /// A file got another name, for good: its folder was synced with it. Its content was not.
    Renamed {
        /// Its name.
        from: String,
        /// Its new name, whose file goes if there is one.
        to: String,
    },
    /// The test noted that something was acknowledged by now.
    Acknowledged(u64),
}

/// What goes wrong. Writes and syncs are counted from when the trouble was set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trouble {
    /// Nothing.
    None,
    /// After so many writes the storage is full and takes none.
    FullAfter(u64),
    /// After so many writes the storage is full: what is there can be overwritten, nothing can grow.
    NoGrowthAfter(u64),
    /// The sync after so many fails, once.
    SyncFailsAfter(u64),
    /// After so many operations the power is off: whoever would change something is refused, and nothing more is noted. What
    /// a program that goes on meanwhile reads is what it wrote.
    OffAfter(u64),
}

/// Why the storage refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Refused {
    /// It is full.
    Full,
    /// The sync failed.
    Sync,
    /// The power is off.
    Off,
}

/// The storage.
#[derive(Debug)]
pub struct Disk {
    files: Files,
    ops: Vec<Op>,
    trouble: Trouble,
    count: u64,
    pub(crate) chance: Chance,
    pub(crate) together: Together,
}

impl Disk {
    /// Begins with these files, all of them safely stored.
    #[must_use]
    pub fn holding(files: Files) -> Disk {
        Disk {
            files,
            ops: Vec::new(),
            trouble: Trouble::None,
            count: 0,
            chance: Chance::from(1),
            together: Together::default(),
        }
    }

    /// Returns the files as a running system sees them.
    #[must_use]
    pub fn files(&self) -> &Files {
        &self.files
    }

    /// Returns all that was done since this storage began.
    #[must_use]
    pub fn ops(&self) -> &[Op] {
        &self.ops
    }

    /// Notes that something was acknowledged.
    pub fn acknowledge(&mut self, number: u64) {
        self.ops.push(Op::Acknowledged(number));
    }

    /// Sets what goes wrong from now on.
    pub fn set_trouble(&mut self, trouble: Trouble) {
        self.trouble = trouble;
        self.count = 0;
    }

    /// Returns how many writes (or syncs, when those fail; or operations, when the power goes) came since the trouble was
    /// set.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.count
    }

    pub(crate) fn has(&self, file: &str) -> bool {
        self.files.contains_key(file)
    }

    /// Whether the power is off, before one more operation.
    fn is_off(&mut self) -> bool {
        let Trouble::OffAfter(operations) = self.trouble else { return false };
        self.count += 1;
        self.count > operations
    }

    pub(crate) fn create(&mut self, file: &str) {
        if !self.has(file) && !self.is_off() {
            self.files.insert(file.to_owned(), Vec::new());
            self.ops.push(Op::Created { file: file.to_owned() });
        }
    }

    pub(crate) fn length(&self, file: &str) -> usize {
        self.files.get(file).map_or(0, Vec::len)
    }

    /// Copies from a file into `to` and returns how many bytes there were.
    pub(crate) fn read(&self, file: &str, at: usize, to: &mut [u8]) -> usize {
        let rest = self.files.get(file).and_then(|content| content.get(at..)).unwrap_or(&[]);
        let count = rest.len().min(to.len());
        if let (Some(to), Some(from)) = (to.get_mut(..count), rest.get(..count)) {
            to.copy_from_slice(from);
        }
        count
    }

    pub(crate) fn write(&mut self, file: &str, at: usize, bytes: &[u8]) -> Result<(), Refused> {
        if self.is_off() {
            return Err(Refused::Off);
        }
        let grows = at.saturating_add(bytes.len()) > self.length(file);
        let full = match self.trouble {
            Trouble::FullAfter(writes) => self.count >= writes,
            Trouble::NoGrowthAfter(writes) => self.count >= writes && grows,
            Trouble::None | Trouble::SyncFailsAfter(_) | Trouble::OffAfter(_) => false,
        };
        if !matches!(self.trouble, Trouble::SyncFailsAfter(_) | Trouble::OffAfter(_)) {
            self.count += 1;
        }
        let taken = if full { bytes.get(..bytes.len() / 2).unwrap_or(bytes) } else { bytes };
        put(self.files.entry(file.to_owned()).or_default(), at, taken);
        self.ops.push(Op::Written { file: file.to_owned(), at, bytes: taken.to_owned() });
        if full { Err(Refused::Full) } else { Ok(()) }
    }

    pub(crate) fn truncate(&mut self, file: &str, length: usize) -> Result<(), Refused> {
        if self.is_off() {
            return Err(Refused::Off);
        }
        self.files.entry(file.to_owned()).or_default().resize(length, 0);
        self.ops.push(Op::Truncated { file: file.to_owned(), length });
        Ok(())
    }

    pub(crate) fn sync(&mut self, file: &str) -> Result<(), Refused> {
        if self.is_off() {
            return Err(Refused::Off);
        }
        if let Trouble::SyncFailsAfter(syncs) = self.trouble {
            self.count += 1;
            if self.count == syncs + 1 {
                return Err(Refused::Sync);
            }
        }
        self.ops.push(Op::Synced { file: file.to_owned() });
        Ok(())
    }

    /// Returns whether there was such a file.
    pub(crate) fn rename(&mut self, from: &str, to: &str) -> Result<bool, Refused> {
        if self.is_off() {
            return Err(Refused::Off);
        }
        let Some(content) = self.files.remove(from) else { return Ok(false) };
        self.files.insert(to.to_owned(), content);
        self.ops.push(Op::Renamed { from: from.to_owned(), to: to.to_owned() });
        Ok(true)
    }

    /// Returns whether there was such a file.
    pub(crate) fn remove(&mut self, file: &str, for_good: bool) -> Result<bool, Refused> {
        if self.has(file) && self.is_off() {
            return Err(Refused::Off);
        }
        let was_there = self.files.remove(file).is_some();
        if was_there {
            self.ops.push(Op::Removed { file: file.to_owned(), for_good });
        }
        Ok(was_there)
    }
}

/// Puts bytes at a place, with zeros up to it where there was nothing.
pub(crate) fn put(content: &mut Vec<u8>, at: usize, bytes: &[u8]) {
    let end = at.saturating_add(bytes.len());
    if content.len() < end {
        content.resize(end, 0);
    }
    if let Some(place) = content.get_mut(at..end) {
        place.copy_from_slice(bytes);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_done_or_noted_once_the_power_is_off() {
        let mut disk = Disk::holding(Files::new());
        disk.create("a");
        disk.set_trouble(Trouble::OffAfter(2));
        assert_eq!(disk.write("a", 0, b"one"), Ok(()));
        assert_eq!(disk.sync("a"), Ok(()));
        let (files, ops) = (disk.files().clone(), disk.ops().to_vec());
        assert_eq!(disk.write("a", 3, b"two"), Err(Refused::Off));
        assert_eq!(disk.sync("a"), Err(Refused::Off));
        assert_eq!(disk.truncate("a", 0), Err(Refused::Off));
        assert_eq!(disk.rename("a", "b"), Err(Refused::Off));
        assert_eq!(disk.remove("a", true), Err(Refused::Off));
        assert_eq!(disk.remove("never", true), Ok(false));
        disk.create("c");
        assert_eq!((disk.files(), disk.ops()), (&files, &ops[..]));
        assert_eq!(ops.len(), 3, "{ops:?}");
    }
}
