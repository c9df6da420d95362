//! A supervisor confirmed: the phone belongs to the hub.

use exchange::intake;
use exchange::session::{Ledger, Taken};
use exchange::trust::Trust;
use record::{LogId, Strict};

use super::Met;
use crate::view::EnrolView;
use crate::{Error, Phone};

/// What is asked while waiting.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Awaited {
    /// Where the hub is.
    pub address: String,
    /// The hub that was met.
    pub met: Met,
    /// This phone's log.
    pub log: LogId,
}

impl Phone {
    /// Returns what is waited for; none where nothing is.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn enrol_awaited(&self) -> Result<Option<Awaited>, Error> {
        Ok(self.pending_enrolment()?.and_then(|pending| {
            Some(Awaited { met: pending.met()?, log: pending.log()?, address: pending.address })
        }))
    }

    /// Takes the keys and entries that the hub gave with its word that this phone is confirmed. They are verified from
    /// the organisation's key down; only a certificate for this phone's own key makes it belong.
    ///
    /// # Errors
    ///
    /// [`Error::NotConfirmed`] where they do not say so, and what the store says.
    pub fn enrol_confirmed(&self, keys: &[Vec<u8>], entries: &[Vec<u8>]) -> Result<EnrolView, Error> {
        let pending = self.pending_enrolment()?.ok_or(Error::NotConfirmed)?;
        let organisation = pending.organisation().ok_or(Error::NotConfirmed)?;
        let (met, log) = pending.met().zip(pending.log()).ok_or(Error::NotConfirmed)?;
        let keys = intake::keys(keys.iter().map(Vec::as_slice));
        let came = intake::entries(entries.iter().map(Vec::as_slice), &keys, |_| None, &Strict);
        let mut trust = Trust::rooted_in(organisation);
        trust.learn(came.entries.iter());
        let Some(hub) = trust.hub(met.hub).filter(|_| trust.device(log).is_some()) else {
            return Err(Error::NotConfirmed);
        };
        let epoch = hub.epoch;
        let hub = store::Hub {
            organisation: store::LogId::of(organisation),
            addresses: vec![pending.address],
            pins: met.pins,
        };
        self.store().join(&hub)?;
        let (keys, entries) = (came.keys, came.entries);
        // A phone that holds nothing of any hub enters the epoch at once, so that receipts count also where they come by a
        // file before anything was exchanged. Any other meets the hub first, and gives back what it holds.
        if self.store().marks()?.epoch.is_none() && self.store().parked_logs()?.is_empty() {
            let pages = Vec::new();
            self.store().take(&Taken { epoch, keys, entries, pages, news: None, given_back: false })?;
        } else {
            self.store().take_bundle("hub", &keys, &entries)?;
        }
        self.name_owner()?;
        self.forget_enrolment()?;
        tracing::info!("this phone belongs to a hub now");
        self.enrol_view()
    }
}
