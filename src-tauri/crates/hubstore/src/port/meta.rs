//! Which hub this is, and its settings.

use std::future::Future;

use bodies::Epoch;
use record::LogId;

use crate::{Error, Version};

/// Which hub this is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Identity {
    /// Random, new at first start and at every restore.
    pub epoch: Epoch,
    /// The log that the hub signs in this epoch.
    pub log: LogId,
    /// The organisation's public key, as COSE_Key.
    pub organisation: Vec<u8>,
}

/// A setting that counts its changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Counted {
    /// The number of the last change, from 1.
    pub version: Version,
    /// The value.
    pub value: Vec<u8>,
}

impl Counted {
    /// Returns how it is kept, as any setting is: the number, 8 bytes, then the value.
    #[must_use]
    pub fn kept(&self) -> Vec<u8> {
        [&self.version.0.to_be_bytes()[..], &self.value].concat()
    }
}

/// Identity and settings.
pub trait Meta {
    /// Returns which hub this is; none before the first start.
    fn identity(&self) -> impl Future<Output = Result<Option<Identity>, Error>> + Send;

    /// Begins an epoch. All sessions, one-time codes and sign-ins end in the same transaction, and these settings are set in
    /// it.
    fn begin_epoch(
        &self,
        identity: &Identity,
        settings: &[(&str, &[u8])],
    ) -> impl Future<Output = Result<(), Error>> + Send;

    /// Returns a setting.
    fn setting(&self, name: &str) -> impl Future<Output = Result<Option<Vec<u8>>, Error>> + Send;

    /// Sets a setting, or removes it.
    fn put_setting(&self, name: &str, value: Option<&[u8]>)
    -> impl Future<Output = Result<(), Error>> + Send;

    /// Returns a setting that counts its changes.
    fn counted(&self, name: &str) -> impl Future<Output = Result<Option<Counted>, Error>> + Send;
}
