//! The bundle, or where one would be too long several, numbered: each written as its records come, each with all that it
//! needs to prove by itself. Under its own name a file is whole.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use exchange::bundle::Writer;
use exchange::packed::Packer;
use hubstore::StoredEntry;
use record::{EntryId, LogId};

use super::needs::{Needs, VOUCHING, key};
use crate::Store;

/// How many bytes wait to be packed at the most.
const WAITING: usize = 1 << 20;

/// A file that is whole.
pub(super) struct Whole {
    pub(super) path: PathBuf,
    /// How many records are in it, with those that vouch for its logs.
    pub(super) records: usize,
}

/// The file that was asked for, or the set of them.
pub(super) struct Files<'a> {
    asked: &'a Path,
    /// The most bytes that one unpacks to.
    most: usize,
    whole: Vec<Whole>,
    open: Option<Open>,
}

impl<'a> Files<'a> {
    /// Begins.
    pub(super) fn at(asked: &'a Path, most: usize) -> Files<'a> {
        Files { asked, most, whole: Vec::new(), open: None }
    }

    /// Puts a record in, in a further file where it would make this one too long.
    pub(super) async fn put(&mut self, store: &Store, needs: &Needs, entry: &StoredEntry) -> Result<()> {
        let mut lacks = self.lacks(store, needs, entry).await?;
        if self.open.as_ref().is_some_and(|open| open.length_with(&lacks) > self.most) {
            self.finish(true)?;
            lacks = self.lacks(store, needs, entry).await?;
        }
        let open = match self.open.take() {
            Some(open) => open,
            None => Open::at(beside(self.asked))?,
        };
        self.open.insert(open).take(&lacks)
    }

    /// Ends, and returns the files, in order.
    pub(super) fn end(mut self) -> Result<Vec<Whole>> {
        self.finish(false)?;
        Ok(self.whole)
    }

    /// What the open file lacks for a record, the record itself included.
    async fn lacks(&self, store: &Store, needs: &Needs, entry: &StoredEntry) -> Result<Lacks> {
        let has_log = |log: &LogId| self.open.as_ref().is_some_and(|open| open.logs.contains(log));
        let has = |id: &EntryId| self.open.as_ref().is_some_and(|open| open.vouching.contains(id));
        let mut lacks = Lacks::default();
        if !has_log(&entry.id.log) {
            for log in needs.behind(entry.id.log).into_iter().filter(|log| !has_log(log)) {
                lacks.keys.push((log, key(store, log).await?));
                lacks.vouching.extend(needs.said_of(log).iter().filter(|said| !has(&said.id)).cloned());
            }
        }
        let named = lacks.vouching.iter().any(|said| said.id == entry.id);
        lacks.entry = Some(entry.clone()).filter(|_| !named && !has(&entry.id));
        Ok(lacks)
    }

    /// Brings the open file under its name. Where more comes, or came before it, it is one of several.
    fn finish(&mut self, more: bool) -> Result<()> {
        let Some(open) = self.open.take() else { return Ok(()) };
        let number = self.whole.len() + 1;
        let path = if more || number > 1 { numbered(self.asked, number) } else { self.asked.to_owned() };
        self.whole.push(Whole { records: open.records, path: open.close(path)? });
        Ok(())
    }
}

/// Returns files of such names that lie there from an earlier export and are not of this set.
pub(super) fn left_over(asked: &Path, whole: &[Whole]) -> Vec<PathBuf> {
    let next = if whole.len() > 1 { whole.len() + 1 } else { 1 };
    let mut names = vec![asked.to_owned(), numbered(asked, next)];
    names.retain(|name| name.exists() && whole.iter().all(|whole| whole.path != *name));
    names
}

/// What a file lacks for a record.
#[derive(Default)]
struct Lacks {
    keys: Vec<(LogId, Vec<u8>)>,
    vouching: Vec<StoredEntry>,
    entry: Option<StoredEntry>,
}

/// A file that is being written.
struct Open {
    part: Part,
    packer: Packer<File>,
    bundle: Writer,
    logs: BTreeSet<LogId>,
    vouching: BTreeSet<EntryId>,
    records: usize,
}

impl Open {
    fn at(part: PathBuf) -> Result<Open> {
        let begun = File::create(&part).and_then(Packer::over);
        let packer = begun.with_context(|| unwritten(&part))?;
        Ok(Open {
            part: Part(part),
            packer,
            bundle: Writer::new(),
            logs: BTreeSet::new(),
            vouching: BTreeSet::new(),
            records: 0,
        })
    }

    fn length_with(&self, lacks: &Lacks) -> usize {
        let keys = lacks.keys.iter().map(|(_, key)| key.len());
        let entries = lacks.vouching.iter().chain(&lacks.entry).map(|entry| entry.bytes.len());
        self.bundle.length_with(keys.chain(entries))
    }

    fn take(&mut self, lacks: &Lacks) -> Result<()> {
        for (log, key) in &lacks.keys {
            self.bundle.key(key);
            self.logs.insert(*log);
        }
        for entry in lacks.vouching.iter().chain(&lacks.entry) {
            self.bundle.entry(&entry.bytes);
            self.records += 1;
            // What was written for its own sake may be needed further on.
            if VOUCHING.contains(&entry.kind) {
                self.vouching.insert(entry.id);
            }
        }
        if self.bundle.waiting() >= WAITING {
            self.packer.put(&self.bundle.drain()).with_context(|| unwritten(&self.part.0))?;
        }
        Ok(())
    }

    fn close(self, path: PathBuf) -> Result<PathBuf> {
        let Open { part, mut packer, bundle, .. } = self;
        let written = packer.put(&bundle.done()).and_then(|()| packer.done()?.sync_all());
        written.and_then(|()| fs::rename(&part.0, &path)).with_context(|| unwritten(&path))?;
        Ok(path)
    }
}

fn unwritten(path: &Path) -> String {
    format!("{} could not be written. Check that the disk has space.", path.display())
}

/// A file that is not whole: it goes where nothing came of it.
struct Part(PathBuf);

impl Drop for Part {
    fn drop(&mut self) {
        // Nothing is there once it has its own name.
        let _ = fs::remove_file(&self.0);
    }
}

fn beside(asked: &Path) -> PathBuf {
    let mut name = asked.as_os_str().to_owned();
    name.push(".part");
    PathBuf::from(name)
}

/// `all.bundle` becomes `all-2.bundle`.
fn numbered(asked: &Path, number: usize) -> PathBuf {
    let mut name = asked.file_stem().unwrap_or_default().to_owned();
    name.push(format!("-{number}"));
    if let Some(end) = asked.extension() {
        name.push(".");
        name.push(end);
    }
    asked.with_file_name(name)
}
