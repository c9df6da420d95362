//! What a session takes from the hub.

use std::collections::BTreeMap;

use minicbor::bytes::ByteVec;
use record::{Proof, PublicKey, Signer};

use super::ledger::{Ledger, Taken, Took};
use super::machine::{Session, State};
use super::step::Broken;
use crate::intake::{self, Arrived, Intake};
use crate::page::{Page, SignedPage};

impl<L: Ledger, S: Signer, P: Proof + ?Sized> Session<'_, L, S, P> {
    /// Opens and verifies entries of the hub. What does not hold is counted and left out.
    pub(super) fn verified(
        &mut self,
        keys: &[ByteVec],
        entries: &[ByteVec],
    ) -> Result<Intake, Broken<L::Error>> {
        let came = intake::keys(keys.iter().map(|key| &***key));
        let mut known = BTreeMap::new();
        for bytes in entries {
            if let Ok(entry) = record::open(bytes)
                && let Some(key) = self.ledger.key(entry.id.log).map_err(Broken::Ledger)?
            {
                known.insert(entry.id.log, key);
            }
        }
        let each = entries.iter().map(|bytes| &***bytes);
        let intake = intake::entries(each, &came, |log| known.get(&log).cloned(), self.proof);
        self.summary.bad += intake.bad.len() as u64;
        Ok(intake)
    }

    /// Opens pages; only the hub of this epoch may have signed them.
    pub(super) fn pages(
        &mut self,
        pages: &[ByteVec],
        entries: &[Arrived],
    ) -> Result<Vec<SignedPage>, Broken<L::Error>> {
        if pages.is_empty() {
            return Ok(Vec::new());
        }
        let mut trust = self.ledger.trust().map_err(Broken::Ledger)?;
        trust.learn(entries.iter());
        // The certificate brings the key: the hub may have said nothing yet that this phone holds.
        let hub = self.epoch.and_then(|epoch| trust.hub_of(epoch));
        let key = hub.and_then(|hub| trust.hub(hub)).map(|hub| &hub.key);
        let read = pages.iter().filter_map(|bytes| {
            let signed = Page::open(bytes, key?, self.proof).ok()?;
            (Some(signed.page.epoch) == self.epoch).then_some(signed)
        });
        let read: Vec<SignedPage> = read.collect();
        self.summary.bad += (pages.len() - read.len()) as u64;
        Ok(read)
    }

    /// Takes what came, once it is known whose epoch it is, and says what of it was of use.
    pub(super) fn take(
        &mut self,
        keys: Vec<PublicKey>,
        entries: Vec<Arrived>,
        pages: Vec<SignedPage>,
        news: Option<u64>,
    ) -> Result<Took, Broken<L::Error>> {
        let Some(epoch) = self.epoch else { return Ok(Took::default()) };
        let taken = Taken { epoch, keys, entries, pages, news, given_back: false };
        let took = self.ledger.take(&taken).map_err(Broken::Ledger)?;
        self.summary.taken += u64::from(took.entries);
        self.summary.pages += u64::from(took.pages);
        Ok(took)
    }

    /// Ends: whatever the hub lacked of its own logs, it has been brought or is not held here.
    pub(super) fn end(&mut self) -> Result<(), Broken<L::Error>> {
        self.state = State::Over;
        let Some(epoch) = self.epoch.filter(|_| self.told_back) else { return Ok(()) };
        let (keys, entries, pages) = (Vec::new(), Vec::new(), Vec::new());
        let taken = Taken { epoch, keys, entries, pages, news: None, given_back: true };
        self.ledger.take(&taken).map_err(Broken::Ledger).map(drop)
    }
}
