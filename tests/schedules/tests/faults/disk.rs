//! What a phone keeps, in memory: the plainest thing that a session can be driven over.

use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};

use bodies::{CERTIFICATE, Grade, PhotoHash, RECEIPT, REVIEW, REVOCATION, Receipt};
use exchange::have::HaveSet;
use exchange::intake::Arrived;
use exchange::message::{About, Cursor};
use exchange::page::SignedPage;
use exchange::plan;
use exchange::receipt::proven;
use exchange::run::{Runs, Wanted};
use exchange::session::{Held, Ledger, Marks, Taken, Took};
use exchange::trust::Trust;
use record::{EntryId, LogId, PayloadHash, PublicKey, Seq};

use crate::phone::Write;

/// Where a photo is, on a phone that once had it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kept {
    Here,
    Freed,
}

/// All that is on it; a copy is a backup.
#[derive(Debug, Clone)]
pub struct Disk {
    pub entries: BTreeMap<EntryId, Arrived>,
    pub keys: BTreeMap<LogId, PublicKey>,
    pub runs: BTreeMap<LogId, Runs>,
    pub marks: Marks,
    pub rows: BTreeMap<String, BTreeMap<String, Vec<u8>>>,
    pub forks: BTreeSet<(LogId, Seq)>,
    /// The logs that it wrote, the one that it writes now last.
    pub own: Vec<LogId>,
    /// Whom it trusts, kept up with the entries.
    pub trust: Trust,
    root: LogId,
    /// Photos that were taken on this phone.
    pub photos: BTreeMap<PhotoHash, Kept>,
    /// Photos that receipts named, by who gave them and grade: what one named once stays named.
    pub named: BTreeMap<(LogId, Grade), BTreeSet<PhotoHash>>,
    /// The newest receipts, by who gave them, log and grade.
    receipts: BTreeMap<(LogId, LogId, Grade), (EntryId, Receipt)>,
}

impl Disk {
    pub fn rooted_in(root: LogId) -> Disk {
        Disk {
            entries: BTreeMap::new(),
            keys: BTreeMap::new(),
            runs: BTreeMap::new(),
            marks: Marks::default(),
            rows: BTreeMap::new(),
            forks: BTreeSet::new(),
            own: Vec::new(),
            trust: Trust::rooted_in(root),
            root,
            photos: BTreeMap::new(),
            named: BTreeMap::new(),
            receipts: BTreeMap::new(),
        }
    }

    /// What a salvage finds of it: some entries are lost, and news and register are followed from the start.
    pub fn damaged(&self, mut lost: impl FnMut() -> bool) -> Disk {
        let mut left = Disk::rooted_in(self.root);
        (left.keys, left.own, left.rows) = (self.keys.clone(), self.own.clone(), self.rows.clone());
        for arrived in self.entries.values() {
            if !lost() {
                left.put(arrived);
            }
        }
        // Photos lie in files beside.
        left.photos = self.photos.clone();
        left.marks = Marks { epoch: self.marks.epoch, news: 0, areas: self.anew(), give_back: true };
        left
    }

    /// Every area that it has rows of, to be followed from the start.
    fn anew(&self) -> Vec<Cursor> {
        self.rows.keys().map(|area| Cursor { area: area.clone(), version: 0 }).collect()
    }

    /// Takes an entry in, once.
    pub fn put(&mut self, arrived: &Arrived) -> bool {
        if self.entries.contains_key(&arrived.id) {
            return false;
        }
        let EntryId { log, seq, .. } = arrived.id;
        let parent = Seq::new(seq.get() - 1).zip(arrived.previous);
        let parent_held =
            parent.is_some_and(|(seq, payload)| self.entries.contains_key(&EntryId { log, seq, payload }));
        if self.at(log, seq).next().is_some() {
            self.forks.insert((log, seq));
        }
        self.runs.entry(log).or_default().add(arrived.step(), parent_held);
        self.entries.insert(arrived.id, arrived.clone());
        self.learn(arrived);
        true
    }

    /// The entries at a place.
    fn at(&self, log: LogId, seq: Seq) -> impl Iterator<Item = &Arrived> {
        let (least, most) = (PayloadHash([0; 32]), PayloadHash([255; 32]));
        let range = EntryId { log, seq, payload: least }..=EntryId { log, seq, payload: most };
        self.entries.range(range).map(|(_, arrived)| arrived)
    }

    /// The newest receipts of this epoch's hub, by log and grade.
    pub fn receipts(&self) -> impl Iterator<Item = &(EntryId, Receipt)> {
        let hub = self.marks.epoch.and_then(|epoch| self.trust.hub_of(epoch));
        self.receipts.iter().filter(move |((of, _, _), _)| Some(*of) == hub).map(|(_, receipt)| receipt)
    }

