//! Signing entries with a phone's key at the end of its log, from bodies that are there.

use anyhow::{Context, Result};
use record::{Claimed, EntryId, Kind, Link, NewEntry, Sealed, Signer, Strict};
use store::Store;

/// 2026-11-25T10:42:07Z, by `date -u -d 2026-11-25T10:42:07Z +%s`.
const WHEN: i64 = 1_795_603_327_000;

/// Signs a body at the end of the log, keeps it, and returns the new entry's name.
pub(crate) fn write(
    store: &Store,
    key: &impl Signer,
    (kind, body_version): (Kind, u32),
    body: &[u8],
) -> Result<EntryId> {
    let log = store::LogId::of(key.public().log());
    let link = match store.tip(log)? {
        None => Link::First,
        Some(tip) => Link::After {
            seq: tip.seq.of_record().context("a place that is none")?,
            payload: tip.hash.of_record(),
        },
    };
    let claimed = Claimed { millis: WHEN, offset_minutes: 0 };
    let sealed = record::seal(&NewEntry { link, kind, body_version, claimed, boot: None }, body, key)?;
    record::verify_with(&record::open(&sealed.bytes)?, key.public(), &Strict)?;
    store.append(&kept(&sealed))?;
    Ok(sealed.id)
}

fn kept(sealed: &Sealed) -> store::NewEntry {
    put_together(&sealed.bytes, sealed.id, &sealed.header)
}

/// An entry as the store takes it.
pub(crate) fn of_bytes(bytes: &[u8]) -> Result<store::NewEntry> {
    let entry = record::open(bytes)?;
    Ok(put_together(bytes, entry.id, &entry.header))
}

fn put_together(bytes: &[u8], id: EntryId, header: &record::Header) -> store::NewEntry {
    store::NewEntry {
        place: store::Place { log: store::LogId::of(id.log), seq: store::Seq::of(id.seq) },
        hash: store::PayloadHash::of(id.payload),
        previous: header.previous.map(store::PayloadHash::of),
        kind: store::Kind(u64::from(header.kind.0)),
        bytes: bytes.to_vec(),
    }
}
