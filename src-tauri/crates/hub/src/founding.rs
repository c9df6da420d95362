//! The beginning of a hub's life: its certificate by the organisation's key, and the first entries of its ledger.

use bodies::{CERTIFICATE, CERTIFICATE_VERSION, Certificate, Certified, Epoch, SpkiHash};
use hubstore::{Batch, HubStore, Identity, NewEntry, NewLog};
use record::{Claimed, LogId, PublicKey, Sealed};

use crate::Error;
use crate::keys::OrganisationKey;
use crate::restoring::Restored;

/// What the organisation says of a hub.
#[derive(Debug, Clone)]
pub struct Founding {
    /// The hub's key.
    pub hub: PublicKey,
    /// What people call it.
    pub label: String,
    /// The keys that its server may show: the current one and the next.
    pub tls: Vec<[u8; 32]>,
    /// Its epoch.
    pub epoch: [u8; 16],
    /// The log that the same hub signed before.
    pub replaces: Option<LogId>,
}

impl Founding {
    /// Signs the hub's certificate. The organisation's file is to be kept anew before the certificate is used.
    ///
    /// # Errors
    ///
    /// What cannot be said in a certificate.
    pub fn certify(&self, organisation: &mut OrganisationKey, now: Claimed) -> Result<Sealed, Error> {
        let certificate = Certificate {
            key: self.hub.clone(),
            label: self.label.clone(),
            certified: Certified::Hub {
                tls: self.tls.iter().map(|hash| SpkiHash(*hash)).collect(),
                epoch: Epoch(self.epoch),
                replaces: self.replaces,
            },
        };
        organisation.sign(CERTIFICATE, CERTIFICATE_VERSION, now, &certificate.encode()?)
    }

    /// Puts the certificate into the ledger and begins the epoch; sessions, codes and sign-ins of an earlier one end. Of a
    /// hub out of a backup it notes in the same step that it was restored.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub async fn begin(
        &self,
        store: &impl HubStore,
        organisation: &PublicKey,
        certificate: &Sealed,
        restored: Option<&Restored>,
    ) -> Result<(), Error> {
        let known = |key: &PublicKey| NewLog { log: key.log(), key: key.cose().to_vec() };
        let entry = NewEntry::of(&record::open(&certificate.bytes)?);
        let batch = Batch {
            known: vec![known(organisation), known(&self.hub)],
            entries: vec![entry],
            ..Batch::default()
        };
        store.ingest(batch).await?;
        let identity = Identity {
            epoch: Epoch(self.epoch),
            log: self.hub.log(),
            organisation: organisation.cose().to_vec(),
        };
        let noted = restored.map(Restored::setting).transpose()?;
        let settings: Vec<(&str, &[u8])> = noted.iter().map(|(name, value)| (*name, &value[..])).collect();
        Ok(store.begin_epoch(&identity, &settings).await?)
    }
}
