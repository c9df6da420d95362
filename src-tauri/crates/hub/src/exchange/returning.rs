//! What a phone once had and has no more, after its file was damaged or it was restored: it is given back.

use std::collections::BTreeSet;

use ::exchange::run::Wanted;
use hubstore::{HubStore, StoredEntry};
use record::{EntryId, LogId, Signer};

use crate::Error;
use crate::branch::Branch;
use crate::home::Hub;

/// The most branches that one push may ask for.
const MOST_ASKED: usize = 100;
/// The most bytes of entries that one answer gives back. One entry is always given.
const MOST_BYTES: usize = 512 << 10;
/// The most places of a branch that are read at once.
const PIECE: u64 = 500;

/// Returns of what a phone lacks what is held here, as much as one answer takes. A phone that nobody vouches for, or that
/// was revoked, gets nothing; nor does anyone get what hubs said but as news.
pub(super) async fn returned<S, K, P>(
    hub: &Hub<S, K, P>,
    phone: LogId,
    lacks: &[Wanted],
) -> Result<Vec<StoredEntry>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    let trust = trusted.trust();
    if trust.device(phone).is_none() || trust.revoked(phone).is_some() {
        return Ok(Vec::new());
    }
    let (mut returned, mut seen, mut bytes) = (Vec::new(), BTreeSet::<EntryId>::new(), 0);
    for lacking in lacks.iter().take(MOST_ASKED).filter(|lacking| trust.device(lacking.log).is_some()) {
        let branch = Branch::down_from(&hub.store, lacking.log, lacking.to, lacking.end).await?;
        let mut from = Some(lacking.from);
        while let Some(at) = from.filter(|from| *from <= lacking.to)
            && let Some(piece) = branch.lowest(&hub.store, at, PIECE).await?
        {
            for entry in hub.store.branch(piece).await? {
                if !seen.insert(entry.id) {
                    continue;
                }
                bytes += entry.bytes.len();
                if bytes > MOST_BYTES && !returned.is_empty() {
                    return Ok(returned);
                }
                returned.push(entry);
            }
            from = piece.to.next();
        }
    }
    Ok(returned)
}
