//! The phones that a hub certified, for whoever looks through them.

use hubstore::{Device, HubStore};
use record::{LogId, Signer};

use crate::Error;
use crate::home::Hub;

/// A phone in the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Phone {
    /// What it is called, who carries it, which areas it gets.
    pub device: Device,
    /// The highest place of its log that is held; 0 where nothing is.
    pub upto: u64,
    /// The last place of it that is trusted, where it was revoked; 0 where nothing of it is.
    pub revoked: Option<u64>,
}

/// Returns all phones, by log.
///
/// # Errors
///
/// What the store says.
pub async fn phones<S, K, P>(hub: &Hub<S, K, P>) -> Result<Vec<Phone>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    let devices = hub.store.devices().await?;
    let logs: Vec<LogId> = devices.iter().map(|device| device.log).collect();
    let runs = hub.store.runs(&logs).await?;
    let phones = devices.into_iter().map(|device| {
        let places = runs.get(&device.log).map(|runs| runs.all()).unwrap_or_default();
        let upto = places.iter().map(|run| run.to.get()).max().unwrap_or(0);
        let revoked = trusted.trust().revoked(device.log);
        Phone { upto, revoked: revoked.map(|last| last.map_or(0, |last| last.seq.get())), device }
    });
    Ok(phones.collect())
}
