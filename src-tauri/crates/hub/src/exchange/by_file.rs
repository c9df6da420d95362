//! Records that come as a file, and the file that goes back.
//!
//! What is in a bundle is judged as over the wire: [`Hub::take`] opens, verifies and parks. Who hands the file over proves
//! nothing and need not: entries prove themselves, and only a phone that is certified here is answered.

use std::collections::{BTreeMap, BTreeSet};

use ::exchange::bundle::{self, Piece, Writer};
use ::exchange::intake;
use ::exchange::message::About;
use ::exchange::standpoint::Standpoint;
use bodies::Grade;
use hubstore::HubStore;
use minicbor::bytes::ByteVec;
use record::{LogId, PublicKey, Signer};

use super::feed::feed;
use super::news::{Asked, news};
use super::push::{MOST_ABOUT, of_devices};
use super::{Came, PushError, Taken, give_receipts};
use crate::Error;
use crate::home::Hub;
use crate::trusted::{OF_TRUST, of_organisation};

/// Entries go in by so many bytes at a time, so that phones which send meanwhile do not wait for a whole file.
const AT_A_TIME: usize = 4 << 20;
/// The most bytes of register pages in a file that goes back.
const MOST_PAGES: usize = 16 << 20;

/// What came of a bundle.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Brought {
    /// What became of its entries.
    pub taken: Taken,
    /// Whether it breaks off; what came whole was taken.
    pub cut: bool,
    /// The phone that wrote it, where it is certified here, and where that phone stands.
    pub writer: Option<(LogId, Standpoint)>,
    /// Whether that phone knows this hub only from an earlier life. It is told nothing before it has met this one over the
    /// wire and has given back what was lost: some of that may say that it is trusted no more.
    pub of_before: bool,
}

/// A bundle to be carried back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Back {
    /// It, not packed.
    pub bundle: Vec<u8>,
    /// Entries in it.
    pub entries: usize,
    /// Register pages in it.
    pub pages: usize,
    /// Whether more of the register waits than a file takes.
    pub more: bool,
}

/// Takes a bundle in, unpacked: from a cable, a card or a mail. What came whole of one that was cut is taken. Each few
/// MiB of it are in durably before the next, and the same file may come again.
///
/// # Errors
///
/// [`exchange::Error::NotABundle`], or what the store says.
pub async fn take_bundle<S, K, P>(hub: &Hub<S, K, P>, bytes: &[u8]) -> Result<Brought, PushError>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let (pieces, cut) = bundle::read(bytes)?;
    let keys = intake::keys(pieces.iter().filter_map(|piece| match piece {
        Piece::Key(bytes) => Some(*bytes),
        _ => None,
    }));
    let mut taken = Taken::default();
    for entries in batches(&pieces) {
        taken.add(hub.take(Came { carrier: [0; 32], keys: keys.clone(), entries }).await?);
    }
    let writer = writer(hub, &pieces, &keys).await?;
    let known = writer.as_ref().and_then(|(_, standpoint)| standpoint.epoch);
    let of_before = known.is_some_and(|known| known.0 != hub.identity.epoch.0);
    if !of_before {
        let owed = of_devices(hub, taken.grown.iter().chain(&taken.touched).copied()).await?;
        give_receipts(hub, &owed, Grade::Stored).await?;
    }
    Ok(Brought { taken, cut: cut.is_some(), writer, of_before })
}

