//! A phone that keeps its log in memory.

use std::cell::RefCell;
use std::collections::BTreeMap;

use carry::{Around, Progress};
use exchange::Error;
use exchange::have::HaveSet;
use exchange::message::About;
use exchange::run::{Runs, Step, Wanted};
use exchange::session::{Held, Ledger, Marks, Taken, Took};
use exchange::trust::Trust;
use record::{
    Claimed, Kind, Link as Place, LogId, NewEntry, PublicKey, SecretKey, Signer, Strict, open, seal,
};

use crate::hub::{Hub, a_welcome};

/// A phone with a log of its own.
pub(crate) struct Phone {
    pub(crate) key: SecretKey,
    pub(crate) entries: Vec<Vec<u8>>,
    steps: Vec<Step>,
    pub(crate) taken: RefCell<u32>,
}

impl Phone {
    /// A phone that has signed entries with bodies of these lengths.
    pub(crate) fn with(lengths: impl IntoIterator<Item = usize>) -> Phone {
        let key = SecretKey::take(&mut [9; 32]);
        let (mut entries, mut steps, mut link) = (Vec::new(), Vec::new(), Place::First);
        for (at, length) in lengths.into_iter().enumerate() {
            let new = NewEntry {
                link,
                kind: Kind(1),
                body_version: 2,
                claimed: Claimed { millis: 1_790_000_000_000, offset_minutes: 0 },
                boot: None,
            };
            let sealed = seal(&new, &body(at, length), &key).unwrap();
            let opened = open(&sealed.bytes).unwrap();
            steps.push(Step {
                seq: opened.id.seq,
                previous: opened.header.previous,
                hash: opened.id.payload,
            });
            link = sealed.next();
            entries.push(sealed.bytes);
        }
        Phone { key, entries, steps, taken: RefCell::default() }
    }

    pub(crate) fn exchange(
        &self,
        link: &impl carry::Link,
        most: usize,
    ) -> Result<exchange::session::Summary, carry::Error<Error>> {
        carry::once(self, &self.key, &Strict, link, &Quiet, most)
    }

    /// Tries until it goes to its end, as a phone does, with less at a time after each break.
    pub(crate) fn exchange_at_last(&self, hub: &Hub, faults: Vec<carry::faulty::Fault>) -> u32 {
        let under = hub.link();
        // A byte turned on its way, which TLS would have found, may hide from the phone what the hub wants. No receipt
        // comes of it, so the phone asks again.
        let once_more = faults.iter().any(|fault| matches!(fault, carry::faulty::Fault::TurnedAnswer(_)));
        let link = carry::faulty::FaultyLink::over(&under, faults);
        let mut pace = carry::Pace::default();
        for _ in 0..20 {
            match self.exchange(&link, pace.round()) {
                Ok(_) if once_more => {
                    self.exchange(&under, pace.round()).unwrap();
                    return link.asked();
                }
                Ok(_) => return link.asked(),
                Err(error) => drop(pace.failed(error.gave_way(), None, 0)),
            }
        }
        panic!("twenty tries were not enough");
    }
}

/// A text of CBOR that no packing makes small.
fn body(seed: usize, length: usize) -> Vec<u8> {
    let mut bytes = vec![0x59, 0, 0];
    let mut state = 0x9e37_79b9_u32.wrapping_add(u32::try_from(seed).unwrap());
    let content: Vec<u8> = (0..length.max(300))
        .map(|_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            state.to_be_bytes()[0]
        })
        .collect();
    bytes[1..3].copy_from_slice(&u16::try_from(content.len()).unwrap().to_be_bytes());
    bytes.extend(content);
    bytes
}

impl Ledger for Phone {
    type Error = Error;

    fn have(&self) -> Result<HaveSet, Error> {
        let mut runs = Runs::default();
        self.steps.iter().for_each(|step| runs.add(*step, step.previous.is_some()));
        let mut have = HaveSet(BTreeMap::new());
        have.put(self.key.public().log(), &runs);
        Ok(have)
    }

    fn have_of_hubs(&self) -> Result<HaveSet, Error> {
        Ok(HaveSet::default())
    }

    fn branch(&self, wanted: &Wanted, most: usize) -> Result<Vec<Held>, Error> {
        let mine = wanted.log == self.key.public().log();
        let asked = self
            .steps
            .iter()
            .zip(&self.entries)
            .filter(|(step, _)| mine && step.seq >= wanted.from && step.seq <= wanted.to);
        let (mut held, mut room) = (Vec::new(), most);
        for (step, bytes) in asked {
            if bytes.len() > room && !held.is_empty() {
                break;
            }
            room = room.saturating_sub(bytes.len());
            held.push(Held { seq: step.seq, bytes: bytes.clone() });
        }
        Ok(held)
    }

    fn key(&self, log: LogId) -> Result<Option<PublicKey>, Error> {
        Ok(Some(self.key.public().clone()).filter(|key| key.log() == log))
    }

    fn marks(&self) -> Result<Marks, Error> {
        Ok(Marks { epoch: Some(a_welcome().epoch), ..Marks::default() })
    }

    fn about(&self) -> Result<Vec<About>, Error> {
        Ok(vec![About { log: self.key.public().log(), receipts: Vec::new() }])
    }

    fn lacks(&self) -> Result<Vec<Wanted>, Error> {
        Ok(Vec::new())
    }

    fn trust(&self) -> Result<Trust, Error> {
        Ok(Trust::rooted_in(LogId([1; 32])))
    }

    fn take(&self, taken: &Taken) -> Result<Took, Error> {
        *self.taken.borrow_mut() += u32::try_from(taken.entries.len()).unwrap();
        Ok(Took::default())
    }
}

/// Nobody listens and nobody stops it.
pub(crate) struct Quiet;

impl Around for Quiet {
    fn told(&self, _: &Progress) {}

    fn is_stopped(&self) -> bool {
        false
    }
}