    /// Reads what an entry says of trust, and what it acknowledges.
    fn learn(&mut self, arrived: &Arrived) {
        if [CERTIFICATE, REVOCATION, REVIEW].contains(&arrived.kind) {
            self.trust.learn([arrived]);
        }
        if arrived.kind == RECEIPT {
            let receipt = Receipt::of_entry(&record::open(&arrived.bytes).unwrap()).unwrap();
            let key = (arrived.id.log, receipt.log, receipt.grade);
            self.named.entry((key.0, key.2)).or_default().extend(&receipt.photos);
            if !receipt.names_photos_alone()
                && self.receipts.get(&key).is_none_or(|(newest, _)| newest.seq < arrived.id.seq)
            {
                self.receipts.insert(key, (arrived.id, receipt));
            }
        }
    }

    /// What this phone would call received: entries that a receipt of this epoch proves, once for each that does, with its
    /// grade.
    pub fn received(&self) -> Vec<(EntryId, Grade)> {
        let mut received = Vec::new();
        for (_, receipt) in self.receipts() {
            let (log, grade) = (receipt.log, receipt.grade);
            let holds = |seq, payload| self.entries.contains_key(&EntryId { log, seq, payload });
            for run in proven(receipt, holds) {
                let branch = self.walk(&Wanted { log, from: run.from, to: run.to, end: run.end });
                received.extend(branch.iter().map(|entry| (entry.id, grade)));
            }
        }
        received
    }

    /// The photos that the hub of this epoch said to hold, with the grades.
    pub fn photos_received(&self) -> impl Iterator<Item = (PhotoHash, Grade)> {
        let hub = self.marks.epoch.and_then(|epoch| self.trust.hub_of(epoch));
        let counts =
            self.named.iter().filter(move |((of, grade), _)| Some(*of) == hub && *grade >= Grade::Stored);
        counts.flat_map(|((_, grade), photos)| photos.iter().map(|photo| (*photo, *grade)))
    }

    /// The photos that lie here.
    pub fn here(&self) -> impl Iterator<Item = PhotoHash> {
        self.photos.iter().filter(|(_, kept)| **kept == Kept::Here).map(|(photo, _)| *photo)
    }

    /// Whether it knows that its present log is written by another too: by a fork that it holds, or by a receipt that names
    /// what it does not hold.
    pub fn knows_of_copy(&self) -> bool {
        let Some(now) = self.own.last() else { return false };
        let forked = self.forks.iter().any(|(log, _)| log == now);
        let foreign = |receipt: &Receipt| receipt.log == *now && !self.not_held(receipt).is_empty();
        forked || self.receipts().any(|(_, receipt)| foreign(receipt))
    }

    /// What it once had and has no more: gaps in the logs that it wrote and no longer writes, what receipts name of them,
    /// and what its own receipts say that it passed on.
    pub fn lacks(&self) -> Vec<Wanted> {
        let closed = self.own.split_last().map_or(&[][..], |(_, closed)| closed);
        let mut lacks: Vec<Wanted> = Vec::new();
        for log in closed {
            lacks.extend(self.runs.get(log).map(|runs| runs.gaps(*log)).unwrap_or_default());
        }
        let hub = self.marks.epoch.and_then(|epoch| self.trust.hub_of(epoch));
        for ((issuer, log, _), (_, receipt)) in &self.receipts {
            let of_hub = Some(*issuer) == hub && closed.contains(log);
            let passed_on = self.own.contains(issuer) && !self.own.contains(log) && !self.is_hub(*log);
            if of_hub || passed_on {
                lacks.extend(self.not_held(receipt));
            }
        }
        lacks.sort_unstable();
        lacks.dedup();
        lacks
    }

    /// What a receipt names and is not held.
    fn not_held(&self, receipt: &Receipt) -> Vec<Wanted> {
        let said = HaveSet(BTreeMap::from([(receipt.log, receipt.runs.clone())]));
        let ends = plan::ends(&said).into_iter().filter(|id| self.entries.contains_key(id));
        plan::wanted(&said, &self.runs, &ends.collect::<Vec<_>>())
    }

    fn is_hub(&self, log: LogId) -> bool {
        self.trust.is_organisation(log) || self.trust.hub(log).is_some()
    }

    /// Walks a branch back from its end, and gives it lowest first.
    fn walk(&self, wanted: &Wanted) -> Vec<&Arrived> {
        let mut branch = Vec::new();
        let mut next = Some((wanted.to, wanted.end));
        while let Some((seq, payload)) = next {
            let Some(entry) = self.entries.get(&EntryId { log: wanted.log, seq, payload }) else { break };
            branch.push(entry);
            next = if seq > wanted.from { Seq::new(seq.get() - 1).zip(entry.previous) } else { None };
        }
        branch.reverse();
        branch
    }

