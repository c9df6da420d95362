//! Receipts: what the hub signs after its durable commit, and only where they would say something new.

use std::collections::BTreeSet;

use ::exchange::receipt;
use bodies::{Epoch, Grade, PhotoHash, RECEIPT, RECEIPT_PHOTOS, RECEIPT_VERSION, Receipt};
use hubstore::{HubStore, Standing, StoredEntry};
use record::{EntryId, LogId, Signer};

use super::older::older;
use crate::Error;
use crate::home::Hub;
use crate::saying::Say;

/// How many receipts are signed and appended in one step at most: whoever appends meanwhile makes them be signed again.
const AT_ONCE: usize = 256;

/// Signs a receipt of a grade for each log whose newest one says less than is held now, and returns each with the log that
/// it is about: none for a log of which nothing new is to be said, several for one with very many photos. A log for which
/// none can be written is told in the hub's log and stops no other.
///
/// # Errors
///
/// What the store says.
pub async fn give_receipts<S, K, P>(
    hub: &Hub<S, K, P>,
    logs: &BTreeSet<LogId>,
    grade: Grade,
) -> Result<Vec<(LogId, EntryId)>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    receipts_of(hub, &hub.store, logs, grade).await
}

/// The same for what another store holds of the logs, such as a backup.
///
/// # Errors
///
/// What either store says.
pub async fn receipts_of<S, K, P>(
    hub: &Hub<S, K, P>,
    held: &impl HubStore,
    logs: &BTreeSet<LogId>,
    grade: Grade,
) -> Result<Vec<(LogId, EntryId)>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let (mut said, mut waiting) = (Vec::new(), Vec::new());
    for log in logs {
        for receipt in owed(hub, held, *log, grade).await? {
            match receipt.encode() {
                Ok(body) => waiting.push((*log, Say { kind: RECEIPT, version: RECEIPT_VERSION, body })),
                Err(error) => {
                    tracing::error!(%error, %log, "no receipt could be written for a log; others go on")
                }
            }
        }
        if waiting.len() >= AT_ONCE {
            said.extend(say(hub, std::mem::take(&mut waiting)).await?);
        }
    }
    said.extend(say(hub, waiting).await?);
    Ok(said)
}

async fn say<S, K, P>(hub: &Hub<S, K, P>, waiting: Vec<(LogId, Say)>) -> Result<Vec<(LogId, EntryId)>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let (logs, waiting): (Vec<_>, Vec<_>) = waiting.into_iter().unzip();
    let said = if waiting.is_empty() { Vec::new() } else { hub.say(&waiting).await? };
    Ok(logs.into_iter().zip(said).collect())
}

/// The receipts that say what none says yet: older photos first, so that the newest receipt is the last.
async fn owed<S, K, P>(
    hub: &Hub<S, K, P>,
    held: &impl HubStore,
    log: LogId,
    grade: Grade,
) -> Result<Vec<Receipt>, Error>
where
    S: HubStore,
{
    let known = held.log(log).await?.is_some_and(|row| row.standing != Standing::Parked);
    let runs = if known { held.runs(&[log]).await?.remove(&log) } else { None };
    let Some(runs) = runs else { return Ok(Vec::new()) };
    let given = Given::of(hub, log, grade).await?;
    // Of those that are here, not of those that are cited: a receipt with room for more then says that there are no more.
    let here: Vec<PhotoHash> =
        cited(held, log).await?.into_iter().filter_map(|(photo, whole)| whole.then_some(photo)).collect();
    let newest = here.iter().copied().take(RECEIPT_PHOTOS);
    let alone = Receipt {
        epoch: Some(Epoch(hub.identity.epoch.0)),
        log,
        runs: Vec::new(),
        photos: BTreeSet::new(),
        grade,
    };
    let now = Receipt { runs: receipt::runs(&runs), photos: newest.collect(), ..alone.clone() };
    let older = older(&here, &given.alone, RECEIPT_PHOTOS).into_iter();
    let mut owed: Vec<Receipt> = older.map(|photos| Receipt { photos, ..alone.clone() }).collect();
    owed.extend((given.newest.as_ref() != Some(&now)).then_some(now));
    Ok(owed)
}

/// All photos that a log names, the newest first. Most logs name fewer than one receipt holds, and one question tells.
async fn cited(held: &impl HubStore, log: LogId) -> Result<Vec<(PhotoHash, bool)>, Error> {
    let some = u32::try_from(RECEIPT_PHOTOS + 1).unwrap_or(u32::MAX);
    let cited = held.photos_of(log, some).await?;
    if cited.len() <= RECEIPT_PHOTOS { Ok(cited) } else { Ok(held.photos_of(log, u32::MAX).await?) }
}

/// What this hub has said of a log before.
#[derive(Default)]
struct Given {
    newest: Option<Receipt>,
    /// Photos that were named alone.
    alone: BTreeSet<PhotoHash>,
}

impl Given {
    async fn of<S, K, P>(hub: &Hub<S, K, P>, log: LogId, grade: Grade) -> Result<Given, Error>
    where
        S: HubStore,
    {
        let all = hub.store.receipts(log).await?;
        let ours = all.iter().filter(|entry| entry.id.log == hub.identity.log);
        let mut given = Given::default();
        for receipt in ours.filter_map(read).filter(|receipt| receipt.grade == grade) {
            if receipt.names_photos_alone() {
                given.alone.extend(receipt.photos);
            } else {
                given.newest = Some(receipt);
            }
        }
        Ok(given)
    }
}

/// Reads a receipt.
pub(crate) fn read(entry: &StoredEntry) -> Option<Receipt> {
    Receipt::of_entry(&record::open(&entry.bytes).ok()?).ok()
}
