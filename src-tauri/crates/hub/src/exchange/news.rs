//! What is new for a phone, with the keys to verify it.

use std::collections::BTreeSet;

use ::exchange::message::About;
use ::exchange::run::Wanted;
use hubstore::{Arrival, HubStore, Limit, StoredEntry};
use minicbor::bytes::ByteVec;
use record::{EntryId, LogId, Signer};

use super::receipts;
use super::returning::returned;
use crate::Error;
use crate::home::Hub;

/// The most bytes of news in one answer; the rest waits for the next round.
const MOST: Limit = Limit { entries: 2_000, bytes: 1 << 20 };

/// The most bytes of receipts beside them, but for one that is longer. A phone that took these asks for the rest: it lists
/// those that it has.
const RECEIPTS: usize = 1 << 20;

/// News, as they go into an answer.
#[derive(Debug, Default)]
pub(super) struct News {
    pub(super) keys: Vec<ByteVec>,
    pub(super) entries: Vec<ByteVec>,
    pub(super) upto: u64,
    pub(super) more: bool,
    /// Whether receipts were left for another round.
    pub(super) receipts_left: bool,
}

/// What a phone asks, by a push or by a bundle.
#[derive(Debug, Clone, Copy)]
pub(super) struct Asked<'a> {
    /// The number of the last news that it took.
    pub(super) after: u64,
    /// The logs whose receipts it wants to know.
    pub(super) about: &'a [About],
    /// What it has lost itself.
    pub(super) lacks: &'a [Wanted],
}

/// Returns what came after the phone's number: certificates, who confirmed them, and revocations; what concerns its logs and
/// those that it asks about; and what it has lost itself.
pub(super) async fn news<S, K, P>(hub: &Hub<S, K, P>, phone: LogId, asked: Asked<'_>) -> Result<News, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    if !trusted.trust().knows(phone) {
        // A stranger learns nothing of phones and people here; its own certificate it asks for where it enrolled.
        return Ok(News { upto: asked.after, ..News::default() });
    }
    let about = asked.about.iter().map(|about| about.log);
    let logs: BTreeSet<LogId> = about.chain([phone]).collect();
    let logs: Vec<LogId> = logs.into_iter().collect();
    let news = hub.store.news_for(&logs, Arrival(asked.after), MOST).await?;
    let mut entries = news.entries;
    let mut told: BTreeSet<EntryId> = entries.iter().map(|entry| entry.id).collect();
    let (receipts, receipts_left) = receipts_about(hub, asked.about, &mut told).await?;
    entries.extend(receipts);
    let back = returned(hub, phone, asked.lacks).await?;
    entries.extend(back.into_iter().filter(|entry| told.insert(entry.id)));
    let signers: BTreeSet<LogId> = entries.iter().map(|entry| entry.id.log).collect();
    let mut keys = Vec::new();
    for log in signers {
        if let Some(key) = trusted.key(log) {
            keys.push(key.cose().to_vec().into());
        } else if let Some(row) = hub.store.log(log).await? {
            keys.push(row.key.into());
        }
    }
    let entries = entries.into_iter().map(|entry| entry.bytes.into()).collect();
    Ok(News { keys, entries, upto: news.upto.0, more: news.more, receipts_left })
}

/// Returns the newest receipts that a phone does not list and was not told yet, as many as go into an answer, and whether
/// some are left. A relay may ask for a receipt that is older than all its news.
async fn receipts_about<S, K, P>(
    hub: &Hub<S, K, P>,
    asked: &[About],
    told: &mut BTreeSet<EntryId>,
) -> Result<(Vec<StoredEntry>, bool), Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let (mut receipts, mut bytes): (Vec<StoredEntry>, usize) = (Vec::new(), 0);
    for about in asked {
        let given = hub.store.receipts(about.log).await?;
        let ours = given.into_iter().filter(|receipt| receipt.id.log == hub.identity.log);
        let new = ours.filter(|receipt| !about.receipts.contains(&receipt.id.payload));
        // No phone lists those that name photos alone; each comes once, with the news.
        let new =
            new.filter(|entry| !receipts::read(entry).is_some_and(|receipt| receipt.names_photos_alone()));
        for receipt in new {
            // The same log may be asked about twice.
            if told.contains(&receipt.id) {
                continue;
            }
            bytes += receipt.bytes.len();
            if bytes > RECEIPTS.max(receipt.bytes.len()) {
                return Ok((receipts, true));
            }
            told.insert(receipt.id);
            receipts.push(receipt);
        }
    }
    Ok((receipts, false))
}
