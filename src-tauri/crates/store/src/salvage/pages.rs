//! The pages of a database file, with those of its write-ahead log laid over them.
//!
//! File formats: <https://www.sqlite.org/fileformat2.html>. Our files have pages of 4096 bytes and reserve none of them.

use std::collections::{BTreeMap, BTreeSet};
use std::io::ErrorKind;
use std::path::Path;

use crate::{Error, aside};

/// The length of a page.
pub(super) const PAGE: usize = 4096;

/// The lengths of the heads of a write-ahead log and of each page in it.
const LOG_HEAD: usize = 32;
const FRAME_HEAD: usize = 24;

/// The pages of a file, by number.
pub(super) struct Pages {
    file: Vec<u8>,
    over: BTreeMap<u32, Vec<u8>>,
}

impl Pages {
    /// Reads a file and its write-ahead log.
    pub(super) fn read(path: &Path) -> Result<Pages, Error> {
        let file = std::fs::read(path)?;
        let log = match std::fs::read(aside::log_of(path)) {
            Err(error) if error.kind() == ErrorKind::NotFound => Vec::new(),
            other => other?,
        };
        Ok(Pages { file, over: committed(&log) })
    }

    /// Returns a page; none beyond the end.
    pub(super) fn page(&self, number: u32) -> Option<&[u8]> {
        if let Some(over) = self.over.get(&number) {
            return Some(over);
        }
        let at = usize::try_from(number.checked_sub(1)?).ok()?.checked_mul(PAGE)?;
        self.file.get(at..at.checked_add(PAGE)?)
    }

    /// Returns the numbers of all pages.
    pub(super) fn numbers(&self) -> BTreeSet<u32> {
        let in_file = u32::try_from(self.file.len() / PAGE).unwrap_or(u32::MAX);
        (1..=in_file).chain(self.over.keys().copied()).collect()
    }

    /// Returns the pages that the file says are not used any more, as far as that can be read. What stands on them was
    /// removed or moved.
    pub(super) fn unused(&self) -> BTreeSet<u32> {
        let mut unused = BTreeSet::new();
        let mut trunk = self.page(1).filter(|page| page.starts_with(b"SQLite format 3\0"));
        let mut next = trunk.and_then(|page| number(page, 32)).unwrap_or(0);
        while next != 0 && unused.insert(next) {
            trunk = self.page(next);
            let Some(page) = trunk else { break };
            let count = number(page, 4).unwrap_or(0).min(PAGE as u32 / 4 - 2) as usize;
            unused.extend((0..count).filter_map(|leaf| number(page, 8 + 4 * leaf)));
            next = number(page, 0).unwrap_or(0);
        }
        unused
    }
}

/// The last committed form of each page in a log. What stands behind the last commit was never acknowledged.
fn committed(log: &[u8]) -> BTreeMap<u32, Vec<u8>> {
    let mut committed = BTreeMap::new();
    let mut waiting = Vec::new();
    let Some(salts) = log.get(16..24) else { return committed };
    for frame in log.get(LOG_HEAD..).unwrap_or_default().chunks_exact(FRAME_HEAD + PAGE) {
        let (head, page) = frame.split_at_checked(FRAME_HEAD).unwrap_or_default();
        // The log is used over and over: frames of an earlier round have other salts.
        if head.get(8..16) != Some(salts) {
            break;
        }
        waiting.push((number(head, 0).unwrap_or(0), page.to_vec()));
        if number(head, 4) != Some(0) {
            committed.extend(waiting.drain(..));
        }
    }
    committed
}

/// Reads four bytes, most significant first.
pub(super) fn number(bytes: &[u8], at: usize) -> Option<u32> {
    let four = bytes.get(at..at.checked_add(4)?)?;
    four.try_into().ok().map(u32::from_be_bytes)
}