/// Cuts the entries of a bundle into batches. What says whom to trust goes first, wherever it stands, so that nothing is
/// parked for want of a certificate further down.
fn batches(pieces: &[Piece<'_>]) -> Vec<Vec<Vec<u8>>> {
    let entries = pieces.iter().filter_map(|piece| match piece {
        Piece::Entry(bytes) => Some(*bytes),
        _ => None,
    });
    let of_trust =
        |bytes: &&[u8]| record::open(bytes).is_ok_and(|entry| OF_TRUST.contains(&entry.header.kind));
    let (first, then): (Vec<&[u8]>, Vec<&[u8]>) = entries.partition(of_trust);
    let mut batches = Vec::new();
    for entries in [first, then] {
        let (mut batch, mut bytes) = (Vec::new(), 0_usize);
        for entry in entries {
            bytes += entry.len();
            batch.push(entry.to_vec());
            if bytes >= AT_A_TIME {
                batches.push(std::mem::take(&mut batch));
                bytes = 0;
            }
        }
        batches.extend((!batch.is_empty()).then_some(batch));
    }
    batches
}

/// Returns which phone of this hub wrote a bundle, and where it says to stand.
async fn writer<S, K, P>(
    hub: &Hub<S, K, P>,
    pieces: &[Piece<'_>],
    keys: &BTreeMap<LogId, PublicKey>,
) -> Result<Option<(LogId, Standpoint)>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    let read = pieces.iter().find_map(|piece| {
        let Piece::Standpoint(bytes) = piece else { return None };
        let log = Standpoint::signer_of(bytes).ok()?;
        let key = trusted.key(log).or_else(|| keys.get(&log))?;
        let standpoint = Standpoint::open(bytes, key, &hub.signing.proof).ok()?;
        trusted.trust().device(log).map(|_| (log, standpoint))
    });
    Ok(read)
}

/// Writes the bundle that goes back: for the phone that wrote the first one what a push would have been answered, and the
/// receipts for all whose records it brought. None where no phone of this hub was in it.
///
/// # Errors
///
/// What the store says.
pub async fn bundle_back<S, K, P>(hub: &Hub<S, K, P>, brought: &Brought) -> Result<Option<Back>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let phones = of_devices(hub, brought.taken.touched.iter().copied()).await?;
    let Some(phone) = brought.writer.as_ref().map(|(log, _)| *log).or(phones.first().copied()) else {
        return Ok(None);
    };
    let mut back = Going::begin(hub.organisation(), hub.signing.key.public());
    if brought.of_before {
        let (keys, entries) = of_organisation(hub).await?;
        back.put(keys.into_iter().map(ByteVec::from), entries.into_iter().map(ByteVec::from));
        return Ok(Some(back.done()));
    }
    let said = brought.writer.as_ref().map_or_else(Standpoint::default, |(_, said)| said.clone());
    let mut asked = said.about;
    asked.truncate(MOST_ABOUT);
    let unasked: Vec<LogId> =
        phones.into_iter().filter(|log| asked.iter().all(|about| about.log != *log)).collect();
    asked.extend(unasked.into_iter().map(|log| About { log, receipts: Vec::new() }));
    let mut after = said.news;
    loop {
        let news = news(hub, phone, Asked { after, about: &asked, lacks: &[] }).await?;
        after = news.upto;
        let more = news.more;
        back.put(news.keys.into_iter(), news.entries.into_iter());
        if !more || back.bundle.length_with([]) >= bundle::MOST_OF_PHONE / 2 {
            break;
        }
    }
    // A page of an epoch that the phone has not heard of would not apply.
    if said.epoch.is_some() {
        let feed = feed(hub, phone, &said.areas, MOST_PAGES).await?;
        feed.pages.iter().for_each(|page| back.bundle.page(page));
        back.pages = feed.pages.len();
        back.more = feed.more;
    }
    Ok(Some(back.done()))
}

/// A bundle that is being written.
struct Going {
    bundle: Writer,
    keys: BTreeSet<Vec<u8>>,
    entries: BTreeSet<Vec<u8>>,
    pages: usize,
    more: bool,
}

impl Going {
    /// Begins with the keys by which all that follows is judged.
    fn begin(organisation: &PublicKey, hub: &PublicKey) -> Going {
        let keys = BTreeSet::from([organisation, hub].map(|key| key.cose().to_vec()));
        let mut bundle = Writer::new();
        keys.iter().for_each(|key| bundle.key(key));
        Going { bundle, keys, entries: BTreeSet::new(), pages: 0, more: false }
    }

    /// Puts news in; a receipt that was asked for comes with every part of them, and goes in once.
    fn put(&mut self, keys: impl Iterator<Item = ByteVec>, entries: impl Iterator<Item = ByteVec>) {
        for key in keys {
            if self.keys.insert(key.to_vec()) {
                self.bundle.key(&key);
            }
        }
        for entry in entries {
            if self.entries.insert(entry.to_vec()) {
                self.bundle.entry(&entry);
            }
        }
    }

    fn done(self) -> Back {
        Back { bundle: self.bundle.done(), entries: self.entries.len(), pages: self.pages, more: self.more }
    }
}