    fn have(&self, hubs: bool) -> HaveSet {
        let mut have = HaveSet::default();
        for (log, runs) in &self.runs {
            if self.is_hub(*log) == hubs {
                have.put(*log, runs);
            }
        }
        have
    }

    fn turn(&mut self, SignedPage { page, .. }: &SignedPage) -> bool {
        let at = self.marks.areas.iter().find(|cursor| cursor.area == page.area).map_or(0, |at| at.version);
        if !page.snapshot && page.from != at {
            return false;
        }
        let rows = self.rows.entry(page.area.clone()).or_default();
        if page.snapshot {
            rows.clear();
        }
        for upsert in &page.upserts {
            rows.insert(upsert.tag.clone(), upsert.row.to_vec());
        }
        for tag in &page.removals {
            rows.remove(tag);
        }
        self.marks.areas.retain(|cursor| cursor.area != page.area);
        if page.snapshot && page.to == 0 {
            self.rows.remove(&page.area);
            return true;
        }
        self.marks.areas.push(Cursor { area: page.area.clone(), version: page.to });
        true
    }
}

/// A disk in a phone, which may stop.
#[derive(Debug)]
pub struct Flash {
    pub disk: RefCell<Disk>,
    /// What becomes of the next step that writes.
    pub next_write: Cell<Write>,
    /// Whether something was written since it was last looked at.
    pub changed: Cell<bool>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the phone stopped")]
pub struct Stopped;

impl Flash {
    pub fn holding(disk: Disk) -> Flash {
        Flash { disk: RefCell::new(disk), next_write: Cell::new(Write::Goes), changed: Cell::new(true) }
    }

    /// A step that writes: all of it or none.
    pub fn write<T>(&self, write: impl FnOnce(&mut Disk) -> T) -> Result<T, Stopped> {
        self.changed.set(true);
        match self.next_write.replace(Write::Goes) {
            Write::Goes => Ok(write(&mut self.disk.borrow_mut())),
            Write::Fails => Err(Stopped),
            Write::GoesUnheard => {
                write(&mut self.disk.borrow_mut());
                Err(Stopped)
            }
        }
    }
}

impl Ledger for Flash {
    type Error = Stopped;

    fn have(&self) -> Result<HaveSet, Stopped> {
        Ok(self.disk.borrow().have(false))
    }

    fn have_of_hubs(&self) -> Result<HaveSet, Stopped> {
        Ok(self.disk.borrow().have(true))
    }

    fn branch(&self, wanted: &Wanted, most: usize) -> Result<Vec<Held>, Stopped> {
        let disk = self.disk.borrow();
        let (mut held, mut room) = (Vec::new(), most);
        for entry in disk.walk(wanted) {
            if !held.is_empty() && entry.bytes.len() > room {
                break;
            }
            room = room.saturating_sub(entry.bytes.len());
            held.push(Held { seq: entry.id.seq, bytes: entry.bytes.clone() });
        }
        Ok(held)
    }

    fn key(&self, log: LogId) -> Result<Option<PublicKey>, Stopped> {
        Ok(self.disk.borrow().keys.get(&log).cloned())
    }

    fn marks(&self) -> Result<Marks, Stopped> {
        Ok(self.disk.borrow().marks.clone())
    }

    fn about(&self) -> Result<Vec<About>, Stopped> {
        let disk = self.disk.borrow();
        let logs: BTreeSet<LogId> = disk.have(false).0.into_keys().chain(disk.own.iter().copied()).collect();
        let about = logs.into_iter().map(|log| {
            let ours = disk.receipts().filter(|(_, receipt)| receipt.log == log);
            About { log, receipts: ours.map(|(id, _)| id.payload).collect() }
        });
        Ok(about.collect())
    }

    fn lacks(&self) -> Result<Vec<Wanted>, Stopped> {
        Ok(self.disk.borrow().lacks())
    }

    fn trust(&self) -> Result<Trust, Stopped> {
        Ok(self.disk.borrow().trust.clone())
    }

    fn take(&self, taken: &Taken) -> Result<Took, Stopped> {
        self.write(|disk| {
            if disk.marks.epoch != Some(taken.epoch) {
                let areas = disk.anew();
                disk.marks = Marks { epoch: Some(taken.epoch), news: 0, areas, give_back: true };
            }
            disk.keys.extend(taken.keys.iter().map(|key| (key.log(), key.clone())));
            let entries = taken.entries.iter().filter(|entry| disk.put(entry)).count();
            let pages = taken.pages.iter().filter(|page| disk.turn(page)).count();
            disk.marks.news = taken.news.unwrap_or(disk.marks.news);
            disk.marks.give_back &= !taken.given_back;
            Took { entries: u32::try_from(entries).unwrap(), pages: u32::try_from(pages).unwrap() }
        })
    }
}
