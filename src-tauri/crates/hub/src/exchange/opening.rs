//! Bytes to entries: opened, verified and read in parallel, away from the threads that answer requests.

use std::collections::BTreeMap;
use std::sync::Arc;

use ::exchange::Error as Refused;
use hubstore::NewEntry;
use record::{EntryId, LogId, Proof, PublicKey};

use crate::Error;
use crate::trusted::Trusted;

/// How many entries are opened in one piece: enough that handing them over costs little.
const PIECE: usize = 64;

/// What became of one piece of bytes.
#[derive(Debug)]
pub enum Opened {
    /// It is an entry and its signature holds.
    Good(Box<NewEntry>),
    /// It is one, and nobody has its log's key.
    NoKey {
        /// Its identity.
        id: EntryId,
        /// All of it.
        bytes: Vec<u8>,
    },
    /// It is none, or does not hold.
    Bad {
        /// Its identity, as far as it has one.
        id: Option<EntryId>,
        /// Why.
        error: Refused,
    },
}

impl Opened {
    /// Returns the log whose key is missing.
    pub(super) fn lacks_key_of(&self) -> Option<LogId> {
        match self {
            Opened::NoKey { id, .. } => Some(id.log),
            _ => None,
        }
    }

    /// Returns the bytes of what lacks its key.
    pub(super) fn into_bytes(self) -> Option<Vec<u8>> {
        match self {
            Opened::NoKey { bytes, .. } => Some(bytes),
            _ => None,
        }
    }
}

/// Keys of logs: those that came, and those that are trusted.
#[derive(Debug, Clone)]
pub struct Keys {
    /// What came with the entries.
    pub came: BTreeMap<LogId, PublicKey>,
    /// Whom the hub trusts.
    pub trusted: Arc<Trusted>,
}

impl Keys {
    fn of(&self, log: LogId) -> Option<&PublicKey> {
        self.came.get(&log).or_else(|| self.trusted.key(log))
    }
}

/// Opens entries with the keys of their logs; what is given keeps its order.
///
/// # Errors
///
/// When a thread was lost.
pub async fn open_all<P>(bytes: Vec<Vec<u8>>, keys: &Arc<Keys>, proof: &P) -> Result<Vec<Opened>, Error>
where
    P: Proof + Clone + Send + Sync + 'static,
{
    let mut pieces = Vec::new();
    let mut bytes = bytes.into_iter();
    loop {
        let piece: Vec<Vec<u8>> = bytes.by_ref().take(PIECE).collect();
        if piece.is_empty() {
            break;
        }
        let (keys, proof) = (Arc::clone(keys), proof.clone());
        let open = move || piece.into_iter().map(|bytes| open(bytes, &keys, &proof)).collect::<Vec<_>>();
        pieces.push(tokio::task::spawn_blocking(open));
    }
    let mut all = Vec::new();
    for piece in pieces {
        all.extend(piece.await.map_err(|_| Error::Interrupted)?);
    }
    Ok(all)
}

fn open(bytes: Vec<u8>, keys: &Keys, proof: &impl Proof) -> Opened {
    let entry = match record::open(&bytes) {
        Ok(entry) => entry,
        Err(error) => return Opened::Bad { id: id_in(&error), error: error.into() },
    };
    let id = entry.id;
    let Some(key) = keys.of(id.log) else { return Opened::NoKey { id, bytes } };
    match record::verify_with(&entry, key, proof) {
        Ok(()) => Opened::Good(Box::new(NewEntry::of(&entry))),
        Err(error) => Opened::Bad { id: Some(id), error: error.into() },
    }
}

/// The identity of an entry whose body is not the one that was signed.
fn id_in(error: &record::Error) -> Option<EntryId> {
    match error {
        record::Error::BodyChanged(id) => Some(*id),
        _ => None,
    }
}
